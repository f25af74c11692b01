"""What stands for all doorways of a site: who sees to them, where faults are told.

The form is sent by the browser itself, so that it works where scripts are off.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from limen.desk.fact_edits import FactFaults, set_site_facts
from limen.desk.facts import every_fact, site_facts_of
from limen.desk.library import Clash, Opened, open_site
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.web.answers import refused, stepped, told, too_late
from limen.web.facts_form import TAKES, Sent, sent
from limen.web.facts_json import facts_by_key
from limen.web.facts_shown import Dressing
from limen.web.pages import desk_of, for_people, look_at, page, version_told
from limen.words import say

SiteId = Annotated[str, Path(max_length=60)]
Done = Literal["", "saved", "saved_merged", "saved_same"]
_ADDRESS = "/sites/{site_id}/facts"


def site_fact_routes() -> APIRouter:
    """The routes of the facts of a site."""
    routes = APIRouter(prefix=_ADDRESS)
    routes.get("", response_class=HTMLResponse)(site_facts)
    routes.post("", openapi_extra=TAKES)(set_facts_of_site)
    for way in ("undo", "redo"):
        routes.post(f"/{way}")(_stepping(way))
    return routes


def site_facts(
    request: Request, site_id: SiteId, done: Annotated[Done, Query()] = ""
) -> Response:
    """Who sees to the doors of a site, and where their faults are told."""
    desk = desk_of(request)
    opened = open_site(desk, site_id)
    if for_people(request):
        return _page(request, opened, done=done)
    version = opened.stored.version
    facts = facts_by_key(every_fact(site_facts_of(desk, opened)))
    body = {"version": version, "facts": facts}
    return JSONResponse(body, headers=version_told(version))


async def set_facts_of_site(request: Request, site_id: SiteId) -> Response:
    """Facts of the site into its text; what is refused stays, with the reason."""
    form = await sent(request, look_at(request).system)
    return await run_in_threadpool(_set, request, site_id, form)


def _set(request: Request, site_id: str, form: Sent) -> Response:
    desk = desk_of(request)
    try:
        kept = set_site_facts(desk, site_id, form.meant, form.version)
    except FactFaults as faults:
        return _refused(request, site_id, form, faults)
    except Refusal as refusal:
        return _refused(request, site_id, form, FactFaults({}, refusal.lines))
    if isinstance(kept, Clash):
        return _clash(request, form, kept)
    stored, merged = kept
    if not for_people(request):
        return told(stored)
    done = "saved_merged" if merged else "saved"
    return _go(site_id, "saved_same" if stored.version == form.version else done)


def _refused(
    request: Request, site_id: str, form: Sent, faults: FactFaults
) -> Response:
    """The form with what was typed, and why it was not accepted."""
    if not for_people(request):
        return refused(request, 422, (*faults.by_key.values(), *faults.others))
    opened = open_site(desk_of(request), site_id)
    return _page(request, opened, form.typed, faults, status=422)


def _clash(request: Request, form: Sent, clash: Clash) -> Response:
    """What was typed, and beside it what somebody else saved there meanwhile."""
    if not for_people(request):
        return too_late(clash)
    opened = open_site(desk_of(request), clash.theirs.id)
    theirs = {
        one.key: "; ".join(one.values)
        for one in every_fact(site_facts_of(desk_of(request), opened))
    }
    other = {
        key: say(Message("site_facts.theirs", {"value": now})) if now else gone
        for gone in (say(Message("site_facts.theirs_gone")),)
        for key, texts in form.typed.items()
        if (now := theirs.get(key, "")) != "".join(texts).strip()
    }
    faults = FactFaults(other, [say(Message("site_facts.clash"))])
    return _page(request, opened, form.typed, faults, status=412)


def _page(
    request: Request,
    opened: Opened,
    typed: Mapping[str, Sequence[str]] | None = None,
    faults: FactFaults | None = None,
    *,
    done: Done = "",
    status: int = 200,
) -> Response:
    stored = opened.stored
    by_key = faults.by_key if faults else {}
    dressing = Dressing(look_at(request).system, {}, typed or {}, by_key)
    said = Message(f"facts.{done}", {"version": stored.version}) if done else None
    context: dict[str, Any] = {
        "stored": stored,
        "address": _ADDRESS.format(site_id=stored.id),
        "site": opened.site,
        "version": stored.version,
        "shown_parts": [
            dressing.part(one) for one in site_facts_of(desk_of(request), opened)
        ],
        "said": say(said) if said else "",
        "refused": list(faults.others) if faults else [],
        "at_fault": bool(by_key),
    }
    return page(request, "site_facts.html", context, status=status)


def _stepping(way: str) -> Callable[..., Response]:
    def step(request: Request, site_id: SiteId) -> Response:
        kept = stepped(request, site_id, way)
        if isinstance(kept, Clash):
            return too_late(kept)
        if isinstance(kept, Response):
            return kept
        return _go(site_id) if for_people(request) else told(kept)

    step.__doc__ = f"Step to the text before this one, or after it: {way}."
    step.__name__ = f"{way}_site_facts"
    return step


def _go(site_id: str, done: str = "") -> Response:
    to = _ADDRESS.format(site_id=site_id) + (f"?done={done}" if done else "")
    return Response(status_code=303, headers={"Location": to})
