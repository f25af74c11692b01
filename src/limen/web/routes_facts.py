"""All facts of a doorway: shown, set, added, taken out; what is assumed or lacking."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import APIRouter, Path, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from limen.desk.fact_edits import FactFaults, set_facts, take_out
from limen.desk.facts import Part, facts_of, way_of
from limen.desk.library import Clash, Opened, Stored, open_site
from limen.desk.refusal import Refusal
from limen.desk.unknowns import Unknown, unknowns_of
from limen.findings import Message
from limen.web.answers import refused, stepped, told, too_late
from limen.web.facts_form import TAKES, Sent, sent
from limen.web.facts_json import as_json
from limen.web.facts_open import Row, rows_of
from limen.web.facts_shown import Dressing, waiting_of
from limen.web.merging_shown import merging_panel
from limen.web.pages import by_htmx, desk_of, fill, for_people, look_at, page
from limen.words import say

SiteId = Annotated[str, Path(max_length=60)]
DoorId = Annotated[str, Path(max_length=60)]


@dataclass(frozen=True, slots=True)
class Seen:
    """What the pages are made of.

    Attributes:
        request: who asks.
        opened: the site.
        door: the doorway.
        parts: its facts; none where it is written in the short form.
        unknowns: what is assumed or not known.
    """

    request: Request
    opened: Opened
    door: str
    parts: tuple[Part, ...]
    unknowns: tuple[Unknown, ...]

    @property
    def address(self) -> str:
        """Where the doorway's page is."""
        return f"/sites/{self.opened.stored.id}/doorways/{self.door}"

    def dressing(
        self,
        typed: Mapping[str, Sequence[str]] | None = None,
        faults: Mapping[str, str] | None = None,
    ) -> Dressing:
        """What fields show besides the facts."""
        system = look_at(self.request).system
        return Dressing(system, waiting_of(self.unknowns), typed or {}, faults or {})

    def rows(self, dressing: Dressing) -> tuple[Row, ...]:
        """What is assumed or not known, as lines."""
        return rows_of(self.unknowns, self.parts, dressing, self.address)


def fact_routes() -> APIRouter:
    """The routes of a doorway's facts."""
    routes = APIRouter(prefix="/sites/{site_id}/doorways/{door}/facts")
    routes.get("", response_class=HTMLResponse)(shown)
    routes.post("", openapi_extra=TAKES)(changed)
    routes.post("/gone", openapi_extra=TAKES)(gone)
    for way in ("undo", "redo"):
        routes.post(f"/{way}")(_stepping(way))
    return routes


def shown(request: Request, site_id: SiteId, door: DoorId) -> Response:
    """All facts of a doorway, and what is assumed or not known."""
    seen = _seen(request, site_id, door)
    if not for_people(request):
        return as_json(seen.opened.stored, seen.parts, seen.unknowns)
    dressing = seen.dressing()
    context = {
        **_context(seen),
        "site": seen.opened.site,
        "door": seen.opened.doorway(door),
        "shown_parts": [dressing.part(one) for one in seen.parts],
        "rows": seen.rows(dressing),
    }
    return page(request, "facts.html", context)


async def changed(request: Request, site_id: SiteId, door: DoorId) -> Response:
    """Facts into the site's text; what is refused stays, with the reason."""
    form = await sent(request, look_at(request).system)

    def answer() -> Response:
        return _answered(request, site_id, door, form, _set)

    return await run_in_threadpool(answer)


async def gone(request: Request, site_id: SiteId, door: DoorId) -> Response:
    """A part of the doorway out of the site's text."""
    form = await sent(request, look_at(request).system)

    def answer() -> Response:
        return _answered(request, site_id, door, form, _gone)

    return await run_in_threadpool(answer)


def _set(request: Request, site_id: str, door: str, form: Sent) -> Any:  # noqa: ANN401 - see `_answered`
    return set_facts(desk_of(request), site_id, door, form.meant, form.version)


def _gone(request: Request, site_id: str, door: str, form: Sent) -> Any:  # noqa: ANN401 - see `_answered`
    return take_out(desk_of(request), site_id, door, form.part, form.version)


