"""Pages of the fault finder: call-outs of a doorway, one of them, its description."""

from importlib.metadata import version
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from limen.desk import callouts
from limen.desk.callouts import CallOut, NoSuchCallError, looked_at
from limen.desk.handing_on import parts_of, text_of, told_of_call_out
from limen.desk.library import Opened, open_site
from limen.desk.refusal import Refusal
from limen.desk.visits import NoSuchVisitError, folded
from limen.exchange.traced import traced_contract
from limen.findings import Message
from limen.web import trace_shown as shown
from limen.web.answers import refused, takes_form
from limen.web.pages import desk_of, for_people, look_at, page
from limen.words import say
from limen.words.visits import said_moment

Id = Annotated[str, Path(max_length=80)]
Call = Annotated[str, Path(pattern=r"^[0-9a-f]{8,40}$")]
Visit = Annotated[str, Path(pattern=r"^[0-9a-f-]{36}$")]
Does = Annotated[str, Query(max_length=40, description="What the door does.")]
Asked = Annotated[str, Query(alias="ask", max_length=40, description="A question.")]
Place = tuple[str, str]
_TEXT: dict[int | str, dict[str, object]] = {200: {"content": {"text/plain": {}}}}
FIELDS = ("question", "answer", "does", "at", "person")
MOST_LETTERS = 120


def trace_routes() -> APIRouter:
    """The routes of the fault finder."""
    routes = APIRouter(prefix="/sites/{site_id}/doorways/{door}/trace")
    one = "/{call}"
    routes.get("", response_class=HTMLResponse)(of_doorway)
    begins = takes_form("does", "at", "person", most=MOST_LETTERS)
    answers = takes_form("question", "answer", most=MOST_LETTERS)
    routes.post("", openapi_extra=begins)(begun)
    routes.get(one, response_class=HTMLResponse)(of_call)
    routes.post(one, openapi_extra=answers)(answered)
    routes.get(f"{one}/description", response_class=HTMLResponse)(told)
    routes.get(f"{one}/description.txt", response_class=Response, responses=_TEXT)(
        told_plainly
    )
    both = APIRouter()
    both.include_router(routes)
    both.include_router(_of_visits())
    return both


def _of_visits() -> APIRouter:
    """The same descriptions of what was answered at the door."""
    routes = APIRouter(prefix="/sites/{site_id}/doorways/{door}/visits/{visit}")
    routes.get("/description", response_class=HTMLResponse)(told_of_visit)
    routes.get("/description.txt", response_class=Response, responses=_TEXT)(
        told_of_visit_plainly
    )
    return routes


def told_of_visit(request: Request, site_id: Id, door: Id, visit: Visit) -> Response:
    """The description of what was answered at a visit, to be read and printed."""
    return _told_of_visit(request, (site_id, door), visit, "page")


def told_of_visit_plainly(
    request: Request, site_id: Id, door: Id, visit: Visit
) -> Response:
    """The same as a text file."""
    return _told_of_visit(request, (site_id, door), visit, "text")


def of_doorway(request: Request, site_id: Id, door: Id, does: Does = "") -> Response:
    """Where a call-out begins, and those there were."""
    desk = desk_of(request)
    opened = open_site(desk, site_id)
    answers = callouts.beginning(opened, door)
    found = callouts.call_outs(desk, site_id, door)
    if not for_people(request):
        return JSONResponse([_brief(one) for one in found])
    context = {
        **_common(opened, door),
        "symptoms": shown.beginnings(answers),
        "chosen": does if does in answers else "",
        "earlier": shown.earlier(found),
    }
    return page(request, "trace_begin.html", context)


async def begun(request: Request, site_id: Id, door: Id) -> Response:
    """A call-out is taken up."""
    typed = await _typed(request)
    return await run_in_threadpool(_begun, request, (site_id, door), typed)


def of_call(
    request: Request, site_id: Id, door: Id, call: Call, asked: Asked = ""
) -> Response:
    """What to ask next, what it may be, what was answered."""
    desk, opened = desk_of(request), open_site(desk_of(request), site_id)
    try:
        out = callouts.call_out(desk, site_id, door, call)
    except NoSuchCallError:
        return _missing(request)
    if asked:
        callouts.may_ask(asked)
    looked = looked_at(desk, opened, out)
    went_on = [
        {"visit": one.visit, "when": said_moment(one.found.events[0].at)}
        for one in callouts.gone_on_with(desk, out)
    ]
    if not for_people(request):
        visits = [one["visit"] for one in went_on]
        return JSONResponse(_whole(looked) | {"visits": visits})
    context = {
        **_common(opened, door),
        "call": out,
        "went_on": went_on,
        "shown": shown.shown(looked, asked, look_at(request).system),
    }
    return page(request, "trace.html", context)


