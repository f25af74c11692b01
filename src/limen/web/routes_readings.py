"""Readings at a doorway: typed, fitted while they are typed, written into the door."""

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from limen.desk.exporting import Exported
from limen.desk.fitting import FileFaults, read_typed, readings_text, write_fit
from limen.desk.library import Clash, Opened, open_site
from limen.desk.library_sites import fault_lines, file_name
from limen.desk.reading_sheet import reading_sheet_file
from limen.desk.taping import to_tape
from limen.findings import Message
from limen.model.readings import UnitRead
from limen.web.answers import Rows, faulty, if_match, refused, shape, too_late
from limen.web.pages import (
    desk_of,
    fill,
    for_people,
    look_at,
    page,
    version_asked,
    version_told,
)
from limen.web.readings_form import Filled, filled, refilled
from limen.web.readings_found import result_of
from limen.web.readings_looked import Looked, looked
from limen.web.readings_shown import page_of
from limen.web.routes_out import as_file
from limen.words import say

Id = Annotated[str, Path(max_length=80)]
MOST_FIELDS = 4000
MOST_TEXT = 100_000
Paper = Annotated[Literal["", "a4", "letter"], Query()]
_PDF: dict[int | str, dict[str, object]] = {200: {"content": {"application/pdf": {}}}}
_SENT: dict[str, Any] = {
    "requestBody": {
        "content": {
            "application/x-www-form-urlencoded": {
                "schema": {
                    "type": "object",
                    "properties": {
                        "units": {"enum": ["metric", "feet"]},
                        "act": {
                            "enum": ["look", "study", "add", "save", "take", "write"]
                        },
                        "version": {"type": "string"},
                        "text": {"type": "string"},
                    },
                    "additionalProperties": {"type": "string", "maxLength": 200},
                }
            }
        }
    },
    **if_match("The version that was read; only asked where `act` is `write`."),
}
_SENT["parameters"][0]["required"] = False


def reading_routes() -> APIRouter:
    """The page of readings of a doorway, and its sheet to print."""
    routes = APIRouter(prefix="/sites/{site_id}/doorways/{door}")
    routes.get("/readings", response_class=HTMLResponse)(asked)
    routes.post("/readings", openapi_extra=_SENT, response_model=None)(answered)
    routes.get("/readings.pdf", responses=_PDF)(printed)
    return routes


def asked(request: Request, site_id: Id, door: Id) -> Response:
    """What is to be taped, nothing typed yet."""
    opened = open_site(desk_of(request), site_id)
    return _page(request, opened, door, Filled(units=look_at(request).units))


def printed(request: Request, site_id: Id, door: Id, paper: Paper = "") -> Response:
    """The same on paper, to be written on."""
    units = "feet" if look_at(request).units == "feet" else "metric"
    made = reading_sheet_file(
        desk_of(request), site_id, door, paper=paper or None, units=units
    )
    return as_file(made)


async def answered(request: Request, site_id: Id, door: Id) -> Response:
    """Readings: what they show, a file of them, or the door with them written in."""
    async with request.form(max_files=0, max_fields=MOST_FIELDS) as sent:
        form = {key: one for key, one in sent.items() if isinstance(one, str)}
    doing = _DOING.get(form.get("act", "look"), _looked)
    return await run_in_threadpool(doing, request, site_id, door, form)


def _form(request: Request, form: dict[str, str]) -> Filled:
    return filled(form, look_at(request).units)


# Looking -----------------------------------------------------------------------


def _looked(
    request: Request, site_id: str, door: str, form: dict[str, str]
) -> Response:
    opened, told = open_site(desk_of(request), site_id), _form(request, form)
    if for_people(request):
        return _page(request, opened, door, told)
    whole = form.get("act") == "study"
    found = looked(desk_of(request), opened, door, told, studied=whole)
    return JSONResponse(
        _said(request, found), headers=version_told(opened.stored.version)
    )


def _said(request: Request, found: Looked) -> dict[str, Any]:
    """All that changes in the page when something is typed."""
    shown = result_of(found, look_at(request).system)
    return {
        "result_html": fill(request, "readings_result.html", shown),
        "bar_html": fill(request, "readings_bar.html", shown),
        "writes": shown["writes"],
        "faults": dict(found.faults),
        "open": dict(found.sent.open),
        "later": shown["later"],
        "wrong": [one["at"] for unit in shown["fitted"] for one in unit["misread"]],
        "outcomes": {one.fitting: one.outcome for one in found.units},
    }


def _page(
    request: Request,
    opened: Opened,
    door: str,
    form: Filled,
    said: str = "",
    status: int = 200,
) -> Response:
    desk, look = desk_of(request), look_at(request)
    doorway = opened.doorway(door)
    found = looked(desk, opened, door, form)
    context = {
        **page_of(doorway, to_tape(doorway), form, look.system),
        **result_of(found, look.system),
        "faults": {**found.sent.open, **found.faults},
        "site": opened.stored,
        "address": f"/sites/{opened.stored.id}/doorways/{door}/readings",
        "said": said,
    }
    return page(request, "readings.html", context, status=status)


