"""Drilling templates in true size, one a kind of unit whose sheet shows holes."""

from collections.abc import Iterable, Sequence

from limen.findings import Message, Study
from limen.findings.message import length
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.sheet import Hole, MountingRange, Sheet
from limen.report.tongue import Plain, Tongue
from limen.words import say_unit

Mounted = tuple[Doorway, Fitting]
ON_EDGE = "header face"
"""Where a lower edge lies below the housing."""
CHECK = 0.1
"""Length of the lines to be measured (m), as the pages draw them."""
CHECK_SAID = "100 mm"
HIGH = 112.0
"""Height of the drawing on its page (mm)."""
ABOVE = 5.0
"""Free above the housing (mm)."""
HALF = 118.0
"""Half of what the narrower of both papers can take across (mm)."""
NEVER_SEEN = 0.0005
"""Off the middle by less than anybody could tape (m)."""


def drilling(studies: Iterable[Study], tongue: Tongue) -> tuple[list[Plain], list[str]]:
    """The templates, and a sentence for each kind of unit that gets none."""
    by_sheet: dict[str, list[Mounted]] = {}
    for study in studies:
        for fitting in study.doorway.fitting:
            if fitting.unit is not None and fitting.unit.barrier is None:
                by_sheet.setdefault(fitting.sheet, []).append((study.doorway, fitting))
    templates: list[Plain] = []
    without: list[str] = []
    for mounted in by_sheet.values():
        sheet = mounted[0][1].unit
        if sheet is not None and sheet.mounting.holes:
            templates.append(_template(sheet, mounted, tongue))
        elif sheet is not None:
            without.append(_no_holes(sheet, mounted, tongue))
    return templates, without


def check_words(tongue: Tongue) -> str:
    """What stands at the lines that show whether the page is in true size."""
    said = tongue.length(CHECK)
    same = said == CHECK_SAID
    key = "check" if same else "check_other"
    return tongue.say(Message(f"report.drill.{key}", {"far": said}))


def _no_holes(sheet: Sheet, mounted: Sequence[Mounted], tongue: Tongue) -> str:
    where = tongue.apart(dict.fromkeys(door.name for door, _ in mounted))
    values = {"sheet": sheet.name, "where": where}
    return tongue.say(Message("report.drill.no_holes", values))


def _template(sheet: Sheet, mounted: Sequence[Mounted], tongue: Tongue) -> Plain:
    mounting = sheet.mounting
    middle = _middle(mounting)
    holes = [_hole(one, f"{n}", tongue) for n, one in enumerate(mounting.holes, 1)]
    cable = mounting.cable_hole
    return {
        "title": tongue.named(Message("report.fixed.drilling"), sheet.name),
        "sheet": sheet.name,
        "holes": holes,
        "cable": _hole(cable, _cable(tongue), tongue) if cable else None,
        "wide": _mm(mounting.width.value) if mounting.width else None,
        "tall": _mm(mounting.tall.value) if mounting.tall else None,
        "least": _mm(_least(mounting)),
        "high": HIGH,
        "middle": middle,
        "room": _room(mounting),
        "marks": _marks(mounted),
        "fits": _fits(mounting),
        "edge_known": mounting.edge is not None,
        "units": [_unit(door, fitting, tongue) for door, fitting in mounted],
    }


def _hole(hole: Hole, name: str, tongue: Tongue) -> Plain:
    return {
        "name": name,
        "x": _mm(hole.along.value),
        "y": _mm(hole.up.value),
        "d": _mm(hole.diameter.value),
        "diameter": tongue.length(hole.diameter.value),
        "place": _place(hole, tongue),
    }


def _place(hole: Hole, tongue: Tongue) -> str:
    """Where a hole lies, from the middle, as one faces the wall."""
    across = "right" if hole.along.value >= 0 else "left"
    up = "up" if hole.up.value >= 0 else "down"
    values = {
        "along": length(abs(hole.along.value)),
        "across": Message(f"side.{across}"),
        "up": length(abs(hole.up.value)),
        "way": Message(f"report.drill.{up}"),
    }
    return tongue.say(Message("report.drill.place", values))


