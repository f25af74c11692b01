"""Which part of each beam can reach a body: cut by leaf, header and walls.

Along a beam, t runs from 0 at the lens to 1 at the floor.  A beam is cut where
it first enters a wall.  Beyond its own leaf's face it counts only where no leaf
can be, so it is cut at that face too: one proof then serves every position of
the leaf.  What lies beyond the face is kept apart, with the free width from
which on it is certainly clear of the leaves.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from limen.geometry.boxes import Box
from limen.geometry.turns import Array
from limen.model.people import Side
from limen.physics.plan import Plan, sign

Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
NEVER = np.inf


@dataclass(frozen=True, slots=True)
class Visible:
    """Parts of beams that reach a body in the heights that count.

    Attributes:
        near: (n, 4) segments on the floor, on the unit's own side of the leaf.
        has_near: (n,) whether there is such a part.
        whole: (n, 4) the same with what lies beyond the leaf's face.
        crossing: (n, 2) least and greatest x while crossing the leaf plane;
            NaN for a beam that does not get beyond the face.
    """

    near: Array
    has_near: Flags
    whole: Array
    crossing: Array


@dataclass(frozen=True, slots=True)
class Cutter:
    """What cuts a unit's beams.

    Attributes:
        plan: what stands in the way.
        side: the side on which the unit is.
        slack: how far along x and y the beams may stand off (m): every cut is
            made that much earlier, so that it holds for the beams as they are.
        header_slack: the same at the header, its face's own doubt included.
        head_room: by how much the lens may stand higher over the header's
            underside than the plan says (m).
        loose: how far the beams may stand off anywhere below the lens (m); None
            where everything is taken as stated.
    """

    plan: Plan
    side: Side
    slack: tuple[float, float] = (0.0, 0.0)
    header_slack: float = 0.0
    head_room: float = 0.0
    loose: tuple[float, float] | None = None

    @property
    def face(self) -> float:
        """Up to where, from the mid-plane, no leaf can be in front of a beam."""
        return self.plan.side(self.side).swayed + self.slack[1]

    @property
    def header(self) -> float:
        """The header's face on this side."""
        return self.plan.side(self.side).header + self.header_slack


def visible(
    lens: Array, slopes: Array, span: tuple[float, float], cutter: Cutter
) -> Visible:
    """Cut a unit's beams.

    Args:
        lens: (3,) place of the lens.
        slopes: (n, 2) slopes of its beams.
        span: lowest and highest height that counts.
        cutter: what stands in the way.
    """
    height = float(lens[2])
    start = (height - span[1]) / height
    walls = [wall.grown(*cutter.slack) for wall in cutter.plan.walls]
    cuts = [_entry(lens, slopes, wall) for wall in walls]
    cuts += [enters(lens, slopes, *stand) for stand in _stands(cutter)]
    walled = np.minimum.reduce(cuts)
    end = np.minimum((height - span[0]) / height, walled)
    end = np.where(_behind_header(lens, slopes, cutter), -1.0, end)
    face = _until_face(lens, slopes, cutter.face, sign(cutter.side))
    near_end = np.minimum(end, face)
    begin = np.full(len(slopes), start)
    return Visible(
        _segments(lens, slopes, begin, near_end),
        near_end >= begin,
        _segments(lens, slopes, begin, end),
        _crossing(lens, slopes, (face, end), cutter),
    )


def _stands(cutter: Cutter) -> Iterator[tuple[Box, float]]:
    """What stands near the door, as large as it may be to the beams."""
    for stand in cutter.plan.stands:
        if cutter.loose is None:
            yield stand.box, stand.height
        else:
            yield stand.widest.grown(*cutter.loose), stand.height


def enters(lens: Array, slopes: Array, box: Box, height: float) -> Array:
    """Where each beam, down to the floor, first enters what stands on a box.

    NEVER if it does not.

    Args:
        lens: (3,) place of the lens.
        slopes: (n, 2) slopes of its beams.
        box: where it stands.
        height: how high it stands (m).
    """
    top = max(0.0, float(lens[2]) - height) / float(lens[2])
    first, last = _through(lens, slopes, box)
    return np.where(
        (first < last) & (last > top) & (first <= 1.0), np.maximum(first, top), NEVER
    )


def _entry(lens: Array, slopes: Array, wall: Box) -> Array:
    """Where each beam first enters the wall; NEVER if it does not."""
    enters, leaves = _through(lens, slopes, wall)
    return np.where((enters < leaves) & (leaves > 0), np.maximum(enters, 0.0), NEVER)


def _through(lens: Array, slopes: Array, wall: Box) -> tuple[Array, Array]:
    """Where each beam is over the box: from, to."""
    run = lens[2] * slopes
    low = np.array([wall.left, wall.near]) - lens[:2]
    high = np.array([wall.right, wall.far]) - lens[:2]
    with np.errstate(divide="ignore", invalid="ignore"):
        a, b = low / run, high / run
    level = run == 0
    within = (low < 0) & (high > 0)
    first = np.where(level, np.where(within, -NEVER, NEVER), np.minimum(a, b))
    last = np.where(level, np.where(within, NEVER, -NEVER), np.maximum(a, b))
    return first.max(axis=1), last.min(axis=1)


def _until_face(lens: Array, slopes: Array, face: float, way: float) -> Array:
    """Up to where each beam stays on its own side of the swayed leaf face."""
    room = way * lens[1] - face
    if room < 0:
        return np.full(len(slopes), -1.0)
    towards = -way * lens[2] * slopes[:, 1]
    with np.errstate(divide="ignore"):
        return np.where(towards > 0, room / np.where(towards > 0, towards, 1.0), NEVER)


def _behind_header(lens: Array, slopes: Array, cutter: Cutter) -> Flags:
    """Beams from above the header's underside that run into the header."""
    above = float(lens[2]) - cutter.plan.underside
    if above <= 0:  # a unit that hangs under the header is under it
        return np.zeros(len(slopes), dtype=np.bool_)
    above += cutter.head_room
    way = sign(cutter.side)
    passing = way * (lens[1] + above * slopes[:, 1])
    lens_inside = way * lens[1] < cutter.plan.side(cutter.side).header
    return (passing < cutter.header) | lens_inside


def _segments(lens: Array, slopes: Array, begin: Array, end: Array) -> Array:
    end = np.maximum(begin, end)
    run = lens[2] * slopes
    first, last = (lens[:2] + t[:, None] * run for t in (begin, end))
    return np.concatenate([first, last], axis=1)


def _crossing(
    lens: Array, slopes: Array, cuts: tuple[Array, Array], cutter: Cutter
) -> Array:
    """Range in x of each beam between the two swayed leaf faces."""
    face, end = cuts
    other: Side = "inside" if cutter.side == "outside" else "outside"
    thick = cutter.face + cutter.plan.side(other).swayed + cutter.slack[1]
    speed = np.abs(lens[2] * slopes[:, 1])
    with np.errstate(divide="ignore", invalid="ignore"):
        out = np.minimum(end, face + thick / speed)
        # a beam that never gets to the face has no x there: NaN, left out below
        x = lens[0] + np.stack([face, out]) * (lens[2] * slopes[:, 0])
    beyond = (face >= 0) & (face < end) & np.isfinite(out)
    span = np.stack([x.min(axis=0), x.max(axis=0)], axis=1)
    return np.where(beyond[:, None], span, np.nan)
