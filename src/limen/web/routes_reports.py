"""Faults that are reported: taken down from a call or a mail, seen, settled."""

from contextlib import suppress
from typing import Annotated, Any
from uuid import uuid4

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from limen.desk import reports
from limen.desk.library import FileFaults, open_site
from limen.desk.refusal import Refusal
from limen.desk.reports import NoSuchReportError, Report
from limen.desk.reports_mail import Filled, read_pasted
from limen.findings import Message
from limen.model.telling import SYMPTOMS
from limen.web.answers import refused, takes_form
from limen.web.pages import desk_of, for_people, page
from limen.web.place import Place
from limen.web.reports_shown import row_of
from limen.words import say
from limen.words.tracing import said_answer

Id = Annotated[str, Path(max_length=80)]
About = Annotated[str, Path(pattern=r"^[0-9a-f][0-9a-f-]{7,39}$")]
FIELDS = ("struck", "symptom", "text", "by", "since", "record", "person")
Does = Annotated[str, Query(max_length=40, description="What the door does.")]
SENT = 30_000
"""Letters of a field at most: a mail is pasted whole."""
MOST_DIGITS = 9


def report_routes() -> APIRouter:
    """The routes of reported faults."""
    routes = APIRouter(prefix="/sites/{site_id}/doorways/{door}/report")
    one = "/{about}"
    fields = takes_form("act", "mail", "about", *FIELDS)
    routes.get("", response_class=HTMLResponse)(asked)
    routes.post("", openapi_extra=fields)(sent)
    routes.get(one, response_class=HTMLResponse)(shown)
    routes.post(one, openapi_extra=takes_form("act", "person", "because"))(gone_on)
    return routes


def asked(request: Request, site_id: Id, door: Id, does: Does = "") -> Response:
    """The fields, nothing written, and the faults that were reported before."""
    place = Place(site_id, door)
    if not for_people(request):
        found = reports.reports(desk_of(request), site_id, door)
        return JSONResponse([_plain(one) for one in found])
    return _page(request, place, {"symptom": does if does in SYMPTOMS else ""})


async def sent(request: Request, site_id: Id, door: Id) -> Response:
    """A mail is read into the fields, or what they say is kept."""
    typed = await _typed(request, "act", "mail", "about", *FIELDS)
    doing = _read if typed["act"] == "read" else _kept
    return await run_in_threadpool(doing, request, Place(site_id, door), typed)


def shown(request: Request, site_id: Id, door: Id, about: About) -> Response:
    """One report: what to do now, what was said, how it went on."""
    place = Place(site_id, door)
    try:
        one = reports.report(desk_of(request), place.at(), about)
    except NoSuchReportError:
        return _missing(request)
    return _one(request, place, one)


async def gone_on(request: Request, site_id: Id, door: Id, about: About) -> Response:
    """Somebody has seen a report, or settles it."""
    typed = await _typed(request, "act", "person", "because")
    return await run_in_threadpool(
        _gone_on, request, Place(site_id, door), about, typed
    )


async def _typed(request: Request, *names: str) -> dict[str, str]:
    async with request.form(max_files=0, max_fields=12, max_part_size=SENT) as form:
        found = {name: form.get(name) for name in names}
    return {name: text if isinstance(text, str) else "" for name, text in found.items()}


# Read and kept -------------------------------------------------------------------


def _read(request: Request, place: Place, typed: dict[str, str]) -> Response:
    """The fields as a mail fills them; nothing is kept."""
    try:
        found = read_pasted(place.at(), typed["mail"])
    except Refusal as refusal:
        if not for_people(request):
            raise
        return _page(request, place, typed, refusal.lines, status=422)
    fields = {**_fields(found), "person": typed["person"]}
    fields |= {"about": typed["about"]} if typed["about"] else {}
    if not for_people(request):
        return JSONResponse(fields)
    return _page(request, place, fields, filled=True)


