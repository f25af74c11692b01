"""Answers that several routes give: refused, kept, too late."""

from collections.abc import Iterable
from typing import Any, Literal

from fastapi import Request
from fastapi.responses import JSONResponse, Response

from limen.desk.library import Clash, FileFaults, NothingToUndoError, Stored
from limen.desk.library_sites import fault_lines, step
from limen.findings import Message
from limen.web.pages import by_htmx, desk_of, for_people, page, version_told
from limen.words import say

Rows = list[tuple[int | None, str]]


def refused(
    request: Request,
    status: int,
    lines: Iterable[str],
    faults: FileFaults | None = None,
) -> Response:
    """Why something was not done: as a page, a piece of one, or as JSON."""
    rows: Rows = [(None, line) for line in lines]
    if faults is not None:
        rows += fault_lines(faults)
    if not for_people(request):
        return JSONResponse(faulty(rows), status)
    template = "refused_part.html" if by_htmx(request) else "refused.html"
    return page(request, template, {"rows": rows}, status=status)


def faulty(rows: Rows) -> dict[str, Any]:
    """What is wrong, for programs: each with its line in the text, if it has one."""
    return {
        "lines": [text for _, text in rows],
        "faults": [{"line": line, "text": text} for line, text in rows],
    }


def told(stored: Stored, status: int = 200) -> Response:
    """A site as it is kept now, for programs."""
    return JSONResponse(shape(stored), status, version_told(stored.version))


def shape(stored: Stored) -> dict[str, Any]:
    """A site without its text."""
    return {
        "id": stored.id,
        "name": stored.name,
        "version": stored.version,
        "digest": stored.digest,
        "archived": stored.archived,
        "changed": stored.changed,
        "can_undo": stored.can_undo,
        "can_redo": stored.can_redo,
    }


def stepped(
    request: Request, site_id: str, way: str, base: int | None = None
) -> Stored | Clash | Response:
    """Step to the text of a site before this one, or after it.

    Args:
        request: what was asked.
        site_id: the site.
        way: ``undo`` or ``redo``.
        base: the version that was seen; whichever there is if None.

    Returns:
        What was kept, what somebody else kept meanwhile, or that there is no such text.
    """
    back: Literal["undo", "redo"] = "undo" if way == "undo" else "redo"
    try:
        return step(desk_of(request), site_id, back, base)
    except NothingToUndoError:
        return refused(request, 409, [say(Message(f"desk.refused.{back}"))])


def too_late(clash: Clash) -> Response:
    """Both texts, for programs."""
    body: dict[str, Any] = {
        "lines": [],
        "mine": clash.mine,
        "theirs": clash.theirs.text,
        "version": clash.theirs.version,
    }
    return JSONResponse(body, 412, version_told(clash.theirs.version))


def moved(
    request: Request, kept: Stored | Clash, to: str, changed: Message
) -> Response:
    """A text that became the next version, or came too late to.

    Args:
        request: of people or a program.
        kept: the version, or both texts.
        to: the page on which people go on.
        changed: what they are told where somebody else saved meanwhile.
    """
    if isinstance(kept, Clash):
        if not for_people(request):
            return too_late(kept)
        return refused(request, 412, [say(changed)])
    if not for_people(request):
        return told(kept)
    headers = {"HX-Redirect": to, "Location": to}
    return Response(status_code=204 if by_htmx(request) else 303, headers=headers)


def if_match(description: str) -> dict[str, Any]:
    """What the description of an address says of the header ``If-Match``."""
    header = {
        "name": "If-Match",
        "in": "header",
        "required": True,
        "description": description,
        "schema": {"type": "string"},
    }
    return {"parameters": [header]}


def takes_form(
    *fields: str, required: bool = False, most: int | None = None
) -> dict[str, Any]:
    """What the description of an address says of the form that it takes.

    Args:
        fields: all its fields.
        required: whether it is refused without any of them.
        most: letters of a field at most; not said if None.
    """
    text: dict[str, Any] = {"type": "string"}
    if most is not None:
        text["maxLength"] = most
    schema: dict[str, Any] = {
        "type": "object",
        "properties": {name: dict(text) for name in fields},
    }
    if required:
        schema["required"] = list(fields)
    content = {"application/x-www-form-urlencoded": {"schema": schema}}
    return {"requestBody": {"required": True, "content": content}}
