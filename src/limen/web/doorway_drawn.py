"""The drawings of the doorway page, and where the hand takes hold of them."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from limen.desk.spacing import in_space
from limen.draw import Scene, Sheet, View, lay_out, scene, write_sheet
from limen.draw.bare import bare
from limen.draw.turning import seen_from_inside
from limen.findings import Finding, Message, Study, UnitDrawn, Verdict
from limen.quantity import Show
from limen.words import say, say_length

Pane = View | Literal["space", "room"]
"""A drawing of the page: on a sheet, in space, or the ground of the margin map."""

VIEWS: tuple[View, ...] = ("plan", "front", "section")
PANES: tuple[Pane, ...] = (*VIEWS, "room", "space")
LEAST_WIDTH, MOST_WIDTH = 320, 1600
GRIP = 44.0  # px, a finger's width in the drawing


@dataclass(frozen=True, slots=True)
class Grip:
    """Where a unit is taken hold of.

    Attributes:
        fitting: the unit.
        x, y: of its middle, in percent of the drawing.
        along: where its lens is, from the middle of the opening (mm).
        reach: how far it can be moved to either side (mm).
        name: what moving it does.
        says: where it is, in words.
    """

    fitting: str
    x: float
    y: float
    along: float
    reach: float
    name: str
    says: str


@dataclass(frozen=True, slots=True)
class Drawing:
    """One drawing.

    Attributes:
        view: which.
        svg: the drawing; empty in space.
        says: the drawing in words.
        per_metre: percent of its width that are a metre; 0 where nothing is moved,
            negative where the drawing is turned.
        grips: where units are taken hold of.
        space: what is drawn in space; None on a sheet.
    """

    view: Pane
    svg: str
    says: str
    per_metre: float
    grips: tuple[Grip, ...]
    space: Mapping[str, object] | None = None


def drawing(
    study: Study,
    view: Pane,
    finding: Finding | None,
    width: int,
    system: Show,
    *,
    turned: bool = False,
) -> Drawing:
    """One drawing of a doorway with what a finding shows.

    Args:
        study: the doorway, its units and findings.
        view: plan, front, section, in space, or the ground of the margin map.
        finding: what is drawn of it.
        width: of the drawing (px); below 600 it is the narrow one.
        system: in which lengths are written.
        turned: whether the inside is at the lower edge of the plan.
    """
    if view == "space":
        there = in_space(study, finding, system)
        says = f"{there['title']}. {there['says']}"
        return Drawing(view, "", says, 0.0, (), there)
    flat: View = "plan" if view == "room" else view
    drawn = scene(study, flat, finding=finding, system=system)
    if view == "room":
        drawn = bare(drawn, study, whole=shows_whole(finding))
    way = -1.0 if turned and flat == "plan" else 1.0
    if way < 0:
        drawn = seen_from_inside(drawn)
    sheet = lay_out(drawn, float(min(max(width, LEAST_WIDTH), MOST_WIDTH)))
    svg, says = write_sheet(sheet), _says(drawn)
    if view == "section":
        return Drawing(view, svg, says, 0.0, ())
    grips = grips_of(study, flat, sheet, system, way)
    return Drawing(view, svg, says, percent_a_metre(sheet, way), grips)


def to_draw(study: Study, wanted: Finding | None) -> Finding | None:
    """What is drawn unasked: the first fault with a place, else with figures.

    Never advice: a cross is read as a fault of the door.
    """
    if wanted is not None:
        return wanted
    failing = (*study.musts(Verdict.FAILS), *study.of(Verdict.FAILS))
    faults = [one for one in failing if one.weight.value != "advice"]
    placed = (one for one in faults if one.witness and one.witness.pose)
    return next(placed, None) or next((one for one in faults if one.figures), None)


def shows_whole(finding: Finding | None) -> bool:
    """Whether a map of the finding reaches behind the open leaves."""
    return finding is not None and finding.question == "presence.side_screen"


def _says(drawn: Scene) -> str:
    return f"{drawn.title}. {drawn.description}"


def percent_a_metre(sheet: Sheet, way: float) -> float:
    """How much of a drawing's width a metre is, in percent; negative if turned."""
    return 100.0 * way * sheet.panels[0].fit.scale / sheet.width


def grips_of(
    study: Study, view: View, sheet: Sheet, system: Show, way: float
) -> tuple[Grip, ...]:
    """Every unit whose lens is known along the opening, in the plan and the front.

    Args:
        study: the doorway and its units.
        view: plan or front.
        sheet: the drawing, laid out.
        system: in which lengths are written.
        way: -1 if the plan is turned, else 1.
    """
    movable = {
        one.id
        for one in study.doorway.fitting
        if one.lens is not None and one.lens.along is not None
    }
    return tuple(
        _grip(study, unit, view, sheet, system, way)
        for unit in study.units
        if unit.lens is not None and unit.fitting in movable
    )


def _grip(
    study: Study, unit: UnitDrawn, view: View, sheet: Sheet, system: Show, way: float
) -> Grip:
    assert unit.lens is not None  # noqa: S101  # only such are asked for
    x, y, z = unit.lens
    fit = sheet.panels[0].fit
    left, top = fit.at((way * x, -way * y if view == "plan" else z))
    name = say(Message("doorway_page.handle.along", {"fitting": unit.fitting}))
    return Grip(
        unit.fitting,
        round(100.0 * left / sheet.width, 3),
        round(100.0 * top / sheet.height, 3),
        round(x * 1000.0, 1),
        study.doorway.clear_width.value * 500.0,
        name,
        where(x, system),
    )


def where(along: float, system: Show) -> str:
    """A place along the header in words."""
    if round(abs(along), 3) == 0:
        return say(Message("doorway_page.handle.middle"))
    hand: Literal["right", "left"] = "right" if along > 0 else "left"
    said = {
        "far": say_length(abs(along), system),
        "side": say(Message(f"doorway_page.{hand}")),
    }
    return say(Message("doorway_page.handle.at", said))
