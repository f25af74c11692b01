"""How far a radar reaches: bounded by its manual, or measured by walking."""

from dataclasses import dataclass, replace
from math import sqrt

import numpy as np

from limen.findings import Lack, Measure, Message
from limen.model.fitting import Fitting
from limen.model.radar import Motion
from limen.physics.beams import Attitude
from limen.physics.plan import Plan, sign
from limen.physics.radar import Contour, PatchBeam, Radar
from limen.quantity import Dimension, Grade, Quantity
from limen.questions.approach_lobes import Beams, shape_stated, walk_of
from limen.questions.approach_taken import NOTHING, Taken, assumed, stated
from limen.questions.asking import lack

Stand = tuple[tuple[float, float, float], Attitude]

SPREAD = Quantity(0.25, 0.0, Grade.ESTIMATE)
CHILD = (10 ** (-6 / 40), 10 ** (-3 / 40))
"""A small child returns 3 to 6 dB less than a grown person; distance counts by the
fourth power, so that is ΔdB/40 of a decade of reach."""
WALKED = Quantity(1.0, 0.0, Grade.PRACTICE)  # m/s
RUNS = 3
LATEST = 0.5  # s, no response is longer
BELIEVED = (0.2, 2.0)
"""Measured reach over the manual's, between which a walk is believed."""


@dataclass(frozen=True, slots=True)
class Bounds:
    """What surely opens the door, and what may.

    Attributes:
        inner: contours, the least of which counts.
        outer: contours, the greatest of which counts.
        taken: what they rest on.
    """

    inner: tuple[Contour, ...]
    outer: tuple[Contour, ...]
    taken: Taken


@dataclass(frozen=True, slots=True)
class Factor:
    """A factor of the reach: at least, at most, and what it rests on."""

    least: float
    most: float
    taken: Taken = NOTHING


def bounds_of(
    fitting: Fitting,
    motion: Motion,
    beams: Beams,
    stand: Stand,
    plan: Plan,
    *,
    child: bool,
) -> Bounds | tuple[Lack, ...]:
    """How far a radar reaches, at the least and at the most.

    Args:
        fitting: the unit.
        motion: its sheet's motion sense.
        beams: its contours, as the reference field has them.
        stand: its lens and attitude.
        plan: the doorway as boxes.
        child: whether a small child is to be found.
    """
    for_small = motion.field_for in ("child", "test body")
    by_sheet = _by_sheet(fitting, motion, beams, for_small=for_small and child)
    walked = _walked(fitting, motion, beams, stand, plan)
    if isinstance(walked, tuple):
        return walked
    if walked is None:
        return _for_whom(by_sheet, child=child, for_small=for_small)
    if child and for_small:
        both = by_sheet.taken + walked.taken
        return Bounds((*by_sheet.inner, *walked.inner), by_sheet.outer, both)
    return _for_whom(walked, child=child, for_small=False)


# By the manual -----------------------------------------------------------------


def _by_sheet(
    fitting: Fitting, motion: Motion, beams: Beams, *, for_small: bool
) -> Bounds:
    """The manual's contours within its spread, at the reach that is set."""
    spread = _spread(fitting, motion, for_small=for_small)
    return _times(beams, spread, _reach_set(fitting, motion))


def _spread(fitting: Fitting, motion: Motion, *, for_small: bool) -> Factor:
    """How far one unit's field may differ, and the ± of the field as drawn."""
    key = "sheet.motion.spread"
    drawn = (motion.field_depth, motion.field_width)
    loose = max((q.u / q.value for q in drawn if q is not None), default=0.0)
    if motion.spread is not None:
        off = motion.spread.high + loose
        return Factor(1 - min(off, 1.0), 1 + off, stated((key, motion.spread)))
    off = SPREAD.value + loose
    shown = Measure(SPREAD.value, Dimension.RATIO)
    needs = lack("approach.lack.spread", key) if for_small else walk_of(fitting)
    why = Message("approach.assumed.spread")
    return Factor(1 - off, 1 + off, assumed(key, why, shown, SPREAD.grade, needs))


def _reach_set(fitting: Fitting, motion: Motion) -> Factor:
    """The reach as set on its scale; the worse of two laws where none is told.

    A scale in field strength s gives R √s, one in power R ⁴√s.
    """
    key, reach = f"fitting[{fitting.id}].settings.reach", fitting.settings.reach
    if reach is None:
        why, shown = Message("approach.assumed.reach"), Measure(1.0, Dimension.RATIO)
        needs = lack("approach.lack.reach", key, {"fitting": fitting.id})
        return Factor(1.0, 1.0, assumed(key, why, shown, Grade.ESTIMATE, needs))
    least = reach.low**0.25 if motion.reach_law == "power" else sqrt(max(reach.low, 0))
    most = sqrt(reach.high) if motion.reach_law == "field" else reach.high**0.25
    return Factor(least, most, stated((key, reach)))


def _for_whom(bounds: Bounds, *, child: bool, for_small: bool) -> Bounds:
    """The field for who is to be found, where it was drawn or walked for another."""
    if child == for_small:
        return bounds
    if for_small:
        return _scaled(bounds, Factor(1.0, 1 / CHILD[0]))
    key, why = "sheet.motion.field_for", Message("approach.assumed.field_for")
    shown = Measure(CHILD[0], Dimension.RATIO)
    needs = lack("approach.lack.field_for", key)
    taken = assumed(key, why, shown, Grade.ESTIMATE, needs)
    return _scaled(bounds, Factor(*CHILD, taken))


