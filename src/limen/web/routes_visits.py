"""What cards send: events and photos, each kept before it is answered."""

import re
from dataclasses import asdict
from typing import Annotated, Any

from fastapi import APIRouter, Path, Request
from fastapi.responses import JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from limen.desk import visits_intake as intake
from limen.desk import visits_photos as photos
from limen.findings import Message
from limen.web.answers import refused
from limen.web.pages import desk_of
from limen.web.routes_visit_pages import visit_page_routes
from limen.words import say

Device = Annotated[str, Path(pattern=r"^[A-Za-z0-9][A-Za-z0-9_-]{0,79}$")]
Digest = Annotated[str, Path(pattern=r"^[0-9a-f]{64}$")]

_RANGE = re.compile(r"bytes (\d{1,12})-(\d{1,12})/(\d{1,12})")
_EVENTS: dict[str, Any] = {
    "requestBody": {
        "required": True,
        "content": {
            "application/json": {
                "schema": {
                    "type": "object",
                    "required": ["events"],
                    "properties": {
                        "events": {
                            "type": "array",
                            "minItems": 1,
                            "maxItems": intake.MOST_EVENTS,
                            "items": {"type": "object"},
                        }
                    },
                }
            }
        },
    }
}
_PIECE: dict[str, Any] = {
    "parameters": [
        {
            "name": "Content-Range",
            "in": "header",
            "required": False,
            "description": "Where this piece belongs in the photo; all if left out.",
            "schema": {"type": "string"},
        }
    ],
    "requestBody": {
        "required": True,
        "content": {
            kind: {"schema": {"type": "string", "format": "binary"}}
            for kind in ("image/jpeg", "image/png", "image/webp")
        },
    },
}
_PHOTO: dict[int | str, dict[str, Any]] = {
    200: {"content": {kind: {} for kind in _PIECE["requestBody"]["content"]}}
}
_STOPPED = (
    "An event cannot be used, and why; those before it are kept. "
    "Without `bad` it is no batch, and nothing is kept."
)
_KEPT_FOR_GOOD = {"Cache-Control": "private, max-age=31536000, immutable"}


def visit_routes() -> APIRouter:
    """The routes by which cards hand in what was tapped, and the pages of it."""
    routes = APIRouter()
    routes.include_router(_cards())
    routes.include_router(visit_page_routes())
    return routes


def _cards() -> APIRouter:
    routes = APIRouter(prefix="/visits")
    stopped: dict[int | str, dict[str, Any]] = {422: {"description": _STOPPED}}
    routes.post("/events", openapi_extra=_EVENTS, responses=stopped)(taken_in)
    routes.get("/devices/{device}")(of_device)
    routes.put("/photos/{sha256}", openapi_extra=_PIECE)(piece)
    routes.get("/photos/{sha256}/kept")(of_photo)
    routes.get("/photos/{sha256}", responses=_PHOTO, response_class=Response)(photo)
    return routes


async def taken_in(request: Request) -> Response:
    """Events of a card: kept up to the first that cannot be used."""
    sent = await request.body()
    return await run_in_threadpool(_taken_in, request, sent)


def _taken_in(request: Request, sent: bytes) -> Response:
    done = intake.take_in(desk_of(request), sent)
    bad = done.bad
    said: dict[str, Any] = {
        "new": done.new,
        "again": done.again,
        "clashes": [
            {"seq": one.seq, "why": say(Message(f"visits.clash.{one.why}"))}
            for one in done.clashes
        ],
        "devices": [asdict(one) for one in done.devices],
        "bad": asdict(bad) if bad else None,
        "lines": list(bad.lines) if bad else [],
    }
    return JSONResponse(said, 422 if bad else 200)


def of_device(request: Request, device: Device) -> Response:
    """What is kept of a device: from where on it is to send."""
    return JSONResponse(asdict(intake.device_kept(desk_of(request), device)))


async def piece(request: Request, sha256: Digest) -> Response:
    """A piece of a photo, or all of it."""
    sent = await request.body()
    stated = request.headers.get("content-range")
    at, whole = 0, len(sent)
    if stated is not None:
        found = _RANGE.fullmatch(stated.strip())
        first, last, whole = map(int, found.groups()) if found else (0, 0, 0)
        if last - first + 1 != len(sent) or not whole:
            return refused(request, 400, [say(Message("visits.photo_refused.range"))])
        at = first
    desk = desk_of(request)
    kept = await run_in_threadpool(
        photos.take_piece, desk, sha256, sent, at=at, whole=whole
    )
    return JSONResponse(asdict(kept))


def of_photo(request: Request, sha256: Digest) -> Response:
    """How much of a photo is kept: from where on to send."""
    return JSONResponse(asdict(photos.photo_state(desk_of(request), sha256)))


def photo(request: Request, sha256: Digest) -> Response:
    """A photo."""
    found = photos.photo(desk_of(request), sha256)
    if found is None:
        return refused(request, 404, [say(Message("visits.no_photo"))])
    known, data = found
    return Response(data, media_type=known.kind, headers=_KEPT_FOR_GOOD)
