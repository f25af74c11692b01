"""The wiring page of a doorway, and the same drawn and printed."""

from typing import Annotated, Literal

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, Response

from limen.desk.dragging import in_full
from limen.desk.library import open_site
from limen.desk.wiring import (
    take_proposals,
    wiring_drawing,
    wiring_of,
    wiring_paper,
)
from limen.findings import Message
from limen.web.answers import if_match, moved, refused
from limen.web.look import Look
from limen.web.pages import desk_of, look_at, page, version_asked
from limen.web.routes_out import as_file
from limen.web.wiring_shown import shown
from limen.words import say

SiteId = Annotated[str, "the id of a site"]
DoorId = Annotated[str, "the id of a doorway"]
Paper = Annotated[Literal["", "a4", "letter"], Query()]
_PDF: dict[int | str, dict[str, object]] = {200: {"content": {"application/pdf": {}}}}
_SVG: dict[int | str, dict[str, object]] = {200: {"content": {"image/svg+xml": {}}}}


def wiring_routes() -> APIRouter:
    """The routes of the wiring page."""
    routes = APIRouter(prefix="/sites/{site_id}/doorways/{door}")
    routes.get("/wiring", response_class=HTMLResponse)(told)
    routes.post(
        "/wiring/take",
        status_code=204,
        openapi_extra=if_match("The version whose proposals were read."),
    )(taken)
    routes.get("/wiring.pdf", response_class=Response, responses=_PDF)(printed)
    routes.get("/wiring.svg", response_class=Response, responses=_SVG)(drawn)
    return routes


def told(request: Request, site_id: SiteId, door: DoorId) -> Response:
    """Which output goes to which input, what to set, which plug shows it."""
    desk = desk_of(request)
    opened = open_site(desk, site_id)
    found = wiring_of(desk, opened, door)
    context = {
        "site": opened.site,
        "stored": opened.stored,
        "door": found.study.doorway,
        "address": f"/sites/{site_id}/doorways/{door}",
        "full": in_full(desk, opened, door),
        "shown": shown(found, look_at(request).system),
    }
    return page(request, "wiring.html", context)


def taken(request: Request, site_id: SiteId, door: DoorId) -> Response:
    """The wires that are proposed, into the site's text."""
    desk, base = desk_of(request), version_asked(request)
    if base is None:
        return refused(request, 428, [say(Message("desk.refused.no_version"))])
    kept = take_proposals(desk, open_site(desk, site_id), door, base)
    to = f"/sites/{site_id}/doorways/{door}/wiring"
    return moved(request, kept, to, Message("desk.refused.changed"))


def printed(
    request: Request, site_id: SiteId, door: DoorId, paper: Paper = ""
) -> Response:
    """The terminal plan on one page, with a column to check off."""
    desk = desk_of(request)
    opened = open_site(desk, site_id)
    units = _units(look_at(request))
    return as_file(wiring_paper(desk, opened, door, paper=paper or None, units=units))


def drawn(request: Request, site_id: SiteId, door: DoorId) -> Response:
    """The terminal plan as an SVG file, ink on paper."""
    desk = desk_of(request)
    opened = open_site(desk, site_id)
    units = _units(look_at(request))
    return as_file(wiring_drawing(desk, opened, door, units))


def _units(look: Look) -> Literal["metric", "feet"]:
    return "feet" if look.units == "feet" else "metric"
