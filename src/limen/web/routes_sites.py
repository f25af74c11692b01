"""Sites: listed, added, opened, saved, copied, renamed, put away."""

from collections.abc import Callable
from typing import Annotated, Any

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile

from limen.desk import library_lines as lines
from limen.desk import library_sites as sites
from limen.desk.library import Clash, FileFaults, Stored
from limen.findings import Message
from limen.web.answers import faulty, if_match, refused, shape, stepped, told, too_late
from limen.web.merging_shown import merging_panel
from limen.web.pages import (
    by_htmx,
    desk_of,
    for_people,
    page,
    version_asked,
    version_told,
)
from limen.web.sites_shown import Show, found_of, leaf_of, row_of, view_of
from limen.words import say

MOST_FORM = 2_100_000
Id = Annotated[str, "the id of a site"]


_TEXT = {"schema": {"type": "string"}}
_FORM = {"schema": {"type": "object", "properties": {"text": {"type": "string"}}}}
_NAME = {"schema": {"type": "object", "properties": {"name": {"type": "string"}}}}
_TAKES_TEXT: dict[str, Any] = {
    "requestBody": {
        "content": {
            "application/toml": _TEXT,
            "application/x-www-form-urlencoded": _FORM,
        }
    }
}
_TAKES_NAME: dict[str, Any] = {
    "requestBody": {"content": {"application/x-www-form-urlencoded": _NAME}}
}
_NAMES_VERSION = if_match("The version that the change was made from.")


def site_routes() -> APIRouter:
    """The routes of sites as a whole."""
    routes = APIRouter()
    get, post = routes.get, routes.post
    get("/", response_class=HTMLResponse)(listed)
    get("/sites")(listed_for_programs)
    post("/sites", status_code=201, openapi_extra=_TAKES_TEXT)(added)
    get("/sites/{site_id}", response_class=HTMLResponse)(opened)
    get("/sites/{site_id}/row", response_class=HTMLResponse)(row)
    get("/sites/{site_id}/site.toml")(file)
    get("/sites/{site_id}/versions/{number}.toml")(earlier)
    changes = _TAKES_TEXT | _NAMES_VERSION
    routes.put("/sites/{site_id}/text", openapi_extra=changes)(saved)
    post("/sites/{site_id}/copy", status_code=201)(copied)
    post("/sites/{site_id}/rename", openapi_extra=_TAKES_NAME)(renamed)
    post("/sites/{site_id}/full")(in_full)
    for way in ("undo", "redo"):
        post(f"/sites/{{site_id}}/{way}")(_stepping(way))
    for way in ("archive", "restore"):
        post(f"/sites/{{site_id}}/{way}")(_putting(way))
    return routes


# Reading -----------------------------------------------------------------------


def listed(
    request: Request,
    q: Annotated[str, Query(max_length=200)] = "",
    show: Show = "all",
    start: Annotated[int, Query(ge=0, le=10**6)] = 0,
) -> Response:
    """The sites that were asked for; only the list where only that is wanted."""
    every = lines.overview(desk_of(request))
    found = leaf_of(found_of(every, q, show), q, show, start)
    template = "sites_list.html" if by_htmx(request) else "sites.html"
    shown = {"q": q, "show": show, "empty": not every, **found, **_BLANK}
    return page(request, template, shown)


def listed_for_programs(request: Request) -> Response:
    """Every site, without its text."""
    return JSONResponse([shape(one) for one in desk_of(request).library.sites()])


def row(request: Request, site_id: Id, show: Show = "all") -> Response:
    """One site in the list, its doorways studied."""
    line = row_of(lines.tallied(desk_of(request), site_id))
    return page(request, "sites_row.html", {"row": line, "show": show})


def opened(request: Request, site_id: Id, study: bool = False) -> Response:  # noqa: FBT001, FBT002 - a query
    """One site: its doorways, its text, its history."""
    desk = desk_of(request)
    stored = desk.library.read(site_id)
    if not for_people(request):
        body = {**shape(stored), "text": stored.text}
        return JSONResponse(body, headers=version_told(stored.version))
    line = (lines.tallied if study else lines.glanced)(desk, site_id)
    template = "site_doors.html" if by_htmx(request) else "site.html"
    shown = {**view_of(desk, line), **_text_of(stored), "study": study}
    return page(request, template, shown)


def file(request: Request, site_id: Id) -> Response:
    """The site file, as it is kept."""
    return _as_file(*sites.export_text(desk_of(request), site_id))


def earlier(
    request: Request, site_id: Id, number: Annotated[int, Path(ge=1, le=10**9)]
) -> Response:
    """The site file as it was kept once."""
    return _as_file(*sites.export_text(desk_of(request), site_id, number))


def _as_file(name: str, data: bytes) -> Response:
    kept = f'attachment; filename="{name}"'
    return Response(
        data, media_type="application/toml", headers={"Content-Disposition": kept}
    )


# Adding and saving -------------------------------------------------------------


async def added(request: Request) -> Response:
    """A new site: the demo, a text typed, a file, or a body of TOML."""
    form = await _sent(request)
    desk, text = desk_of(request), form["text"]

    def keep() -> Stored:
        if form["demo"] == "as-found" or form["demo"] == "corrected":
            return sites.add_demo(desk, form["demo"])
        return sites.import_text(desk, text, form["name"])

    try:
        stored = await run_in_threadpool(keep)
    except FileFaults as faults:
        return _not_added(request, text, faults)
    return _at(request, stored, 201)