def _cable(tongue: Tongue) -> str:
    return tongue.say(Message("report.fixed.cable"))


def _middle(mounting: MountingRange) -> float:
    """How far below the drawing's upper edge the housing's middle comes (mm)."""
    return ABOVE + (_mm(mounting.tall.value / 2) if mounting.tall else 0.0)


def _room(mounting: MountingRange) -> float:
    """How far below the housing's middle a mark still is on the page (mm)."""
    return HIGH - _middle(mounting) - 1.0


def _fits(mounting: MountingRange) -> bool:
    """Whether every hole lies on the page."""
    middle = _middle(mounting)
    holes = (*mounting.holes, *filter(None, (mounting.cable_hole,)))
    return all(
        _mm(abs(one.along.value) + one.diameter.value / 2) <= HALF
        and -(HIGH - middle) <= _mm(one.up.value) <= middle
        for one in holes
    )


def _marks(mounted: Sequence[Mounted]) -> list[float]:
    """Where lower edges of headers lie below the housing's middle (mm)."""
    where = (_edge_key(door, fitting) for door, fitting in mounted)
    return sorted({_mm(far) for key, far in where if key == "edge"})


def _edge_key(door: Doorway, fitting: Fitting) -> tuple[str, float]:
    """What is said of the header's lower edge, and how far down it is (m)."""
    far = _far(door, fitting)
    if fitting.place != ON_EDGE:
        return "other_place", 0.0
    if far is None or fitting.unit is None:
        return "edge_unknown", 0.0
    mounting = fitting.unit.mounting
    if _mm(far) < _mm(_least(mounting)):
        return "edge_too_near", far
    return "edge" if _mm(far) <= _room(mounting) else "edge_far", far


def _far(door: Doorway, fitting: Fitting) -> float | None:
    """How far the header's lower edge lies below the lens (m), where both are known."""
    if fitting.lens is None or fitting.place != ON_EDGE:
        return None
    under = door.header.underside or door.clear_height
    return fitting.lens.height.value - under.value


def _least(mounting: MountingRange) -> float:
    """How far the middle of the housing must stay above the lower edge (m)."""
    half = mounting.tall.value / 2 if mounting.tall else 0.0
    return half + (mounting.edge.value if mounting.edge else 0.0)


def _unit(door: Doorway, fitting: Fitting, tongue: Tongue) -> Plain:
    return {
        "where": door.name,
        "unit": say_unit(fitting.id, language=tongue.language),
        "line": _line(door, fitting, tongue),
        "edge": _edge(door, fitting, tongue),
    }


def _line(door: Doorway, fitting: Fitting, tongue: Tongue) -> str:
    """Where the template's upright line goes, from both posts."""
    if fitting.lens is None or fitting.lens.along is None:
        return tongue.say(Message("report.drill.line_unknown"))
    along, half = fitting.lens.along.value, door.clear_width.value / 2
    values = {"left": length(half + along), "right": length(half - along)}
    middle = abs(along) < NEVER_SEEN
    meets = middle and door.leaves.kind != "single"
    key = "line_meet" if meets else "line_middle" if middle else "line_off"
    return tongue.say(Message(f"report.drill.{key}", values))


def _edge(door: Doorway, fitting: Fitting, tongue: Tongue) -> str:
    """Which mark of the upright line goes onto the header's lower edge."""
    key, far = _edge_key(door, fitting)
    least = _least(fitting.unit.mounting) if fitting.unit else 0.0
    values = {
        "far": length(far),
        "least": length(least),
        "mark": f"{_mm(far):g} mm",
        "place": Message(f"report.place.{fitting.place}"),
    }
    return tongue.say(Message(f"report.drill.{key}", values))


def _mm(metres: float) -> float:
    """Millimetres on paper, to a thousandth."""
    return round(metres * 1000, 3)
