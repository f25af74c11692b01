"""The margin map of the doorway page: asked for at rest, one place at a time."""

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import JSONResponse, Response

from limen.desk.library import Desk, Opened, open_site, study_of
from limen.desk.mapping import Maps, StaleError, margin_map
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.findings.margin_map import MarginMap
from limen.web.answers import refused
from limen.web.doorway_drawn import to_draw
from limen.web.doorway_lines import found as finding_of
from limen.web.doorway_lines import looked_at
from limen.web.doorway_map import place_said, shown, told
from limen.web.pages import look_at
from limen.words import say

GONE = 409
Finding = Annotated[str, Query(max_length=200)]
Count = Annotated[int, Query(ge=0, le=10_000)]


@dataclass(frozen=True, slots=True)
class Mapping:
    """What the routes work with.

    Attributes:
        desk: the sites.
        maps: those computed before.
    """

    desk: Desk
    maps: Maps

    def found(self, opened: Opened, door: str, finding: str, fine: bool) -> MarginMap:  # noqa: FBT001 - a query
        """The map of a finding.

        Raises:
            Refusal: there is none.
        """
        wanted = looked_at(finding or None)
        made = margin_map(self.desk, self.maps, opened, door, wanted, fine=fine)
        if made is None:
            raise Refusal([say(Message("desk_map.none"))])
        return made


def map_routes(desk: Desk) -> APIRouter:
    """The routes of the margin map.

    Args:
        desk: the sites.
    """
    routes = APIRouter(prefix="/sites/{site_id}/doorways/{door}/map")
    mapping = Mapping(desk, Maps())

    @routes.get("")
    def mapped(  # pyright: ignore[reportUnusedFunction]  # called by its route
        request: Request,
        site_id: str,
        door: str,
        finding: Finding = "",
        fine: bool = False,  # noqa: FBT001, FBT002 - a query
        width: Annotated[int, Query(ge=1, le=10_000)] = 1000,
    ) -> Response:
        """The layer over the plan, and the same in words."""
        opened = open_site(desk, site_id)
        study = study_of(desk, opened, door)
        try:
            made = mapping.found(opened, door, finding, fine)
        except StaleError:
            return refused(request, GONE, [say(Message("desk_map.moves"))])
        drawn = to_draw(study, finding_of(study, finding))
        body = told(shown(made, study, drawn, width, look_at(request)))
        return JSONResponse({"version": opened.stored.version, **body})

    @routes.get("/place")
    def place(  # pyright: ignore[reportUnusedFunction]
        request: Request,
        site_id: str,
        door: str,
        column: Count,
        row: Count,
        finding: Finding = "",
        fine: bool = False,  # noqa: FBT001, FBT002 - a query
    ) -> Response:
        """One place of the map, in a sentence."""
        opened = open_site(desk, site_id)
        try:
            made = mapping.found(opened, door, finding, fine)
            said = place_said(made, column, row, look_at(request).system)
        except (StaleError, IndexError):
            return refused(request, GONE, [say(Message("desk_map.moves"))])
        return JSONResponse({"version": opened.stored.version, "says": said})

    return routes
