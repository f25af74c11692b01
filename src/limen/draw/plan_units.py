"""Units in the plan: their housings, and their rows where they land."""

from typing import Literal

from limen.draw.parts import Part
from limen.draw.phrases import Tongue
from limen.draw.scene import Area, Content, Dots, Label, Line, Sign
from limen.findings import RowOnFloor, UnitDrawn
from limen.geometry.boxes import Box
from limen.model.doorway import Doorway

End = Literal["right", "left"]

HOUSING = (0.24, 0.06)  # m: a symbol, since no sheet tells the size of a housing


def rows_of(
    unit: UnitDrawn, tongue: Tongue, near: End | None, *, dead: bool
) -> Content:
    """The rows of a unit, each with its number and its distance from the leaf face.

    Args:
        unit: the unit.
        tongue: language and units of the words.
        near: at which end a narrow sheet names the first row; None: nowhere.
        dead: whether the finding takes the unit to be dead; its rows are hollow.
    """
    if dead:
        return _dead_rows(unit)
    content = Content()
    for row in unit.rows:
        content += _row(row, tongue, near if row is unit.rows[0] else None)
    return content


def _dead_rows(unit: UnitDrawn) -> Content:
    places = [row.spots.middles for row in unit.rows]
    lines = tuple(Line(Part.DEAD, middles) for middles in places)
    return Content(lines + tuple(Dots(Part.DEAD, middles, 0.0) for middles in places))


def _row(row: RowOnFloor, tongue: Tongue, near: End | None) -> Content:
    spots = row.spots.middles
    left, right = min(spots), max(spots)
    text = tongue.say("row", row=row.row, far=tongue.length(row.from_leaf))
    reach = row.spots.radius
    beside = {"right": (right[0] + reach, right[1]), "left": (left[0] - reach, left[1])}
    labels = [Label(text, beside["right"], importance=2 if row.row == 1 else 3)]
    if near is not None:
        at = beside[near]
        labels.append(Label("", at, text, near))
    light = (Dots(Part.LIGHT, spots, row.spots.radius),) if row.spots.radius else ()
    return Content(
        (
            *light,
            Line(Part.ROW, spots),
            Dots(Part.SPOT, spots, 0.0),
            Sign(Part.ROW_END, left),
            Sign(Part.ROW_END, right),
        ),
        labels=tuple(labels),
    )


def unit_name(unit: UnitDrawn, tongue: Tongue, *, dead: bool) -> str:
    """What a unit is called on a drawing."""
    name = tongue.say("unit.named", fitting=unit.fitting)
    return tongue.say("unit.dead", unit=name) if dead else name


def without_rows(unit: UnitDrawn, door: Doorway) -> bool:
    """Whether a unit has rows and nobody knows where they land."""
    fittings = (one for one in door.fitting if one.id == unit.fitting)
    sheets = [one.unit for one in fittings if one.unit and one.unit.presence]
    return bool(sheets) and not unit.rows


def housing(
    unit: UnitDrawn, tongue: Tongue, *, dead: bool, unknown: bool = False
) -> Content:
    """A unit's housing as a symbol about its lens, which is where it is.

    Args:
        unit: the unit.
        tongue: language and units of the words.
        dead: whether the finding takes the unit to be dead.
        unknown: whether nobody knows where its rows land; it is said, so that a
            floor without rows is not read as a floor that nothing watches.
    """
    if unit.lens is None:
        return Content()
    x, y, _ = unit.lens
    w, d = HOUSING[0] / 2, HOUSING[1] / 2
    inside = unit.side == "inside"
    part = Part.HOUSING_INSIDE if inside else Part.HOUSING_OUTSIDE
    name, short = unit_name(unit, tongue, dead=dead), None
    if unknown:
        name = tongue.say("unit.unknown", unit=name)
        short = tongue.say("unit.unknown.short")
    at, prefer = (y - d, "above") if inside else (y + d, "below")
    label = Label(name, (x, at), short, prefer, 2 if dead or unknown else 3)
    corners = Box(x - w, x + w, y - d, y + d).corners()
    return Content((Area(part, corners), Sign(Part.LENS, (x, y))), labels=(label,))


def barrier(unit: UnitDrawn, half: float) -> Content:
    """The level beams of a light barrier, from post to post."""
    ys = sorted({y for y, _ in unit.barrier})
    return Content(tuple(Line(Part.BARRIER, ((-half, y), (half, y))) for y in ys))
