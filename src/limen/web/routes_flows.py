"""Who walks through a door and past it: looked at, asked about, with what weather."""

from importlib.metadata import version
from typing import TYPE_CHECKING, Annotated, Any

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile

from limen.desk.flow_words import as_values
from limen.desk.flows import Saving, flows_of, instead_of, saving
from limen.desk.library import Desk, Opened, book_of, open_site
from limen.desk.refusal import Refusal
from limen.desk.weather import keep_weather, weathers, with_year, year_named
from limen.findings import Message
from limen.web.flows_shown import saved_of, settings_of, shown_of
from limen.web.pages import by_htmx, desk_of, for_people, look_at, page
from limen.words import reading, say, unnumbered

if TYPE_CHECKING:
    from limen.model.doorway import Doorway

Id = Annotated[str, Path(max_length=80)]
Text = Annotated[str, Query(max_length=120)]
MOST_FILE = 2_100_000
_TAKES_FILE: dict[str, Any] = {
    "requestBody": {"content": {"text/csv": {"schema": {"type": "string"}}}}
}


def flow_routes() -> APIRouter:
    """The routes of flows."""
    routes = APIRouter(prefix="/sites/{site_id}/doorways/{door}/flows")
    routes.get("", response_class=HTMLResponse)(shown)
    routes.post("/weather", openapi_extra=_TAKES_FILE)(added)
    return routes


def shown(
    request: Request,
    site_id: Id,
    door: Id,
    setting: Text = "",
    to: Text = "",
    weather: Text = "",
) -> Response:
    """The flows of a doorway, and what a setting would save."""
    opened = open_site(desk_of(request), site_id)
    found = opened.doorway(door)
    if weather:
        found = with_year(found, year_named(desk_of(request), weather))
    flows = flows_of(found)
    asked = _asked(request, opened, found, (setting, to)) if setting or to else None
    if not for_people(request):
        if isinstance(asked, Refusal):
            raise asked
        saved = [[asked]] if isinstance(asked, Saving) else ()
        told = as_values(opened.site.name, [flows], version("limen"), saved)
        return JSONResponse(told)
    system = look_at(request).system
    context = _around(request, opened, door) | {
        "flows": shown_of(flows, system),
        "setting": setting,
        "to": to,
        "weather": weather,
        "settings": settings_of(found),
        "saved": saved_of(asked, system) if isinstance(asked, Saving) else None,
        "fault": " ".join(asked.lines) if isinstance(asked, Refusal) else "",
    }
    return page(request, "flows.html", context)


def _asked(
    request: Request, opened: Opened, found: "Doorway", typed: tuple[str, str]
) -> Saving | Refusal:
    """What a setting saves; why that cannot be reckoned."""
    setting, to = typed
    try:
        instead = instead_of(found, f"{setting}={unnumbered(to, reading())}")
        book = book_of(desk_of(request), opened.site, found)
        result = saving(found, instead, book)
    except Refusal as refusal:
        return refusal
    if isinstance(result, Saving):
        return result
    return Refusal(
        [say(Message("flows_shown.lacking")), *(say(r.message) for r in result)]
    )


def _around(request: Request, opened: Opened, door: str) -> dict[str, Any]:
    stored = opened.stored
    return {
        "stored": stored,
        "door": opened.doorway(door),
        "address": f"/sites/{stored.id}/doorways/{door}",
        "years": weathers(desk_of(request)),
        "refused": "",
    }


# Weather -------------------------------------------------------------------------


async def added(request: Request, site_id: Id, door: Id, name: Text = "") -> Response:
    """A weather file, kept beside the sheets: of a form, or as it is with its name."""
    kind = request.headers.get("Content-Type", "").partition(";")[0].strip().lower()
    if kind == "multipart/form-data":
        file = await _of_form(request)
    else:
        file = (name, await request.body())
    sent = file if file is not None and file[1] else None
    return await run_in_threadpool(_added, request, site_id, door, sent)


async def _of_form(request: Request) -> tuple[str, bytes] | None:
    limits = {"max_files": 1, "max_fields": 2, "max_part_size": MOST_FILE}
    async with request.form(**limits) as form:
        upload = form.get("file")
        if not isinstance(upload, UploadFile):
            return None
        return upload.filename or "", await upload.read()


def _kept(desk: Desk, file: tuple[str, bytes] | None) -> str:
    if file is None:
        raise Refusal([say(Message("flows_shown.weather.choose"))])
    return keep_weather(desk, *file)


def _added(
    request: Request, site_id: str, door: str, file: tuple[str, bytes] | None
) -> Response:
    desk = desk_of(request)
    opened = open_site(desk, site_id)
    opened.doorway(door)
    try:
        kept = _kept(desk, file)
    except Refusal as refusal:
        if not by_htmx(request):
            raise
        context = _around(request, opened, door) | {"refused": refusal.lines}
        return page(request, "flows_weather.html", context, status=422)
    to = f"/sites/{site_id}/doorways/{door}/flows?weather={kept}"
    if not for_people(request):
        return JSONResponse({"weather": kept}, 201)
    headers = {"HX-Redirect": to, "Location": to}
    return Response(status_code=204 if by_htmx(request) else 303, headers=headers)
