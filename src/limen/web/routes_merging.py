"""Two versions of a site: put together, one of them taken, or both kept."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, cast
from urllib.parse import urlsplit

from fastapi import APIRouter, Path, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData

from limen.desk.library import Clash, FileFaults, Stored
from limen.desk.library_merging import (
    NotMergedError,
    compared,
    keep_both,
    save_together,
    together,
)
from limen.desk.merging import Key, Side
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.web.answers import told, too_late
from limen.web.merging_shown import merging_panel, panel_of
from limen.web.pages import by_htmx, desk_of, fill, for_people
from limen.words import say

SiteId = Annotated[str, Path(max_length=60)]
MOST_FORM = 2_100_000
MOST_FIELDS = 2_000
_TAKES: dict[str, Any] = {
    "requestBody": {
        "content": {
            "application/x-www-form-urlencoded": {
                "schema": {
                    "type": "object",
                    "properties": {
                        "base": {"type": "string"},
                        "version": {"type": "string"},
                        "mine": {"type": "string"},
                    },
                }
            }
        }
    }
}


@dataclass(frozen=True, slots=True)
class Sent:
    """What the panel sends.

    Attributes:
        base: the version that mine was made from.
        version: the version of theirs that was shown.
        mine: my text.
        back: where to go once it is settled.
        name: under which name mine is to be kept.
        chosen: by key, whose value counts.
    """

    base: int
    version: int
    mine: str
    back: str
    name: str
    chosen: dict[Key, Side]


def merging_routes() -> APIRouter:
    """The routes of two versions."""
    routes = APIRouter(prefix="/sites/{site_id}/merge")
    routes.post("/shown", openapi_extra=_TAKES)(shown)
    routes.post("", openapi_extra=_TAKES)(merged)
    routes.post("/both", openapi_extra=_TAKES, status_code=201)(both)
    return routes


async def shown(request: Request, site_id: SiteId) -> Response:
    """Both versions key by key, with the text that they make together."""
    form = await _sent(request)

    def answer() -> Response:
        site = desk_of(request).library.read(site_id)
        try:
            found = compared(desk_of(request), site_id, form.mine, form.base)
            text = together(found, form.chosen)
        except NotMergedError as error:
            return _panel(request, site, form, 422, lines=error.lines)
        if not for_people(request):
            asked = [list(one.key) for one in found.asked]
            return JSONResponse({"text": text, "asked": asked, "version": site.version})
        return _panel(request, site, form, 200, result=text)

    return await run_in_threadpool(answer)


async def merged(request: Request, site_id: SiteId) -> Response:
    """Both versions put together as the next one."""
    form = await _sent(request)

    def answer() -> Response:
        desk = desk_of(request)
        site = desk.library.read(site_id)
        try:
            found = compared(desk, site_id, form.mine, form.base)
            kept = save_together(desk, site_id, found, form.chosen, form.version)
        except NotMergedError as error:
            return _panel(request, site, form, 422, lines=error.lines)
        if isinstance(kept, Clash):
            once = Clash(form.mine, form.base, kept.theirs)
            if not for_people(request):
                return too_late(once)
            return merging_panel(request, once, form.back, again=True)
        if not for_people(request):
            return told(kept)
        said = say(Message("merging.saved", {"version": kept.version}))
        return _settled(request, kept, form, said)

    return await run_in_threadpool(answer)


async def both(request: Request, site_id: SiteId) -> Response:
    """Mine kept as a site of its own; theirs stays as it is."""
    form = await _sent(request)

    def answer() -> Response:
        desk = desk_of(request)
        site = desk.library.read(site_id)
        try:
            kept = keep_both(desk, form.mine, form.name)
        except (Refusal, FileFaults) as error:
            if not for_people(request):
                raise
            lines = error.lines if isinstance(error, Refusal) else error.lines()
            return _panel(request, site, form, 422, lines=tuple(lines))
        if not for_people(request):
            return told(kept, 201)
        said = say(Message("merging.kept_both", {"name": kept.name}))
        return _settled(request, site, form, said, kept)

    return await run_in_threadpool(answer)


def _settled(
    request: Request, site: Stored, form: Sent, said: str, other: Stored | None = None
) -> Response:
    """What was done, where the panel stood; the page around it is told the version."""
    to = form.back or f"/sites/{site.id}"
    event = json.dumps({"limen-merged": {"version": site.version}})
    if not by_htmx(request):
        return Response(status_code=303, headers={"Location": to})
    here = urlsplit(request.headers.get("HX-Current-URL", "")).path
    context = {"said": said, "back": "" if here == to else to, "other": other}
    html = fill(request, "merging_settled.html", context)
    return HTMLResponse(html, headers={"HX-Trigger": event})


def _panel(
    request: Request,
    site: Stored,
    form: Sent,
    status: int,
    *,
    lines: tuple[str, ...] = (),
    result: str | None = None,
) -> Response:
    if not for_people(request):
        faults = [{"line": None, "text": one} for one in lines]
        return JSONResponse({"lines": list(lines), "faults": faults}, status)
    one = panel_of(
        request,
        site,
        form.mine,
        form.base,
        form.back,
        chosen=form.chosen,
        name=form.name,
        lines=lines,
        result=result,
    )
    html = fill(request, "merging_panel.html", {"panel": one, "again": False})
    return HTMLResponse(html, status)


async def _sent(request: Request) -> Sent:
    limits = {"max_files": 0, "max_fields": MOST_FIELDS, "max_part_size": MOST_FORM}
    async with request.form(**limits) as form:
        return _of_form(form)


def _of_form(form: FormData) -> Sent:
    held = {key: one for key, one in form.items() if isinstance(one, str)}
    base, version = _number(held.get("base")), _number(held.get("version"))
    if base is None or version is None:
        raise Refusal([say(Message("merging.no_form"))])
    back = held.get("back", "")
    return Sent(
        base,
        version,
        held.get("mine", "").replace("\r\n", "\n"),
        back if back.startswith("/sites/") else "",
        held.get("name", ""),
        _chosen(held),
    )


def _number(text: str | None) -> int | None:
    plain = text is not None and text.isascii() and text.isdigit() and len(text) < 10  # noqa: PLR2004 - digits
    return int(text or "") if plain else None


def _chosen(held: Mapping[str, str]) -> dict[Key, Side]:
    """By key whose value counts; a key stands in the form as a list of JSON."""
    chosen: dict[Key, Side] = {}
    for name, side in held.items():
        if name.startswith("[") and side in ("mine", "theirs"):
            try:
                parts: object = json.loads(name)
            except (ValueError, RecursionError):
                continue
            if isinstance(parts, list):
                key = tuple(str(one) for one in cast("list[object]", parts))
                chosen[key] = side
    return chosen
