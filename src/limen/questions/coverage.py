"""Is a body reached wherever it may be?  One case, every reading of the manual.

The proof of `limen.physics.coverage` is made first with every figure as stated,
then with everything that aiming leaves open.  What holds with both *holds*;
what fails as stated *fails*, with the place; between the two, mountings within
the tolerance are tried, and one that fails is the witness.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Literal

from limen.findings import Lack, Margin, Message, Pose, Role, Witness
from limen.geometry.boxes import Box
from limen.physics.coverage import Problem, bracket, printable, solve
from limen.physics.plan import Plan
from limen.physics.reach import (
    Body,
    Cast,
    Place,
    Placed,
    Scope,
    Unit,
    cast,
    pose_problem,
    problem,
)
from limen.quantity import Dimension, Outcome
from limen.questions.beyond import reached_past_the_leaf

PRECISION = 3e-3
MARGIN_LIMIT = 0.15
COARSE = 1e-3
FEW_CELLS = 200_000
Shifts = dict[str, tuple[float, float]]
Memory = dict[tuple[object, ...], Cast]


@dataclass(frozen=True, slots=True)
class Case:
    """One body in one state of the doorway.

    Attributes:
        name: as it is printed.
        body: the body at rest on one of its faces.
        place: where it is asked for.
        muted: units left out, by id.
        pausing: rows left out, from 0, by id of the fitting.
        path: the leaf path of this state, where it matters.
        plain: a case of the rule itself, not what is left when a unit is dead.
    """

    name: str
    body: Body
    place: Place
    muted: frozenset[str] = frozenset()
    pausing: tuple[tuple[str, tuple[int, ...]], ...] = ()
    path: Box | None = None
    plain: bool = True

    def units(self, units: Sequence[Unit]) -> tuple[Unit, ...]:
        """The units that count in this state."""
        paused = dict(self.pausing)
        return tuple(
            _without_rows(unit, paused.get(unit.fitting, ()))
            for unit in units
            if unit.fitting not in self.muted
        )


def _without_rows(unit: Unit, paused: tuple[int, ...]) -> Unit:
    if not paused or not isinstance(unit, Placed):
        return unit
    return replace(unit, rows_on=tuple(r for r in unit.rows_on if r not in paused))


def within(case: Case, other: Case) -> bool:
    """Whether every pose of a case is one of the other's, with the same units."""
    one, two = case.place, other.place
    if (one.must_meet is None) != (two.must_meet is None):
        return False
    inner, outer = (one.must_meet or one.zone), (two.must_meet or two.zone)
    inside = inner.left >= outer.left and inner.right <= outer.right
    inside = inside and inner.near >= outer.near and inner.far <= outer.far
    same = (case.body, case.muted, case.pausing) == (
        other.body,
        other.muted,
        other.pausing,
    )
    return inside and same


def widest(cases: Sequence[Case]) -> tuple[Case, ...]:
    """The cases that no other one contains: if they hold, all do."""
    return tuple(
        case
        for number, case in enumerate(cases)
        if not any(
            within(case, other) and (not within(other, case) or later < number)
            for later, other in enumerate(cases)
            if other is not case
        )
    )


@dataclass(frozen=True, slots=True)
class Shown:
    """What one case shows.

    Attributes:
        outcome: holds, fails or not shown.
        why: resolution, search limit, tolerance, readings, lowest height, unit,
            or empty.
        margin: room to spare on each side of the body.
        witness: where it fails.
        lacking: what would settle it.
    """

    outcome: Outcome
    why: str = ""
    margin: Margin | None = None
    witness: Witness | None = None
    lacking: tuple[Lack, ...] = ()


@dataclass(frozen=True, slots=True)
class Floor:
    """What a proof needs beside units and case: the plan and the floor."""

    plan: Plan
    evenness: float


def shows(
    case: Case,
    ways: Sequence[tuple[Unit, ...]],
    floor: Floor,
    lacks: tuple[Lack, ...],
    *,
    margins: bool = True,
    hunt: bool = True,
) -> Shown:
    """What a case shows under every reading of the manuals.

    Args:
        case: the body and the state.
        ways: the units under each reading.
        floor: the plan and the floor's evenness.
        lacks: what keeps further units out of the geometry.
        margins: whether to compute the margin too.
        hunt: whether to look for a mounting that fails, between the two proofs.
    """
    each = [
        _one_way(case, case.units(units), floor, hunt=hunt) for units in ways or [()]
    ]
    outcomes = {shown.outcome for shown in each}
    worst = _worst(each)
    if outcomes == {Outcome.HOLDS}:
        least = _least_margin(case, ways, floor) if margins else None
        return Shown(Outcome.HOLDS, margin=least)
    if lacks:
        return Shown(Outcome.NOT_SHOWN, "unit", lacking=lacks)
    if outcomes == {Outcome.FAILS} or len(each) == 1:
        return _with_margin(worst, case, ways, each.index(worst), floor, margins)
    ends = Lack(Message("lack.reading"), "fitting.read.left_end")
    return Shown(Outcome.NOT_SHOWN, "readings", lacking=(ends,), witness=None)


