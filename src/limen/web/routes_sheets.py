"""Sensor sheets: listed, shown, added, typed from a manual, changed, handed out."""

from typing import Annotated, Any

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile

from limen.desk.library import Fault, FileFaults
from limen.desk.library_sites import fault_lines
from limen.desk.sheet_form import flat_of
from limen.desk.sheet_shelf import (
    FormFaultsError,
    NoSuchSheetError,
    SheetClash,
    SheetTakenError,
    ShelfSheet,
    add_form,
    add_sheet,
    save_form,
    save_sheet,
    sheet_at_hand,
    sheets_at_hand,
    uses,
)
from limen.findings import Measure, Message
from limen.quantity import Dimension
from limen.web.answers import faulty, if_match, refused
from limen.web.pages import by_htmx, desk_of, for_people, look_at, page
from limen.web.sheets_form import flat_in, parts_of, said_fault, stepped, typed_in
from limen.web.sheets_shown import HEIGHT, matching, parts_said, row_of
from limen.words import say

SheetName = Annotated[str, Path(max_length=60)]
MOST_FORM = 2_100_000
_TEXT = {"schema": {"type": "string"}}
_TAKES_TEXT: dict[str, Any] = {
    "requestBody": {
        "content": {
            "application/toml": _TEXT,
            "application/x-www-form-urlencoded": {
                "schema": {
                    "type": "object",
                    "properties": {
                        "text": {"type": "string"},
                        "name": {"type": "string", "maxLength": 60},
                    },
                }
            },
        }
    }
}
_TAKES_FORM: dict[str, Any] = {
    "requestBody": {
        "content": {
            "application/x-www-form-urlencoded": {
                "schema": {
                    "type": "object",
                    "additionalProperties": {"type": "string", "maxLength": 400},
                }
            }
        }
    }
}
_NAMES_TEXT = if_match("The digest of the text that the change was made from.")


def sheet_routes() -> APIRouter:
    """The routes of sensor sheets."""
    routes = APIRouter()
    get, post = routes.get, routes.post
    get("/sheets", response_class=HTMLResponse, response_model=None)(listed)
    post("/sheets", openapi_extra=_TAKES_TEXT, response_model=None)(added)
    get("/sheets/new", response_class=HTMLResponse, response_model=None)(blank)
    post("/sheets/new", openapi_extra=_TAKES_FORM, response_model=None)(typed)
    get("/sheets/{name}", response_class=HTMLResponse, response_model=None)(shown)
    get("/sheets/{name}/sheet.toml", response_model=None)(file)
    routes.put(
        "/sheets/{name}/text",
        openapi_extra=_TAKES_TEXT | _NAMES_TEXT,
        response_model=None,
    )(saved)
    get("/sheets/{name}/change", response_class=HTMLResponse, response_model=None)(
        changing
    )
    post("/sheets/{name}/change", openapi_extra=_TAKES_FORM, response_model=None)(
        changed
    )
    return routes


# Looking ---------------------------------------------------------------------------


def listed(request: Request, q: Annotated[str, Query(max_length=200)] = "") -> Response:
    """The sheets at hand; for programs without their texts."""
    desk, system = desk_of(request), look_at(request).system
    used = uses(desk)
    rows = [row_of(one, used.get(one.name, ()), system) for one in sheets_at_hand(desk)]
    found = matching(rows, q)
    if not for_people(request):
        return JSONResponse([_shape(one.sheet) for one in found])
    template = "sheets_list.html" if by_htmx(request) else "sheets.html"
    return page(request, template, {"rows": found, "q": q, **_BLANK})


def shown(request: Request, name: SheetName) -> Response:
    """One sheet: all it says, its file, who uses it."""
    try:
        one = sheet_at_hand(desk_of(request), name)
    except NoSuchSheetError:
        return _no_sheet(request)
    if not for_people(request):
        tag = {"ETag": f'"{one.digest}"'}
        return JSONResponse({**_shape(one), "text": one.text}, headers=tag)
    return page(request, "sheet.html", _sheet_shown(request, one))


def _sheet_shown(request: Request, one: ShelfSheet) -> dict[str, Any]:
    system = look_at(request).system
    used = uses(desk_of(request)).get(one.name, ())
    return {
        "row": row_of(one, used, system),
        "parts": parts_said(one, system),
        "height": Measure(HEIGHT, Dimension.LENGTH),
        "used": used,
        **_text_of(one),
    }


