"""Pages of visits: those of a doorway, one of them, what is to be settled of it."""

from dataclasses import asdict
from typing import Annotated, Any

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from limen.desk import visits
from limen.desk.library import readable
from limen.desk.visits import Folded, NoSuchVisitError
from limen.desk.visits_changes import Since, record_before, since
from limen.desk.visits_photos import photo_state
from limen.desk.visits_settling import Choice, reopen, settle
from limen.desk.visits_titles import titles_of
from limen.findings import Message
from limen.model.visit import (
    AsFoundEvent,
    DefectEvent,
    NoteEvent,
    PhotoEvent,
    ReadingEvent,
    SettledEvent,
)
from limen.web import visits_shown as shown
from limen.web.answers import refused, takes_form
from limen.web.life_shown import site_ahead
from limen.web.pages import desk_of, for_people, look_at, page
from limen.web.visits_said import Named, device_names, photo_of, read, said
from limen.words import say
from limen.words.visits import said_moment, said_state

Id = Annotated[str, Path(max_length=80)]
Visit = Annotated[
    str,
    Path(pattern=r"^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$"),
]
Every = Annotated[bool, Query(description="All, not only those that came in last.")]
MOST = 60
"""Visits that a page lists at first."""


def visit_page_routes() -> APIRouter:
    """The routes of pages about visits."""
    routes = APIRouter(prefix="/sites/{site_id}")
    routes.get("/visits", response_class=HTMLResponse)(of_site)
    at = "/doorways/{door}/visits"
    routes.get(at, response_class=HTMLResponse)(of_doorway)
    one = f"{at}/{{visit}}"
    routes.get(one, response_class=HTMLResponse)(of_visit)
    settling = takes_form("stands", "person", required=True)
    taking_back = takes_form("event", required=True)
    routes.post(f"{one}/settle", openapi_extra=settling)(settled)
    routes.post(f"{one}/reopen", openapi_extra=taking_back)(reopened)
    return routes


def of_site(request: Request, site_id: Id, *, every: Every = False) -> Response:
    """The visits of all doorways of a site."""
    return _listed(request, site_id, None, every=every)


def of_doorway(
    request: Request, site_id: Id, door: Id, *, every: Every = False
) -> Response:
    """The visits of a doorway, and what is not as at the last record."""
    opened = readable(desk_of(request), site_id)
    known = opened.doorway(door).id if opened else door
    return _listed(request, site_id, known, every=every)


def of_visit(request: Request, site_id: Id, door: Id, visit: Visit) -> Response:
    """One visit: how the door was left, what was tested, read, done and said."""
    try:
        one = _visit(request, site_id, door, visit)
    except NoSuchVisitError:
        return _missing(request)
    if not for_people(request):
        return JSONResponse(_for_programs(one))
    return _page(request, one)


async def settled(request: Request, site_id: Id, door: Id, visit: Visit) -> Response:
    """A person says which of two things stands."""
    said = await _typed(request, "stands", "person")
    return await run_in_threadpool(_settled, request, (site_id, door, visit), said)


async def reopened(request: Request, site_id: Id, door: Id, visit: Visit) -> Response:
    """A choice is taken back."""
    said = await _typed(request, "event")
    return await run_in_threadpool(_reopened, request, (site_id, door, visit), said)


_Place = tuple[str, str, str]


def _settled(request: Request, at: _Place, said: dict[str, str]) -> Response:
    desk = desk_of(request)
    try:
        one = _visit(request, *at)
        if not said["stands"]:
            lines = [say(Message("visits.settle.unchosen"))]
            return refused(request, 422, lines)
        choice = Choice(said["stands"], said["person"])
        return _done(request, settle(desk, one.site, one.visit, choice))
    except NoSuchVisitError:
        return _missing(request)


def _reopened(request: Request, at: _Place, said: dict[str, str]) -> Response:
    try:
        one = _visit(request, *at)
        done = reopen(desk_of(request), one.site, one.visit, said["event"])
    except NoSuchVisitError:
        return _missing(request)
    return _done(request, done)


async def _typed(request: Request, *names: str) -> dict[str, str]:
    async with request.form(max_files=0, max_fields=4, max_part_size=4_000) as form:
        found = {name: form.get(name) for name in names}
    return {name: text if isinstance(text, str) else "" for name, text in found.items()}


def _visit(request: Request, site_id: str, door: str, visit: str) -> Folded:
    """A visit of this doorway.

    Raises:
        NoSuchSiteError: there is no such site.
        NoSuchVisitError: there is none, or it is of another doorway.
    """
    one = visits.folded(desk_of(request), site_id, visit)
    if one.doorway != door:
        raise NoSuchVisitError(visit)
    return one


def _missing(request: Request) -> Response:
    return refused(request, 404, [say(Message("visits.no_visit"))])


def _done(request: Request, one: Folded) -> Response:
    if not for_people(request):
        return JSONResponse(_for_programs(one))
    to = f"/sites/{one.site}/doorways/{one.doorway}/visits/{one.visit}"
    return Response(status_code=303, headers={"Location": to})


