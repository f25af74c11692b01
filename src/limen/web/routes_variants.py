"""Variants of a doorway: kept, compared, taken, put away."""

from collections.abc import Callable
from dataclasses import asdict
from typing import Annotated, Any

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from limen.desk import variants
from limen.desk.dragging import in_full
from limen.desk.library import open_site
from limen.desk.refusal import Refusal
from limen.desk.variants import NOW, KeptVariant
from limen.draw import View
from limen.findings import Message
from limen.web.answers import moved, refused
from limen.web.doorway_drawn import VIEWS
from limen.web.pages import by_htmx, desk_of, for_people, look_at, page, version_asked
from limen.web.variants_shown import compared
from limen.words import say

Id = Annotated[str, Path(max_length=80)]
Text = Annotated[str, Query(max_length=200)]
_NAME: dict[str, Any] = {
    "requestBody": {
        "content": {
            "application/x-www-form-urlencoded": {
                "schema": {"type": "object", "properties": {"name": {"type": "string"}}}
            }
        }
    }
}


def variant_routes() -> APIRouter:
    """The routes of variants."""
    routes = APIRouter(prefix="/sites/{site_id}/doorways/{door}")
    routes.get("/variants")(listed)
    routes.post("/variants", status_code=201, openapi_extra=_NAME)(kept)
    routes.post("/variants/{variant}/take")(taken)
    for way in ("away", "back"):
        routes.post(f"/variants/{{variant}}/{way}")(_putting(way))
    routes.get("/compare", response_class=HTMLResponse)(side_by_side)
    return routes


def listed(request: Request, site_id: Id, door: Id) -> Response:
    """The variants of a doorway."""
    found = variants.variants(desk_of(request), site_id, door)
    if by_htmx(request):
        return _piece(request, site_id, door)
    if for_people(request):
        to = f"/sites/{site_id}/doorways/{door}/compare"
        return Response(status_code=303, headers={"Location": to})
    return JSONResponse([asdict(one) for one in found])


async def kept(request: Request, site_id: Id, door: Id) -> Response:
    """The doorway's present settings under a name."""
    async with request.form(max_files=0, max_fields=4, max_part_size=4_000) as form:
        name = form.get("name")
    typed = name if isinstance(name, str) else ""
    return await run_in_threadpool(_kept, request, site_id, door, typed)


def _kept(request: Request, site_id: str, door: str, typed: str) -> Response:
    desk = desk_of(request)
    try:
        made = variants.keep(desk, open_site(desk, site_id), door, typed)
    except Refusal as refusal:
        if not by_htmx(request):
            raise
        fault = " ".join(refusal.lines)
        return _piece(request, site_id, door, typed=typed, fault=fault, status=422)
    if by_htmx(request):
        said = say(Message("desk_variants.kept", {"name": made.name}))
        return _piece(request, site_id, door, said=said, fresh=made.id)
    return JSONResponse(asdict(made), 201)


def taken(request: Request, site_id: Id, door: Id, variant: Id) -> Response:
    """What a variant has set, into the site's text."""
    desk, base = desk_of(request), version_asked(request)
    if base is None:
        return refused(request, 428, [say(Message("desk.refused.no_version"))])
    done = variants.take(desk, open_site(desk, site_id), door, variant, base)
    to = f"/sites/{site_id}/doorways/{door}"
    return moved(request, done, to, Message("desk.refused.changed"))


def _putting(way: str) -> Callable[..., Response]:
    def put(request: Request, site_id: Id, door: Id, variant: Id) -> Response:
        away = way == "away"
        found = variants.put_away(desk_of(request), site_id, door, variant, away=away)
        if not by_htmx(request):
            return JSONResponse({**asdict(found), "away": away})
        said = say(Message(f"desk_variants.put_{way}", {"name": found.name}))
        return _piece(request, site_id, door, said=said)

    put.__doc__ = f"Put a variant away, or take it out again: {way}."
    put.__name__ = f"{way}_variant"
    return put


def _piece(
    request: Request, site_id: str, door: str, *, status: int = 200, **more: str
) -> Response:
    """The list of variants with its form, to be put into a page."""
    desk = desk_of(request)
    found = variants.variants(desk, site_id, door)
    shown = {
        "address": f"/sites/{site_id}/doorways/{door}",
        "here": [one for one in found if not one.away],
        "gone": [one for one in found if one.away],
        "full": in_full(desk, open_site(desk, site_id), door),
        "typed": "",
        "fault": "",
        "said": "",
        "fresh": "",
        **more,
    }
    return page(request, "variants_list.html", shown, status=status)


# Side by side ------------------------------------------------------------------


def side_by_side(
    request: Request,
    site_id: Id,
    door: Id,
    left: Text = NOW,
    right: Text = "",
    view: View = "plan",
    finding: Text = "",
) -> Response:
    """Two variants of a doorway, or one and the doorway as it is kept."""
    desk = desk_of(request)
    opened = open_site(desk, site_id)
    found = variants.variants(desk, site_id, door)
    other = right or _newest(found)
    shown: dict[str, Any] = {
        "stored": opened.stored,
        "door": opened.doorway(door),
        "address": f"/sites/{site_id}/doorways/{door}",
        "choices": [
            (NOW, say(Message("desk_variants.now"))),
            *((one.id, one.name) for one in found),
        ],
        "view": view,
        "views": [(v, say(Message(f"doorway_page.view.{v}"))) for v in VIEWS],
        "two": None,
    }
    if other:
        one, two = (variants.side(desk, opened, door, each) for each in (left, other))
        shown["two"] = compared(one, two, view, finding, look_at(request))
    return page(request, "compare.html", shown)


def _newest(found: tuple[KeptVariant, ...]) -> str:
    """The variant that was kept last and is not put away."""
    return next((one.id for one in reversed(found) if not one.away), "")