def file(request: Request, name: SheetName) -> Response:
    """The sheet's file, byte for byte."""
    try:
        one = sheet_at_hand(desk_of(request), name)
    except NoSuchSheetError:
        return _no_sheet(request)
    return Response(
        one.text.encode(),
        media_type="application/toml",
        headers={
            "Content-Disposition": f'attachment; filename="{one.name}.toml"',
            "ETag": f'"{one.digest}"',
        },
    )


# Texts -----------------------------------------------------------------------------


async def added(request: Request, name: str = "") -> Response:
    """A sheet from its file."""
    text, named = await _sent(request, name)
    desk = desk_of(request)
    try:
        one = await run_in_threadpool(add_sheet, desk, named, text)
    except SheetTakenError as taken:
        return _not_added(request, text, named, [(None, taken.why)])
    except FileFaults as faults:
        return _not_added(request, text, named, [*fault_lines(faults)])
    return _at(request, one, 201)


def _not_added(
    request: Request,
    text: bytes | str,
    name: str,
    rows: list[tuple[int | None, str]],
) -> Response:
    if not for_people(request):
        return JSONResponse(faulty(rows), 422)
    typed = text if isinstance(text, str) else text.decode(errors="replace")
    template = "sheets_add.html" if by_htmx(request) else "sheets_added.html"
    told = {"typed": typed, "name": name, "faults": rows}
    return page(request, template, told, status=422)


async def saved(request: Request, name: SheetName) -> Response:
    """Another text of an own sheet, made from the one that ``If-Match`` names."""
    base = request.headers.get("If-Match", "").strip().removeprefix("W/").strip('"')
    text, _ = await _sent(request, name)
    if not base:
        return refused(request, 428, [say(Message("sheet_page.refused.no_digest"))])
    desk = desk_of(request)
    try:
        kept = await run_in_threadpool(save_sheet, desk, name, text, base)
    except NoSuchSheetError:
        return _no_sheet(request)
    except FileFaults as faults:
        if not by_htmx(request):
            raise
        one = await run_in_threadpool(sheet_at_hand, desk, name)
        typed = text if isinstance(text, str) else text.decode(errors="replace")
        told = {"typed": typed, "faults": [*fault_lines(faults)], "base": base}
        return page(request, "sheet_text.html", {**_text_of(one), **told}, status=422)
    return _kept(request, kept)


def _kept(request: Request, kept: ShelfSheet | SheetClash) -> Response:
    if isinstance(kept, SheetClash):
        return _clash(request, kept)
    if not for_people(request):
        return JSONResponse(_shape(kept), headers={"ETag": f'"{kept.digest}"'})
    to = {"HX-Redirect": f"/sheets/{kept.name}", "Location": f"/sheets/{kept.name}"}
    return Response(status_code=204 if by_htmx(request) else 303, headers=to)


def _clash(request: Request, clash: SheetClash) -> Response:
    theirs = clash.theirs
    if not for_people(request):
        body: dict[str, Any] = {
            "lines": [],
            "mine": clash.mine,
            "theirs": theirs.text if theirs else "",
            "digest": theirs.digest if theirs else "",
        }
        return JSONResponse(body, 412)
    if theirs is None:
        return refused(request, 412, [say(Message("sheet_page.gone"))])
    told = {**_text_of(theirs), "typed": clash.mine, "clash": True}
    template = "sheet_text.html" if by_htmx(request) else "sheet_clash.html"
    return page(request, template, told, status=412)


# Forms -----------------------------------------------------------------------------


def blank(
    request: Request,
    start: Annotated[str, Query(alias="from", max_length=60)] = "",
) -> Response:
    """The form, empty or begun with what another sheet says."""
    typed: dict[str, str] = {"units": look_at(request).units}
    if start:
        try:
            one = sheet_at_hand(desk_of(request), start)
        except NoSuchSheetError:
            return _no_sheet(request)
        typed |= flat_of(one.raw)
    else:
        typed["has.presence"] = "yes"
    return _form(request, typed, {})


def changing(request: Request, name: SheetName) -> Response:
    """The form with what an own sheet says."""
    try:
        one = sheet_at_hand(desk_of(request), name)
    except NoSuchSheetError:
        return _no_sheet(request)
    if not one.own:
        return refused(request, 422, [say(Message("sheet_page.refused.generic"))])
    typed = {"units": look_at(request).units, "base": one.digest, **flat_of(one.raw)}
    return _form(request, typed, {}, one.name)


