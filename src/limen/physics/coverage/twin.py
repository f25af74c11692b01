"""The search of `kernel` in plain NumPy, for where numba is missing and as its check.

The mathematics is the kernel's, read there. Cells are taken in blocks of one size, each
with the pairs (cell, beam) that may still meet; the newest block is taken first. Only
the order of the search differs, and with it how often a failure within 2.5 resolutions
of touching is found rather than not shown.
"""

from dataclasses import dataclass, replace
from math import hypot, inf, sin

import numpy as np
from numpy.typing import NDArray

from limen.physics.coverage.problem import Floats, Ints, Problem

GUARD = 1e-9
HOLDS, FAILS, UNDECIDED, LIMIT = 0, 1, 2, 3
TURN_WEIGHT = 0.7
DEEPER = 16.0
INNER = 512
LEAST_REST = 1e-3
BLOCK = 1024

Mask = NDArray[np.bool_]
Found = tuple[int, float, float, float, int, bool]


@dataclass(frozen=True, slots=True)
class Block:
    """Cells of one size: middles, half-sizes, and the pairs that may still meet."""

    x: Floats
    y: Floats
    yaw: Floats
    rx: float
    ry: float
    ra: float
    cell: Ints
    beam: Ints

    def only(self, keep: Mask) -> "Block":
        """The cells where `keep` is true, with their pairs."""
        pairs, place = keep[self.cell], np.cumsum(keep) - 1
        cell, beam = place[self.cell[pairs]], self.beam[pairs]
        x, y, yaw = self.x[keep], self.y[keep], self.yaw[keep]
        return replace(self, x=x, y=y, yaw=yaw, cell=cell, beam=beam)

    def halved(self, radius: float) -> "Block":
        """Both halves of every cell, the second halves after all first ones."""
        cell = np.concatenate([self.cell, self.cell + len(self.x)])
        twice = replace(
            self,
            x=np.tile(self.x, 2),
            y=np.tile(self.y, 2),
            yaw=np.tile(self.yaw, 2),
            cell=cell,
            beam=np.tile(self.beam, 2),
        )
        sign = np.repeat([0.5, -0.5], len(self.x))
        turned = TURN_WEIGHT * self.ra * radius
        if turned >= self.rx and turned >= self.ry:
            return replace(twice, yaw=twice.yaw + sign * self.ra, ra=self.ra / 2)
        if self.rx >= self.ry:
            return replace(twice, x=twice.x + sign * self.rx, rx=self.rx / 2)
        return replace(twice, y=twice.y + sign * self.ry, ry=self.ry / 2)

    def small(self, radius: float) -> float:
        """The largest half-size, yaw told by the way of the corners."""
        return max(self.rx, self.ry, self.ra * radius)


@dataclass(frozen=True, slots=True)
class Task:
    """What stays the same for every block: the beams, the body to meet, the sizes."""

    problem: Problem
    common: Floats
    w: float
    d: float
    extra: float
    reach: float
    radius: float
    leaf: float


def search(
    problem: Problem, grow: float, resolution: float, limit: int, shifts: Floats
) -> Found:
    """Search all poses of a zone for one at which the grown body is missed.

    Args:
        problem: what is asked.
        grow: added to every half side of the body, in m.
        resolution: size of the smallest cells, in m.
        limit: cells after which the search ends.
        shifts: (groups, 2), filled with the shifts at a failing pose.

    Returns:
        (state, x, y, yaw, cells, stood): HOLDS, FAILS (with the pose), UNDECIDED or
        LIMIT; whether a pose seen was admissible and asked.
    """
    task, todo = _start(problem, grow, resolution)
    state, cells, stood = HOLDS, 0, False
    while todo:
        block = todo.pop()
        if len(block.x) > BLOCK:
            half = np.arange(len(block.x)) < len(block.x) // 2
            todo += [block.only(half), block.only(~half)]
            continue
        if cells >= limit:
            return LIMIT, 0.0, 0.0, 0.0, cells, stood
        cells += len(block.x)
        block = block.only(~_dismissed(problem, block))
        pairs, met, sure = _examine(task, block)
        block = replace(block, cell=block.cell[pairs], beam=block.beam[pairs])
        here = _stands(problem, block)
        stood = stood or bool(here.any())
        missed = here & (met < problem.needed).all(axis=1)
        if missed.any():
            shifts[:] = 0.0
            return FAILS, *_pose(block, int(np.argmax(missed))), cells, stood
        left = ~_some(sure >= problem.needed)
        block, met, here = block.only(left), met[left], here[left]
        if task.common.any():
            found, kept, spent = _under_shifts(task, block, met, here, shifts)
            cells += spent
            if found[0] in (FAILS, LIMIT):
                return *found, cells, stood
            block, here = block.only(kept), here[kept]
        state, task, block = _leaves(task, todo, block, here, state)
        if len(block.x):
            todo.append(block.halved(task.radius))
    return state, 0.0, 0.0, 0.0, cells, stood