def _times(beams: Beams, *factors: Factor) -> Bounds:
    bounds = Bounds(beams.contours, _with_lobes(beams.contours), beams.taken)
    for factor in factors:
        bounds = _scaled(bounds, factor)
    return bounds


def _scaled(bounds: Bounds, factor: Factor) -> Bounds:
    inner = tuple(Contour(c.ahead * factor.least, c.beam) for c in bounds.inner)
    outer = tuple(Contour(c.ahead * factor.most, c.beam) for c in bounds.outer)
    return Bounds(inner, outer, bounds.taken + factor.taken)


def _with_lobes(contours: tuple[Contour, ...]) -> tuple[Contour, ...]:
    """The contours with what patches send beside their main lobe: it may be seen."""
    return tuple(
        Contour(one.ahead, replace(one.beam, lobes=True))
        if isinstance(one.beam, PatchBeam)
        else one
        for one in contours
    )


# By walking --------------------------------------------------------------------


def _walked(
    fitting: Fitting, motion: Motion, beams: Beams, stand: Stand, plan: Plan
) -> Bounds | tuple[Lack, ...] | None:
    """The contours that pass through where walks at the door were first detected.

    The lamp lights one response after the contour was entered, so the contour lies
    further out by speed times response.  The speed along the line of sight is
    greatest far out: whoever is detected was not held up by the least speed.  A
    reading of the manual that no walk could come from is dropped.

    Returns:
        None if nobody walked; what is missing if walk and manual do not agree.
    """
    runs, read = fitting.read.lit_ahead, fitting.read
    if not runs:
        return None
    speed = read.lit_speed or WALKED
    response = motion.response
    soon = speed.low * (response.low if response else 0.0)
    late = speed.high * (response.high if response else LATEST)
    ends = (min(q.low for q in runs) + soon, max(q.high for q in runs) + late)
    then = _as_walked(fitting, stand)
    inner, outer = (
        _through(beams, then, sign(fitting.side) * (_face(plan, fitting) + end))
        for end in ends
    )
    if not inner or not outer:
        return _differs(fitting)
    bounds = Bounds(inner, _with_lobes(outer), beams.taken + _rests(fitting))
    return _scaled(bounds, _since(fitting, motion))


def _as_walked(fitting: Fitting, stand: Stand) -> Stand:
    """Lens and attitude when it was walked: tilted otherwise, where that is said."""
    tilt, (place, attitude) = fitting.read.lit_tilt, stand
    return stand if tilt is None else (place, attitude._replace(tilt=tilt.value))


def _since(fitting: Fitting, motion: Motion) -> Factor:
    """What setting the reach otherwise since did to it."""
    was, now = fitting.read.lit_reach, fitting.settings.reach
    if was is None:
        return Factor(1.0, 1.0)
    if now is None or was.low <= 0.0:
        return _reach_set(fitting, motion)
    low, high = max(now.low, 0.0) / was.high, now.high / was.low
    laws = {None: (0.25, 0.5), "field": (0.5,), "power": (0.25,)}[motion.reach_law]
    ends = [end**law for end in (low, high) for law in laws]
    key = f"fitting[{fitting.id}].settings.reach"
    return Factor(min(ends), max(ends), stated((key, now)))


def _differs(fitting: Fitting) -> tuple[Lack, ...]:
    """What to look at where walk and manual cannot both be right."""
    name, said = f"fitting[{fitting.id}].", {"fitting": fitting.id}
    keys = [name + "settings.radar_tilt", name + "read.lit_ahead"]
    if not shape_stated(fitting):
        keys = ["sheet.motion.lobe", *keys]
    return tuple(lack("approach.lack.walk_differs", key, dict(said)) for key in keys)


def _face(plan: Plan, fitting: Fitting) -> float:
    return plan.side(fitting.side).face


def _rests(fitting: Fitting) -> Taken:
    """What a walk rests on: its runs, their number, and its speed."""
    name, read = f"fitting[{fitting.id}].read.", fitting.read
    rests = stated(*((name + "lit_ahead", run) for run in read.lit_ahead))
    if len(read.lit_ahead) < RUNS:
        few, why = str(len(read.lit_ahead)), Message("approach.assumed.runs")
        needs = walk_of(fitting)
        rests += assumed(name + "lit_ahead", why, few, Grade.ESTIMATE, needs)
    if read.lit_speed is not None:
        return rests + stated((name + "lit_speed", read.lit_speed))
    shown, why = Measure(1.0, Dimension.SPEED), Message("approach.assumed.lit_speed")
    return rests + assumed(name + "lit_speed", why, shown, WALKED.grade)


def _through(beams: Beams, stand: Stand, y: float) -> tuple[Contour, ...]:
    """The contours scaled to pass through a place on the middle line of the floor.

    Those that would have to be scaled by more than can be believed are left out.
    """
    lens = stand[0]
    away = np.array([[-lens[0], y - lens[1], -lens[2]]])
    distance = float(np.linalg.norm(away))
    scaled: list[Contour] = []
    for one in beams.contours:
        radar = Radar(
            *stand, (one,), inner=True, least_speed=0, response=0, direction_aware=False
        )
        reach = float(radar.reach(away / distance)[0])
        share = distance / reach if reach > 0 else 0.0
        if BELIEVED[0] <= share <= BELIEVED[1]:
            scaled.append(Contour(one.ahead * share, one.beam))
    return tuple(scaled)
