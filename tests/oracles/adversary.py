"""An adversary that looks for a place in which the body is reached by no unit.

It minimises one number over poses: the largest of *how deep the k-th beam of the best
unit goes into the body* and *by how much the pose is not admissible*. Below zero is a
place that refutes a proof. Depth of a beam: by how much the body could shrink on every
side and still be met; for two convex shapes this is the separating-axis distance.
"""

from dataclasses import dataclass
from math import cos, hypot, pi, sin

import numpy as np
import numpy.typing as npt
from numba import njit

from oracles.doorways import Floats, Ints, Plan
from oracles.planar import Pose

MOST_NEEDED = 4

Given = tuple[Floats, Ints, Ints, Floats, Floats, Floats, Floats, Floats]
"""Beams, unit, needed, body (w, d, shrink), tolerance; zone, boxes to meet, walls."""


@njit(cache=True)
def beam_depth(
    ax: float,
    ay: float,
    bx: float,
    by: float,
    c: float,
    s: float,
    hw: float,
    hd: float,
    floor: float = -np.inf,
) -> float:
    """Depth of a beam, given relative to the body's centre, in a body turned (c, s).

    Once it is known to be no more than ``floor`` it is not worked out further.
    """
    au, bu = c * ax + s * ay, c * bx + s * by
    out = max(min(au, bu), -max(au, bu)) - hw
    if -out <= floor:
        return -out
    av, bv = c * ay - s * ax, c * by - s * bx
    out = max(out, max(min(av, bv), -max(av, bv)) - hd)
    if -out <= floor:
        return -out
    nu, nv = abs(bv - av), abs(bu - au)
    if nu + nv > 0.0:
        off = abs(au * bv - av * bu)
        out = max(out, (off - hw * nu - hd * nv) / (nu + nv))
    return -max(out, -min(hw, hd))


@njit(cache=True)
def apart(
    x: float, y: float, c: float, s: float, hw: float, hd: float, box: Floats
) -> float:
    """Distance along the best separating axis of body and box; negative: overlap."""
    bx, by = (box[0] + box[1]) / 2, (box[2] + box[3]) / 2
    gw, gd = (box[1] - box[0]) / 2, (box[3] - box[2]) / 2
    dx, dy = bx - x, by - y
    ca, sa = abs(c), abs(s)
    out = abs(dx) - gw - (ca * hw + sa * hd)
    out = max(out, abs(dy) - gd - (sa * hw + ca * hd))
    out = max(out, abs(c * dx + s * dy) - hw - (ca * gw + sa * gd))
    return max(out, abs(c * dy - s * dx) - hd - (sa * gw + ca * gd))


@njit(cache=True)
def unreached(
    p: Floats,
    segments: Floats,
    group: Ints,
    needed: Ints,
    body: Floats,
    tolerance: Floats,
) -> float:
    """Depth of the k-th beam of the best unit, every beam moved against us.

    ``p`` is x, y, yaw and then one shift (x, y) a unit.
    """
    hw, hd = body[0] / 2, body[1] / 2
    c, s = cos(p[2]), sin(p[2])
    best = np.full((needed.size, 4), -np.inf)
    for j in range(segments.shape[0]):
        g = group[j]
        ox, oy = p[3 + 2 * g] - p[0], p[4 + 2 * g] - p[1]
        worst, floor = np.inf, float(best[g, needed[g] - 1])
        tx, ty = tolerance[j, 0], tolerance[j, 1]
        for corner in range(1 if tx == 0.0 and ty == 0.0 else 4):
            mx = ox + (tx if corner & 1 else -tx)
            my = oy + (ty if corner & 2 else -ty)
            depth = beam_depth(
                segments[j, 0] + mx,
                segments[j, 1] + my,
                segments[j, 2] + mx,
                segments[j, 3] + my,
                c,
                s,
                hw,
                hd,
                floor,
            )
            worst = min(worst, depth)
            if worst <= floor:
                break
        for k in range(needed[g]):
            if worst > best[g, k]:
                worst, best[g, k] = best[g, k], worst
    top = -np.inf
    for g in range(needed.size):
        top = max(top, best[g, needed[g] - 1])
    return top


@njit(cache=True)
def inadmissible(
    p: Floats, body: Floats, zone: Floats, must: Floats, walls: Floats
) -> float:
    """By how much a pose is not admissible; negative: room to spare."""
    hw, hd = body[0] / 2, body[1] / 2
    c, s = cos(p[2]), sin(p[2])
    out = max(zone[0] - p[0], p[0] - zone[1], zone[2] - p[1], p[1] - zone[3])
    if out <= 0.0:
        out = -np.inf  # a zone may be a line: its edge is as good as its middle
    for i in range(must.shape[0]):
        out = max(out, apart(p[0], p[1], c, s, hw, hd, must[i]))
    for i in range(walls.shape[0]):
        out = max(out, -apart(p[0], p[1], c, s, hw, hd, walls[i]))
    return out