def _start(
    problem: Problem, grow: float, resolution: float
) -> tuple[Task, list[Block]]:
    w, d = problem.half_sizes(grow)
    reach = 2.5 * resolution
    radius = hypot(w + reach, d + reach)
    leaf = resolution / 2 if problem.shifted else resolution
    xmin, xmax, ymin, ymax = problem.zone
    rx, ry = float(xmax - xmin) / 2, float(ymax - ymin) / 2
    count = len(problem.beams)
    root = Block(
        x=np.array([xmin + rx]),
        y=np.array([ymin + ry]),
        yaw=np.zeros(1),
        rx=rx,
        ry=ry,
        ra=problem.turn,
        cell=np.zeros(count, np.int64),
        beam=np.arange(count),
    )
    return Task(problem, problem.common, w, d, 0.0, reach, radius, leaf), [root]


def _pose(block: Block, at: int) -> tuple[float, float, float]:
    return float(block.x[at]), float(block.y[at]), float(block.yaw[at])


def _leaves(
    task: Task, todo: list[Block], block: Block, here: Mask, state: int
) -> tuple[int, Task, Block]:
    """Take out of a block what is not to be halved further, and say what that means."""
    size = block.small(task.radius)
    if size > task.leaf or not len(block.x):
        return state, task, block
    if here.any():
        state = max(state, UNDECIDED)
    block = block.only(~here)
    grown = replace(task, extra=task.reach) if here.any() else task
    if size > task.leaf / DEEPER or not len(block.x):
        return state, grown, block
    if task.extra == 0.0:
        todo.append(block)
        state, grown = max(state, UNDECIDED), replace(task, extra=task.reach)
    else:
        state = LIMIT
    return state, grown, block.only(np.zeros(len(block.x), np.bool_))


def _kept_corner(w: float, d: float, t: float) -> tuple[float, float]:
    rest = 1.0 - t * t
    if rest < LEAST_REST:
        return -1.0, -1.0
    return (w - d * t) / rest, (d - w * t) / rest


def _overlap(
    block: Block, boxes: Floats, w: float, d: float, rx: float, ry: float
) -> Floats:
    """How deep a w, d rectangle at each middle reaches into boxes widened by rx, ry."""
    c, s = np.cos(block.yaw)[:, None], np.sin(block.yaw)[:, None]
    x, y = boxes[:, 0] - block.x[:, None], boxes[:, 1] - block.y[:, None]
    hx, hy = boxes[:, 2] + rx, boxes[:, 3] + ry
    ac, sc = np.abs(c), np.abs(s)
    depth = hx + ac * w + sc * d - np.abs(x)
    depth = np.minimum(depth, hy + sc * w + ac * d - np.abs(y))
    depth = np.minimum(depth, w + ac * hx + sc * hy - np.abs(c * x + s * y))
    return np.minimum(depth, d + sc * hx + ac * hy - np.abs(c * y - s * x))


def _some(rows: Mask) -> Mask:
    """Which rows have a true entry."""
    return np.asarray(rows.any(axis=1), np.bool_)


