"""How much smaller the body could be and still be reached, as a bracket."""

from dataclasses import dataclass, replace
from math import inf

import numpy as np

from limen.physics.coverage.pose import GUARD, clearance
from limen.physics.coverage.problem import Problem
from limen.physics.coverage.seam import (
    FINEST,
    MAX_CELLS,
    RESOLUTION,
    Engine,
    Proof,
    solve,
)

FIRST_STEP = 8e-3
UNSURE = 2.6
"""Resolutions by which to step aside where a size is not shown (2.5 is the bound)."""


@dataclass(frozen=True, slots=True)
class Bracket:
    """The margin of a coverage question, per side of the body, in m.

    Attributes:
        held: largest shrink of every half side that was shown to hold; negative: the
            body had to grow. None if nothing in the range asked held.
        refuted: smallest shrink at which a pose is not reached. None if nothing in the
            range asked was refuted.
        witness: x, y, yaw of the pose that refutes.
        shifts: (dx, dy) of each unit's beams at the witness.
        cells: boxes of poses examined in all.
        reason: why the bracket is wider than asked: "search limit", or "".
    """

    held: float | None
    refuted: float | None
    witness: tuple[float, float, float] | None = None
    shifts: tuple[tuple[float, float], ...] = ()
    cells: int = 0
    reason: str = ""


def bracket(
    problem: Problem,
    *,
    precision: float = 1e-3,
    limit: float = 0.15,
    max_cells: int = MAX_CELLS,
    engine: Engine | None = None,
    holds: bool = False,
) -> Bracket:
    """Bracket the margin: the shrink of every half side up to which the claim holds.

    Each end comes from a proof of its own; a refuting pose is used only to lower the
    refuted end to the size at which that same pose is still missed.

    Args:
        problem: what is asked.
        precision: width of the bracket to stop at, in m.
        limit: largest shrink or growth asked about, in m; the shrink also ends where
            the body does, and that end is then open (None).
        max_cells: cells after which each proof ends.
        engine: as in `solve`.
        holds: whether it is already proved for the body as given: not asked again.

    Returns:
        The bracket; wider than `precision` only with a reason or an open end.

    Raises:
        ValueError: a precision below 6e-6 m or a limit that is not positive.
    """
    if not 6 * FINEST <= precision < inf or not 0 < limit < inf:
        message = f"precision must be at least {6 * FINEST:g} m and limit positive"
        raise ValueError(message)
    resolution = min(RESOLUTION, precision / 6)
    ends = -limit, min(limit, min(problem.half_sizes()) - FINEST)
    found, shrink, step = Bracket(None, None), 0.0, FIRST_STEP
    if holds:
        found, shrink = Bracket(0.0, None), min(FIRST_STEP, ends[1])
    while not _done(found, ends, precision):
        before = found
        for aside in (0.0, -UNSURE * resolution, UNSURE * resolution):
            size = min(max(shrink + aside, ends[0]), ends[1])
            proof = solve(
                problem,
                grow=-size,
                resolution=resolution,
                max_cells=max_cells,
                engine=engine,
            )
            found = _narrowed(found, problem, size, proof)
            if aside == 0.0 and proof.verdict != "not shown":
                break
        if (found.held, found.refuted) == (before.held, before.refuted):
            return replace(found, reason="search limit")
        shrink, step = _next(found, before, ends, precision, step)
    return found


def _done(found: Bracket, ends: tuple[float, float], precision: float) -> bool:
    if found.held is not None and found.refuted is not None:
        return found.refuted - found.held <= precision
    if found.held is not None:
        return found.held >= ends[1]
    return found.refuted is not None and found.refuted <= ends[0]


def _narrowed(found: Bracket, problem: Problem, size: float, proof: Proof) -> Bracket:
    found = replace(found, cells=found.cells + proof.cells)
    if proof.verdict == "holds":
        held = size if found.held is None else max(size, found.held)
        return replace(found, held=held)
    if proof.witness is None:
        return found
    shifts = np.array(proof.shifts)
    still = 2 * GUARD - clearance(problem, proof.witness, shifts=shifts)
    refuted = min(size, still)
    if found.refuted is not None and found.refuted <= refuted:
        return found
    return replace(found, refuted=refuted, witness=proof.witness, shifts=proof.shifts)


def _next(
    found: Bracket,
    before: Bracket,
    ends: tuple[float, float],
    precision: float,
    step: float,
) -> tuple[float, float]:
    if found.held is None:
        low = ends[0] if found.refuted is None else found.refuted - step
        return max(ends[0], low), 2 * step
    if found.refuted is None:
        return min(ends[1], found.held + step), 2 * step
    middle = (found.held + found.refuted) / 2
    if found.refuted != before.refuted:
        return max(middle, found.refuted - 0.8 * precision), step
    return middle, step
