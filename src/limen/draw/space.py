"""The doorway in space: what lies on the floor, what stands on it, what hangs above.

The floor is the plan's own, part for part, before it is turned to a page; heights are
added to it.  Points are (x, y, z) of the doorway's frame, which is left-handed: who
draws it with a right-handed tool swaps y and z, or mirrors the door.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from limen.draw.bodies import (
    along,
    corners_of,
    dead_units,
    label_of,
    part_of,
    pose_of,
)
from limen.draw.describing import describe
from limen.draw.outline import Outline, outline_of
from limen.draw.parts import Part
from limen.draw.phrases import Tongue
from limen.draw.plan_figures import figures_of, target_line, targets_of
from limen.draw.plan_units import HOUSING, rows_of, unit_name, without_rows
from limen.draw.scene import Area, Content, Frame, points_of
from limen.draw.surroundings import walls
from limen.findings import Finding, Study, UnitDrawn
from limen.geometry.boxes import Box
from limen.quantity import Show

Place = tuple[float, float, float]

ABOVE = 0.22  # m of header drawn: its height is not known
TALL = 0.07  # m of a housing: a symbol, as in the other drawings
DEEP = 1.0  # m of floor shown on each side at least
BESIDE = 0.25  # m of floor shown beyond what lies on it
WALL_SHOWN = 0.45  # m of wall shown beyond the open leaves
CLEAR = 0.12  # m from the body to the line that dimensions it
FOOT, BAR = 0.3048, 0.5  # m: the scale's length in feet, else


@dataclass(frozen=True, slots=True)
class Solid:
    """A block: a footprint on the floor between two heights.

    Attributes:
        part: what it is.
        corners: of its footprint (m).
        low, high: between which heights (m).
    """

    part: Part
    corners: tuple[tuple[float, float], ...]
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Wire:
    """A line through points."""

    part: Part
    points: tuple[Place, ...]


@dataclass(frozen=True, slots=True)
class Post:
    """A mark of fixed size at a point."""

    part: Part
    at: Place


@dataclass(frozen=True, slots=True)
class Named:
    """Words at a point; importance as in the other drawings."""

    text: str
    at: Place
    importance: int = 2
    quiet: bool = False


@dataclass(frozen=True, slots=True)
class LeafDrawn:
    """A leaf, wide open, and how it moves.

    Attributes:
        box: where it stands.
        high: its height (m).
        hand: +1 if it opens to the right, -1 to the left.
        share: of the way of a leading edge, how much it goes; those of a
            telescopic door differ.
    """

    box: Box
    high: float
    hand: int
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """One doorway in space.

    Attributes:
        title, description: the drawing in words, as of every other drawing.
        frame: of the floor that is shown: x, and y from inside to outside (m).
        half, high: half the clear width, and the clear height (m).
        floor: what lies on the floor: points (x, y).
        solids, wires, posts: what stands or hangs there.
        leaves: the leaves.
        named: words.
        note: how it is to be read.
    """

    title: str
    description: str
    frame: Frame
    half: float
    high: float
    floor: Content
    solids: tuple[Solid, ...]
    wires: tuple[Wire, ...]
    posts: tuple[Post, ...]
    leaves: tuple[LeafDrawn, ...]
    named: tuple[Named, ...]
    note: str


def space(
    study: Study, *, finding: Finding | None = None, system: Show = Show.METRIC
) -> Space:
    """Put a doorway into space, with what a finding shows.

    Args:
        study: its doorway and units.
        finding: whose witness, figures and remedy are drawn too.
        system: in which units lengths are written.
    """
    tongue = Tongue(system=system)
    gap = finding.witness.gap if finding and finding.witness else None
    outline = outline_of(study.doorway, gap)
    floor = _floor(study, outline, finding, tongue)
    frame = _frame(floor, outline, finding)
    return Space(
        title=tongue.say("title.space", door=study.doorway.name),
        description=describe(study, outline, finding, tongue, targets_of(finding)),
        frame=frame,
        half=outline.half,
        high=outline.high,
        floor=floor,
        solids=tuple(_solids(study, outline, finding, frame)),
        wires=(*_wires(study, outline, finding), *_scale(frame, tongue)),
        posts=tuple(_posts(study, finding)),
        leaves=leaves_of(outline, len(study.doorway.leaves.planes) or 1),
        named=tuple(_named(study, outline, finding, tongue, frame)),
        note=tongue.say("note.plan"),
    )


# On the floor ---------------------------------------------------------------------


def _floor(
    study: Study, outline: Outline, finding: Finding | None, tongue: Tongue
) -> Content:
    """What the plan shows on the floor."""
    around = walls(study.doorway, outline, tongue)
    content = Content(
        tuple(shape for shape in around.shapes if shape.part is not Part.WALL),
        labels=around.labels,
    )
    content += figures_of(finding, tongue)
    content += Content((Area(Part.LEAF_PATH, outline.path.corners()),))
    dead = dead_units(finding, study)
    for unit in study.units:
        content += rows_of(unit, tongue, None, dead=unit.fitting in dead)
    for target in targets_of(finding):
        content += target_line(target, study, outline, pose_of(finding), tongue)
    return content


def _frame(floor: Content, outline: Outline, finding: Finding | None) -> Frame:
    left, right = outline.reach
    frame = Frame(left - WALL_SHOWN, right + WALL_SHOWN, -DEEP, DEEP)
    for shape in floor.shapes:
        frame = frame.over(points_of(shape), BESIDE)
    pose = pose_of(finding)
    return frame.over(corners_of(pose), BESIDE) if pose else frame


# What stands there ----------------------------------------------------------------


def _solids(
    study: Study, outline: Outline, finding: Finding | None, frame: Frame
) -> Iterator[Solid]:
    top = outline.underside + ABOVE
    for hand in ("left", "right"):
        wall = outline.wall(hand)
        shown = wall._replace(
            left=max(wall.left, frame.left), right=min(wall.right, frame.right)
        )
        yield Solid(Part.WALL, shown.corners(), 0.0, top)
    left, right = outline.reach
    header = Box(left, right, -outline.header_in, outline.header_out)
    yield Solid(Part.HEADER, header.corners(), outline.underside, top)
    for thing in study.doorway.thing:
        x, w = thing.along.value, thing.width.value / 2
        y, d = outline.from_face(thing.side, thing.out.value), thing.depth.value / 2
        box = Box(x - w, x + w, y - d, y + d)
        yield Solid(Part.THING, box.corners(), 0.0, thing.height.value)
    for unit in study.units:
        yield from _housing(unit)
    pose = pose_of(finding)
    if pose is not None and finding is not None:
        yield Solid(part_of(finding.verdict)[0], corners_of(pose), 0.0, pose.height)


def _housing(unit: UnitDrawn) -> Iterator[Solid]:
    if unit.lens is None:
        return
    x, y, z = unit.lens
    w, d = HOUSING[0] / 2, HOUSING[1] / 2
    inside = unit.side == "inside"
    part = Part.HOUSING_INSIDE if inside else Part.HOUSING_OUTSIDE
    box = Box(x - w, x + w, y - d, y + d)
    yield Solid(part, box.corners(), z, z + TALL)


def leaves_of(outline: Outline, planes: int) -> tuple[LeafDrawn, ...]:
    """The leaves as they stand, and how each goes with the leading edge.

    The first plane's leaf leads; each further one goes an equal share less.
    """
    return tuple(
        LeafDrawn(
            box,
            outline.underside,
            1 if box.left + box.right > 0 else -1,
            (planes - index % planes) / planes,
        )
        for index, box in enumerate(outline.leaves)
    )


# Lines in the air -----------------------------------------------------------------


def _wires(study: Study, outline: Outline, finding: Finding | None) -> Iterator[Wire]:
    half, high = outline.half, outline.high
    frame = ((-half, 0.0), (-half, high), (half, high), (half, 0.0))
    yield Wire(Part.OPENING, tuple((x, 0.0, z) for x, z in frame))
    around = [(x, y, outline.underside) for x, y in outline.path.corners()]
    yield Wire(Part.LEAF_PATH, (*around, around[0]))
    dead = dead_units(finding, study)
    for unit in study.units:
        for y, z in unit.barrier:
            yield Wire(Part.BARRIER, ((-half, y, z), (half, y, z)))
        part = Part.BEAM_INSIDE if unit.side == "inside" else Part.BEAM
        part = Part.DEAD if unit.fitting in dead else part
        for beam in _beams(unit):
            yield Wire(part, beam)
    yield from _tape(outline, finding)


def _beams(unit: UnitDrawn) -> Iterator[tuple[Place, Place]]:
    """From the lens to the middle of every spot."""
    if unit.lens is None:
        return
    for row in unit.rows:
        for x, y in row.spots.middles:
            yield unit.lens, (x, y, 0.0)


def _tape(outline: Outline, finding: Finding | None) -> Iterator[Wire]:
    """From the nearer post to the body, as a tape takes it."""
    ends = _tape_ends(outline, finding)
    if ends is not None:
        yield Wire(Part.GROUND, ends[0])


def _tape_ends(
    outline: Outline, finding: Finding | None
) -> tuple[tuple[Place, Place], float] | None:
    pose = pose_of(finding)
    if pose is None or finding is None or finding.witness is None:
        return None
    post, end, far = along(finding.witness, pose, outline)
    out = 1.0 if pose.y >= 0 else -1.0
    y = out * (max(out * v for _, v in corners_of(pose)) + CLEAR)
    return ((post, y, 0.0), (end, y, 0.0)), abs(far)


def _posts(study: Study, finding: Finding | None) -> Iterator[Post]:
    for unit in study.units:
        if unit.lens is not None:
            yield Post(Part.LENS, unit.lens)
    pose = pose_of(finding)
    if pose is not None and finding is not None:
        yield Post(part_of(finding.verdict)[1], (pose.x, pose.y, pose.height))


# Words ----------------------------------------------------------------------------


def _named(
    study: Study,
    outline: Outline,
    finding: Finding | None,
    tongue: Tongue,
    frame: Frame,
) -> Iterator[Named]:
    inner, outer = frame.bottom + BESIDE, frame.top - BESIDE
    wide, low = outline.half + 0.1, 0.25 * outline.high
    yield Named(tongue.say("outside"), (frame.left + 0.3, outer, 0.0), 1, quiet=True)
    yield Named(tongue.say("inside"), (frame.left + 0.3, inner, 0.0), 1, quiet=True)
    yield Named(tongue.say("left"), (-wide, 0.0, low), 1, quiet=True)
    yield Named(tongue.say("right"), (wide, 0.0, low), 1, quiet=True)
    left, y = _scale_at(frame)
    long = _scale_length(tongue)
    yield Named(tongue.length(long), (left + long + 0.15, y, 0.0), 2, quiet=True)
    dead = dead_units(finding, study)
    for unit in study.units:
        if unit.lens is not None:
            name = unit_name(unit, tongue, dead=unit.fitting in dead)
            if without_rows(unit, study.doorway):
                name = tongue.say("unit.unknown", unit=name)
            x, y, z = unit.lens
            yield Named(name, (x, y, z + TALL + 0.05), 2)
    pose = pose_of(finding)
    if pose is not None and finding is not None:
        text = label_of(finding, pose, tongue)
        yield Named(text, (pose.x, pose.y, pose.height + 0.12), 1)
    tape = _tape_ends(outline, finding)
    if tape is not None:
        (ax, y, _), (bx, _, _) = tape[0]
        yield Named(tongue.length(tape[1]), ((ax + bx) / 2, y, 0.0), 1)


def _scale(frame: Frame, tongue: Tongue) -> Iterator[Wire]:
    """A bar on the floor, at its outside edge."""
    left, y = _scale_at(frame)
    right, tick = left + _scale_length(tongue), 0.03
    yield Wire(Part.GROUND, ((left, y, 0.0), (right, y, 0.0)))
    for x in (left, right):
        yield Wire(Part.GROUND, ((x, y - tick, 0.0), (x, y + tick, 0.0)))


def _scale_at(frame: Frame) -> tuple[float, float]:
    return frame.left + 0.9, frame.top - BESIDE


def _scale_length(tongue: Tongue) -> float:
    return FOOT if tongue.system is Show.FEET else BAR
