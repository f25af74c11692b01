"""The question of a coverage proof, checked once and held as contiguous arrays."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, pi

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

FARTHEST = 1e4
"""Largest coordinate accepted, in m: the guard of 1e-9 m covers rounding up to it."""


@dataclass(frozen=True, slots=True)
class Problem:
    """Beams, body and poses of one coverage question.

    Built by `Problem.build` only; every array is contiguous and read-only.

    Attributes:
        beams: (n, 6): middle x, y; half vector x, y; own error along x, y. In m.
        group: (n,) index of the unit of each beam.
        needed: (groups,) beams of one unit that must meet the body.
        common: (groups, 2) largest shift, along x and y, shared by a unit's beams.
        zone: (4,) xmin, xmax, ymin, ymax of body centres.
        body: (w, d), the sides of the body; w lies along x at yaw 0.
        blocked: (b, 4) walls, as middle x, y and half sizes.
        asked: (m, 4) boxes, likewise; none means that every pose is asked.
    """

    beams: Floats
    group: Ints
    needed: Ints
    common: Floats
    zone: Floats
    body: tuple[float, float]
    blocked: Floats
    asked: Floats

    @classmethod
    def build(
        cls,
        segments: ArrayLike,
        zone: ArrayLike,
        body: ArrayLike,
        *,
        group: ArrayLike | None = None,
        needed: ArrayLike = 1,
        tolerance: ArrayLike = 0.0,
        common: ArrayLike | None = None,
        blocked: ArrayLike = (),
        must_meet: ArrayLike | None = None,
    ) -> "Problem":
        """Check the arguments of `prove` and lay them out for the search.

        Args:
            segments: (n, 4) ax, ay, bx, by of each beam on the floor, in m; a point
                is an ordinary beam.
            zone: (xmin, xmax, ymin, ymax) of body centres, in m; may be a line or a
                point.
            body: (w, d) in m.
            group: (n,) unit of each beam; one unit if left out. Counted from 0 where
                `needed` or `common` has an entry for each unit.
            needed: beams of one unit that must meet, for all or for each unit.
            tolerance: own error of every beam along x and y, in m, or (n, 2).
            common: (groups, 2) shift shared by the beams of a unit, along x and y.
            blocked: (b, 4) boxes xmin, xmax, ymin, ymax in which no body can stand.
            must_meet: box or boxes; only poses whose body meets one are asked.

        Returns:
            The problem, ready for `solve`.

        Raises:
            ValueError: anything non-finite, of the wrong shape, negative, inverted
                or empty; the message says which.
        """
        lines = _table("segments", segments, 4)
        units, need, shift = _units(len(lines), group, needed, common)
        half = (lines[:, 2:] - lines[:, :2]) / 2.0
        own = _tolerance(tolerance, len(lines))
        asked = _boxes("must_meet", must_meet) if must_meet is not None else None
        if asked is not None and not len(asked):
            message = "must_meet names no box: leave it out to ask every pose"
            raise ValueError(message)
        return cls(
            beams=_frozen(np.hstack([lines[:, :2] + half, half, own])),
            group=_frozen_ints(units),
            needed=_frozen_ints(need),
            common=_frozen(shift),
            zone=_zone(zone),
            body=_body(body),
            blocked=_frozen(_boxes("blocked", blocked)),
            asked=_frozen(np.empty((0, 4)) if asked is None else asked),
        )

    @property
    def turn(self) -> float:
        """Half the span of yaw that shows every body once: pi/4 for a square."""
        return pi / 4 if self.body[0] == self.body[1] else pi / 2

    @property
    def shifted(self) -> bool:
        """Whether some unit's beams may shift together."""
        return bool(self.common.any())

    def half_sizes(self, grow: float = 0.0) -> tuple[float, float]:
        """Half sides of the body with `grow` added on every side, in m."""
        return self.body[0] / 2 + grow, self.body[1] / 2 + grow

    def radius(self, grow: float = 0.0) -> float:
        """Half diagonal of the body with `grow` added on every side, in m."""
        return hypot(*self.half_sizes(grow))


def _frozen(values: Floats) -> Floats:
    own = np.array(values, dtype=np.float64, order="C")
    own.setflags(write=False)
    return own


def _frozen_ints(values: Ints) -> Ints:
    own = np.array(values, dtype=np.int64, order="C")
    own.setflags(write=False)
    return own


