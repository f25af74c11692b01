"""The doorway page: shown, tried out, saved, undone."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Literal

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from jinja2 import Environment
from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from limen.desk.dragging import (
    glimpsed,
    in_full,
    stepped,
    with_targets,
)
from limen.desk.due_known import as_known, known_study_of
from limen.desk.library import (
    Clash,
    Desk,
    NothingToUndoError,
    Opened,
    Stored,
    open_site,
    save_edits,
    study_of,
)
from limen.desk.ranging import Known, Ranges
from limen.desk.refusal import Refusal
from limen.desk.turned_text import as_written
from limen.findings import Message
from limen.quantity import QuantityError
from limen.web.answers import refused
from limen.web.doorway_drawn import Pane
from limen.web.doorway_lines import looked_at
from limen.web.doorway_page import (
    Asked,
    Pages,
    kept_as,
    moving,
    rested,
    whole_page,
)
from limen.web.look import look_of
from limen.web.merging_shown import panel_html
from limen.web.routes_ranges import ranges_told
from limen.words import retold, say

MOST_EDITS = 60
Text = Annotated[str, StringConstraints(max_length=200)]


class Shown(BaseModel):
    """What the page shows: which drawing, finding and unit, and how wide."""

    model_config = ConfigDict(extra="forbid")
    view: Pane = "plan"
    finding: Text | None = None
    unit: Text | None = None
    width: int = Field(default=1000, ge=1, le=10_000)


class Tried(Shown):
    """Settings that are tried out; ``rests`` is false while a hand still turns."""

    version: int = Field(ge=1)
    edits: dict[Text, Text] = Field(default_factory=dict, max_length=MOST_EDITS)
    rests: bool = False


class Set(BaseModel):
    """Settings that are to be saved, and the version they were made from."""

    model_config = ConfigDict(extra="forbid")
    version: int = Field(ge=1)
    edits: dict[Text, Text] = Field(min_length=1, max_length=MOST_EDITS)


class Stepped(BaseModel):
    """The version from which one text is stepped back, or forth."""

    model_config = ConfigDict(extra="forbid")
    version: int = Field(ge=1)


@dataclass(frozen=True, slots=True)
class Doorways:
    """What the routes work with.

    Attributes:
        desk: the sites.
        templates: of the pages.
        ranges: of settings, where all that depends on them holds.
    """

    desk: Desk
    templates: Environment
    ranges: Ranges

    def pages(self, request: Request) -> Pages:
        """Templates in the reader's light and units."""
        return Pages(self.templates, look_of(request.cookies))

    def held_if_known(self, opened: Opened, door: str) -> Known:
        """Ranges that were computed, so that a page need not wait for them."""
        return self.ranges.known(self.desk, opened, door)


def doorway_routes(desk: Desk, templates: Environment) -> APIRouter:
    """The routes of the doorway page.

    Args:
        desk: the sites.
        templates: of the pages.
    """
    routes = APIRouter(prefix="/sites/{site_id}/doorways/{door}")
    doorways = Doorways(desk, templates, Ranges())

    @routes.get("", response_class=HTMLResponse)
    def shown(  # pyright: ignore[reportUnusedFunction]  # called by its route
        request: Request,
        site_id: str,
        door: str,
        view: Pane = "plan",
        finding: str | None = None,
        unit: str | None = None,
    ) -> Response:
        """The page, readable without a script."""
        return _page(doorways, request, site_id, door, Asked(view, finding, unit))

    @routes.post("/preview")
    def tried(  # pyright: ignore[reportUnusedFunction]
        request: Request, site_id: str, door: str, what: Tried
    ) -> Response:
        """Findings and drawing with settings that are not saved."""
        return _tried(doorways, request, site_id, door, what)

    @routes.post("/save")
    def saved(  # pyright: ignore[reportUnusedFunction]
        request: Request, site_id: str, door: str, what: Set
    ) -> Response:
        """Settings into the site's text."""
        return _saved(doorways, request, site_id, door, what)

    @routes.post("/{way}")
    def undone(  # pyright: ignore[reportUnusedFunction]
        request: Request,
        site_id: str,
        door: str,
        way: Literal["undo", "redo"],
        what: Stepped,
    ) -> Response:
        """The text before this one, or the one that was undone."""
        try:
            return _stepped(doorways, site_id, door, way, what)
        except NothingToUndoError as error:
            return refused(request, 409, [str(error)])

    @routes.get("/ranges")
    def ranges(  # pyright: ignore[reportUnusedFunction]
        request: Request, site_id: str, door: str, unit: str, key: str = ""
    ) -> Response:
        """Where a setting of a unit, or each of them, may stand with all holding."""
        opened = open_site(desk, site_id)
        return ranges_told(desk, doorways.ranges, request, opened, door, (unit, key))

    return routes


