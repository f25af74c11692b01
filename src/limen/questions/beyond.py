"""Beams that pass the leaf's plane through the free opening.

Beyond its own leaf's face a beam counts only where no leaf can be.  Where the
proof for every leaf position at once fails, the leaf's position is taken as a
fourth dimension: the free width is halved until, for each interval of it, the
beams that are clear of the leaves at its narrow end reach every body that the
leaves can still strike at its wide end.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from limen.geometry.turns import Array
from limen.physics.coverage import Problem, Proof, solve
from limen.physics.hidden import Flags
from limen.physics.plan import Plan, free, standing_leaves
from limen.physics.reach import (
    Cast,
    Ground,
    Place,
    Scope,
    Unit,
    on_path,
    pose_problem,
)

NARROWEST = 0.002  # m, the interval of free width that is not halved further
MOST_CELLS = 2_000_000
"""Cells of all proofs together after which no interval is halved: what holds or fails
took 300,000 at the most in 341 cases, what is too close to call would take 1e8."""
FEW_CELLS = 20_000
"""Cells that a proof has even then, to find what fails plainly."""


@dataclass(frozen=True, slots=True)
class Past:
    """The outcome with the leaf's position as a fourth dimension.

    Attributes:
        verdict: holds, fails or not shown.
        gap: free width at which it fails.
        witness: the pose that is not reached there.
        problem: the problem of that free width.
    """

    verdict: str
    gap: float | None = None
    witness: tuple[float, float, float] | None = None
    problem: Problem | None = None


@dataclass(frozen=True, slots=True)
class Passing:
    """A unit's casts with and without what lies past the leaf."""

    near: Cast
    whole: Cast
    clear_from: Array
    has_near: Flags


def reached_past_the_leaf(
    units: Sequence[Unit],
    ground: Ground,
    place: Place,
    scope: Scope,
    most: int = MOST_CELLS,
) -> Past | None:
    """Prove with the leaf's position as a fourth dimension.

    Args:
        units: the units that count.
        ground: the floor and what stands in the way.
        place: where the body is asked for; its path, or the whole leaf path where
            it has none, gives the leaves' travel.
        scope: the body, the floor's evenness, whether errors are left out.
        most: cells of all proofs together after which it is too close to call.

    Returns:
        None where no beam passes the leaf's plane.
    """
    plan = ground.plan
    path = plan.leaf_path if place.must_meet is None else place.must_meet
    passing = [_passing(unit, ground, scope) for unit in units]
    if not any(np.isfinite(item.clear_from).any() for item in passing):
        return None
    proofs = _Proofs(passing, plan, place, scope, most)
    stack = [(0.0, path.right - path.left)]
    doubt = False
    while stack:
        low, high = stack.pop()
        if proofs.reached(low, high):
            continue
        fails = proofs.failure(high)
        if fails is not None:
            return fails
        doubt = doubt or high - low <= NARROWEST or proofs.cells > most
        if not doubt:
            middle = (low + high) / 2
            stack += [(low, middle), (middle, high)]
    return Past("not shown" if doubt else "holds")


@dataclass
class _Proofs:
    """Proofs at free widths, none of them made twice, and what they cost."""

    passing: Sequence[Passing]
    plan: Plan
    place: Place
    scope: Scope
    most: int
    cells: int = 0
    without: set[float] = field(default_factory=set[float])

    def reached(self, low: float, high: float) -> bool:
        """Whether beams clear at the narrow end reach all bodies of the wide end."""
        return self._solve(self._at(low, high)).verdict == "holds"

    def failure(self, high: float) -> Past | None:
        """The failure at one free width, None where none is found."""
        if high in self.without:
            return None
        there = self._at(high, high)
        proof = self._solve(there)
        if proof.verdict == "fails":
            return Past("fails", high, proof.witness, there)
        self.without.add(high)
        return None

    def _solve(self, problem: Problem) -> Proof:
        left = max(self.most - self.cells, FEW_CELLS)
        proof = solve(problem, max_cells=left)
        self.cells += proof.cells
        return proof

    def _at(self, low: float, high: float) -> Problem:
        """Beams clear at the narrow end, bodies clear of the leaves at the wide end."""
        place = self.place
        if place.must_meet is not None:
            place = on_path(free(self.plan, high), self.scope.body)
        casts = tuple(_clear(item, low) for item in self.passing)
        leaves = standing_leaves(self.plan, high)
        return pose_problem(casts, self.plan, place, self.scope, leaves)


def _passing(unit: Unit, ground: Ground, scope: Scope) -> Passing:
    traced = ground.traced(unit, scope)
    near, parts = traced.cast, traced.parts
    if parts is None:
        count = len(near.segments)
        return Passing(near, near, np.full(count, np.inf), np.ones(count, dtype=bool))
    seen, errors = parts
    room = 2 * (errors.common[0] + errors.residual[:, 0] + scope.doubt.along)
    return Passing(
        Cast(seen.near, errors.residual, errors.common, near.needed),
        Cast(seen.whole, errors.residual, errors.common, near.needed),
        _free_width(seen.crossing, ground.plan) + room,
        seen.has_near,
    )


def _free_width(crossing: Array, plan: Plan) -> Array:
    """Free width from which on each beam is clear of the leaves; inf if never."""
    left, right = crossing[:, 0], crossing[:, 1]
    inside = (left >= -plan.half) & (right <= plan.half)
    match plan.hand:
        case "right":
            width = right + plan.half
        case "left":
            width = plan.half - left
        case None:
            width = 2 * np.maximum(np.abs(left), np.abs(right))
    return np.where(inside & np.isfinite(width), width, np.inf)


def _clear(item: Passing, gap: float) -> Cast:
    clear = item.clear_from <= gap
    use = item.has_near | clear
    segments = np.where(clear[:, None], item.whole.segments, item.near.segments)
    return Cast(
        np.ascontiguousarray(segments[use]),
        np.ascontiguousarray(item.near.residual[use]),
        item.near.common,
        item.near.needed,
    )
