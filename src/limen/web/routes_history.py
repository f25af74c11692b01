"""Every version of a site: what it changed, looked at, taken back."""

from typing import Annotated, Any

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from limen.desk.fact_words import said_change, said_key
from limen.desk.history import History, Step, against_now, history_of, take_back
from limen.desk.merging import Change
from limen.findings import Message
from limen.quantity import Show
from limen.web.answers import moved, refused
from limen.web.pages import desk_of, for_people, look_at, page, version_asked
from limen.words import say

SiteId = Annotated[str, Path(max_length=60)]
Number = Annotated[int, Path(ge=1, le=10**9)]
MOST_TOLD = 8
"""Changes that a version lists; the others are counted."""


def history_routes() -> APIRouter:
    """The routes of a site's versions."""
    routes = APIRouter(prefix="/sites/{site_id}/history")
    routes.get("", response_class=HTMLResponse)(listed)
    routes.get("/{number}", response_class=HTMLResponse)(looked_at)
    routes.post("/{number}/take")(taken)
    return routes


def listed(
    request: Request,
    site_id: SiteId,
    upto: Annotated[int | None, Query(ge=1, le=10**9)] = None,
    taken: Annotated[int | None, Query(ge=1, le=10**9)] = None,
) -> Response:
    """The versions of a site, the newest first, with what each changed."""
    found = history_of(desk_of(request), site_id, upto)
    if not for_people(request):
        return JSONResponse([_for_programs(one) for one in found.steps])
    said = ""
    if taken is not None:
        values = {"old": taken, "version": found.stored.version}
        said = say(Message("history.taken", values))
    return page(
        request,
        "history.html",
        {**_shown(found, look_at(request).system), "said": said},
    )


def looked_at(request: Request, site_id: SiteId, number: Number) -> Response:
    """One version: its text, and what would change if it were taken back."""
    desk, system = desk_of(request), look_at(request).system
    stored, text = desk.library.read(site_id), desk.library.text(site_id, number)
    changes = against_now(desk, site_id, number)
    if not for_people(request):
        return JSONResponse({"number": number, "text": text})
    context = {
        "stored": stored,
        "number": number,
        "text": text,
        "same": text == stored.text,
        "changes": None if changes is None else _rows(changes, len(changes), system),
    }
    return page(request, "history_version.html", context)


def taken(request: Request, site_id: SiteId, number: Number) -> Response:
    """An earlier text kept as the next version."""
    desk, base = desk_of(request), version_asked(request)
    if base is None:
        return refused(request, 428, [say(Message("desk.refused.no_version"))])
    kept = take_back(desk, site_id, number, base)
    to = f"/sites/{site_id}/history?taken={number}"
    return moved(request, kept, to, Message("history.changed"))


def _shown(found: History, system: Show) -> dict[str, Any]:
    steps = [
        (one, _rows(one.changes or (), MOST_TOLD, system), _more(one))
        for one in found.steps
    ]
    return {
        "stored": found.stored,
        "steps": steps,
        "newer": found.newer,
        "older": found.older,
    }


def _rows(
    changes: tuple[Change, ...], most: int, system: Show
) -> list[tuple[str, str]]:
    return [(said_key(one.key), said_change(one, system)) for one in changes[:most]]


def _more(one: Step) -> int:
    return max(0, len(one.changes or ()) - MOST_TOLD)


def _for_programs(one: Step) -> dict[str, Any]:
    changes = None if one.changes is None else [list(c.key) for c in one.changes]
    version = one.version
    return {
        "number": version.number,
        "why": version.why,
        "changed": version.changed,
        "digest": version.digest,
        "keys": changes,
    }
