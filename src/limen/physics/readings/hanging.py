"""How a unit hangs, fitted to resolved readings, with its covariance.

The pose minimises the sum over all figures of ((expected - shown) / s)^2, s their
standard uncertainty, and over what was taped of the lens of ((place - taped) / s)^2.
Its covariance is the inverse of J'J, J the derivatives of these terms.  s is known
beforehand (from the tape, not from how well the readings agree), so it is never
made smaller by readings that happen to agree.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import inf, radians

import numpy as np

from limen.geometry.turns import Array
from limen.physics.readings.expecting import (
    ALONG,
    SHARE,
    Curtain,
    Taken,
    expected,
    pose_of,
    shown,
    spreads,
)
from limen.physics.readings.squares import chance_above, least_squares

ANGLES = 3
STEP = 1e-6
FLATTEST = 1e-10  # of the largest singular value: below it nothing is known
LOOSEST_ANGLE = radians(1.0)
"""Standard uncertainty of an angle (rad) beyond which it is not determined."""
LOOSEST_PLACE = 0.05  # m, the same of the lens
LOOSEST_SHARE = 0.05
LEAST_READINGS = 3


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of a unit before its readings.

    Attributes:
        curtain: its rows.
        lens: where the lens was taped, x, y, h (m); where to begin if it was not.
        taped: standard uncertainty of each (m); None where it was not taped.
        tilt: where to begin (rad).
        angle_error: how far a spot may stand off its own angle (rad).
        evenness: of the floor (m).
        share: whether the width of the rows is to be fitted too.
    """

    curtain: Curtain
    lens: tuple[float, float, float]
    taped: tuple[float | None, float | None, float | None]
    tilt: float = 0.0
    angle_error: float = 0.0
    evenness: float = 0.0
    share: bool = False

    @property
    def free(self) -> int:
        """How many parameters are fitted."""
        return SHARE + self.share

    def begin(self) -> Array:
        """The pose to begin with (7,)."""
        return pose_of((self.tilt, 0.0, 0.0), self.lens)


@dataclass(frozen=True, slots=True)
class Hanging:
    """A fitted pose.

    Attributes:
        pose: (7,) as in `limen.physics.readings.expecting`.
        covariance: of its free part, (6, 6) or (7, 7).
        misfit: the sum of squares that was minimised.
        spare: figures beyond those needed: degrees of freedom.
    """

    pose: Array
    covariance: Array
    misfit: float
    spare: int

    @property
    def agreement(self) -> float | None:
        """Share of honest sets of readings that agree no better; None without spare."""
        return chance_above(self.misfit, self.spare) if self.spare > 0 else None

    @property
    def spread(self) -> Array:
        """Standard uncertainty of each free parameter."""
        return np.sqrt(np.diag(self.covariance))


def hang(known: Known, taken: Sequence[Taken], start: Array | None = None) -> Hanging:
    """The pose that fits resolved readings best.

    Twice: how steeply a row runs, and with it how much a reading's place along it
    matters, is known only after the first time.

    Args:
        known: what is known of the unit; the readings must determine the rest.
        taken: the readings, each resolved.
        start: a pose to begin with (7,), if one is known.

    Raises:
        ValueError: a reading is not resolved, or the readings do not determine it.
    """
    pose = known.begin() if start is None else start
    if not all(one.resolved for one in taken):
        raise ValueError("it is not known which beam a reading met")
    if not determined(known, taken, pose):
        raise ValueError("the readings do not determine how the unit hangs")
    for _ in range(2):
        terms = _terms(known, taken, pose)
        pose = _least(terms, pose, known.free)
    terms = _terms(known, taken, pose)
    jacobian = _derivatives(terms, pose, known.free)
    covariance = _inverse(jacobian.T @ jacobian)
    left = terms(pose)
    return Hanging(pose, covariance, float(left @ left), len(left) - known.free)


def _inverse(normal: Array) -> Array:
    """The inverse; infinite where the pose that was found leaves some way open."""
    try:
        return np.asarray(np.linalg.inv(normal), dtype=np.float64)
    except np.linalg.LinAlgError:
        return np.full_like(normal, inf)


def determined(
    known: Known, taken: Sequence[Taken], pose: Array, strictness: float = 1.0
) -> bool:
    """Whether readings, with what was taped, leave one pose and not many.

    Every direction in which the pose could change must change what the readings
    show, by enough that no parameter is looser than `LOOSEST_ANGLE` and
    `LOOSEST_PLACE`.

    Args:
        known: what is known of the unit.
        taken: resolved readings.
        pose: about where it hangs (7,).
        strictness: how many times closer than that is asked.
    """
    if len(taken) < LEAST_READINGS:
        return False
    spread = looseness(known, taken, pose)
    limits = [*[LOOSEST_ANGLE] * ANGLES, *[LOOSEST_PLACE] * 3, LOOSEST_SHARE]
    return bool(np.all(spread * strictness <= np.array(limits[: known.free])))


def looseness(known: Known, taken: Sequence[Taken], pose: Array) -> Array:
    """Standard uncertainty of each parameter before anything is fitted.

    Infinite where the readings say nothing of it: J is of less than full rank.
    """
    terms = _terms(known, taken, pose)
    jacobian = _derivatives(terms, pose, known.free)
    if not len(jacobian):
        return np.full(known.free, inf)
    _, sizes, ways = np.linalg.svd(jacobian)
    sizes = np.concatenate([sizes, np.zeros(known.free - len(sizes))])
    blind = sizes <= FLATTEST * sizes[0]
    with np.errstate(divide="ignore", invalid="ignore"):
        parts = np.where(blind[:, None], 0.0, (ways / sizes[:, None]) ** 2)
    spread = np.sqrt(parts.sum(axis=0))
    unseen = (np.abs(ways[blind]) > 1e-6).any(axis=0) if blind.any() else False  # noqa: PLR2004  # float noise
    return np.where(unseen, inf, spread)


Terms = Callable[[Array], Array]


def _terms(known: Known, taken: Sequence[Taken], about: Array) -> Terms:
    """What is squared and summed, as a function of the pose."""
    weights = 1.0 / np.array(
        spreads(known.curtain, about, taken, known.angle_error, known.evenness)
    )
    read = np.array(shown(taken))
    taped = [
        (ALONG + place, known.lens[place], spread)
        for place, spread in enumerate(known.taped)
        if spread is not None
    ]

    def terms(pose: Array) -> Array:
        off = (np.array(expected(known.curtain, pose, taken)) - read) * weights
        lens = [(pose[which] - value) / spread for which, value, spread in taped]
        return np.concatenate([off, lens])

    return terms


def _least(terms: Terms, start: Array, free: int) -> Array:
    def whole(part: Array) -> Array:
        return np.concatenate([part, start[free:]])

    found = least_squares(
        lambda part: terms(whole(part)),
        lambda part: _derivatives(terms, whole(part), free),
        start[:free],
    )
    return whole(found)


def _derivatives(terms: Terms, pose: Array, free: int) -> Array:
    """J by differences to both sides, (terms, free)."""
    columns: list[Array] = []
    for which in range(free):
        nudge = np.zeros_like(pose)
        nudge[which] = STEP
        columns.append((terms(pose + nudge) - terms(pose - nudge)) / (2 * STEP))
    return np.stack(columns, axis=1)