async def answered(request: Request, site_id: Id, door: Id, call: Call) -> Response:
    """A question is answered, or an answer taken back."""
    typed = await _typed(request)
    return await run_in_threadpool(_answered, request, (site_id, door), call, typed)


def told(request: Request, site_id: Id, door: Id, call: Call) -> Response:
    """The description for whoever is asked next, to be read and printed."""
    return _told(request, (site_id, door), call, "page")


def told_plainly(request: Request, site_id: Id, door: Id, call: Call) -> Response:
    """The same as a text file."""
    return _told(request, (site_id, door), call, "text")


def _begun(request: Request, at: Place, typed: dict[str, str]) -> Response:
    desk = desk_of(request)
    opened = open_site(desk, at[0])
    if not typed["does"]:
        raise Refusal([say(Message("trace.page.no_symptom"))])
    moment = callouts.moment_of(typed["at"])
    out = callouts.begin(
        desk, opened, at[1], typed["does"], at=moment, person=typed["person"].strip()
    )
    return _go_on(request, out)


def _answered(
    request: Request, at: Place, call: str, typed: dict[str, str]
) -> Response:
    desk = desk_of(request)
    try:
        out = callouts.call_out(desk, *at, call)
    except NoSuchCallError:
        return _missing(request)
    given = typed["answer"] or None
    return _go_on(request, callouts.answer(desk, out, typed["question"], given))


def _go_on(request: Request, out: CallOut) -> Response:
    to = f"/sites/{out.site}/doorways/{out.doorway}/trace/{out.id}"
    if not for_people(request):
        return JSONResponse(_brief(out), headers={"Location": to})
    handed = f"{to}/description" if out.call.cause == shown.NONE else to
    return Response(status_code=303, headers={"Location": handed})


def _told(
    request: Request, at: Place, call: str, as_: Literal["page", "text"]
) -> Response:
    try:
        out = callouts.call_out(desk_of(request), *at, call)
    except NoSuchCallError:
        return _missing(request)
    return _described(request, at, out, as_, f"trace/{call}")


def _told_of_visit(
    request: Request, at: Place, visit: str, as_: Literal["page", "text"]
) -> Response:
    try:
        one = folded(desk_of(request), at[0], visit)
    except NoSuchVisitError:
        return refused(request, 404, [say(Message("visits.no_visit"))])
    out = callouts.of_visit(one) if one.doorway == at[1] else None
    if out is None:
        return _missing(request)
    return _described(request, at, out, as_, f"visits/{visit}")


def _described(
    request: Request, at: Place, out: CallOut, as_: Literal["page", "text"], here: str
) -> Response:
    desk, opened = desk_of(request), open_site(desk_of(request), at[0])
    system = look_at(request).system
    all_of_it = told_of_call_out(desk, opened, looked_at(desk, opened, out), system)
    text = text_of(all_of_it)
    if as_ == "text":
        name = f'attachment; filename="call-out-{out.doorway}-{out.id}.txt"'
        headers = {"Content-Disposition": name}
        return Response(text, media_type="text/plain; charset=utf-8", headers=headers)
    title, parts = parts_of(all_of_it)
    common = _common(opened, at[1])
    back = "trace.page.return" if here.startswith("trace") else "visits.go"
    told = {"title": title, "parts": parts, "back": say(Message(back))}
    told["here"] = f"{common['address']}/{here}"
    return page(request, "trace_told.html", {**common, **told, "text": text})


async def _typed(request: Request) -> dict[str, str]:
    async with request.form(max_files=0, max_fields=6, max_part_size=4_000) as form:
        found = {name: form.get(name) for name in FIELDS}
    return {name: one if isinstance(one, str) else "" for name, one in found.items()}


def _common(opened: Opened, door: str) -> dict[str, Any]:
    return {
        "site": opened.site,
        "stored": opened.stored,
        "door": opened.doorway(door),
        "address": f"/sites/{opened.stored.id}/doorways/{door}",
    }


def _missing(request: Request) -> Response:
    return refused(request, 404, [say(Message("trace.page.no_call"))])


def _brief(out: CallOut) -> dict[str, Any]:
    at = out.call.at
    return {
        "call": out.id,
        "began": out.began,
        "at": at.isoformat() if at else None,
        "person": out.call.person or None,
        "answers": dict(out.call.answers),
        "cause": out.call.cause,
    }


def _whole(looked: callouts.LookedAt) -> dict[str, Any]:
    found, name = looked.traced.traced, looked.traced.name
    weighed = traced_contract(found, version=version("limen"), doorway=name)
    return {**weighed, **_brief(looked.out)}
