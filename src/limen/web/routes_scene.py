"""A walk of the doorway page, in its drawings."""

from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import JSONResponse, Response
from pydantic import StringConstraints

from limen.desk.library import Desk, open_site, study_of
from limen.desk.refusal import Refusal
from limen.desk.walking import walking
from limen.findings import Message
from limen.web.doorway_drawn import Pane
from limen.web.doorway_lines import found
from limen.web.doorway_walk import as_played, rows
from limen.web.look import look_of
from limen.web.pages import fill
from limen.words import say

Text = Annotated[str, StringConstraints(max_length=200)]
Width = Annotated[int, Query(ge=1, le=10_000)]


def scene_routes(desk: Desk) -> APIRouter:
    """The routes of what moves in a drawing.

    Args:
        desk: the sites.
    """
    routes = APIRouter(prefix="/sites/{site_id}/doorways/{door}")

    @routes.get("/walk")
    def walked(  # pyright: ignore[reportUnusedFunction]  # called by its route
        request: Request,
        site_id: str,
        door: str,
        finding: Text,
        view: Pane = "plan",
        width: Width = 1000,
    ) -> Response:
        """The walk that a finding shows: who is where when, how far it is open."""
        opened = open_site(desk, site_id)
        study = study_of(desk, opened, door)
        shown = found(study, finding)
        walk = walking(desk, opened, door, shown) if shown else None
        if shown is None or walk is None:
            raise Refusal([say(Message("walk.none"))])
        look = look_of(request.cookies)
        played = as_played(
            study, shown, walk, view, width, look.system, turned=look.turned
        )
        table = {"rows": rows(walk, look.system), "slow": walk.played.shows is not None}
        html = fill(request, "doorway_walk_table.html", table)
        return JSONResponse({**played, "version": opened.stored.version, "html": html})

    return routes
