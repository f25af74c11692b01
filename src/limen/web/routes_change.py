"""What changed at a doorway since its record, and which tests that owes."""

from typing import Annotated, Any

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from limen.desk.changes import Compared
from limen.desk.changes_kept import change_at
from limen.desk.changes_told import change_json, told
from limen.desk.library import open_site
from limen.web.pages import desk_of, for_people, look_at, page

Id = Annotated[str, Path(max_length=80)]
Number = Annotated[
    int | None, Query(ge=1, le=10**9, description="Of which record; the last if none.")
]


def change_routes() -> APIRouter:
    """The route of the page, and of the same for programs."""
    routes = APIRouter(prefix="/sites/{site_id}/doorways/{door}")
    routes.get("/change", response_class=HTMLResponse)(shown)
    return routes


def shown(request: Request, site_id: Id, door: Id, record: Number = None) -> Response:
    """What changed at a doorway, what is open again, which tests are owed."""
    desk, system = desk_of(request), look_at(request).system
    opened = open_site(desk, site_id)
    found = change_at(desk, opened, door, number=record, system=system)
    if not for_people(request):
        said = None if found is None else change_json(found, system)
        return JSONResponse(said)
    one = opened.doorway(door)
    context: dict[str, Any] = {
        "stored": opened.stored,
        "door": one,
        "units": bool(one.fitting),
        "found": None if found is None else told(found, system),
        "nothing": found is not None and _nothing(found),
    }
    return page(request, "change.html", context)


def _nothing(found: Compared) -> bool:
    """Whether all is as it was, as far as anybody can tell."""
    moved = any(one.moved for one in found.readings)
    return found.settings == () and not moved and not found.since