def _added(request: Request, site_id: str, door: str, form: dict[str, str]) -> Response:
    """The same page with one reading more: for browsers without scripts."""
    for unit in range(20):
        kind = form.get(f"u{unit}.add", "")
        if kind:
            names = [int(name) for name in _form(request, form).names(unit)]
            form[f"u{unit}.r{max([5, *names]) + 1}.kind"] = kind
    opened = open_site(desk_of(request), site_id)
    return _page(request, opened, door, _form(request, form))


# Files -------------------------------------------------------------------------


def _saved(request: Request, site_id: str, door: str, form: dict[str, str]) -> Response:
    """The readings as a file; what cannot be read is told instead."""
    desk, opened = desk_of(request), open_site(desk_of(request), site_id)
    found = looked(desk, opened, door, _form(request, form))
    if found.readings is None or not found.complete:
        said = Message("readings_page.file.incomplete")
        return _refused(request, opened, door, form, found, say(said))
    name = f"{file_name(opened.stored.name)}-{door}-readings.toml"
    data = readings_text(found.readings).encode()
    return as_file(Exported(name, "application/toml", data))


def _taken(request: Request, site_id: str, door: str, form: dict[str, str]) -> Response:
    """The form as a readings file fills it; nothing is kept."""
    opened = open_site(desk_of(request), site_id)
    try:
        readings = read_typed(form.get("text", "")[:MOST_TEXT])
    except FileFaults as faults:
        return JSONResponse(faulty(list(fault_lines(faults))), 422)
    tapes = to_tape(opened.doorway(door))
    fittings = {one.fitting.id: number for number, one in enumerate(tapes)}
    wrong = _not_of_here(door, readings.doorway, fittings, readings.unit)
    if wrong:
        return JSONResponse(faulty([(None, say(wrong))]), 422)
    told = refilled(readings, fittings, look_at(request).units)
    shown = page_of(opened.doorway(door), tapes, told, look_at(request).system)
    shown |= {"faults": {}, "address": ""}
    return JSONResponse(
        {
            "fields": dict(told.fields),
            "units_html": fill(request, "readings_units.html", shown),
        }
    )


def _not_of_here(
    door: str, found: str, fittings: dict[str, int], units: tuple[UnitRead, ...]
) -> Message | None:
    """Why readings of another door are not taken in."""
    if found != door:
        return Message("readings_page.file.other_door", {"found": found})
    named = [one.fitting for one in units]
    if not any(name in fittings for name in named):
        return Message("readings_page.file.no_units", {"found": ", ".join(named)})
    return None


# Writing -----------------------------------------------------------------------


def _written(
    request: Request, site_id: str, door: str, form: dict[str, str]
) -> Response:
    """The site with the units where they hang, as its next version."""
    desk, opened = desk_of(request), open_site(desk_of(request), site_id)
    version = _version(request, form)
    if version is None:
        return refused(request, 428, [say(Message("desk.refused.no_version"))])
    # What is written needs no study; the page that follows asks for its own.
    found = looked(desk, opened, door, _form(request, form), studied=False)
    if not found.changes or not found.complete:
        key = "not_yet" if found.complete else "incomplete"
        said = say(Message(f"readings_page.write.{key}"))
        found = looked(desk, opened, door, _form(request, form))
        return _refused(request, opened, door, form, found, said)
    kept = write_fit(desk, site_id, door, found.changes, version)
    if isinstance(kept, Clash):
        if not for_people(request):
            return too_late(kept)
        said = say(Message("readings_page.write.changed"))
        return _page(request, opened, door, _form(request, form), said, 412)
    to = f"/sites/{site_id}/doorways/{door}"
    if for_people(request):
        return Response(status_code=303, headers={"Location": to})
    done = say(Message("readings_page.write.done", {"version": kept.version}))
    told = {"said": done, "address": to, "can_undo": kept.can_undo}
    html = fill(request, "readings_done.html", told)
    body = {**shape(kept), "said": done, "address": to, "done_html": html}
    return JSONResponse(body, headers=version_told(kept.version))


def _version(request: Request, form: dict[str, str]) -> int | None:
    stated = form.get("version", "")
    typed = int(stated) if stated.isascii() and stated.isdigit() else None
    return version_asked(request) or (typed if for_people(request) else None)


def _refused(
    request: Request,
    opened: Opened,
    door: str,
    form: dict[str, str],
    found: Looked,
    said: str,
) -> Response:
    if for_people(request):
        return _page(request, opened, door, _form(request, form), said, 422)
    rows: Rows = [(None, said)]
    return JSONResponse({**_said(request, found), **faulty(rows)}, 422)


_DOING = {
    "look": _looked,
    "study": _looked,
    "add": _added,
    "save": _saved,
    "take": _taken,
    "write": _written,
}
