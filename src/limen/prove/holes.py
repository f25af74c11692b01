"""Whether a body is missed somewhere, the units being as they are: a proof each time.

A mounting is proved whole.  With spots dead besides, what was reached everywhere can
only be missed where a dead spot would have met the body: only there it is asked again.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import product, zip_longest
from math import ceil, pi
from typing import TypeVar

import numpy as np

from limen.geometry.turns import Array
from limen.physics.coverage import Problem, solve
from limen.physics.coverage.pose import Pose, admissible
from limen.physics.reach import Body, Cast, Ground, Scope, pose_problem
from limen.prove.casting import Flags, Ints, Thrown, gaps
from limen.prove.places import Spot
from limen.questions.coverage import Case

COARSE = 2e-3
"""Smallest boxes of poses (m): a body this much smaller is found at no door."""
CELLS = 12_000
STEP = 0.02
"""In which steps places about one that is missed are looked at (m)."""
TURN = pi / 12

Kind = TypeVar("Kind", Array, Ints)
Throws = tuple[dict[Body, Thrown], ...]
"""What each unit casts, by the body's face."""


@dataclass(frozen=True, slots=True)
class Missed:
    """A pose that no unit reaches."""

    case: Case
    pose: Pose


@dataclass(frozen=True, slots=True)
class Prover:
    """Asks for all states of one doorway.

    Attributes:
        ground: the floor and what stands in the way.
        cases: what is asked of the body, its likeliest failures first.
        fittings: ids of the units.
    """

    ground: Ground
    cases: Sequence[Case]
    fittings: Sequence[str]
    blank: dict[int, Problem] = field(default_factory=dict[int, Problem], repr=False)

    def anywhere(self, throws: Throws) -> Missed | None:
        """Where a body is missed with every spot alive; None if nowhere."""
        alive = tuple(np.zeros(0, np.bool_) for _ in throws)
        for number, case in enumerate(self.cases):
            pose = _witness(self._problem(number, throws, alive))
            if pose is not None:
                return Missed(case, pose)
        return None

    def about(self, throws: Throws, dead: Sequence[Flags]) -> Missed | None:
        """Where a body is missed with spots dead that is missed nowhere without.

        Args:
            throws: what each unit casts.
            dead: by unit, (spots,) which of them see nothing.
        """
        for number, case in enumerate(self.cases):
            for zone in _zones(case, throws, dead, self.fittings):
                asked = replace(self._problem(number, throws, dead), zone=zone)
                pose = _witness(asked)
                if pose is not None:
                    return Missed(case, pose)
        return None

    def set_out(
        self, missed: Missed, throws: Throws, dead: Sequence[Flags]
    ) -> tuple[Spot, ...]:
        """A place near a pose that is missed, such as one can set out; none if none is.

        Of the poses around it in steps of a tape, that which is missed by most.

        Args:
            missed: as it was found.
            throws: what each unit casts.
            dead: by unit, (spots,) which of them see nothing.
        """
        body, half = missed.case.body, self.ground.plan.half
        poses = tuple(_around(missed.pose, half))
        room = missed_by(throws, body, poses, dead)
        asked = self.ground.problem((), missed.case.place, body, exact=True)
        for number in (int(n) for n in np.argsort(-room)):
            if room[number] > 0.0 and admissible(asked, poses[number]):
                return (Spot(body, poses[number], 0.0),)
        return ()

    def _problem(self, number: int, throws: Throws, dead: Sequence[Flags]) -> Problem:
        """What a case asks of the beams that are alive."""
        lines, groups = _alive(self.cases[number], throws, dead, self.fittings)
        return replace(self._blank(number, throws), beams=lines, group=groups)

    def _blank(self, number: int, throws: Throws) -> Problem:
        """The question without its beams: built once a case."""
        if number not in self.blank:
            case = self.cases[number]
            scope = Scope(case.body, self.ground.evenness, exact=True)
            casts = [_empty(unit[case.body].needed) for unit in throws]
            self.blank[number] = pose_problem(
                casts, self.ground.plan, case.place, scope
            )
        return self.blank[number]


def _witness(asked: Problem) -> Pose | None:
    return solve(asked, resolution=COARSE, max_cells=CELLS).witness


