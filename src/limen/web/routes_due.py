"""What is due at all sites: a page, and a calendar to subscribe to."""

from hashlib import sha256
from importlib.metadata import version
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from limen.desk.due_calendar import Shape, feed
from limen.desk.due_kept import KeptDue, due_kept
from limen.exchange.due import daily_row, due_contract, due_row
from limen.findings import Message
from limen.web.answers import refused
from limen.web.due_shown import Asked, shown
from limen.web.pages import by_htmx, desk_of, for_people, page
from limen.words import reading, say

A_WHILE = 0.7
"""Seconds for which one look at the page reads texts; how many are left is said."""
MOST_WAIT = 10.0
"""Seconds that a calendar waits for texts to be read; what is left then is not told:
one with half of the days would be believed."""

Name = Annotated[str, Query(max_length=120)]
_CALENDAR: dict[int | str, dict[str, object]] = {
    200: {"content": {"text/calendar": {}}},
    304: {"description": "Nothing was changed since."},
    503: {"description": "Not all sites were read yet; ask again."},
}


def due_routes() -> APIRouter:
    """The routes of what is due."""
    routes = APIRouter()
    routes.get("/due", response_class=HTMLResponse)(listed)
    routes.get("/due.ics", responses=_CALENDAR)(calendar)
    return routes


def listed(
    request: Request,
    q: Annotated[str, Query(max_length=200)] = "",
    person: Name = "",
    route: Name = "",
    within: Annotated[str, Query(pattern=r"^[0-9]{0,4}$")] = "",
    start: Annotated[int, Query(ge=0, le=10**6)] = 0,
) -> Response:
    """The checks that were asked for, the soonest first."""
    days = int(within) if within else None
    asked = Asked(q.strip(), person, route, days, start)
    kept = due_kept(desk_of(request), asked.wanted, seconds=A_WHILE)
    if not for_people(request):
        return JSONResponse(_contract(kept))
    template = "due_list.html" if by_htmx(request) else "due.html"
    return page(request, template, shown(kept, asked, _root(request)))


def calendar(
    request: Request,
    person: Name = "",
    route: Name = "",
    remind: Annotated[int, Query(ge=0, le=90)] = 0,
    *,
    daily: bool = False,
    save: bool = False,
) -> Response:
    """The checks that have a day, as a calendar; 304 where nothing was changed."""
    asked = Asked(person=person, route=route)
    kept = due_kept(desk_of(request), asked.wanted, seconds=MOST_WAIT)
    if kept.left:
        lines = [say(Message("due.page.not_read", {"count": kept.left}))]
        answer = refused(request, 503, lines)
        answer.headers["Retry-After"] = "2"
        return answer
    shape, root = Shape(remind, daily), _root(request)
    tag = _tag(kept, asked, shape, root)
    headers = {"ETag": tag, "Cache-Control": "private, no-cache"}
    if tag in _tags(request):
        return Response(status_code=304, headers=headers)
    name = " · ".join((say(Message("due.page.name")), *asked.chosen.values()))
    data = feed(kept.told, kept.changed, name=name, shape=shape, root=root)
    if save:
        headers["Content-Disposition"] = 'attachment; filename="due.ics"'
    return Response(data, media_type="text/calendar; charset=utf-8", headers=headers)


def _tag(kept: KeptDue, asked: Asked, shape: Shape, root: str) -> str:
    """What names the bytes of a calendar before they are made."""
    of = (kept.key, asked, shape, root, reading(), version("limen"))
    return f'"{sha256(repr(of).encode()).hexdigest()[:32]}"'


def _tags(request: Request) -> set[str]:
    """The tags that whoever asks has already."""
    stated = request.headers.get("If-None-Match", "").split(",")
    return {one.strip().removeprefix("W/") for one in stated}


def _root(request: Request) -> str:
    """Where this desk is, as whoever asks called it."""
    return str(request.base_url).rstrip("/")


def _contract(kept: KeptDue) -> dict[str, object]:
    told = kept.told
    made = due_contract(
        [{**due_row(one.site, one.due), "site_id": one.file} for one in told.every],
        told.unasked,
        on=told.on,
        version=version("limen"),
        daily=[daily_row(one.site, one.doors, one.who) for one in told.daily],
    )
    return {**made, "not_read": kept.left}
