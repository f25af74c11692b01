"""The channels of a site: shown, and written into its text."""

from typing import Annotated, Literal

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from limen.desk.channels import plan_of, set_channels
from limen.desk.library import open_site
from limen.findings import Message
from limen.web.answers import if_match, moved, refused
from limen.web.channels_shown import as_values, drawing, shown
from limen.web.pages import (
    desk_of,
    for_people,
    look_at,
    page,
    version_asked,
    version_told,
)
from limen.words import say

Id = Annotated[str, Path(max_length=80)]
First = Annotated[Literal["changes", "channels"], Query()]
_SVG: dict[int | str, dict[str, object]] = {200: {"content": {"image/svg+xml": {}}}}


def channel_routes() -> APIRouter:
    """The routes of the channels of a site."""
    routes = APIRouter(prefix="/sites/{site_id}")
    routes.get("/channels", response_class=HTMLResponse)(told)
    routes.get("/channels.svg", response_class=Response, responses=_SVG)(drawn)
    named = if_match("The version whose plan was seen.")
    routes.post("/channels/set", openapi_extra=named)(written)
    return routes


def told(request: Request, site_id: Id, first: First = "changes") -> Response:
    """Which channel each unit takes, and what is left to screen."""
    opened = open_site(desk_of(request), site_id)
    plan = plan_of(opened, fewest_channels=first == "channels")
    system = look_at(request).system
    if not for_people(request):
        headers = version_told(opened.stored.version)
        return JSONResponse(as_values(plan, system), headers=headers)
    context = {
        "site": opened.site,
        "stored": opened.stored,
        "address": f"/sites/{site_id}/channels",
        "first": first,
        "shown": shown(plan, system),
    }
    return page(request, "channels.html", context)


def drawn(request: Request, site_id: Id, first: First = "changes") -> Response:
    """The doors, their units and channels as an SVG file, ink on paper."""
    opened = open_site(desk_of(request), site_id)
    plan = plan_of(opened, fewest_channels=first == "channels")
    told = {"Content-Disposition": 'attachment; filename="channels.svg"'}
    return Response(drawing(plan), media_type="image/svg+xml", headers=told)


def written(request: Request, site_id: Id, first: First = "changes") -> Response:
    """The channels of the plan, into the site's text."""
    desk, base = desk_of(request), version_asked(request)
    if base is None:
        return refused(request, 428, [say(Message("desk.refused.no_version"))])
    opened = open_site(desk, site_id)
    fewest = first == "channels"
    kept = set_channels(desk, opened, base, fewest_channels=fewest)
    to = f"/sites/{site_id}/channels"
    return moved(request, kept, to, Message("channels.changed"))