def missed_by(
    throws: Throws, body: Body, poses: Sequence[Pose], dead: Sequence[Flags] = ()
) -> Array:
    """(poses,) by how much every side of the body must grow to be reached (m).

    Infinite where no unit has spots enough.

    Args:
        throws: what each unit casts.
        body: at rest.
        poses: where.
        dead: by unit, (spots,) which of them see nothing; none if left out.
    """
    room = np.full(len(poses), np.inf)
    for unit, gone in zip_longest(throws, dead):
        own = unit[body]
        lines = own.lines[own.lit if gone is None else own.lit & ~gone]
        if len(lines) >= own.needed:
            found = np.partition(gaps(lines, body, poses), own.needed - 1, axis=1)
            room = np.minimum(room, found[:, own.needed - 1])
    return room


def _around(pose: Pose, half: float) -> Iterator[Pose]:
    """Poses about one in whole steps from the nearer post and of the turn."""
    post = half if pose[0] > 0.0 else -half
    x0 = post + round((pose[0] - post) / STEP) * STEP
    y0 = round(pose[1] / STEP) * STEP
    turn = round(pose[2] / TURN)
    for x, y, t in product(range(-2, 3), range(-2, 3), range(-1, 2)):
        yield (
            round(x0 + x * STEP, 6),
            round(y0 + y * STEP, 6),
            _half_turn((turn + t) * TURN),
        )


def _half_turn(yaw: float) -> float:
    """The turn within -90 and 90 degrees: a body looks alike from both ends."""
    return yaw - pi * ceil(yaw / pi - 0.5)


def _empty(needed: int) -> Cast:
    return Cast(np.empty((0, 4)), np.empty((0, 2)), np.zeros(2), needed)


def _alive(
    case: Case, throws: Throws, dead: Sequence[Flags], fittings: Sequence[str]
) -> tuple[Array, Ints]:
    """The beams that count, and the unit of each."""
    lines: list[Array] = []
    for unit, gone, fitting in zip(throws, dead, fittings, strict=True):
        own = unit[case.body]
        use = own.counted(case, fitting)
        lines.append(own.lines[use & ~gone if len(gone) else use])
    counts = [len(some) for some in lines]
    every = np.concatenate([np.empty((0, 6)), *lines])
    return _still(every), _still(np.repeat(np.arange(len(lines)), counts))


def _still(values: Kind) -> Kind:
    """As the search takes its arrays: not to be written to."""
    values.setflags(write=False)
    return values


def _zones(
    case: Case, throws: Throws, dead: Sequence[Flags], fittings: Sequence[str]
) -> Iterator[Array]:
    """By unit, the box of the centres of bodies that meet a spot that is dead."""
    for unit, gone, fitting in zip(throws, dead, fittings, strict=True):
        own = unit[case.body]
        lines = own.lines[own.counted(case, fitting) & gone]
        if not len(lines):
            continue
        middle, half = lines[:, :2], np.abs(lines[:, 2:4])
        zone, far = case.place.zone, case.body.reach
        low, high = (middle - half).min(axis=0), (middle + half).max(axis=0)
        box = np.array(
            [
                max(zone.left, low[0] - far),
                min(zone.right, high[0] + far),
                max(zone.near, low[1] - far),
                min(zone.far, high[1] + far),
            ]
        )
        if box[0] <= box[1] and box[2] <= box[3]:
            yield _still(box)


def asked_cases(cases: Sequence[Case]) -> tuple[Case, ...]:
    """The cases without those whose every pose another one asks for too.

    A body whose middle is no further from the leaf path than it is thick inside
    meets the leaf path.
    """
    return tuple(
        case
        for case in cases
        if not any(_within_path(case, other) for other in cases if other is not case)
    )


def _within_path(case: Case, other: Case) -> bool:
    path = other.place.must_meet
    if case.place.must_meet is not None or path is None:
        return False
    alike = (case.body, case.muted) == (other.body, other.muted)
    if not alike or not set(case.pausing) <= set(other.pausing):
        return False
    core = path.grown(0.0, min(case.body.width, case.body.depth) / 2)
    zone = case.place.zone
    return (
        core.left <= zone.left
        and zone.right <= core.right
        and core.near <= zone.near
        and zone.far <= core.far
    )
