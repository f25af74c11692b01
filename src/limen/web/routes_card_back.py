"""What a card saved as a file, taken in on a page."""

from collections.abc import Iterator
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from limen.desk.card_back import TakenIn, take_in_text
from limen.desk.library import Desk, NoSuchSiteError, readable
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.web.answers import refused
from limen.web.pages import desk_of, for_people, page
from limen.web.sent_file import TAKES_FILE, sent_file
from limen.words import say, say_count

HERE = "/visits/take-in"
_WORDS = "card_file.taken_in."


def card_back_routes() -> APIRouter:
    """The routes of files that cards saved."""
    routes = APIRouter()
    routes.get(HERE, response_class=HTMLResponse)(asked)
    routes.post(HERE, openapi_extra=TAKES_FILE, response_model=None)(sent)
    return routes


def asked(request: Request) -> Response:
    """The page, with no file yet."""
    return _page(request)


async def sent(request: Request) -> Response:
    """What a card saved: kept as if the card itself had sent it."""
    name, data = await sent_file(request)
    if not data:
        return _wrong(request, [say(Message("take_in.page.no_file"))])
    return await run_in_threadpool(_taken, request, name, data)


def _taken(request: Request, name: str, data: bytes) -> Response:
    desk = desk_of(request)
    try:
        done = take_in_text(desk, data, name)
    except Refusal as no:
        return _wrong(request, no.lines)
    status = 422 if done.bad else 200
    if not for_people(request):
        counts = {"new": done.new, "again": done.again, "photos": done.photos}
        body = {**counts, "clashes": done.clashes, "lines": list(done.bad)}
        return JSONResponse(body, status)
    told = {"file": name, "lines": list(_lines(done)), "bad": done.bad}
    return _page(request, status, told | {"doors": list(_doors(desk, done))})


def _lines(done: TakenIn) -> Iterator[str]:
    """What became of it, a line each."""
    yield say_count(f"{_WORDS}events", done.new)
    if done.again:
        yield say_count(f"{_WORDS}again", done.again)
    if done.photos:
        yield say_count(f"{_WORDS}photos", done.photos)
    if done.clashes:
        yield say(Message(f"{_WORDS}clash"))


def _doors(desk: Desk, done: TakenIn) -> Iterator[tuple[str, str]]:
    """Address of the visits of each doorway that there is, and its name."""
    for site, door in done.doors:
        try:
            opened = readable(desk, site)
        except NoSuchSiteError:
            continue
        names = {one.id: one.name for one in opened.site.doorway} if opened else {}
        if opened is None or door in names:
            yield f"/sites/{site}/doorways/{door}/visits", names.get(door, door)


def _wrong(request: Request, lines: list[str] | tuple[str, ...]) -> Response:
    if not for_people(request):
        return refused(request, 422, lines)
    return _page(request, 422, {"wrong": lines})


def _page(
    request: Request, status: int = 200, told: dict[str, Any] | None = None
) -> Response:
    return page(
        request,
        "card_back.html",
        {"wrong": (), "file": None, **(told or {})},
        status=status,
    )