def _answered(
    request: Request,
    site_id: str,
    door: str,
    form: Sent,
    verb: Callable[[Request, str, str, Sent], tuple[Stored, bool] | Clash],
) -> Response:
    try:
        kept = verb(request, site_id, door, form)
    except FactFaults as faults:
        return _refused(request, site_id, door, form, faults)
    except Refusal as refusal:
        if not by_htmx(request):
            raise
        faults = FactFaults({}, refusal.lines)
        return _refused(request, site_id, door, form, faults)
    if isinstance(kept, Clash):
        return _clash(request, door, kept)
    stored, merged = kept
    if not for_people(request):
        return told(stored)
    renamed = form.meant.get("id", ["", ""])[0] or door
    if not by_htmx(request) or renamed != door:
        return _to_facts(request, stored.id, renamed)
    seen = _seen(request, site_id, door)
    key = "saved_merged" if merged else "saved"
    if stored.version == form.version:
        key = "saved_same"
    said = say(Message(f"facts.{key}", {"version": stored.version}))
    return _piece(seen, form, {"said": said}, seen.dressing(), 200)


def _refused(
    request: Request, site_id: str, door: str, form: Sent, faults: FactFaults
) -> Response:
    """The form with what was typed, and why it was not accepted."""
    lines = (*faults.by_key.values(), *faults.others)
    if not by_htmx(request):
        return refused(request, 422, lines)
    seen = _seen(request, site_id, door)
    dressing = seen.dressing(form.typed, faults.by_key)
    return _piece(seen, form, {"refused": list(faults.others)}, dressing, 422)


def _clash(request: Request, door: str, clash: Clash) -> Response:
    if not by_htmx(request):
        return too_late(clash)
    back = f"/sites/{clash.theirs.id}/doorways/{door}/facts"
    return merging_panel(request, clash, back)


def _piece(
    seen: Seen, form: Sent, said: Mapping[str, Any], dressing: Dressing, status: int
) -> Response:
    """The piece of the page in which the form stands, as it is now."""
    context = {**_context(seen), **said}
    if form.place == "open":
        key = next(iter(form.typed), "")
        found = next((r for r in seen.rows(dressing) if r.key == key), None)
        body = fill(seen.request, "facts_row.html", {**context, "row": found})
    elif form.place == "list":
        part = _part(seen.parts, ".".join(form.part.split(".")[:-1]))
        one = dressing.part(part)
        adding = bool(form.typed) and status != 200  # noqa: PLR2004 - as HTTP has it
        context |= {"one": one, "adding": adding}
        body = fill(seen.request, "facts_list.html", context)
    else:
        template = "facts_part.html" if form.place == "whole" else "facts_form.html"
        context["one"] = dressing.part(_part(seen.parts, form.part))
        body = fill(seen.request, template, context)
    return HTMLResponse(body, status)


def _part(parts: Sequence[Part], key: str) -> Part:
    """The part of this key.

    Raises:
        Refusal: there is none any more.
    """
    for one in parts:
        if one.key == key:
            return one
        if way_of(key)[: len(one.way)] == one.way and one.parts:
            return _part(one.parts, key)
    raise Refusal([say(Message("desk.refused.no_key", {"key": key[:80]}))])


def _seen(request: Request, site_id: str, door: str) -> Seen:
    desk = desk_of(request)
    opened = open_site(desk, site_id)
    opened.doorway(door)
    try:
        parts = facts_of(desk, opened, door)
    except Refusal:
        parts = ()  # a short form: shown, and not to be changed here
    return Seen(request, opened, door, parts, unknowns_of(desk, opened, door))


def _context(seen: Seen) -> dict[str, Any]:
    return {
        "stored": seen.opened.stored,
        "address": seen.address,
        "version": seen.opened.stored.version,
        "values_file": str(desk_of(seen.request).values),
        "today": desk_of(seen.request).day().isoformat(),
        "said": "",
        "refused": [],
    }


def _stepping(way: str) -> Callable[..., Response]:
    def step(request: Request, site_id: SiteId, door: DoorId) -> Response:
        kept = stepped(request, site_id, way)
        if isinstance(kept, Clash):
            return too_late(kept)
        if isinstance(kept, Response):
            return kept
        return _to_facts(request, site_id, door)

    step.__doc__ = f"Step to the text before this one, or after it: {way}."
    step.__name__ = f"{way}_facts"
    return step


def _to_facts(request: Request, site_id: str, door: str) -> Response:
    to = f"/sites/{site_id}/doorways/{door}/facts"
    if not for_people(request):
        return JSONResponse({"at": to})
    headers = {"HX-Redirect": to, "Location": to}
    return Response(status_code=204 if by_htmx(request) else 303, headers=headers)
