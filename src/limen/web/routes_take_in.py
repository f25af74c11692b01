"""Doors taken in from a list: sent, mapped, tried, taken in, put away again."""

from dataclasses import replace
from typing import Annotated, Any, cast

from fastapi import APIRouter, Path, Request
from fastapi.responses import HTMLResponse, Response
from starlette.concurrency import run_in_threadpool

from limen.desk import taking_in_library as desk
from limen.desk.refusal import Refusal
from limen.desk.taking_in import map_text, refused_bytes
from limen.findings import Message
from limen.web.answers import refused
from limen.web.pages import desk_of, page
from limen.web.sent_file import TAKES_FILE, sent_file
from limen.web.take_in_form import WrongMappingError, how_of, map_of
from limen.web.take_in_shown import asked_shown, done_shown, page_shown
from limen.words import say

ListId = Annotated[str, Path(pattern=r"^[0-9a-f]{16}$")]
_TAKES_FORM: dict[str, Any] = {
    "requestBody": {
        "content": {
            "application/x-www-form-urlencoded": {
                "schema": {
                    "type": "object",
                    "properties": {"act": {"type": "string"}},
                    "additionalProperties": {"type": "string"},
                }
            }
        }
    }
}
MOST_FIELDS = 4_000
_GONE = 404


def take_in_routes() -> APIRouter:
    """The routes of lists that are taken in."""
    routes = APIRouter()
    get, post = routes.get, routes.post
    get("/take-in", response_class=HTMLResponse)(asked)
    post("/take-in", openapi_extra=TAKES_FILE, response_model=None)(sent)
    get("/take-in/{list_id}", response_class=HTMLResponse)(shown)
    post("/take-in/{list_id}", openapi_extra=_TAKES_FORM, response_model=None)(chosen)
    post("/take-in/{list_id}/back", response_model=None)(put_back)
    get("/take-in/{list_id}/refused.csv", response_model=None)(refused_rows)
    get("/take-in/{list_id}/map.toml", response_model=None)(mapping)
    return routes


def _lists(request: Request) -> desk.Lists:
    return cast("desk.Lists", request.app.state.lists)


def asked(request: Request) -> Response:
    """The page, with no list yet."""
    return page(request, "take_in.html", asked_shown())


async def sent(request: Request) -> Response:
    """A list that was sent: held while it is looked at, and nothing of it kept."""
    name, data = await sent_file(request)
    if not data:
        why = [say(Message("take_in.page.no_file"))]
        return page(request, "take_in.html", asked_shown(why), status=422)
    try:
        list_id = await run_in_threadpool(_lists(request).begin, name, data)
    except Refusal as no:
        return page(request, "take_in.html", asked_shown(no.lines), status=422)
    return _to(list_id)


def shown(request: Request, list_id: ListId) -> Response:
    """A list: what its columns become, what would be taken in; or what was."""
    try:
        held = _lists(request).held(list_id)
    except desk.NoSuchListError:
        return _gone(request)
    return _page(request, list_id, held)


async def chosen(request: Request, list_id: ListId) -> Response:
    """What was chosen for a list: tried out, or taken in if it was tried before."""
    async with request.form(max_files=0, max_fields=MOST_FIELDS) as form:
        said = {k: v for k, v in form.items() if isinstance(v, str)}
    return await run_in_threadpool(_chosen, request, list_id, said)


def _chosen(request: Request, list_id: str, form: dict[str, str]) -> Response:
    lists = _lists(request)
    try:
        held = lists.held(list_id)
    except desk.NoSuchListError:
        return _gone(request)
    if held.kept:
        return _to(list_id)
    try:
        tried_before = held
        held = replace(held, how=how_of(form))
        table = desk.table_of(held)
        if held.how == tried_before.how:
            held = replace(held, mapping=map_of(form, table))
        else:  # other columns, perhaps: what was chosen of the old ones says nothing
            held = desk.suggested_anew(held, table)
    except (Refusal, WrongMappingError) as no:
        return _page(request, list_id, held, wrong=list(no.lines), form=form)
    lists.change(list_id, held)
    same = held == tried_before
    if form.get("act") != "take" or not same:
        again = form.get("act") == "take"
        return _page(request, list_id, held, again=again)
    try:
        tried = desk.try_in_library(desk_of(request), held, table)
        lists.change(list_id, desk.take_in(desk_of(request), held, tried))
    except Refusal as no:
        return _page(request, list_id, held, wrong=list(no.lines))
    return _to(list_id)


def put_back(request: Request, list_id: ListId) -> Response:
    """Everything that was taken in put away again."""
    try:
        held = _lists(request).held(list_id)
    except desk.NoSuchListError:
        return _gone(request)
    stay: tuple[str, ...] = ()
    if held.kept and not held.back:
        held, stay = desk.take_back(desk_of(request), held)
        _lists(request).change(list_id, held)
    return page(request, "take_in_done.html", done_shown(list_id, held, stay))


def refused_rows(request: Request, list_id: ListId) -> Response:
    """The rows of a list that are refused, as a table to be mended."""
    try:
        held = _lists(request).held(list_id)
    except desk.NoSuchListError:
        return _gone(request)
    data = held.refused_rows
    if not held.kept:
        table = desk.table_of(held)
        data = refused_bytes(desk.try_in_library(desk_of(request), held, table))
    return _file("refused.csv", data, "text/csv; charset=utf-8")


def mapping(request: Request, list_id: ListId) -> Response:
    """What each column of a list becomes, as a file for the command."""
    try:
        held = _lists(request).held(list_id)
    except desk.NoSuchListError:
        return _gone(request)
    text = map_text(held.mapping, desk.table_of(held))
    return _file("map.toml", text.encode(), "application/toml")


def _page(
    request: Request,
    list_id: str,
    held: desk.Held,
    *,
    wrong: list[str] | None = None,
    again: bool = False,
    form: dict[str, str] | None = None,
) -> Response:
    if held.kept:
        return page(request, "take_in_done.html", done_shown(list_id, held, ()))
    status = 422 if wrong else 200
    context = page_shown(desk_of(request), list_id, held, wrong or [], form)
    return page(request, "take_in_list.html", context | {"again": again}, status=status)


def _gone(request: Request) -> Response:
    return refused(request, _GONE, [say(Message("take_in.page.gone"))])


def _to(list_id: str) -> Response:
    return Response(status_code=303, headers={"Location": f"/take-in/{list_id}"})


def _file(name: str, data: bytes, kind: str) -> Response:
    kept = f'attachment; filename="{name}"'
    return Response(data, media_type=kind, headers={"Content-Disposition": kept})