@njit(cache=True)
def _score(p: Floats, given: Given, limit: float) -> float:
    segments, group, needed, body, tolerance, zone, must, walls = given
    out = inadmissible(p, body, zone, must, walls)
    if out >= limit:
        return out
    depth = unreached(p, segments, group, needed, body, tolerance)
    return max(out, depth - body[2])


@njit(cache=True)
def _scores(starts: Floats, given: Given) -> Floats:
    out = np.empty(starts.shape[0])
    for i in range(starts.shape[0]):
        out[i] = _score(starts[i], given, np.inf)
    return out


@njit(cache=True)
def _descend(
    starts: Floats,
    given: Given,
    shift: Floats,
    enough: float,
    seed: int,
    patience: int,
) -> tuple[Floats, Floats]:
    """Pattern search in random directions from every start, up to the first hit."""
    np.random.seed(seed)
    size = starts.shape[1]
    zone = given[5]
    radius = hypot(given[3][0], given[3][1]) / 2
    ends = starts.copy()
    values = np.full(starts.shape[0], np.inf)
    trial = np.empty(size)
    for i in range(starts.shape[0]):
        p = ends[i]
        best = _score(p, given, np.inf)
        step, failed = 0.03, 0
        while step > 2e-7 and best > enough:
            axis = np.random.randint(3) if np.random.random() < 0.3 else -1
            for k in range(size):
                move = np.random.normal() if axis in (-1, k) else 0.0
                trial[k] = p[k] + step * move / (radius if k == 2 else 1.0)
                if k < 2:
                    trial[k] = min(max(trial[k], zone[2 * k]), zone[2 * k + 1])
                elif k > 2:
                    bound = shift[(k - 3) // 2, (k - 3) % 2]
                    trial[k] = min(max(trial[k], -bound), bound)
            value = _score(trial, given, best)
            if value < best:
                p[:] = trial
                best, failed, step = value, 0, min(step * 1.6, 0.1)
            else:
                failed += 1
                if failed >= patience:
                    failed, step = 0, step * 0.5
        values[i] = best
        if best <= enough:
            break
    return ends, values


@dataclass(frozen=True)
class Find:
    """The worst that was found: a score (< 0 refutes), its pose, each unit's shift."""

    score: float
    pose: Pose
    shift: Floats


@dataclass(frozen=True)
class Effort:
    """How hard to look."""

    samples: int = 3000
    starts: int = 40
    patience: int = 16
    enough: float = -1e-6


def _starts(plan: Plan, shift: Floats, count: int, rng: np.random.Generator) -> Floats:
    """Poses to begin with: anywhere, at the posts, and between the spots."""
    xmin, xmax, ymin, ymax = plan.zone
    out = np.zeros((count, 3 + 2 * len(shift)))
    out[:, 0] = rng.uniform(xmin, xmax, count)
    out[:, 1] = rng.uniform(ymin, ymax, count)
    out[:, 2] = rng.uniform(-pi / 2, pi / 2, count)
    kind = rng.random(count)
    posts = np.flatnonzero(kind < 0.25)
    side = rng.choice([-1.0, 1.0], posts.size)
    half = (plan.must_meet[1] - plan.must_meet[0]) / 2
    back = rng.uniform(0.0, max(plan.body), posts.size)
    out[posts, 0] = side * (half - back + plan.body[1] / 2)
    square = np.flatnonzero((kind >= 0.10) & (kind < 0.55))
    right = rng.integers(0, 2, square.size) * pi / 2
    out[square, 2] = right + rng.normal(0.0, 0.02, square.size)
    between = np.flatnonzero((kind >= 0.25) & (kind < 0.85))
    if len(plan.segments) > 1 and between.size:
        first = rng.integers(0, len(plan.segments) - 1, between.size)
        along = plan.segments[:, [0, 2]].mean(1)
        out[between, 0] = (along[first] + along[first + 1]) / 2
        out[between, 0] += rng.normal(0.0, 0.01, between.size)
    bound = shift.reshape(-1)
    out[:, 3:] = bound * np.clip(rng.uniform(-1.6, 1.6, (count, bound.size)), -1, 1)
    return out


def hunt(
    plan: Plan,
    seed: int,
    tolerance: float | Floats = 0.0,
    common: Floats | None = None,
    effort: Effort | None = None,
    shrink: float = 0.0,
) -> Find:
    """Look for an admissible pose in which no unit has its k beams in the body.

    ``tolerance`` is a scalar or (n, 2): each beam moved on its own; ``common`` (units,
    2): all beams of a unit moved alike. ``shrink`` makes every half side of the body
    that must be met smaller; where a body may be is told by the whole body.
    """
    how = effort if effort is not None else Effort()
    rng = np.random.default_rng([seed, 7])
    shift = np.zeros((plan.needed.size, 2)) if common is None else np.asarray(common)
    if plan.needed.max() > MOST_NEEDED:
        raise ValueError("the adversary counts to four")
    given = _arrays(plan, tolerance, shrink)
    pool = _starts(plan, shift, how.samples, rng)
    scores = _scores(pool, given)
    chosen = _spread(pool, scores, how.starts)
    ends, values = _descend(pool[chosen], given, shift, how.enough, seed, how.patience)
    at = int(np.argmin(values))
    x, y, yaw = (float(v) for v in ends[at, :3])
    return Find(float(values[at]), (x, y, yaw), ends[at, 3:].reshape(-1, 2))


def descend_from(plan: Plan, seed: int, starts: Floats, effort: Effort) -> Find:
    """Hunt from the best of given poses (m, 3) only, beams where they are."""
    still = np.zeros((plan.needed.size, 2))
    pool = np.zeros((len(starts), 3 + still.size))
    pool[:, :3] = starts
    given = _arrays(plan, 0.0)
    chosen = pool[np.argsort(_scores(pool, given))[: effort.starts]]
    ends, values = _descend(chosen, given, still, effort.enough, seed, effort.patience)
    at = int(np.argmin(values))
    x, y, yaw = (float(v) for v in ends[at, :3])
    return Find(float(values[at]), (x, y, yaw), still)


def score(plan: Plan, pose: Pose, tolerance: float | Floats = 0.0) -> float:
    """The adversary's number at one pose."""
    return float(scores(plan, np.array([pose]), tolerance)[0])


def scores(plan: Plan, poses: Floats, tolerance: float | Floats = 0.0) -> Floats:
    """The adversary's number at poses (m, 3), (m,)."""
    p = np.zeros((len(poses), 3 + 2 * plan.needed.size))
    p[:, :3] = poses
    return _scores(p, _arrays(plan, tolerance))


@njit(cache=True)
def _room(poses: Floats, given: Given) -> Floats:
    out = np.empty(poses.shape[0])
    for i in range(poses.shape[0]):
        out[i] = inadmissible(poses[i], given[3], given[5], given[6], given[7])
    return out


def may_be(plan: Plan, poses: Floats) -> npt.NDArray[np.bool_]:
    """At which of the poses (m, 3) a body may be, (m,)."""
    return _room(poses, _arrays(plan, 0.0)) <= 0.0


def hardest(plan: Plan, seed: int, count: int, samples: int = 4000) -> Floats:
    """Poses that come nearest to being reached by nobody, (count, 3)."""
    rng = np.random.default_rng([seed, 11])
    pool = _starts(plan, np.zeros((plan.needed.size, 2)), samples, rng)
    return pool[np.argsort(_scores(pool, _arrays(plan, 0.0)))[:count], :3]


def _spread(pool: Floats, scores: Floats, count: int) -> Ints:
    """The best starts, no two in the same decimetre before all places had a turn."""
    order = np.argsort(scores)
    place = np.round(pool[order, 0] / 0.1).astype(np.int64)
    turn = np.round(pool[order, 2] / 0.4).astype(np.int64)
    _, first = np.unique(place * 100 + turn, return_index=True)
    leaders = order[np.sort(first)][: (2 * count) // 3]
    rest = order[~np.isin(order, leaders)][: count - leaders.size]
    together = np.concatenate([leaders, rest])
    return together[np.argsort(scores[together])]


def _arrays(plan: Plan, tolerance: float | Floats, shrink: float = 0.0) -> Given:
    each = np.array(np.broadcast_to(np.asarray(tolerance, float), (len(plan.group), 2)))
    return (
        np.ascontiguousarray(plan.segments, dtype=np.float64),
        plan.group.astype(np.int64),
        plan.needed.astype(np.int64),
        np.array([*plan.body, shrink], dtype=np.float64),
        each,
        np.array(plan.zone, dtype=np.float64),
        np.array([plan.must_meet], dtype=np.float64).reshape(-1, 4),
        np.array(plan.blocked, dtype=np.float64).reshape(-1, 4),
    )
