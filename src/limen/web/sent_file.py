"""The one file that a form sends."""

from typing import Any

from fastapi import Request
from starlette.datastructures import UploadFile

TAKES_FILE: dict[str, Any] = {
    "requestBody": {
        "content": {
            "multipart/form-data": {
                "schema": {
                    "type": "object",
                    "properties": {"file": {"type": "string", "format": "binary"}},
                }
            }
        }
    }
}
"""Of an address to which a form sends a file."""
MOST_NAME = 200


async def sent_file(request: Request) -> tuple[str, bytes]:
    """The file that a form sends as ``file``: what it is called, and its bytes.

    Both are empty where none was chosen.
    """
    async with request.form(max_files=1, max_fields=8) as form:
        upload = form.get("file")
        if not isinstance(upload, UploadFile):
            return "", b""
        return (upload.filename or "")[:MOST_NAME], await upload.read()
