"""Other ways to mend a finding, asked for when somebody wants to know."""

from typing import Annotated

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from limen.desk.library import open_site, study_of
from limen.desk.refusal import Refusal
from limen.desk.ways import Ways, ways_of
from limen.findings import Message
from limen.web.doorway_lines import edits_of, found, line
from limen.web.pages import by_htmx, desk_of, for_people, look_at, page
from limen.words import say

SiteId = Annotated[str, Path(max_length=60)]
DoorId = Annotated[str, Path(max_length=60)]
Wanted = Annotated[str, Query(max_length=200)]


def way_routes() -> APIRouter:
    """The routes of other ways."""
    routes = APIRouter(prefix="/sites/{site_id}/doorways/{door}/ways")
    known = Ways()

    @routes.get("", response_class=HTMLResponse)
    def shown(  # pyright: ignore[reportUnusedFunction]  # called by its route
        request: Request, site_id: SiteId, door: DoorId, finding: Wanted
    ) -> Response:
        """What else than its remedy makes a finding hold, by settings."""
        return _told(request, known, site_id, door, finding)

    return routes


def _told(
    request: Request, known: Ways, site_id: str, door: str, finding: str
) -> Response:
    desk, system = desk_of(request), look_at(request).system
    opened = open_site(desk, site_id)
    one = found(study_of(desk, opened, door), finding)
    if one is None:
        said = Message("facts.refused.finding", {"finding": finding[:80]})
        raise Refusal([say(said)])
    told = [
        {"do": say(way.message, system=system), "edits": list(edits_of(way))}
        for way in ways_of(desk, known, opened, door, one)
    ]
    if not for_people(request):
        return JSONResponse({"version": opened.stored.version, "ways": told})
    address = f"/sites/{site_id}/doorways/{door}"
    context = {"ways": told, "address": address, "door": opened.doorway(door)}
    if by_htmx(request):
        return page(request, "ways_list.html", context)
    return page(request, "ways.html", {**context, "finding": line(one, system)})