def _dismissed(problem: Problem, block: Block) -> Mask:
    w, d = problem.half_sizes()
    t = sin(block.ra)
    gone = np.zeros(len(block.x), np.bool_)
    kw, kd = _kept_corner(w - GUARD, d - GUARD, t)
    if kw >= 0.0 and kd >= 0.0:
        inside = _overlap(block, problem.blocked, kw, kd, -block.rx, -block.ry)
        gone = _some(inside > GUARD)
    if len(problem.asked):
        far = hypot(w, d)
        gw, gd = min(far, w + d * t), min(far, d + w * t)
        near = _overlap(
            block, problem.asked, gw, gd, block.rx + GUARD, block.ry + GUARD
        )
        gone = np.logical_or(gone, ~_some(near >= 0.0))
    return gone


def _stands(problem: Problem, block: Block) -> Mask:
    w, d = problem.half_sizes()
    inside = _overlap(block, problem.blocked, w, d, 0.0, 0.0)
    good = ~_some(inside > GUARD)
    if len(problem.asked):
        near = _overlap(block, problem.asked, w, d, GUARD / 2, GUARD / 2)
        good = good & _some(near >= 0.0)
    return good


def _examine(task: Task, block: Block) -> tuple[Mask, Ints, Ints]:
    """Pairs that may meet; per cell and unit those at the middle, and the sure ones."""
    beams = task.problem.beams[block.beam]
    unit = task.problem.group[block.beam]
    c, s = np.cos(block.yaw)[block.cell], np.sin(block.yaw)[block.cell]
    x, y = beams[:, 0] - block.x[block.cell], beams[:, 1] - block.y[block.cell]
    hx, hy, tx, ty = beams[:, 2], beams[:, 3], beams[:, 4], beams[:, 5]
    frame = c, s, c * x + s * y, c * y - s * x, c * hx + s * hy, c * hy - s * hx
    cross = np.abs(hx * y - hy * x)
    normal = np.abs(hy), np.abs(hx)
    ex = block.rx + GUARD + task.common[unit, 0]
    ey = block.ry + GUARD + task.common[unit, 1]
    t, far = sin(block.ra), hypot(task.w + task.reach, task.d + task.reach)
    gw = min(far, task.w + task.reach + (task.d + task.reach) * t)
    gd = min(far, task.d + task.reach + (task.w + task.reach) * t)
    may = _inside(frame, cross, normal, gw, gd, -ex, -ey)
    met = _inside(frame, cross, normal, task.w, task.d, tx - GUARD, ty - GUARD)
    sure = may & _surely(task, t, frame, cross, normal, ex + tx, ey + ty)
    shape = len(block.x), len(task.problem.needed)
    counts = [
        np.bincount(
            block.cell[mask] * shape[1] + unit[mask], minlength=shape[0] * shape[1]
        ).reshape(shape)
        for mask in (may & met, sure)
    ]
    return may, counts[0], counts[1]


def _inside(
    frame: tuple[Floats, ...],
    cross: Floats,
    normal: tuple[Floats, Floats],
    w: float,
    d: float,
    ex: Floats,
    ey: Floats,
) -> Mask:
    """Whether segments meet the w, d rectangle wherever a box ex, ey moves them."""
    c, s, u, v, hu, hv = frame
    ac, sc, hu, hv = np.abs(c), np.abs(s), np.abs(hu), np.abs(hv)
    return (
        (np.abs(u) <= w + hu - ac * ex - sc * ey)
        & (np.abs(v) <= d + hv - sc * ex - ac * ey)
        & (cross <= w * hv + d * hu - normal[0] * ex - normal[1] * ey)
    )


def _surely(
    task: Task,
    t: float,
    frame: tuple[Floats, ...],
    cross: Floats,
    normal: tuple[Floats, Floats],
    ex: Floats,
    ey: Floats,
) -> Mask:
    """Whether segments meet the octagon kept through a turn, wherever moved."""
    c, s, u, v, hu, hv = frame
    w, d = task.w + task.extra, task.d + task.extra
    w, d = min(w, d / t if t else inf), min(d, w / t if t else inf)
    kw, kd = _kept_corner(w, d, t)
    if kw < 0.0 or kd < 0.0:
        kw, kd = w, 0.0
    p, q = np.abs(c - s * t), np.abs(s + c * t)
    r, o = np.abs(c + s * t), np.abs(s - c * t)
    au, av = np.abs(hu), np.abs(hv)
    reach = np.maximum(np.maximum(w * av, d * au), kw * av + kd * au)
    return (
        (np.abs(u + t * v) <= w + np.abs(hu + t * hv) - p * ex - q * ey)
        & (np.abs(u - t * v) <= w + np.abs(hu - t * hv) - r * ex - o * ey)
        & (np.abs(v + t * u) <= d + np.abs(hv + t * hu) - o * ex - r * ey)
        & (np.abs(v - t * u) <= d + np.abs(hv - t * hu) - q * ex - p * ey)
        & (cross <= reach - normal[0] * ex - normal[1] * ey)
    )


