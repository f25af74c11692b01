"""The floor plan of a site: its picture, its pins, a step taken back."""

from typing import Annotated, Any

from fastapi import APIRouter, Form, Path, Query, Request, UploadFile
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from limen.desk import plans
from limen.desk.library import open_site
from limen.desk.plans import Pin
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.web.pages import by_htmx, desk_of, for_people, page
from limen.web.plans_shown import next_spot, part_of, plan_page
from limen.words import say

Id = Annotated[str, Path(max_length=80)]
Door = Annotated[str, Form(max_length=80)]
Part = Annotated[str, Form(max_length=20)]


def plan_routes() -> APIRouter:
    """The routes of the floor plan of a site."""
    routes = APIRouter(prefix="/sites/{site_id}/plan")
    routes.get("", response_class=HTMLResponse)(shown)
    routes.post("")(pictured)
    routes.post("/pin")(pinned)
    routes.post("/gone")(gone)
    routes.post("/back")(back)
    return routes


def shown(
    request: Request, site_id: Id, door: Annotated[str, Query(max_length=80)] = ""
) -> Response:
    """The floor plan of a site, its pins, its doorways beside them."""
    opened = open_site(desk_of(request), site_id)
    told = plan_page(desk_of(request), opened, door)
    if for_people(request):
        template = "plan_part.html" if by_htmx(request) else "plan.html"
        return page(request, template, told)
    return JSONResponse(_values(told))


async def pictured(
    request: Request, site_id: Id, picture: UploadFile | None = None
) -> Response:
    """A picture of the plan, in place of the one before."""
    data = await picture.read() if picture else b""
    try:
        await run_in_threadpool(plans.set_picture, desk_of(request), site_id, data)
    except Refusal as refusal:
        return _refused(request, site_id, "", refusal.lines)
    return _done(request, site_id)


def pinned(
    request: Request, site_id: Id, doorway: Door = "", x: Part = "", y: Part = ""
) -> Response:
    """The pin of a doorway, put where it is."""
    desk = desk_of(request)
    opened = open_site(desk, site_id)
    if doorway not in {one.id for one in opened.site.doorway}:
        return _refused(request, site_id, "", [say(Message("plan.refused.door"))])
    place = part_of(x), part_of(y)
    if place[0] is None or place[1] is None:
        lines = [say(Message("plan.set.accepted"))]
        return _refused(request, site_id, doorway, lines, (x, y))
    new = doorway not in plans.floor_of(desk, site_id).pins
    plans.set_pin(desk, site_id, Pin(doorway, place[0], place[1]))
    return _done(request, site_id, next_spot(desk, opened, doorway) if new else "")


def gone(request: Request, site_id: Id, doorway: Door = "") -> Response:
    """The pin of a doorway taken off; the picture taken away where none is named."""
    desk = desk_of(request)
    if doorway:
        plans.take_pin(desk, site_id, doorway)
    else:
        plans.take_picture_away(desk, site_id)
    return _done(request, site_id)


def back(request: Request, site_id: Id) -> Response:
    """The last step taken back."""
    try:
        plans.take_back(desk_of(request), site_id)
    except Refusal as refusal:
        return _refused(request, site_id, "", refusal.lines)
    return _done(request, site_id)


def _done(request: Request, site_id: str, door: str = "") -> Response:
    """The plan as it stands now."""
    if by_htmx(request) or not for_people(request):
        return shown(request, site_id, door)
    to = f"/sites/{site_id}/plan" + (f"?door={door}#set" if door else "")
    return Response(status_code=303, headers={"Location": to})


def _refused(
    request: Request,
    site_id: str,
    door: str,
    lines: tuple[str, ...] | list[str],
    typed: tuple[str, str] | None = None,
) -> Response:
    if not for_people(request):
        return JSONResponse({"lines": list(lines)}, 422)
    told = plan_page(desk_of(request), open_site(desk_of(request), site_id), door)
    told["faults"] = [(None, one) for one in lines]
    told["typed"] = typed or told["typed"]
    template = "plan_part.html" if by_htmx(request) else "plan.html"
    return page(request, template, told, status=422)


def _values(told: dict[str, Any]) -> dict[str, Any]:
    """The plan, for programs."""
    picture = told["floor"].picture
    return {
        "picture": f"/visits/photos/{picture.sha256}" if picture else None,
        "doorways": [
            {
                "id": one.id,
                "name": one.name,
                "state": one.state,
                "pin": {"x": one.pin.x, "y": one.pin.y} if one.pin else None,
            }
            for one in told["spots"]
        ],
    }
