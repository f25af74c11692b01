"""The job card: its page, what lets it work without network, a doorway's pack."""

import json
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from limen.desk.cards import card_words, taken_along
from limen.findings import Message
from limen.web.answers import refused
from limen.web.assets import BRIEFLY, WORKER
from limen.web.pages import desk_of, look_at, page
from limen.words import reading, say

SiteId = Annotated[str, "the id of a site"]
DoorId = Annotated[str, "the id of a doorway"]
Owed = Annotated[bool, Query(description="Only the tests that a change owes.")]
BUILD = "Limen-Build"
"""Header that names the bundle a page belongs to."""


def card_routes() -> APIRouter:
    """The routes of the job card."""
    routes = APIRouter()
    routes.get("/card", response_class=HTMLResponse)(shown)
    routes.get("/card.webmanifest", response_class=Response, responses=_APP)(installed)
    routes.get("/sw.js", response_class=Response, responses=_SCRIPT)(worker)
    routes.get("/sites/{site_id}/doorways/{door}/card.json")(pack)
    return routes


_APP: dict[int | str, dict[str, object]] = {
    200: {"content": {"application/manifest+json": {}}}
}
_SCRIPT: dict[int | str, dict[str, object]] = {
    200: {"content": {"text/javascript": {}}}
}


def shown(request: Request) -> Response:
    """The card's page: one for all doorways, so that it is there without network."""
    words = json.dumps(card_words(), ensure_ascii=False).replace("<", "\\u003c")
    return page(request, "card.html", {"words": words}, headers=_build(request))


def installed() -> Response:
    """What a device is told when the card is put among its programs."""
    told = {
        "id": "/card",
        "name": f"limen: {say(Message('card.title'))}",
        "short_name": "limen",
        "start_url": "/card",
        "scope": "/",
        "display": "standalone",
        "orientation": "any",
        "background_color": "#fbfaf6",
        "theme_color": "#fbfaf6",
        "lang": reading(),
        "icons": [
            {
                "src": "/static/icon.svg",
                "sizes": "any",
                "type": "image/svg+xml",
                "purpose": "any",
            }
        ],
    }
    return JSONResponse(told, media_type="application/manifest+json")


def worker(request: Request) -> Response:
    """The script that answers for this server while it cannot be reached."""
    static = request.app.state.static
    try:
        script = (static / WORKER).read_bytes()
    except FileNotFoundError:
        return refused(request, 404, [say(Message("desk.refused.no_page"))])
    headers = {"Cache-Control": BRIEFLY}
    return Response(script, media_type="text/javascript", headers=headers)


def pack(
    request: Request, site_id: SiteId, door: DoorId, *, owed: Owed = False
) -> Response:
    """All that the card needs of one doorway, to be taken along."""
    look = look_at(request)
    units = "feet" if look.units == "feet" else "metric"
    packed = taken_along(
        desk_of(request),
        site_id,
        door,
        units=units,
        turned=look.turned,
        only_owed=owed,
    )
    return JSONResponse(packed)


def _build(request: Request) -> dict[str, str]:
    return {BUILD: request.app.state.build}