def _under_shifts(
    task: Task, block: Block, met: Ints, here: Mask, shifts: Floats
) -> tuple[tuple[int, float, float, float], Mask, int]:
    """What shared shifts leave of a block: a failing pose, or the cells to keep."""
    nothing = UNDECIDED, 0.0, 0.0, 0.0
    small = block.small(task.radius) <= task.leaf
    states, _, spent = _each_unit(task, block, met, INNER)
    kept = ~(states == HOLDS).any(axis=1)
    tried = kept & here & (small | (states == FAILS).all(axis=1))
    points = replace(block.only(tried), rx=0.0, ry=0.0, ra=0.0)
    budget = 64 * INNER if small else INNER
    states, moved, cells = _each_unit(task, points, met[tried], budget)
    spent += cells
    lost = (states == FAILS).all(axis=1)
    if lost.any():
        at = int(np.argmax(lost))
        shifts[:] = moved[at]
        return (FAILS, *_pose(points, at)), kept, spent
    blind = (states == LIMIT).any(axis=1) & ~(states == HOLDS).any(axis=1)
    if small and blind.any():
        return (LIMIT, 0.0, 0.0, 0.0), kept, spent
    return nothing, kept, spent


def _each_unit(
    task: Task, block: Block, met: Ints, budget: int
) -> tuple[Ints, Floats, int]:
    """Per cell and unit: the state of the enlarged cell, the shift where it fails."""
    needed = task.problem.needed
    states = np.full(met.shape, FAILS, np.int64)
    shifts, spent = np.zeros((*met.shape, 2)), 0
    still = replace(task, common=np.zeros_like(task.common))
    for unit in range(len(needed)):
        open_cells = np.flatnonzero(met[:, unit] >= needed[unit])
        inner = block.only(met[:, unit] >= needed[unit])
        own = task.problem.group[inner.beam] == unit
        ex, ey = (float(e) for e in task.common[unit])
        inner = replace(
            inner,
            rx=block.rx + ex,
            ry=block.ry + ey,
            cell=inner.cell[own],
            beam=inner.beam[own],
        )
        state, place, cells = _covers(still, unit, inner, budget)
        spent += cells
        states[open_cells, unit] = state
        lost = open_cells[state == FAILS]
        shifts[lost, unit, 0] = block.x[lost] - place[state == FAILS, 0]
        shifts[lost, unit, 1] = block.y[lost] - place[state == FAILS, 1]
    return states, shifts, spent


def _covers(
    task: Task, unit: int, block: Block, budget: int
) -> tuple[Ints, Floats, int]:
    """Whether one unit covers each of some boxes, own errors only; all side by side."""
    count, needed = len(block.x), task.problem.needed[unit]
    states, place = np.full(count, HOLDS, np.int64), np.zeros((count, 2))
    used, owner, spent = np.zeros(count, np.int64), np.arange(count), 0
    while len(block.x):
        used += np.bincount(owner, minlength=count)
        spent += len(block.x)
        pairs, met, sure = _examine(task, block)
        block = replace(block, cell=block.cell[pairs], beam=block.beam[pairs])
        lost = (met[:, unit] < needed) & (sure[:, unit] < needed)
        states[owner[lost]] = FAILS
        place[owner[lost], 0], place[owner[lost], 1] = block.x[lost], block.y[lost]
        left = sure[:, unit] < needed
        if block.small(task.radius) <= task.leaf:
            waits = states[owner] == HOLDS
            states[owner[left & waits]] = UNDECIDED
            break
        states[(used > budget) & (states == HOLDS)] = LIMIT
        left &= states[owner] == HOLDS
        owner = np.tile(owner[left], 2)
        block = block.only(left).halved(task.radius)
    return states, place, spent