async def typed(request: Request) -> Response:
    """A sheet typed from a manual."""
    return await _typed(request, None)


async def changed(request: Request, name: SheetName) -> Response:
    """An own sheet changed by its form."""
    return await _typed(request, name)


async def _typed(request: Request, name: str | None) -> Response:
    async with request.form(max_files=0, max_fields=900) as sent:
        fields = typed_in(sent, look_at(request).units)
    act = fields.pop("act", "keep")
    if act != "keep":
        more = stepped(fields, act)
        return await run_in_threadpool(_form, request, more, {}, name)
    return await run_in_threadpool(_keep, request, fields, name)


def _keep(request: Request, fields: dict[str, str], name: str | None) -> Response:
    desk, flat = desk_of(request), flat_in(fields)
    try:
        if name is None:
            return _at(request, add_form(desk, fields.get("as", ""), flat), 201)
        kept = save_form(desk, name, flat, fields.get("base", ""))
    except NoSuchSheetError:
        return _no_sheet(request)
    except SheetTakenError as taken:
        told = {"as": Fault("as", None, "", taken.why, "")}
        return _form(request, fields, told, name, status=422)
    except FormFaultsError as faults:
        return _form(request, fields, faults.faults, name, status=422)
    return _kept(request, kept)


def _form(
    request: Request,
    fields: dict[str, str],
    faults: dict[str, Fault],
    name: str | None = None,
    *,
    status: int = 200,
) -> Response:
    if not for_people(request) and status != 200:  # noqa: PLR2004 - a status
        rows = [(None, f"{key}: {said_fault(one)}") for key, one in faults.items()]
        by_field = {key: said_fault(one) for key, one in faults.items()}
        return JSONResponse({**faulty([*rows]), "by_field": by_field}, status)
    told = {
        "fields": fields,
        "parts": parts_of(fields, faults),
        "faults": {key: said_fault(one) for key, one in faults.items()},
        "changing": name,
        "units": fields.get("units", "metric"),
    }
    template = "sheet_form_part.html" if by_htmx(request) else "sheet_form.html"
    return page(request, template, told, status=status)


# Answers ---------------------------------------------------------------------------

_BLANK: dict[str, Any] = {"typed": "", "name": "", "faults": []}


def _text_of(one: ShelfSheet) -> dict[str, Any]:
    return {
        "sheet": one,
        "base": one.digest,
        "typed": one.text,
        "faults": [],
        "clash": False,
    }


def _no_sheet(request: Request) -> Response:
    return refused(request, 404, [say(Message("sheet_page.refused.no_sheet"))])


def _at(request: Request, one: ShelfSheet, status: int) -> Response:
    to = f"/sheets/{one.name}"
    if not for_people(request):
        headers = {"Location": to, "ETag": f'"{one.digest}"'}
        return JSONResponse(_shape(one), status, headers)
    done = 204 if by_htmx(request) else 303
    return Response(status_code=done, headers={"HX-Redirect": to, "Location": to})


def _shape(one: ShelfSheet) -> dict[str, Any]:
    return {
        "name": one.name,
        "title": one.sheet.name if one.sheet else "",
        "own": one.own,
        "digest": one.digest,
        "readable": one.sheet is not None,
    }


# What was sent ---------------------------------------------------------------------


async def _sent(request: Request, name: str) -> tuple[bytes | str, str]:
    """Text and name of a form; a body that is no form is the text itself."""
    kind = request.headers.get("Content-Type", "").partition(";")[0].strip().lower()
    if kind not in {"multipart/form-data", "application/x-www-form-urlencoded"}:
        return await request.body(), name
    limits = {"max_files": 1, "max_fields": 8, "max_part_size": MOST_FORM}
    async with request.form(**limits) as form:
        return await _of_form(form, name)


async def _of_form(form: FormData, name: str) -> tuple[bytes | str, str]:
    typed, named, upload = (form.get(key) for key in ("text", "name", "file"))
    text: bytes | str = typed.replace("\r\n", "\n") if isinstance(typed, str) else ""
    said = named.strip()[:60] if isinstance(named, str) else name
    if isinstance(upload, UploadFile) and upload.size:
        text = await upload.read()
        said = said or (upload.filename or "").removesuffix(".toml")[:60]
    return text, said
