"""The page of a doorway's life: what is ahead, what drifts, what was kept of it."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, get_args
from uuid import uuid4

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from limen.desk import between
from limen.desk.ahead import began, suggested
from limen.desk.between import NoSuchThingError
from limen.desk.library import Opened, readable
from limen.desk.life import Kind, Life, life_of
from limen.desk.life_courses import margins_of, readings_over, windows_of
from limen.desk.refusal import Refusal
from limen.desk.visits import Folded
from limen.findings import Message
from limen.model.agenda import FollowUp, Plan
from limen.web.answers import refused, takes_form
from limen.web.life_charts import Pictures, pictures
from limen.web.life_forms import Choices, Typed, act_forms, begin_form, undo_fields
from limen.web.life_said import Row, row_of
from limen.web.life_shown import ahead_of, json_of, settings_over
from limen.web.pages import desk_of, for_people, look_at, page
from limen.web.place import Place
from limen.words import say
from limen.words.places import say_unit

Id = Annotated[str, Path(max_length=80)]
Thing = Annotated[str, Path(pattern=r"^[0-9a-f][0-9a-f-]{7,39}$")]
Begun = Literal["plan", "follow_up", "part"]
Act = Literal["moved", "refused", "called_off", "done", "mended", "fitted", "undone"]
Shown = Annotated[Kind | None, Query(description="Only entries of this kind.")]
Every = Annotated[bool, Query(description="All entries, not only the newest.")]
MOST = 60
"""Entries that a page shows at first."""
KINDS = get_args(Kind)
BEGINNINGS = get_args(Begun)
MOST_TYPED = 12


def life_routes() -> APIRouter:
    """The routes of a doorway's life."""
    routes = APIRouter(prefix="/sites/{site_id}/doorways/{door}/life")
    routes.get("", response_class=HTMLResponse)(life)
    begins = takes_form("person", required=True)
    says = takes_form("person", "known", required=True)
    routes.post("/{begun}", openapi_extra=begins)(begin)
    routes.post("/{about}/{act}", openapi_extra=says)(said)
    return routes


def life(
    request: Request,
    site_id: Id,
    door: Id,
    *,
    show: Shown = None,
    every: Every = False,
) -> Response:
    """What is ahead of a doorway, what drifts, and everything that was kept of it."""
    place = Place(site_id, door)
    if not for_people(request):
        return JSONResponse(json_of(life_of(desk_of(request), site_id, door)))
    return _page(request, place, Typed(), show=show, every=every)


async def begin(request: Request, site_id: Id, door: Id, begun: Begun) -> Response:
    """A visit is planned, something is owed, a part is ordered or fitted."""
    typed = await _typed(request)
    return await run_in_threadpool(_begin, request, Place(site_id, door), begun, typed)


async def said(
    request: Request, site_id: Id, door: Id, about: Thing, act: Act
) -> Response:
    """Something is said of what is planned, owed or ordered."""
    typed = await _typed(request)
    place = Place(site_id, door)
    return await run_in_threadpool(_said, request, place, (about, act), typed)


async def _typed(request: Request) -> dict[str, str]:
    most = {"max_files": 0, "max_fields": MOST_TYPED, "max_part_size": 10_000}
    async with request.form(**most) as form:
        return {name: text for name, text in form.items() if isinstance(text, str)}


def _begin(
    request: Request, place: Place, begun: Begun, typed: dict[str, str]
) -> Response:
    desk, at = desk_of(request), place.at(typed.get("person", ""))
    fields = _fields(typed)
    about = typed.get("about") or None
    try:
        match begun:
            case "plan":
                thing = between.plan(desk, at, fields, about)
            case "follow_up":
                thing = between.follow_up(desk, at, fields, about)
            case "part":
                fitted = fields.pop("state", "") == "fitted"
                thing = between.part(desk, at, fields, fitted=fitted, about=about)
    except Refusal as refusal:
        return _not_kept(request, place, Typed(begun, typed, tuple(refusal.lines)))
    return _done(request, place, thing.words.about)


def _said(
    request: Request, place: Place, of: tuple[str, Act], typed: dict[str, str]
) -> Response:
    about, act = of
    known = typed.get("known", "")
    read = int(known) if known.isascii() and known.isdigit() else None
    at = place.at(typed.get("person", ""), read)
    try:
        between.say_of(desk_of(request), at, about, act, _fields(typed))
    except NoSuchThingError:
        return refused(request, 404, [say(Message("life.refused.no_thing"))])
    except Refusal as refusal:
        lines = tuple(refusal.lines)
        return _not_kept(request, place, Typed(f"{act}-{about}", typed, lines))
    return _done(request, place, about)


def _fields(typed: Mapping[str, str]) -> dict[str, Any]:
    """What an event says, of what was typed: a count is a number."""
    found: dict[str, Any] = {
        name: text.strip()
        for name, text in typed.items()
        if name not in {"person", "known", "about"}
    }
    count = found.get("count", "")
    if count.isascii() and count.isdigit():
        found["count"] = int(count)
    return found


