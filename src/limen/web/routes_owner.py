"""The owner's page of a doorway: how it reads, and its files."""

from dataclasses import asdict
from typing import Annotated, Literal

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from limen.desk.library import open_site
from limen.desk.owner import (
    article_of,
    owner_file,
    owner_page,
    owner_paper,
    owner_style,
)
from limen.web.assets import BRIEFLY
from limen.web.pages import desk_of, for_people, page
from limen.web.routes_out import as_file
from limen.words import languages, reading

Id = Annotated[str, Path(max_length=80)]
Tongue = Annotated[
    str, Query(max_length=8, description="Language; the reader's if none.")
]
Also = Annotated[
    str, Query(max_length=8, description="A second language on the same print.")
]
Paper = Annotated[Literal["", "a4", "letter"], Query()]
_PDF: dict[int | str, dict[str, object]] = {200: {"content": {"application/pdf": {}}}}
_CSS: dict[int | str, dict[str, object]] = {200: {"content": {"text/css": {}}}}


def owner_routes() -> APIRouter:
    """The routes of the owner's page."""
    routes = APIRouter()
    at = "/sites/{site_id}/doorways/{door}/owner"
    routes.get("/owner.css", response_class=Response, responses=_CSS)(style)
    routes.get(at, response_class=HTMLResponse)(shown)
    routes.get(f"{at}.pdf", response_class=Response, responses=_PDF)(printed)
    routes.get(f"{at}.html", response_class=HTMLResponse)(for_phone)
    return routes


def style() -> Response:
    """How the owner's page looks, in its file and at the desk."""
    headers = {"Cache-Control": BRIEFLY}
    return Response(owner_style(), media_type="text/css", headers=headers)


def shown(
    request: Request,
    site_id: Id,
    door: Id,
    *,
    language: Tongue = "",
    also: Also = "",
    paper: Paper = "",
) -> Response:
    """How the page reads, and where its files are."""
    desk, tongue = desk_of(request), _known(language) or reading()
    one = owner_page(desk, site_id, door, language=tongue)
    if not for_people(request):
        return JSONResponse(
            {"page": asdict(one.page), "faults": [way.address for way in one.ways]}
        )
    opened = open_site(desk, site_id)
    second = _known(also)
    context = {
        "stored": opened.stored,
        "door": opened.doorway(door),
        "article": article_of(desk, site_id, door, one),
        "ways": one.ways,
        "code": one.code,
        "tongue": tongue,
        "also": second if second != tongue else "",
        "paper": paper,
    }
    return page(request, "owner.html", context)


def printed(
    request: Request,
    site_id: Id,
    door: Id,
    *,
    language: Tongue = "",
    also: Also = "",
    paper: Paper = "",
) -> Response:
    """The sheet that hangs beside the door, as PDF."""
    named = [_known(language) or reading(), *([_known(also)] if _known(also) else [])]
    made = owner_paper(desk_of(request), site_id, door, named, paper=paper or None)
    return as_file(made)


def for_phone(
    request: Request, site_id: Id, door: Id, *, language: Tongue = ""
) -> Response:
    """The page for the phone, as one file."""
    tongue = _known(language) or reading()
    return as_file(owner_file(desk_of(request), site_id, door, language=tongue))


def _known(language: str) -> str:
    """A language in which there are words; else empty."""
    return language if language in languages() else ""
