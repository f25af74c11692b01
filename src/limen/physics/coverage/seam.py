"""The verdict of a coverage proof, by the compiled search where numba is present."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from importlib.util import find_spec
from math import inf
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from limen.physics.coverage.pose import GUARD, Pose, admissible, clearance
from limen.physics.coverage.problem import Floats, Problem

Engine = Literal["numba", "numpy"]
Verdict = Literal["holds", "fails", "not shown"]
Found = tuple[int, float, float, float, int, bool]
Search = Callable[[Problem, float, float, int, Floats], Found]

RESOLUTION = 5e-4
MAX_CELLS = 2_000_000
FINEST = 1e-6
HOLDS, FAILS, UNDECIDED = 0, 1, 2


@dataclass(frozen=True, slots=True)
class Proof:
    """The answer to a coverage question.

    Attributes:
        verdict: "holds": at every admissible asked pose, for every allowed error, some
            unit has its needed beams on the body, each with 1e-9 m to spare. "fails":
            at `witness` no unit has, for errors of the allowed size: the shift of each
            unit's beams in `shifts`, and for each beam that would be missing an own
            error within its tolerance; each misses by more than 1e-9 m. "not shown":
            neither could be shown.
        witness: x, y in m and yaw in rad, where the verdict is "fails".
        cells: boxes of poses examined.
        reason: "resolution": the verdict is "not shown", the body grown by 2.5 times
            the resolution on every side is reached everywhere; "search limit": the
            search ended first and nothing is known; "nothing asked": it holds because
            no pose is both admissible and asked; else "".
        shifts: (dx, dy) of each unit's beams at the witness, in m.
    """

    verdict: Verdict
    witness: Pose | None
    cells: int
    reason: str = ""
    shifts: tuple[tuple[float, float], ...] = ()


def prove(  # noqa: PLR0913  # the question has that many parts
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
    resolution: float = RESOLUTION,
    max_cells: int = MAX_CELLS,
    engine: Engine | None = None,
) -> Proof:
    """Prove that a body is reached wherever it stands in a zone, or show where not.

    A pose is reached when one unit alone has its needed number of beams meeting the
    closed w x d rectangle. The claim: so it is at every pose (x, y, yaw) with (x, y) in
    the zone, where no wall overlaps the body and, if given, the body meets `must_meet`;
    and whatever the errors: each beam displaced by its own error, each unit's beams by
    one shared shift, all independent and along x and y up to the given sizes.

    Args:
        segments: (n, 4) ax, ay, bx, by of each beam on the floor, in m.
        zone: (xmin, xmax, ymin, ymax) of body centres, in m.
        body: (w, d) in m, w along x at yaw 0.
        group: (n,) unit of each beam; all one unit if left out.
        needed: beams of one unit that must meet, for all or for each unit.
        tolerance: own error of the beams along x and y, in m, or (n, 2).
        common: (groups, 2) shift shared by a unit's beams, along x and y, in m.
        blocked: (b, 4) walls; a body pressed against one is still asked.
        must_meet: box or boxes that the body must meet for the pose to be asked.
        resolution: size of the smallest cells, in m, at least 1e-6.
        max_cells: cells after which the search ends.
        engine: "numba", "numpy", or the faster of those present.

    Returns:
        The verdict with its witness. "Not shown" by resolution implies that the body
        grown by 2.5 resolution on every side is reached everywhere.

    Raises:
        ValueError: any argument non-finite, of the wrong shape or out of range.

    Source:
        Own derivation (module `kernel`); branch and bound after Hansen, Global
        optimization using interval analysis, Numer. Math. 34 (1980) 247-270.
    """
    problem = Problem.build(
        segments,
        zone,
        body,
        group=group,
        needed=needed,
        tolerance=tolerance,
        common=common,
        blocked=blocked,
        must_meet=must_meet,
    )
    return solve(problem, resolution=resolution, max_cells=max_cells, engine=engine)


def solve(
    problem: Problem,
    *,
    grow: float = 0.0,
    resolution: float = RESOLUTION,
    max_cells: int = MAX_CELLS,
    engine: Engine | None = None,
) -> Proof:
    """Answer a problem for its body grown on every side.

    Which poses are admissible and asked is decided by the body as given, so that a
    larger `grow` never turns "holds" into "fails".

    Args:
        problem: what is asked.
        grow: added to every half side of the body that beams must meet, in m; negative
            shrinks it.
        resolution: size of the smallest cells, in m, at least 1e-6.
        max_cells: cells after which the search ends.
        engine: "numba", "numpy", or the faster of those present.

    Returns:
        The verdict with its witness.

    Raises:
        ValueError: a setting out of range, or a `grow` that leaves no body.
    """
    _check(problem, grow, resolution, max_cells)
    seek = _search(engine)
    shifts = np.zeros_like(problem.common)
    state, x, y, yaw, cells, stood = seek(problem, grow, resolution, max_cells, shifts)
    if state == HOLDS:
        reason = "" if stood else _why_holds(problem, seek, max_cells)
        return Proof("holds", None, cells, reason)
    if state == FAILS and _confirmed(problem, (x, y, yaw), grow, shifts):
        moved = tuple((float(dx), float(dy)) for dx, dy in shifts)
        return Proof("fails", (x, y, yaw), cells, "", moved)
    reason = "resolution" if state == UNDECIDED else "search limit"
    return Proof("not shown", None, cells, reason)


def _check(problem: Problem, grow: float, resolution: float, max_cells: int) -> None:
    if not FINEST <= resolution < inf:
        message = f"resolution must be finite and at least {FINEST:g} m"
        raise ValueError(message)
    if max_cells < 1:
        message = "max_cells must be at least 1"
        raise ValueError(message)
    if not abs(grow) < inf or min(problem.half_sizes(grow)) < 0:
        message = f"grow {grow!r} leaves no body"
        raise ValueError(message)


def _confirmed(problem: Problem, pose: Pose, grow: float, shifts: Floats) -> bool:
    within = bool((np.abs(shifts) <= problem.common + GUARD).all())
    missed = clearance(problem, pose, grow=grow, shifts=shifts) > GUARD / 2
    return within and missed and admissible(problem, pose)


def _why_holds(problem: Problem, seek: Search, limit: int) -> str:
    none = replace(problem, beams=problem.beams[:0], group=problem.group[:0])
    empty = seek(none, 0.0, RESOLUTION, limit, np.zeros_like(problem.common))
    return "nothing asked" if empty[0] == HOLDS else ""


@cache
def _compiled() -> Search | None:
    if find_spec("numba") is None:
        return None
    from limen.physics.coverage.kernel import search

    def seek(
        problem: Problem, grow: float, resolution: float, limit: int, shifts: Floats
    ) -> Found:
        units = problem.beams, problem.group, problem.needed, problem.common
        place = (*problem.half_sizes(), problem.blocked, problem.asked)
        zone, grown = problem.zone.reshape(1, 4), problem.half_sizes(grow)
        return search(
            (units, place), zone, problem.turn, grown, resolution, limit, shifts
        )

    return seek


def _search(engine: Engine | None) -> Search:
    if engine not in (None, "numba", "numpy"):
        message = f"engine must be 'numba' or 'numpy', not {engine!r}"
        raise ValueError(message)
    compiled = None if engine == "numpy" else _compiled()
    if compiled is not None:
        return compiled
    if engine == "numba":
        message = "engine 'numba' is not installed: leave engine out"
        raise ValueError(message)
    from limen.physics.coverage.twin import search

    return search