def _worst(each: list[Shown]) -> Shown:
    order = (Outcome.FAILS, Outcome.NOT_SHOWN, Outcome.HOLDS)
    return min(each, key=lambda shown: order.index(shown.outcome))


def hold_everywhere(
    cases: Sequence[Case],
    ways: Sequence[tuple[Unit, ...]],
    floor: Floor,
    memory: Memory,
) -> bool:
    """Whether all cases hold under every reading, errors included.

    A coarser search than `shows`, for trying many settings: what it certifies is
    certified, what it does not may still hold.

    Args:
        cases: what must hold.
        ways: the units under each reading.
        floor: the plan and the floor's evenness.
        memory: what units cast, kept between calls of one doorway.
    """
    if not ways:
        return False
    for exact in (True, False):
        for case in cases:
            scope = Scope(case.body, floor.evenness, exact=exact)
            for way, units in enumerate(ways):
                counted = [u for u in case.units(units) if _detects(u, case.body)]
                casts = [_kept(u, way, floor.plan, scope, memory) for u in counted]
                asked = pose_problem(casts, floor.plan, case.place, case.body)
                proof = solve(asked, resolution=COARSE, max_cells=FEW_CELLS)
                if proof.verdict != "holds":
                    return False
    return True


def _kept(unit: Unit, way: int, plan: Plan, scope: Scope, memory: Memory) -> Cast:
    """What a unit casts, from memory where it was cast before."""
    turned = (
        (unit.attitude.tilt, unit.errors.floor_y, unit.rows_on)
        if isinstance(unit, Placed)
        else ()
    )
    key = (unit.fitting, way, turned, scope.body.face, scope.exact)
    if key not in memory:
        memory[key] = cast(unit, plan, scope)
    return memory[key]


def _detects(unit: Unit, body: Body) -> bool:
    """Whether it is known that the unit detects the body at its height."""
    upright = body.face == "upright"
    return upright or not isinstance(unit, Placed) or unit.low is not None


def _one_way(case: Case, units: tuple[Unit, ...], floor: Floor, *, hunt: bool) -> Shown:
    """One reading of the manuals; units whose lowest height is unknown apart."""
    if case.body.face == "upright":
        return _proved(case, units, floor, hunt=hunt)
    sure = tuple(unit for unit in units if _detects(unit, case.body))
    shown = _proved(case, sure, floor, hunt=hunt)
    if len(sure) == len(units) or shown.outcome is Outcome.HOLDS:
        return shown
    hopeful = tuple(
        replace(u, low=0.0) if isinstance(u, Placed) and u.low is None else u
        for u in units
    )
    best = _nominal(case, hopeful, floor)
    if best.outcome is Outcome.FAILS:
        return best
    missing = Lack(Message("lack.lowest_height"), "sheet.presence.lowest_height")
    return Shown(Outcome.NOT_SHOWN, "lowest height", lacking=(missing,))


def _nominal(case: Case, units: tuple[Unit, ...], floor: Floor) -> Shown:
    scope = Scope(case.body, floor.evenness, exact=True)
    asked, _ = problem(units, floor.plan, case.place, scope)
    proof = solve(asked)
    if proof.verdict == "fails" and proof.witness is not None:
        past = reached_past_the_leaf(units, floor.plan, case.place, scope)
        if past is not None and past.verdict == "holds":
            return Shown(Outcome.HOLDS, "past the leaf")
        gap = None if past is None else past.gap
        found = asked if past is None or past.problem is None else past.problem
        where = proof.witness if past is None or not past.witness else past.witness
        witness = _printed(found, where, case, floor.plan, {}, gap)
        if witness is not None:
            return Shown(Outcome.FAILS, witness=witness)
        return Shown(Outcome.NOT_SHOWN, "resolution")
    if proof.verdict == "holds":
        return Shown(Outcome.HOLDS)
    return Shown(Outcome.NOT_SHOWN, proof.reason)