def _page(
    doorways: Doorways, request: Request, site_id: str, door: str, asked: Asked
) -> Response:
    opened = open_site(doorways.desk, site_id)
    known = known_study_of(doorways.desk, opened, door)
    held = doorways.held_if_known(opened, door)
    pages, turned = doorways.pages(request), in_full(doorways.desk, opened, door)
    return HTMLResponse(whole_page(pages, opened, known, asked, held, turned=turned))


def _tried(
    doorways: Doorways, request: Request, site_id: str, door: str, what: Tried
) -> Response:
    desk, pages = doorways.desk, doorways.pages(request)
    opened = open_site(desk, site_id)
    edits = _written(opened, door, what.edits)
    asked = Asked(what.view, what.finding, what.unit, what.width)
    exact = study_of(desk, opened, door)
    if what.rests and not edits:
        held = doorways.held_if_known(opened, door)
        turned = in_full(desk, opened, door)
        known = as_known(desk, opened, exact)
        body = rested(pages, opened.stored, known, asked, held, turned=turned)
        return JSONResponse(body)
    glimpse = glimpsed(desk, opened, door, edits, looked_at(what.finding))
    glimpse = with_targets(glimpse, exact)
    return JSONResponse(moving(pages, glimpse, asked))


def _saved(
    doorways: Doorways, request: Request, site_id: str, door: str, what: Set
) -> Response:
    desk = doorways.desk
    base = open_site(desk, site_id)
    edits = _written(base, door, what.edits)
    kept = save_edits(desk, site_id, door, edits, what.version)
    if isinstance(kept, Clash):
        return _clash(request, door, kept)
    return _kept(kept)


def _kept(stored: Stored) -> Response:
    """Answer a save."""
    tag = {"ETag": f'"{stored.version}"'}
    return JSONResponse(kept_as(stored), headers=tag)


def _clash(request: Request, door: str, clash: Clash) -> Response:
    """Both texts, and each key in both."""
    back = f"/sites/{clash.theirs.id}/doorways/{door}"
    body = {
        "mine": clash.mine,
        "theirs": clash.theirs.text,
        "version": clash.theirs.version,
        "html": panel_html(request, clash, back),
    }
    return JSONResponse(body, status_code=412)


def _stepped(
    doorways: Doorways,
    site_id: str,
    door: str,
    way: Literal["undo", "redo"],
    what: Stepped,
) -> Response:
    opened = open_site(doorways.desk, site_id)
    opened.doorway(door)
    kept = stepped(doorways.desk, site_id, what.version, way)
    if isinstance(kept, Clash):
        body = {"version": kept.theirs.version, "theirs": kept.theirs.text}
        return JSONResponse(body, status_code=412)
    return _kept(kept)


def _written(opened: Opened, door: str, edits: Mapping[str, str]) -> dict[str, str]:
    """Edits as they go into the file.

    Raises:
        Refusal: a key is no setting of this page, or a value no quantity.
    """
    try:
        return as_written(opened.doorway(door), edits)
    except KeyError as error:
        key = str(error.args[0])[:80]
        refused_key = Message("doorway_page.refused.key", {"key": key})
        raise Refusal([say(refused_key)]) from None
    except QuantityError as error:
        accepted = Message("desk.fault.accepted", {"what": retold(error.accepted)})
        raise Refusal([f"{retold(error.why)}. {say(accepted)}"]) from None