# A list --------------------------------------------------------------------------


def _listed(
    request: Request, site_id: str, door: str | None, *, every: bool
) -> Response:
    desk = desk_of(request)
    found = visits.visits(desk, site_id, door, most=None if every else MOST)
    if not for_people(request):
        return JSONResponse([_brief(one) for one in found])
    opened = readable(desk, site_id)
    doors = opened.site.doorway if opened else ()
    context: dict[str, Any] = {
        "stored": desk.library.read(site_id),
        "door": next((one for one in doors if one.id == door), None),
        "names": {one.id: one.name for one in doors},
        "lines": [shown.line(one) for one in found],
        "more": visits.count(desk, site_id, door) - len(found),
        "since": None,
        "rows": {},
        "ahead": [] if door else site_ahead(desk, site_id),
    }
    if door and opened:
        record = visits.last_record(desk, site_id, door)
        if record is not None:
            compared = since(desk, opened, door, record, None)
            context |= _since(request, compared)
    return page(request, "visits.html", context)


def _since(request: Request, compared: Since) -> dict[str, Any]:
    rows = shown.since_rows(compared, look_at(request).system)
    return {"since": compared, "rows": rows}


def _brief(one: Folded) -> dict[str, Any]:
    handed, started = one.found.handed_over, one.found.started
    return {
        "visit": one.visit,
        "doorway": one.doorway,
        "began": started.at if started else None,
        "people": list(one.found.people),
        "left": handed.said.state if handed else None,
        "conflicts": len(one.found.conflicts),
        "record": one.record.digest if one.record else None,
    }


def _for_programs(one: Folded) -> dict[str, Any]:
    return {
        "folded": one.json,
        "came": dict(one.came),
        "refused": [asdict(each) for each in one.refused],
        "late": sorted(one.late),
        "record": one.record.digest if one.record else None,
    }


# One visit -----------------------------------------------------------------------


def _page(request: Request, one: Folded) -> Response:
    desk = desk_of(request)
    opened = readable(desk, one.site)
    names = {each.id: each.name for each in (opened.site.doorway if opened else ())}
    address = f"/sites/{one.site}/doorways/{one.doorway}/visits"
    system = look_at(request).system
    titles = titles_of(desk, opened, one, system)
    of = Named(one, titles, device_names(one))
    context: dict[str, Any] = {
        "stored": desk.library.read(one.site),
        "visit": one,
        "door_name": names.get(one.doorway, one.doorway),
        "there": one.doorway in names,
        "address": address,
        "line": shown.line(one),
        "asked": shown.asked(of),
        "tests": list(shown.tested(of)),
        "all": list(shown.rows(of)),
        "gone": list(shown.gone(of)),
        "since": None,
        "rows": {},
        **_handed(one),
        **_told(of),
        "phones": shown.phones(of),
        "photos": _photos(request, of),
    }
    before = record_before(desk, one) if one.doorway in names else None
    if before is not None and opened is not None:
        context |= _since(request, since(desk, opened, one.doorway, before, one))
    return page(request, "visit.html", context)


def _handed(one: Folded) -> dict[str, Any]:
    event = one.found.handed_over
    conflicts = {each.about for each in one.found.conflicts}
    if event is None:
        key = "unsettled" if "handed_over" in conflicts else "none"
        left = say(Message(f"visits.over.{key}"))
        return {"left": left, "handed": None, "signature": None, "signed": ""}
    told = one.raw[event.id]["said"]
    return {
        "left": said_state(told),
        "handed": said_moment(event.at),
        "signature": shown.signature(told.get("signature", ())),
        "signed": event.said.told or "",
    }


def _told(of: Named) -> dict[str, Any]:
    """What was found, read, done and noted, in words."""
    kept, doorway = of.one.found.standing, of.one.doorway
    return {
        "defects": [
            (each.said.text, each.said.told, each.said.photo)
            for each in kept
            if isinstance(each, DefectEvent)
        ],
        "as_found": [
            read(doorway, of.told(each))
            for each in kept
            if isinstance(each, AsFoundEvent)
        ],
        "left_as": [
            read(doorway, of.told(each))
            for each in kept
            if isinstance(each, ReadingEvent)
        ],
        "work": [
            (of.step(step), each.said.note or "")
            for step, each in of.one.found.work.items()
        ],
        "traced": [said(of, each) for each in of.one.found.traced.values()],
        "precautions": [
            of.step(each.said.step) for each in kept if each.kind == "precaution"
        ],
        "notes": [each.said.text for each in kept if isinstance(each, NoteEvent)],
        "choices": [
            (each.id, said(of, each)) for each in kept if isinstance(each, SettledEvent)
        ],
    }


def _photos(request: Request, of: Named) -> list[dict[str, Any]]:
    desk = desk_of(request)
    return [
        {
            "sha256": each.said.sha256,
            "width": each.said.width,
            "height": each.said.height,
            "of": photo_of(of, of.told(each)),
            "whole": photo_state(desk, each.said.sha256).whole,
        }
        for each in of.one.found.standing
        if isinstance(each, PhotoEvent)
    ]
