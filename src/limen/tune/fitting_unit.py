"""What the readings of one unit show: one pose, or why there is none.

The manual's fan is read every way that its manual allows; a way that no pose agrees
with is passed over.  What several ways leave open is added to what the fit leaves.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import inf, radians

import numpy as np

from limen.physics.fans import FanReading
from limen.physics.readings.expecting import (
    ACROSS,
    HEIGHT,
    ROLL,
    SHARE,
    TILT,
    YAW,
    Kind,
    Taken,
    row_slopes,
)
from limen.physics.readings.hanging import Known
from limen.physics.readings.leaving import Left, left_open
from limen.physics.readings.missing import Missing, missing
from limen.physics.readings.resolving import (
    TOLD_APART,
    Explained,
    apart,
    explanations,
)
from limen.physics.readings.suspecting import agree, suspects
from limen.tune.fitting_given import WITHIN, Given

LENS_WITHIN = 0.005  # m, how closely a lens is taped where that is still to be done
CLOSELY: dict[Kind, float] = {kind: within.value for kind, within in WITHIN.items()}
MOST_TURNED, MOST_TILTED = radians(20.0), radians(40.0)
"""Turned or tilted further, no unit hangs at a door: readings that ask for it are
wrong."""
LOWEST, HIGHEST, FURTHEST = 0.8, 8.0, 3.0
"""Where a lens can be (m): its height, and how far it is from the leaf face."""
ALIKE = 1e-6
"""Costs closer than this are alike: what parts them is the last digit of a sum."""
FAN_LEFT = 0.010
"""On the floor (m): by as much ways to read a manual may differ and be one pose."""


@dataclass(frozen=True, slots=True)
class Pinned:
    """A pose and all that belongs to it.

    Attributes:
        known: what was known before, by the way of the manual that was taken.
        fan: that way; None where the fan was read.
        explained: the readings, numbered, and the fit.
        left: what the fit leaves open.
    """

    known: Known
    fan: FanReading | None
    explained: Explained
    left: Left


@dataclass(frozen=True, slots=True)
class Result:
    """What the readings of one unit show.

    Attributes:
        pinned: the pose; as the others have it where one reading is wrong.
        missing: what to tape, where the readings do not determine a pose.
        ways: explanations that are tied.
        by_fan: whether they differ by how the manual is read, not by numbers.
        wrong: numbers of the readings of which one is wrong.
        at_odds: whether the readings do not agree.
        share: how wide the rows are against the sheet, if they would agree by that.
    """

    pinned: Pinned | None = None
    missing: tuple[Missing, ...] = ()
    ways: tuple[Explained, ...] = ()
    by_fan: bool = False
    wrong: tuple[int, ...] = ()
    at_odds: bool = False
    share: float | None = None


@dataclass(frozen=True, slots=True)
class _Way:
    known: Known
    fan: FanReading | None
    explained: Explained


def shown_by(given: Given) -> Result:
    """What the readings of one unit show.

    Args:
        given: everything that the fit rests on.
    """
    wanted = missing(given.known[0], given.taken, CLOSELY, LENS_WITHIN)
    if wanted:
        return Result(missing=wanted)
    ways = _ways(given, given.taken)
    agreeing = [way for way in ways if agree(way.explained.hanging)]
    agreeing = [way for way in agreeing if _possible(given, way.explained)]
    if not ways:
        # it fits, but too loosely after all: then all of the useful minimum is asked
        return Result(missing=missing(given.known[0], (), CLOSELY, LENS_WITHIN))
    return _one(given, agreeing) if agreeing else _at_odds(given)


def _possible(given: Given, one: Explained) -> bool:
    """Whether a unit can hang so at all, and a site file can say it."""
    pose = one.hanging.pose
    out = given.way * float(pose[ACROSS]) - given.face
    turned = max(abs(pose[ROLL]), abs(pose[YAW])) <= MOST_TURNED
    return bool(
        turned
        and abs(pose[TILT]) <= MOST_TILTED
        and LOWEST <= pose[HEIGHT] <= HIGHEST
        and 0.0 <= out <= FURTHEST
    )


def _ways(given: Given, taken: Sequence[Taken]) -> list[_Way]:
    """Every explanation under every way to read the manual, the likeliest first."""
    found = [
        _Way(known, fan, one)
        for known, fan in zip(given.known, given.fans, strict=True)
        for one in explanations(known, taken, given.usual)
    ]
    found.sort(key=lambda way: way.explained.cost)
    return found


def _one(given: Given, ways: Sequence[_Way]) -> Result:
    """One pose, if all that are about as likely are one pose."""
    best = _best(given, ways)
    likely = [
        way for way in ways if way.explained.cost - best.explained.cost < TOLD_APART
    ]
    others = [way for way in likely if _other(best, way)]
    if others:
        tied = [best, *_different(others)]
        numbers = {way.explained.numbers for way in tied}
        return Result(
            ways=tuple(way.explained for way in tied), by_fan=len(numbers) == 1
        )
    left = left_open(
        best.known, best.explained.hanging, best.explained.taken, given.within
    )
    return Result(
        pinned=Pinned(best.known, best.fan, best.explained, _widened(left, likely))
    )


def _best(given: Given, ways: Sequence[_Way]) -> _Way:
    """The likeliest; of those as likely the first by the order of the manual.

    Where only ends of rows were read, each spacing between them fits alike.
    """
    least = ways[0].explained.cost
    alike = [way for way in ways if way.explained.cost - least < ALIKE]
    first = {id(known): number for number, known in enumerate(given.known)}
    return min(alike, key=lambda way: first[id(way.known)])


def _other(best: _Way, way: _Way) -> bool:
    """Whether a way gives another pose: by another reading of the manual, clearly."""
    if way.fan is best.fan and way.known is best.known:
        return apart(best.explained, way.explained)
    if way.explained.numbers != best.explained.numbers:
        return apart(best.explained, way.explained)
    off = np.abs(best.explained.hanging.pose - way.explained.hanging.pose)
    turned = float(off[TILT : YAW + 1].max()) * float(way.known.lens[2])
    return turned > FAN_LEFT


def _different(others: Sequence[_Way]) -> list[_Way]:
    """Those that differ from each other too."""
    kept: list[_Way] = []
    for way in others:
        if all(_other(one, way) for one in kept):
            kept.append(way)
    return kept


def _widened(left: Left, likely: Sequence[_Way]) -> Left:
    """What the fit leaves open, with what other explanations of one pose add."""
    poses = [way.explained.hanging.pose for way in likely]
    off = np.max([np.abs(pose - poses[0]) for pose in poses], axis=0)
    best = likely[0]
    slopes = row_slopes(best.known.curtain, poses[0], 0)
    h = float(poses[0][HEIGHT])
    g1 = float(slopes[len(slopes) // 2, 1])
    ends = max(-float(slopes[0, 0] * slopes[-1, 0]), 0.0)
    tilt, roll, yaw = (float(off[which]) for which in (TILT, ROLL, YAW))
    angles = (left.angles[0] + tilt, left.angles[1] + roll, left.angles[2] + yaw)
    return replace(
        left,
        across=left.across + h * (1 + g1 * g1) * tilt,
        along=left.along + h * (1 + ends) * roll,
        turn=left.turn + yaw + abs(g1) * roll,
        angles=angles,
    )


def _at_odds(given: Given) -> Result:
    """Which reading is wrong, where that can be said."""
    least, picked = inf, Result(at_odds=True)
    for known, fan in zip(given.known, given.fans, strict=True):
        found = suspects(known, given.taken, given.usual)
        if not found or found[0].others[0].cost >= least - ALIKE:
            continue
        least = found[0].others[0].cost
        picked = Result(at_odds=True, wrong=tuple(one.number for one in found))
        if len(found) == 1 and _alone(found[0].others):
            best = found[0].others[0]
            left = left_open(known, best.hanging, best.taken, given.within)
            picked = replace(picked, pinned=Pinned(known, fan, best, left))
    return picked if picked.wrong else replace(picked, share=_share(given))


def _share(given: Given) -> float | None:
    """The share of the stated width by which the readings would agree, if one does."""
    for known in given.known:
        if known.share:
            return None
        found = explanations(replace(known, share=True), given.taken, given.usual)
        if found and agree(found[0].hanging) and _possible(given, found[0]):
            return float(found[0].hanging.pose[SHARE])
    return None


def _alone(others: Sequence[Explained]) -> bool:
    return not any(apart(others[0], one) for one in others[1:])