def _not_added(request: Request, text: str | bytes, faults: FileFaults) -> Response:
    """The form with what was typed still in it, and why it was refused."""
    rows = list(sites.fault_lines(faults))
    if not for_people(request):
        return JSONResponse(faulty(rows), 422)
    typed = text if isinstance(text, str) else text.decode(errors="replace")
    template = "sites_add.html" if by_htmx(request) else "add.html"
    return page(request, template, {"typed": typed, "faults": rows}, status=422)


async def saved(request: Request, site_id: Id) -> Response:
    """A new text of a site, made from the version that ``If-Match`` names."""
    base, form = version_asked(request), await _sent(request)
    if base is None:
        return refused(request, 428, [say(Message("desk.refused.no_version"))])
    desk, text = desk_of(request), form["text"]
    try:
        kept = await run_in_threadpool(sites.save_text, desk, site_id, text, base)
    except FileFaults as faults:
        if not by_htmx(request):
            raise
        rows = list(sites.fault_lines(faults))
        stored = await run_in_threadpool(desk.library.read, site_id)
        shown = {**_text_of(stored), "typed": text, "faults": rows, "version": base}
        return page(request, "site_text.html", shown, status=422)
    return _kept_text(request, kept)


def _kept_text(request: Request, kept: Stored | Clash) -> Response:
    if not by_htmx(request):
        return too_late(kept) if isinstance(kept, Clash) else told(kept)
    if isinstance(kept, Clash):
        return merging_panel(request, kept, f"/sites/{kept.theirs.id}")
    headers = version_told(kept.version) | {"HX-Trigger": "site-saved"}
    shown = _text_of(kept) | {"saved": True}
    return page(request, "site_text.html", shown, headers=headers)


# One step each -----------------------------------------------------------------


def copied(request: Request, site_id: Id) -> Response:
    """A copy of a site."""
    return _at(request, sites.copy(desk_of(request), site_id), 201)


async def renamed(request: Request, site_id: Id) -> Response:
    """Another name for a site."""
    form = await _sent(request)
    desk, base = desk_of(request), version_asked(request)
    kept = await run_in_threadpool(sites.rename, desk, site_id, form["name"], base)
    return _at(request, kept)


def in_full(request: Request, site_id: Id) -> Response:
    """The short forms of a site written in full."""
    desk, base = desk_of(request), version_asked(request)
    if base is None:
        base = desk.library.read(site_id).version
    return _at(request, sites.write_in_full(desk, site_id, base))


def _stepping(way: str) -> Callable[..., Response]:
    def step(request: Request, site_id: Id) -> Response:
        kept = stepped(request, site_id, way, version_asked(request))
        return kept if isinstance(kept, Response) else _at(request, kept)

    step.__doc__ = f"Step to the text before this one, or after it: {way}."
    step.__name__ = f"{way}_text"
    return step


def _putting(way: str) -> Callable[..., Response]:
    def put(request: Request, site_id: Id) -> Response:
        desk, archived = desk_of(request), way == "archive"
        stored = sites.put_away(desk, site_id, archived=archived)
        if not by_htmx(request):
            return told(stored)
        line = row_of(lines.glanced(desk, site_id))
        template = "sites_gone.html" if archived else "sites_row.html"
        return page(request, template, {"row": line, "show": "all"})

    put.__doc__ = f"Put a site away, or take it out again: {way}."
    put.__name__ = f"{way}_site"
    return put


def _at(request: Request, kept: Stored | Clash, status: int = 200) -> Response:
    """To the site's page, for people; the site, for programs."""
    if isinstance(kept, Clash):
        if not for_people(request):
            return too_late(kept)
        return refused(request, 412, [say(Message("desk.refused.changed"))])
    if not for_people(request):
        answer = told(kept, status)
        answer.headers["Location"] = f"/sites/{kept.id}"
        return answer
    to = {"HX-Redirect": f"/sites/{kept.id}", "Location": f"/sites/{kept.id}"}
    return Response(status_code=204 if by_htmx(request) else 303, headers=to)


# What was sent -----------------------------------------------------------------

_BLANK: dict[str, Any] = {"typed": "", "faults": []}


def _text_of(stored: Stored) -> dict[str, Any]:
    """What the form of a site's text shows."""
    return {
        "site": stored,
        "version": stored.version,
        "typed": stored.text,
        "faults": [],
        "saved": False,
    }


async def _sent(request: Request) -> dict[str, Any]:
    """Text, name and demo of a form; a body that is no form is the text itself."""
    kind = request.headers.get("Content-Type", "").partition(";")[0].strip().lower()
    if kind not in {"multipart/form-data", "application/x-www-form-urlencoded"}:
        return {"text": await request.body(), "name": "", "demo": ""}
    limits = {"max_files": 1, "max_fields": 8, "max_part_size": MOST_FORM}
    async with request.form(**limits) as form:
        return await _of_form(form)


async def _of_form(form: FormData) -> dict[str, Any]:
    held = {key: form.get(key) for key in ("text", "name", "demo", "file")}
    plain = {key: one if isinstance(one, str) else "" for key, one in held.items()}
    text: str | bytes = plain["text"].replace("\r\n", "\n")  # as browsers send lines
    upload = held["file"]
    if isinstance(upload, UploadFile) and upload.size:
        text = await upload.read()
        plain["name"] = plain["name"] or upload.filename or ""
    return {"text": text, "name": plain["name"][:200], "demo": plain["demo"]}
