"""What a finding draws on the floor: its figures and its target lines."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise
from math import dist

from limen.draw.bodies import nearer_post
from limen.draw.outline import Outline
from limen.draw.parts import Part
from limen.draw.phrases import Tongue
from limen.draw.scene import Area, Content, Dots, Label, Line, Point, Side, Sign
from limen.findings import (
    Figure,
    Finding,
    Mark,
    Polygon,
    Pose,
    Role,
    Spots,
    Stroke,
    Study,
    Target,
)
from limen.geometry.boxes import Box

FLOOR_PARTS: Mapping[Role, Part] = {
    Role.WITNESS: Part.WALK,
    Role.LEAF_PATH: Part.LEAF_PATH,
    Role.ZONE: Part.PRESENCE,
    Role.TARGET: Part.TARGET,
    Role.WINDOW: Part.WINDOW,
    Role.LIGHT: Part.LIGHT,
    Role.PINCH: Part.PINCH,
    Role.THING: Part.THING,
    Role.NEIGHBOUR: Part.NEIGHBOUR,
    Role.FIELD: Part.FIELD,
    Role.WALK: Part.WALK,
    Role.LATE: Part.LATE,
}
"""How a figure on the floor is drawn, whatever the question."""

NAMES: Mapping[Part, str] = {
    Part.APPROACH: "approach",
    Part.FIELD: "field",
    Part.WALK: "walk",
    Part.LATE: "late",
    Part.PASSER: "passers",
    Part.NEIGHBOUR: "neighbour",
}
"""Figures that bear their name, since no other words stand beside them."""


APART = 3.0
"""Shortest steps between spots that no row has within itself."""


def floor_part(role: Role, question: str) -> Part:
    """How a figure on the floor is drawn under a question."""
    if role is Role.ZONE and question.startswith("approach."):
        return Part.APPROACH
    if role is Role.WITNESS and question == "approach.passers_by":
        return Part.PASSER
    return FLOOR_PARTS[role]


def figures_of(finding: Finding | None, tongue: Tongue) -> Content:
    """The figures of a finding; its body is drawn apart from them."""
    content = Content()
    for figure in finding.figures if finding else ():
        content += _figure(figure, finding.question if finding else "", tongue)
    return content


def _figure(figure: Figure, question: str, tongue: Tongue) -> Content:
    part = floor_part(figure.role, question)
    match figure:
        case Polygon():
            # The body on its walk: the walk itself bears the name.
            named = (
                _named(part, figure.corners, tongue) if part is not Part.WALK else ()
            )
            return Content((Area(part, figure.corners),), labels=named)
        case Stroke():
            named = _named(part, figure.points, tongue)
            shapes = (Line(part, figure.points), *_crossed(part, figure.points))
            return Content(shapes, labels=named)
        case Spots():
            return _spots(part, figure, tongue)
        case Mark():
            return Content((Sign(Part.PINCH, figure.at[:2]),))
        case Pose():
            return Content()


def _crossed(part: Part, points: tuple[Point, ...]) -> tuple[Sign, ...]:
    """A late opening is a failure, and bears its cross in the middle."""
    if part is not Part.LATE:
        return ()
    (ax, ay), (bx, by) = points[0], points[-1]
    return (Sign(Part.SIGN_FAILS, ((ax + bx) / 2, (ay + by) / 2)),)


def _spots(part: Part, figure: Spots, tongue: Tongue) -> Content:
    if part is not Part.NEIGHBOUR:
        return Content((Dots(part, figure.middles, figure.radius),))
    named = _named(part, figure.middles, tongue)
    lines = tuple(Line(part, row) for row in _rows(figure.middles))
    return Content((*lines, Dots(part, figure.middles, 0.0)), labels=named)


def _rows(middles: tuple[Point, ...]) -> Iterator[tuple[Point, ...]]:
    """The spots row by row: a step much longer than the shortest leads to the next."""
    steps = [dist(a, b) for a, b in pairwise(middles)]
    most = APART * min(steps, default=0.0)
    begin = 0
    for number, step in enumerate(steps, 1):
        if step > most:
            yield middles[begin:number]
            begin = number
    yield middles[begin:]


def _named(part: Part, points: Iterable[Point], tongue: Tongue) -> tuple[Label, ...]:
    if part not in NAMES:
        return ()
    far = max(points, key=lambda point: (round(point[1], 6), point[0]))
    said = tongue.say(NAMES[part])
    return (Label(said, far, said, "right"),)


def targets_of(finding: Finding | None) -> tuple[Target, ...]:
    """The target lines of a finding's remedy."""
    return finding.remedy.targets if finding and finding.remedy else ()


def target_line(
    target: Target,
    study: Study,
    outline: Outline,
    pose: Pose | None,
    tongue: Tongue,
) -> Content:
    """Where a row is to be brought, along the whole of that row."""
    units = [unit for unit in study.units if unit.fitting == target.fitting]
    if not units:
        return Content()
    side = units[0].side
    xs = [
        x
        for row in units[0].rows
        if row.row == target.row
        for x, _ in row.spots.middles
    ] or [-outline.half, outline.half]
    left, right = min(xs), max(xs)
    best, least, most = (
        outline.from_face(side, far) for far in (target.best, target.least, target.most)
    )
    window = Box(left, right, min(least, most), max(least, most))
    return Content(
        (
            Area(Part.WINDOW, window.corners()),
            Line(Part.TARGET, ((left, best), (right, best))),
            Sign(Part.SIGN_HOLDS, (left, best)),
            Sign(Part.SIGN_HOLDS, (right, best)),
        ),
        labels=_target_label(
            target,
            (left, best),
            (right if pose and nearer_post(pose) == "right" else left, best),
            "above" if side == "inside" else "below",
            tongue,
        ),
    )


def _target_label(
    target: Target, at: Point, close: Point, prefer: Side, tongue: Tongue
) -> tuple[Label, ...]:
    """Its words; on a narrow sheet at the end that is shown there."""
    said = {
        "best": tongue.length(target.best),
        "window": tongue.window(target.least, target.most),
    }
    return (
        Label(
            tongue.say("target", **said),
            at,
            prefer=prefer,
            importance=1,
        ),
        Label(
            "",
            close,
            narrow=tongue.say("target.short", **said),
            prefer=prefer,
            importance=1,
        ),
    )