def _finite(name: str, values: ArrayLike) -> Floats:
    try:
        found = np.asarray(values, dtype=np.float64)
    except (TypeError, ValueError) as error:
        message = f"{name} must be numbers"
        raise ValueError(message) from error
    if not np.isfinite(found).all():
        message = f"{name} must be finite"
        raise ValueError(message)
    if found.size and np.abs(found).max() > FARTHEST:
        message = f"{name} must lie within {FARTHEST:g} m"
        raise ValueError(message)
    return found


def _table(name: str, values: ArrayLike, columns: int) -> Floats:
    found = _finite(name, values)
    if not found.size:
        return np.empty((0, columns))
    if found.shape != (len(found), columns):
        message = f"{name} must have shape (n, {columns}), not {found.shape}"
        raise ValueError(message)
    return found


def _boxes(name: str, values: ArrayLike) -> Floats:
    found = _finite(name, values)
    boxes = _table(name, found[None, :] if found.ndim == 1 and found.size else found, 4)
    low, high = boxes[:, 0::2], boxes[:, 1::2]
    if (low > high).any():
        message = f"{name} has an inverted box: give xmin, xmax, ymin, ymax"
        raise ValueError(message)
    return np.hstack([(low + high) / 2, (high - low) / 2])


def _zone(values: ArrayLike) -> Floats:
    found = _finite("zone", values)
    if found.shape != (4,):
        message = f"zone must be xmin, xmax, ymin, ymax, not of shape {found.shape}"
        raise ValueError(message)
    if found[0] > found[1] or found[2] > found[3]:
        message = "zone is inverted: give xmin, xmax, ymin, ymax"
        raise ValueError(message)
    return _frozen(found)


def _body(values: ArrayLike) -> tuple[float, float]:
    found = _finite("body", values)
    if found.shape != (2,):
        message = f"body must be (w, d), not of shape {found.shape}"
        raise ValueError(message)
    if (found <= 0).any():
        message = "body is empty: both sides must be above 0"
        raise ValueError(message)
    return float(found[0]), float(found[1])


def _tolerance(values: ArrayLike, beams: int) -> Floats:
    found = _finite("tolerance", values)
    if found.ndim != 0 and found.shape != (beams, 2):
        message = f"tolerance must be one number or ({beams}, 2), not {found.shape}"
        raise ValueError(message)
    if (found < 0).any():
        message = "tolerance must not be negative"
        raise ValueError(message)
    return np.broadcast_to(found, (beams, 2))


def _whole(name: str, values: ArrayLike) -> Ints:
    found = _finite(name, values)
    if (found != np.floor(found)).any():
        message = f"{name} must be whole numbers"
        raise ValueError(message)
    return found.astype(np.int64)


def _units(
    beams: int, group: ArrayLike | None, needed: ArrayLike, common: ArrayLike | None
) -> tuple[Ints, Ints, Floats]:
    units = np.zeros(beams, np.int64) if group is None else _whole("group", group)
    if units.shape != (beams,):
        message = f"group must have shape ({beams},), not {units.shape}"
        raise ValueError(message)
    need = _whole("needed", needed)
    if need.ndim > 1 or (need < 1).any() or (need.ndim == 1 and not need.size):
        message = "needed must be one number or one a group, each at least 1"
        raise ValueError(message)
    shift = None if common is None else _common(common)
    sizes = [len(need)] if need.ndim else []
    sizes += [] if shift is None else [len(shift)]
    if not sizes:
        found, units = np.unique(units, return_inverse=True)
        sizes = [max(1, len(found))]
    _same_units(units, sizes)
    shift = np.zeros((sizes[0], 2)) if shift is None else shift
    return units, np.broadcast_to(need, (sizes[0],)), shift


def _same_units(units: Ints, sizes: Sequence[int]) -> None:
    if len(set(sizes)) > 1:
        message = f"needed names {sizes[0]} groups, common {sizes[1]}"
        raise ValueError(message)
    if units.size and (units.min() < 0 or units.max() >= sizes[0]):
        message = f"group must lie in 0..{sizes[0] - 1}, one entry of needed or common"
        raise ValueError(message)


def _common(values: ArrayLike) -> Floats:
    found = _table("common", values, 2)
    if not len(found):
        message = "common must have one row a group"
        raise ValueError(message)
    if (found < 0).any():
        message = "common must not be negative"
        raise ValueError(message)
    return found