def _done(request: Request, place: Place, about: str) -> Response:
    if not for_people(request):
        found = life_of(desk_of(request), place.site, place.door)
        return JSONResponse(json_of(found) | {"about": about})
    to = f"{place.address}/life#a-{about}"
    return Response(status_code=303, headers={"Location": to})


def _not_kept(request: Request, place: Place, typed: Typed) -> Response:
    if not for_people(request):
        return refused(request, 422, typed.lines)
    return _page(request, place, typed, status=422)


# The page ---------------------------------------------------------------------------


def _page(
    request: Request,
    place: Place,
    typed: Typed,
    *,
    show: Kind | None = None,
    every: bool = False,
    status: int = 200,
) -> Response:
    desk = desk_of(request)
    opened = readable(desk, place.site)
    found = life_of(desk, place.site, place.door)
    name = _name(opened, place.door)
    if name is None and not found.entries:
        return refused(request, 404, [say(Message("life.refused.no_door"))])
    there = opened if name is not None else None
    choices = _choices(there, place.door, found)
    shown = [one for one in found.entries if show is None or one.kind == show]
    cut = shown if every else shown[:MOST]
    system = look_at(request).system
    context: dict[str, Any] = {
        "stored": desk.library.read(place.site),
        "door": place.door,
        "door_name": name or place.door,
        "there": name is not None,
        "address": place.address,
        "typed": typed,
        "ahead": ahead_of(
            found.ahead,
            place.address,
            desk.day(),
            lambda thing: act_forms(thing, choices, typed),
        ),
        "forms": [
            begin_form(one, str(uuid4()), choices, typed)
            for one in BEGINNINGS
            if there is not None
        ],
        "undo": undo_fields(),
        "known": _known(found),
        "years": _by_year([row_of(desk, one, place.address, system) for one in cut]),
        "older": len(shown) - len(cut),
        "filters": [(one, sum(e.kind == one for e in found.entries)) for one in KINDS],
        "show": show,
        "all": len(found.entries),
        "pictures": _pictures(request, there, place.door, found),
        "settings": settings_over(found, system),
    }
    return page(request, "life.html", context, status=status)


def _name(opened: Opened | None, door: str) -> str | None:
    doors = opened.site.doorway if opened else ()
    return next((one.name for one in doors if one.id == door), None)


def _choices(opened: Opened | None, door: str, found: Life) -> Choices:
    units = opened.doorway(door).fitting if opened else ()
    joined = [one.visit for one in found.ahead.plans if one.visit]
    visits = {
        one.words.about: tuple(
            (each.visit, _visit(each)) for each in _near(one, found, joined)
        )
        for one in (*found.ahead.plans, *found.ahead.follow_ups)
    }
    return Choices(tuple((one.id, say_unit(one.id)) for one in units), visits)


def _near(thing: Plan | FollowUp, found: Life, joined: list[str]) -> tuple[Folded, ...]:
    """Visits that are offered: to a plan by its day, to what is owed the later ones."""
    if isinstance(thing, Plan):
        if thing.state in {"done", "called off"}:
            return ()
        return suggested(found.visits, thing, joined)
    since = next((began(v) for v in found.visits if v.visit == thing.visit), None)
    later = [
        one
        for one in found.visits
        if one.visit != thing.visit and (since is None or began(one) >= since)
    ]
    return tuple(later[:MOST_TYPED]) if thing.state == "open" else ()


def _visit(one: Folded) -> str:
    people = ", ".join(one.found.people)
    day = began(one).isoformat()
    if not people:
        return day
    return say(Message("life.apart", {"one": day, "other": people}))


def _known(found: Life) -> dict[str, int]:
    """By thing the highest number that was said of it, as this page shows it."""
    ahead = found.ahead
    things = (*ahead.plans, *ahead.follow_ups, *ahead.parts)
    return {one.words.about: one.words.seq for one in things}


def _by_year(rows: list[Row]) -> list[tuple[str, list[Row]]]:
    years = dict.fromkeys(one.day[:4] for one in rows)
    return [(year, [one for one in rows if one.day[:4] == year]) for year in years]


def _pictures(
    request: Request, opened: Opened | None, door: str, found: Life
) -> Pictures:
    """What can be drawn; nothing of a doorway that cannot be studied."""
    desk = desk_of(request)
    read_at = [one for one in found.visits if _read(one)]
    if opened is None or not (found.records or read_at):
        return Pictures((), (), (), ())
    try:
        rooms = margins_of(desk, opened, door, found.records)
        windows = windows_of(desk, opened, door) if read_at else {}
    except Refusal:
        rooms, windows = (), {}
    read = readings_over(desk, opened.doorway(door), read_at, windows)
    return pictures(rooms, read, look_at(request), desk.day())


def _read(one: Folded) -> bool:
    return any(each.kind in {"as_found", "reading"} for each in one.found.standing)
