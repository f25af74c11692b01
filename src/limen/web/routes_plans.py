"""The floor plans of a site: pictures, names, pins, a step taken back."""

from typing import Annotated, Any

from fastapi import APIRouter, Form, Path, Query, Request, UploadFile
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from limen.desk import plans
from limen.desk.library import Opened, open_site
from limen.desk.plans import NoSuchPlanError, chosen_plan, floors_of
from limen.desk.plans_folded import FIRST, Pin
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.web.pages import by_htmx, desk_of, for_people, page
from limen.web.plans_shown import next_spot, part_of, plan_page, values_of
from limen.words import say

Id = Annotated[str, Path(max_length=80)]
Asked = Annotated[str, Query(max_length=80)]
Named = Annotated[str, Form(max_length=80)]
Part = Annotated[str, Form(max_length=20)]
Typed = Annotated[str, Form(max_length=2000)]


def plan_routes() -> APIRouter:
    """The routes of the floor plans of a site."""
    routes = APIRouter(prefix="/sites/{site_id}/plan")
    routes.get("", response_class=HTMLResponse)(shown)
    routes.post("")(pictured)
    routes.post("/add")(added)
    routes.post("/name")(named)
    routes.post("/pin")(pinned)
    routes.post("/gone")(gone)
    routes.post("/back")(back)
    return routes


def shown(
    request: Request, site_id: Id, plan: Asked = "", door: Asked = ""
) -> Response:
    """A floor plan of a site, its pins, the doorways beside them; or all plans."""
    opened = _opened(request, site_id)
    return _told(request, plan_page(desk_of(request), opened, plan, door))


async def pictured(
    request: Request,
    site_id: Id,
    plan: Named = "",
    picture: UploadFile | None = None,
) -> Response:
    """A picture of a plan, in place of the one before."""
    data = await picture.read() if picture else b""
    return await run_in_threadpool(_pictured, request, site_id, plan, data)


async def added(
    request: Request,
    site_id: Id,
    plan: Named = "",
    name: Typed = "",
    picture: UploadFile | None = None,
) -> Response:
    """The plan of another floor; `plan` is the one that is shown if it is refused."""
    data = await picture.read() if picture else b""
    return await run_in_threadpool(_added, request, site_id, plan, (name, data))


def named(
    request: Request, site_id: Id, plan: Named = "", name: Typed = ""
) -> Response:
    """What a plan is called."""
    desk, opened = desk_of(request), _opened(request, site_id)
    chosen = chosen_plan(floors_of(desk, opened), plan)
    if chosen is None:
        raise NoSuchPlanError(plan)
    try:
        plans.name_plan(desk, opened, chosen, name)
    except Refusal as refusal:
        told = plan_page(desk, opened, chosen.id)
        return _refused(request, told, refusal.lines, wrong="name", typed_name=name)
    return _done(request, opened, chosen.id)


def pinned(
    request: Request,
    site_id: Id,
    doorway: Named = "",
    plan: Named = "",
    x: Part = "",
    y: Part = "",
) -> Response:
    """The pin of a doorway, put where it is; from another plan it moves here."""
    desk, opened = desk_of(request), _opened(request, site_id)
    floors = floors_of(desk, opened)
    chosen = chosen_plan(floors, plan, doorway)
    on = chosen.id if chosen else FIRST
    if doorway not in {one.id for one in opened.site.doorway}:
        told = plan_page(desk, opened, plan)
        return _refused(request, told, [say(Message("plan.refused.door"))])
    place = part_of(x), part_of(y)
    if place[0] is None or place[1] is None:
        told = plan_page(desk, opened, plan, doorway)
        lines = [say(Message("plan.set.accepted"))]
        return _refused(request, told, lines, typed=(x, y))
    plans.set_pin(desk, opened, Pin(doorway, on, place[0], place[1]))
    new = doorway not in floors.pins
    return _done(request, opened, on, next_spot(desk, opened, doorway) if new else "")


def gone(
    request: Request, site_id: Id, doorway: Named = "", plan: Named = ""
) -> Response:
    """The pin of a doorway taken off; the picture taken away where none is named."""
    desk, opened = desk_of(request), _opened(request, site_id)
    chosen = chosen_plan(floors_of(desk, opened), plan, doorway)
    if doorway:
        plans.take_pin(desk, opened, doorway)
    elif chosen:
        plans.take_picture_away(desk, opened, chosen)
    return _done(request, opened, chosen.id if chosen else "")


def back(request: Request, site_id: Id, plan: Named = "") -> Response:
    """The last step taken back; `plan` is the one that is shown if it is refused."""
    desk, opened = desk_of(request), _opened(request, site_id)
    try:
        seen = plans.take_back(desk, opened)
    except Refusal as refusal:
        told = plan_page(desk, opened, plan)
        return _refused(request, told, refusal.lines)
    return _done(request, opened, seen)


def _pictured(request: Request, site_id: str, plan: str, data: bytes) -> Response:
    desk, opened = desk_of(request), _opened(request, site_id)
    chosen = chosen_plan(floors_of(desk, opened), plan)
    try:
        plans.set_picture(desk, opened, chosen, data)
    except Refusal as refusal:
        told = plan_page(desk, opened, plan)
        return _refused(request, told, refusal.lines, wrong="picture")
    return _done(request, opened, chosen.id if chosen else "")


def _added(
    request: Request, site_id: str, plan: str, sent: tuple[str, bytes]
) -> Response:
    desk, opened = desk_of(request), _opened(request, site_id)
    try:
        new = plans.add_plan(desk, opened, *sent)
    except Refusal as refusal:
        told = plan_page(desk, opened, plan)
        return _refused(request, told, refusal.lines, wrong="add", new_name=sent[0])
    return _done(request, opened, new)


def _opened(request: Request, site_id: str) -> Opened:
    return open_site(desk_of(request), site_id)


def _done(request: Request, opened: Opened, plan: str, door: str = "") -> Response:
    """The plans as they stand now: the one that is named, if it is still there."""
    desk = desk_of(request)
    there = floors_of(desk, opened).of(plan)
    told = plan_page(desk, opened, plan if there else "", door)
    if for_people(request) and not by_htmx(request):
        to = _address(told) + ("#set" if door else "")
        return Response(status_code=303, headers={"Location": to})
    return _told(request, told)


def _address(told: dict[str, Any]) -> str:
    """Where the page is that shows this: with one plan, no id is needed."""
    asked = {
        "plan": told["plan"].id if told["tabs"] else "",
        "door": told["chosen"].id if told["chosen"] else "",
    }
    query = "&".join(f"{key}={value}" for key, value in asked.items() if value)
    return f"/sites/{told['site'].id}/plan" + (f"?{query}" if query else "")


def _told(request: Request, told: dict[str, Any], status: int = 200) -> Response:
    if not for_people(request):
        return JSONResponse(values_of(told), status)
    if not by_htmx(request):
        return page(request, "plan.html", told, status=status)
    # The address names what is shown: read anew, it shows the same plan.
    headers = {"HX-Replace-Url": _address(told)} if request.method == "POST" else {}
    return page(request, "plan_part.html", told, status=status, headers=headers)


def _refused(
    request: Request,
    told: dict[str, Any],
    lines: tuple[str, ...] | list[str],
    **typed: object,
) -> Response:
    """Why something was not done, with what was typed."""
    if not for_people(request):
        return JSONResponse({"lines": list(lines)}, 422)
    faults = [(None, one) for one in lines]
    more = {"faults": faults, "in_place": by_htmx(request)}
    return _told(request, {**told, **more, **typed}, 422)
