"""From a doorway's units to the arrays that a coverage proof needs."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from math import atan2, hypot, sqrt
from typing import Literal

import numpy as np

from limen.geometry.boxes import Box
from limen.geometry.turns import Array
from limen.model.people import Side
from limen.physics.beams import Attitude, Beams, beams_of, spans
from limen.physics.coverage import Problem
from limen.physics.fans import FanReading
from limen.physics.hidden import Cutter, Visible, visible
from limen.physics.plan import SURE, Doubt, Plan, sign
from limen.physics.tolerance import NADIR, Bounds, Errors, FirstRow, bounds

Face = Literal["upright", "on its face", "on its edge"]
FACES: tuple[Face, ...] = ("upright", "on its face", "on its edge")


@dataclass(frozen=True, slots=True)
class Body:
    """The reference body as it rests on one face; footprint and height, m."""

    face: Face
    width: float
    depth: float
    height: float

    @property
    def reach(self) -> float:
        """Half the diagonal of the footprint."""
        return hypot(self.width, self.depth) / 2


def rest_faces(length: float, width: float, depth: float) -> tuple[Body, ...]:
    """The body on each of its three rest faces.

    Args:
        length: longest side (m).
        width: middle side (m).
        depth: shortest side (m).
    """
    return (
        Body("upright", width, depth, length),
        Body("on its face", length, width, depth),
        Body("on its edge", length, depth, width),
    )


@dataclass(frozen=True, slots=True)
class Placed:
    """A presence unit with every figure settled, stated or assumed.

    Attributes:
        fitting: id of the fitting.
        side: the side on which it stands.
        lens: (x, y, z), m.
        attitude: how it is turned.
        row_angles: of every row of the sheet (rad).
        fan: the reading of the manual that is taken.
        rows_on: rows that count, from 0.
        needed: spots of this unit that it takes.
        low: lowest height at which it detects (m); None if the manual does not
            say: then only the top of a body is counted.
        errors: what may be off after aiming.
        divergence: full angle of a spot's light (rad), None if unknown.
        shift: by how much all its spots stand off on the floor (m), lens in place.
        taped: how closely the lens's distance from the leaf was taped (m).  Where
            it is in its housing is apart: the housing hangs before the header.
    """

    fitting: str
    side: Side
    lens: tuple[float, float, float]
    attitude: Attitude
    row_angles: tuple[float, ...]
    fan: FanReading
    rows_on: tuple[int, ...]
    needed: int
    low: float | None
    errors: Errors
    divergence: float | None
    shift: tuple[float, float] = (0.0, 0.0)
    taped: float = 0.0

    def beams(self) -> Beams:
        """The unit's nominal beams."""
        return beams_of(
            self.lens, self.attitude, self.row_angles, self.fan.angles, self.rows_on
        )

    @property
    def mark(self) -> tuple[object, ...]:
        """What tells this unit, as it is set and read, from others of a doorway."""
        fan, low = (self.fan.measured_to, self.fan.spacing), self.low
        return (
            self.fitting,
            fan,
            self.attitude,
            self.rows_on,
            low,
            self.errors,
            self.shift,
        )

    def slopes(self, beams: Beams) -> Array:
        """(n, 2) slopes of the unit's beams with its shift on the floor."""
        return beams.slopes + np.array(self.shift) / self.lens[2]

    def bounds(self, beams: Beams, span: tuple[float, float]) -> Bounds:
        """What may be off of each of its beams in a span of heights (m)."""
        return bounds(
            beams.lens,
            beams.directions,
            span,
            self.errors,
            beams.fan_axes,
            beams.row_axes,
            self.first_row(beams),
        )

    def first_row(self, beams: Beams) -> FirstRow:
        """The row by which the unit is aimed, on or off."""
        slopes = beams.slopes[beams.row == 0]
        if not len(slopes):
            every = replace(self, rows_on=(0,)).beams()
            slopes = every.slopes
        if not len(slopes):
            return NADIR
        ends = -float(slopes[0, 0] * slopes[-1, 0])
        return FirstRow(float(slopes[len(slopes) // 2, 1]), sqrt(max(ends, 0.0)))

    def tilted(self, tilt: float) -> "Placed":
        """The same unit at another tilt (rad)."""
        return replace(self, attitude=self.attitude._replace(tilt=tilt))


@dataclass(frozen=True, slots=True)
class Level:
    """Level beams of a light barrier across the opening, each for itself.

    Attributes:
        fitting: id of the fitting.
        beams: (y, z) of each, m.
        off_across: how far they may stand off across the door (m).
        off_height: how far they may stand off in height (m).
    """

    fitting: str
    beams: tuple[tuple[float, float], ...]
    off_across: float = 0.0
    off_height: float = 0.0

    @property
    def mark(self) -> tuple[object, ...]:
        """What tells this barrier from other units of a doorway."""
        return (self.fitting,)


Unit = Placed | Level


@dataclass(frozen=True, slots=True)
class Place:
    """Where a body is asked for.

    Attributes:
        zone: box of the body's centres.
        must_meet: only bodies that meet it are asked; None for all.
    """

    zone: Box
    must_meet: Box | None

    def grown(self, along: float, across: float) -> "Place":
        """The same further out on every side (m)."""
        meet = self.must_meet and self.must_meet.grown(along, across)
        return Place(self.zone.grown(along, across), meet)


def on_path(path: Box, body: Body) -> Place:
    """Every pose that meets the leaf path."""
    return Place(path.grown(body.reach, body.reach), path)


@dataclass(frozen=True, slots=True)
class Cast:
    """What one unit casts on the floor: segments with their error bounds.

    Attributes:
        segments: (n, 4), m.
        residual: (n, 2) error of each beam, m.
        common: (2,) shift common to all.
        needed: beams that it takes.
    """

    segments: Array
    residual: Array
    common: Array
    needed: int


@dataclass(frozen=True, slots=True)
class Scope:
    """The heights that count on a body, and whether errors do."""

    body: Body
    evenness: float
    exact: bool = False
    doubt: Doubt = SURE


@dataclass(frozen=True, slots=True)
class Traced:
    """What one unit casts, and its beams as they are cut.

    Attributes:
        cast: on the floor, on the unit's own side of the leaf.
        parts: every beam and its error bounds; None for level beams, and where the
            body is lower than the unit can detect.
    """

    cast: Cast
    parts: "tuple[Visible, Bounds] | None" = None


Memory = dict[tuple[object, ...], Traced]


@dataclass(frozen=True, slots=True)
class Ground:
    """The floor of one doorway, and what units were found to cast on it.

    Attributes:
        plan: what stands in the way.
        evenness: of the floor (m).
        doubt: how far the plan's own figures may be off.
        memory: what each unit casts, so that nothing is traced twice.
    """

    plan: Plan
    evenness: float
    doubt: Doubt = SURE
    memory: Memory = field(default_factory=Memory, compare=False, repr=False)

    def problem(
        self, units: Sequence[Unit], place: Place, body: Body, *, exact: bool = False
    ) -> Problem:
        """The coverage problem of some units for a body in a place.

        Args:
            units: the units that count.
            place: where the body is asked for.
            body: the body at rest.
            exact: whether errors are left out.
        """
        scope = self.scope(body, exact=exact)
        casts = tuple(self.traced(unit, scope).cast for unit in units)
        return pose_problem(casts, self.plan, place, scope)

    def scope(self, body: Body, *, exact: bool) -> Scope:
        """What counts on a body, and how far the plan may be off."""
        return Scope(body, self.evenness, exact, SURE if exact else self.doubt)

    def traced(self, unit: Unit, scope: Scope) -> Traced:
        """What a unit of this doorway casts, traced once.

        Args:
            unit: the unit as it is set.
            scope: the heights that count.
        """
        key = (unit.mark, scope)
        if key not in self.memory:
            self.memory[key] = _traced(unit, self.plan, scope)
        return self.memory[key]


def pose_problem(
    casts: Sequence[Cast],
    plan: Plan,
    place: Place,
    scope: Scope,
    leaves: tuple[Box, ...] = (),
) -> Problem:
    """The coverage problem of what units cast, some leaves standing in the way.

    Where the plan may be off, bodies are asked for as far as its parts may reach,
    and only what is surely wall or leaf keeps them out.
    """
    casts, body, doubt = casts or (_nothing(1),), scope.body, scope.doubt
    place = place.grown(doubt.along, doubt.across)
    solid = (
        *_surely(plan.walls, doubt.along, doubt.across + doubt.reveal),
        *_surely(leaves, doubt.along, doubt.across),
    )
    counts = [len(item.segments) for item in casts]
    return Problem.build(
        np.concatenate([np.empty((0, 4)), *(item.segments for item in casts)]),
        tuple(place.zone),
        (body.width, body.depth),
        group=np.repeat(np.arange(len(casts)), counts),
        needed=np.array([item.needed for item in casts], dtype=np.int64),
        tolerance=np.concatenate([np.empty((0, 2)), *(c.residual for c in casts)]),
        common=np.array([item.common for item in casts]).reshape(len(casts), 2),
        blocked=tuple(tuple(box) for box in solid),
        must_meet=None if place.must_meet is None else tuple(place.must_meet),
    )


def _surely(boxes: Sequence[Box], along: float, across: float) -> tuple[Box, ...]:
    """What is left of boxes whose faces may stand that much further in."""
    shrunk = (box.grown(-along, -across) for box in boxes)
    return tuple(b for b in shrunk if b.left <= b.right and b.near <= b.far)


def cast(unit: Unit, plan: Plan, scope: Scope) -> Cast:
    """What one unit casts on the floor within the heights that count."""
    return _traced(unit, plan, scope).cast


def _traced(unit: Unit, plan: Plan, scope: Scope) -> Traced:
    if isinstance(unit, Level):
        return Traced(_level(unit, plan, scope))
    parts = _seen_parts(unit, plan, scope)
    if parts is None:
        return Traced(_nothing(unit.needed))
    seen, errors = parts
    near = Cast(
        np.ascontiguousarray(seen.near[seen.has_near]),
        np.ascontiguousarray(errors.residual[seen.has_near]),
        errors.common,
        unit.needed,
    )
    return Traced(near, parts)


def _seen_parts(
    unit: Placed, plan: Plan, scope: Scope
) -> tuple[Visible, Bounds] | None:
    """Every beam of the unit as it is cut, and its error bounds.

    None where the body is lower than the unit can detect.
    """
    span = height_span(unit, scope)
    if span is None:
        return None
    beams = unit.beams()
    errors = Bounds(np.zeros((len(beams.row), 2)), np.zeros(2))
    if not scope.exact:
        errors = unit.bounds(beams, span)
    cutter = _cutter(unit, plan, scope, errors)
    return visible(beams.lens, unit.slopes(beams), span, cutter), errors


def _cutter(unit: Placed, plan: Plan, scope: Scope, errors: Bounds) -> Cutter:
    """What cuts the unit's beams, by how far they and the plan may be off."""
    if scope.exact:
        return Cutter(plan, unit.side)
    doubt = scope.doubt
    along, across = errors.common + errors.residual.max(axis=0, initial=0.0)
    above = max(0.0, unit.lens[2] - plan.underside) + doubt.underside + unit.errors.dh
    return Cutter(
        plan,
        unit.side,
        (float(along) + doubt.along, float(across) + doubt.across + doubt.reveal),
        doubt.header + unit.taped + float(across) * above / unit.lens[2],
        doubt.underside + unit.errors.dh,
        (
            float(along) + unit.errors.swing_x,
            float(across) + unit.errors.swing_y + doubt.across,
        ),
    )


def height_span(unit: Placed, scope: Scope) -> tuple[float, float] | None:
    """Lowest and highest height at which the unit's beams count on the body.

    None where the body is lower than the unit can detect.
    """
    high = min(scope.body.height, unit.lens[2]) - scope.evenness
    low = high if unit.low is None else unit.low + scope.evenness
    return spans(unit.lens[2], low, high) if low <= high else None


def _level(unit: Level, plan: Plan, scope: Scope) -> Cast:
    top = scope.body.height - scope.evenness
    room = 0.0 if scope.exact else unit.off_height
    half = plan.half - scope.doubt.along
    lines = [
        (-half, y, half, y)
        for y, z in unit.beams
        if scope.evenness + room <= z <= top - room
    ]
    segments = np.array(lines, dtype=np.float64).reshape(len(lines), 4)
    across = 0.0 if scope.exact else unit.off_across
    residual = np.tile([0.0, across], (len(lines), 1))
    return Cast(segments, residual, np.zeros(2), 1)


def _nothing(needed: int) -> Cast:
    return Cast(np.empty((0, 4)), np.empty((0, 2)), np.zeros(2), needed)


def row_distance(unit: Placed, row: int, face: float) -> float:
    """How far the middle of a row lands from the leaf face (m), from 0."""
    slope = np.tan(unit.attitude.tilt + unit.row_angles[row])
    return sign(unit.side) * unit.lens[1] + unit.lens[2] * float(slope) - face


def tilt_for(unit: Placed, row: int, face: float, distance: float) -> float:
    """The tilt (rad) at which a row lands ``distance`` (m) from the leaf face."""
    run = distance + face - sign(unit.side) * unit.lens[1]
    return tilt_at(run, unit.lens[2], unit.row_angles[row])


def tilt_at(run: float, height: float, row_angle: float) -> float:
    """The tilt (rad) at which a row lands ``run`` out from under a lens (m)."""
    return atan2(run, height) - row_angle