def _fields(found: Filled) -> dict[str, str]:
    struck = {True: "yes", False: "no", None: ""}[found.struck]
    return {
        "struck": struck,
        "symptom": found.symptom,
        "text": found.text,
        "by": found.by,
        "since": found.since.isoformat() if found.since else "",
        "record": f"{found.record}" if found.record else "",
    }


def _kept(request: Request, place: Place, typed: dict[str, str]) -> Response:
    at, drawn = place.at(typed["person"]), typed["about"] or None
    try:
        kept = reports.take_down(desk_of(request), at, _said(typed), drawn)
    except Refusal as refusal:
        if not for_people(request):
            raise
        return _page(request, place, typed, refusal.lines, status=422)
    return _done(request, place, kept)


def _said(typed: dict[str, str]) -> dict[str, Any]:
    """What was typed, as an event has it.

    Raises:
        Refusal: whether somebody was struck is not said.
    """
    if typed["struck"] not in {"yes", "no"}:
        raise Refusal([say(Message("report_page.refused.struck"))])
    record = typed["record"].strip()
    counted = record.isascii() and record.isdigit() and len(record) <= MOST_DIGITS
    return {
        "struck": typed["struck"] == "yes",
        "symptom": typed["symptom"],
        "text": typed["text"].replace("\r\n", "\n").strip(),
        "by": typed["by"].strip(),
        "since": typed["since"].strip(),
        "record": int(record) if counted else record,
    }


def _gone_on(
    request: Request, place: Place, about: str, typed: dict[str, str]
) -> Response:
    desk, at = desk_of(request), place.at(typed["person"])
    try:
        if typed["act"] == "settled":
            done = reports.settle(desk, at, about, typed["because"].strip())
        else:
            done = reports.see(desk, at, about)
    except NoSuchReportError:
        return _missing(request)
    return _done(request, place, done)


# Shown ---------------------------------------------------------------------------


def _page(
    request: Request,
    place: Place,
    typed: dict[str, str],
    wrong: tuple[str, ...] | list[str] = (),
    *,
    filled: bool = False,
    status: int = 200,
) -> Response:
    desk = desk_of(request)
    found = reports.reports(desk, place.site, place.door)
    empty = dict.fromkeys(("mail", *FIELDS), "")
    context = {
        **_common(request, place),
        "typed": {**empty, "about": f"{uuid4()}", **typed},
        "symptoms": [(one, said_answer("does", one)) for one in SYMPTOMS],
        "wrong": wrong,
        "filled": filled,
        "rows": [row_of(one) for one in found],
    }
    return page(request, "report.html", context, status=status)


def _one(request: Request, place: Place, one: Report) -> Response:
    if not for_people(request):
        return JSONResponse(_plain(one))
    context = {**_common(request, place), "one": one, "row": row_of(one)}
    return page(request, "report_one.html", context)


def _common(request: Request, place: Place) -> dict[str, Any]:
    """The site and the doorway; its id where the text of its site is at fault."""
    desk = desk_of(request)
    stored, name = desk.library.read(place.site), place.door
    with suppress(FileFaults):
        name = open_site(desk, place.site).doorway(place.door).name
    return {"stored": stored, "door_name": name, "address": place.address}


def _plain(one: Report) -> dict[str, Any]:
    """A report for programs."""
    return {
        "id": one.id,
        "reported": one.first.model_dump(mode="json"),
        "seen": one.seen.model_dump(mode="json") if one.seen else None,
        "settled": one.settled.model_dump(mode="json") if one.settled else None,
    }


def _missing(request: Request) -> Response:
    return refused(request, 404, [say(Message("report_page.refused.no_report"))])


def _done(request: Request, place: Place, one: Report) -> Response:
    if not for_people(request):
        return JSONResponse(_plain(one))
    to = f"{place.address}/report/{one.id}"
    return Response(status_code=303, headers={"Location": to})