def _proved(case: Case, units: tuple[Unit, ...], floor: Floor, *, hunt: bool) -> Shown:
    shown = _nominal(case, units, floor)
    if shown.outcome is not Outcome.HOLDS:
        return shown
    scope = Scope(case.body, floor.evenness)
    if shown.why == "past the leaf":
        past = reached_past_the_leaf(units, floor.plan, case.place, scope)
        sure = past is not None and past.verdict == "holds"
        return shown if sure else Shown(Outcome.NOT_SHOWN, "tolerance")
    asked, _ = problem(units, floor.plan, case.place, scope)
    proof = solve(asked)
    if proof.verdict == "holds":
        return shown
    found = _failing_mounting(case, units, floor) if hunt else None
    if found is not None:
        return Shown(Outcome.FAILS, "tolerance", witness=found)
    reason = proof.reason if proof.verdict == "not shown" else "tolerance"
    return Shown(Outcome.NOT_SHOWN, reason)


def _failing_mounting(
    case: Case, units: tuple[Unit, ...], floor: Floor
) -> Witness | None:
    """A mounting within what aiming leaves open that fails, recomputed exactly."""
    scope = Scope(case.body, floor.evenness, exact=True)
    curtains = [unit for unit in units if isinstance(unit, Placed)]
    signs = ((1, 1), (1, -1), (-1, 1), (-1, -1))
    for picks in product(signs, repeat=min(len(curtains), 2)):
        shifts: Shifts = {
            unit.fitting: (sx * unit.errors.floor_x, sy * unit.errors.floor_y)
            for unit, (sx, sy) in zip(curtains, picks, strict=False)
        }
        moved = tuple(_moved(unit, shifts) for unit in units)
        asked, _ = problem(moved, floor.plan, case.place, scope)
        proof = solve(asked)
        if proof.witness is not None:
            witness = _printed(asked, proof.witness, case, floor.plan, shifts, None)
            if witness is not None:
                return witness
    return None


def _moved(unit: Unit, shifts: Shifts) -> Unit:
    if isinstance(unit, Placed) and unit.fitting in shifts:
        return replace(unit, shift=shifts[unit.fitting])
    return unit


def _printed(
    asked: Problem,
    where: tuple[float, float, float],
    case: Case,
    plan: Plan,
    shifts: Shifts,
    gap: float | None,
) -> Witness | None:
    """The witness in whole millimetres and degrees, re-checked."""
    rounded = printable(asked, where, x0=-plan.half, y0=0.0)
    if rounded is None:
        return None
    x, y, yaw, _ = rounded
    body = case.body
    pose = Pose(Role.WITNESS, x, y, yaw, body.width, body.depth, body.height, body.face)
    printed = {
        "centre_from_left_post": x + plan.half,
        "centre_from_right_post": plan.half - x,
        "centre_from_leaf_middle": y,
        "turned": yaw,
    }
    mounting = {
        f"{fitting}.{axis}": value
        for fitting, shift in shifts.items()
        for axis, value in zip(("along", "across"), shift, strict=True)
    }
    kind: Literal["pose", "mounting"] = "mounting" if shifts else "pose"
    return Witness(kind, pose, printed, mounting, gap)


def _least_margin(
    case: Case, ways: Sequence[tuple[Unit, ...]], floor: Floor
) -> Margin | None:
    """The least margin over all readings, errors included."""
    scope = Scope(case.body, floor.evenness)
    least: Margin | None = None
    for units in ways:
        asked, _ = problem(case.units(units), floor.plan, case.place, scope)
        if least is not None and _still(asked, least.value - least.u):
            continue
        least = _bracketed(asked) or least
    return least


def _still(asked: Problem, shrink: float) -> bool:
    return solve(asked, grow=-shrink).verdict == "holds"


def _with_margin(
    shown: Shown,
    case: Case,
    ways: Sequence[tuple[Unit, ...]],
    number: int,
    floor: Floor,
    margins: bool,  # noqa: FBT001  # passed on
) -> Shown:
    if not margins or not ways:
        return shown
    exact = shown.outcome is Outcome.FAILS and shown.why != "tolerance"
    scope = Scope(case.body, floor.evenness, exact=exact)
    asked, _ = problem(case.units(ways[number]), floor.plan, case.place, scope)
    return replace(shown, margin=_bracketed(asked))


def _bracketed(asked: Problem) -> Margin | None:
    found = bracket(asked, precision=PRECISION, limit=MARGIN_LIMIT)
    if found.held is None and found.refuted is None:
        return None
    if found.held is None or found.refuted is None:
        end = found.held if found.held is not None else found.refuted
        return None if end is None else Margin(end, 0.0, Dimension.LENGTH)
    middle = (found.held + found.refuted) / 2
    return Margin(middle, (found.refuted - found.held) / 2, Dimension.LENGTH)
