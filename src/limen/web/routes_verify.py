"""The page on which sealed records are checked, and the check for old browsers."""

from dataclasses import asdict
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile

from limen.desk.seal_checks import KnownHere, Told, check_seal, known_here
from limen.findings import Message
from limen.web.answers import refused
from limen.web.pages import desk_of, for_people, page
from limen.web.verify_shown import page_of, shown
from limen.words import say

MOST_FILES = 20
_FILES = {"type": "array", "items": {"type": "string", "format": "binary"}}
_TEXTS = {"type": "array", "items": {"type": "string"}}
_TAKES: dict[str, Any] = {
    "requestBody": {
        "required": True,
        "content": {
            "multipart/form-data": {
                "schema": {
                    "type": "object",
                    "properties": {"file": _FILES, "firm": _TEXTS, "withdrawn": _TEXTS},
                    "required": ["file"],
                }
            }
        },
    }
}


def verify_routes() -> APIRouter:
    """The routes of the page."""
    routes = APIRouter()
    routes.get("/verify", response_class=HTMLResponse)(asked)
    routes.post("/verify", openapi_extra=_TAKES)(checked)
    return routes


def asked(request: Request) -> Response:
    """The page, with nothing checked yet."""
    return page(request, "verify.html", page_of(known_here(desk_of(request)), []))


async def checked(request: Request) -> Response:
    """Files that were sent: nothing of them is kept."""
    async with request.form(max_files=MOST_FILES) as form:
        files = [(name, await one.read()) for name, one in _files(form)]
        firms, withdrawn = _texts(form, "firm"), _texts(form, "withdrawn")
    if not files:
        return refused(request, 422, [say(Message("verify.no_file"))])
    known = known_here(desk_of(request))
    told = await run_in_threadpool(_checked, files, known, firms, withdrawn)
    if not for_people(request):
        return JSONResponse(asdict(told[0][1]))
    results = [shown(name, one) for name, one in told]
    return page(request, "verify.html", page_of(known, results))


def _checked(
    files: list[tuple[str, bytes]],
    known: KnownHere,
    firms: list[str],
    withdrawn: list[str],
) -> list[tuple[str, Told]]:
    return [(name, check_seal(data, known, firms, withdrawn)) for name, data in files]


def _files(form: FormData) -> list[tuple[str, UploadFile]]:
    return [
        (one.filename or "", one)
        for one in form.getlist("file")
        if isinstance(one, UploadFile)
    ]


def _texts(form: FormData, name: str) -> list[str]:
    return [one for one in form.getlist(name) if isinstance(one, str)]
