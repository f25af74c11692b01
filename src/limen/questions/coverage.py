"""Is a body reached wherever it may be?  One case, every reading of the manual.

The proof of `limen.physics.coverage` is made first with every figure as stated,
then with everything that aiming leaves open.  What holds with both *holds*;
what fails as stated *fails*, with the place; between the two, mountings within
the tolerance are tried, and one that fails is the witness.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import isfinite
from typing import Literal

from limen.findings import Lack, Margin, Message, Pose, Role, Witness
from limen.geometry.boxes import Box
from limen.physics.coverage import Problem, bracket, printable, solve
from limen.physics.reach import (
    Body,
    Ground,
    Place,
    Placed,
    Unit,
)
from limen.quantity import Dimension, Outcome
from limen.questions.asking import WORST_FIRST
from limen.questions.beyond import MOST_CELLS, Past, reached_past_the_leaf
from limen.questions.doubting import read_apart

PRECISION = 3e-3
MARGIN_LIMIT = 0.15
AMPLE = 0.03  # m: more room to spare than this is not measured out
MARGIN_CELLS = 6_000  # a proof of the margin that needs more ends in a wider bracket
TOLERANT_CELLS = 500_000
COARSE = 1e-3
FAIRLY = 0.03  # m a witness reaches into the leaf path from its ends, if it can
FAIR_SHARE = 0.4  # of the path's depth left out on each side for that
FEW_CELLS = 200_000
Shifts = dict[str, tuple[float, float]]


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
        surely: those of the rows left out of which it is known; None for all.
    """

    name: str
    body: Body
    place: Place
    muted: frozenset[str] = frozenset()
    pausing: tuple[tuple[str, tuple[int, ...]], ...] = ()
    path: Box | None = None
    surely: tuple[tuple[str, tuple[int, ...]], ...] | None = None

    @property
    def known(self) -> "Case":
        """The same with only those rows left out of which it is known."""
        if self.surely is None:
            return self
        return replace(self, pausing=self.surely, surely=None)

    def units(self, units: Sequence[Unit]) -> tuple[Unit, ...]:
        """The units that count in this state."""
        paused = dict(self.pausing)
        left = (
            _without_rows(unit, paused.get(unit.fitting, ()))
            for unit in units
            if unit.fitting not in self.muted
        )
        return tuple(u for u in left if not isinstance(u, Placed) or u.rows_on)


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
        cells: what the proof that it holds took.
    """

    outcome: Outcome
    why: str = ""
    margin: Margin | None = None
    witness: Witness | None = None
    lacking: tuple[Lack, ...] = ()
    cells: int = 0


def shows(
    case: Case,
    ways: Sequence[tuple[Unit, ...]],
    ground: Ground,
    lacks: tuple[Lack, ...],
    *,
    margins: bool = True,
    hunt: bool = True,
) -> Shown:
    """What a case shows under every reading of the manuals.

    Args:
        case: the body and the state.
        ways: the units under each reading.
        ground: the plan and the floor.
        lacks: what keeps further units out of the geometry.
        margins: whether to compute the margin too.
        hunt: whether to look for a mounting that fails, between the two proofs.
    """
    each = [
        _one_way(case, case.units(units), ground, hunt=hunt) for units in ways or [()]
    ]
    outcomes = {shown.outcome for shown in each}
    worst = _worst(each)
    if outcomes == {Outcome.HOLDS}:
        # beside the leaf alone it would fail: that margin is not this case's
        margins = margins and not any(shown.why for shown in each)
        cells = max(shown.cells for shown in each)
        least = _least_margin(case, ways, ground, cells) if margins else None
        return Shown(Outcome.HOLDS, margin=least)
    if lacks:
        return Shown(Outcome.NOT_SHOWN, "unit", lacking=lacks)
    if outcomes == {Outcome.FAILS} or len(each) == 1:
        return _with_margin(worst, case, ways, each.index(worst), ground, margins)
    return Shown(Outcome.NOT_SHOWN, "readings", lacking=read_apart(ways))


def _worst(each: list[Shown]) -> Shown:
    return min(each, key=lambda shown: WORST_FIRST.index(shown.outcome))


def hold_everywhere(
    cases: Sequence[Case],
    ways: Sequence[tuple[Unit, ...]],
    ground: Ground,
) -> bool:
    """Whether all cases hold under every reading, errors included.

    A coarser search than `shows`, for trying many settings: what it certifies is
    certified, what it does not may still hold.

    Args:
        cases: what must hold.
        ways: the units under each reading.
        ground: the plan and the floor.
    """
    return bool(ways) and all(
        _certified(case, units, ground, exact=exact)
        for exact in (True, False)
        for case in cases
        for units in ways
    )


def _certified(
    case: Case, units: tuple[Unit, ...], ground: Ground, *, exact: bool
) -> bool:
    """Whether a coarse search certifies the case for one reading."""
    counted = [u for u in case.units(units) if _detects(u, case.body)]
    asked = ground.problem(counted, case.place, case.body, exact=exact)
    return solve(asked, resolution=COARSE, max_cells=FEW_CELLS).verdict == "holds"


def _detects(unit: Unit, body: Body) -> bool:
    """Whether it is known that the unit detects the body at its height."""
    upright = body.face == "upright"
    return upright or not isinstance(unit, Placed) or unit.low is not None


def _one_way(
    case: Case, units: tuple[Unit, ...], ground: Ground, *, hunt: bool
) -> Shown:
    """One reading of the manuals; units whose lowest height is unknown apart."""
    if case.body.face == "upright":
        return _proved(case, units, ground, hunt=hunt)
    sure = tuple(unit for unit in units if _detects(unit, case.body))
    shown = _proved(case, sure, ground, hunt=hunt)
    if len(sure) == len(units) or shown.outcome is Outcome.HOLDS:
        return shown
    hopeful = tuple(
        replace(u, low=0.0) if isinstance(u, Placed) and u.low is None else u
        for u in units
    )
    best = _nominal(case, hopeful, ground)
    if best.outcome is Outcome.FAILS:
        return best
    missing = Lack(Message("lack.lowest_height"), "sheet.presence.lowest_height")
    return Shown(Outcome.NOT_SHOWN, "lowest height", lacking=(missing,))


def _nominal(case: Case, units: tuple[Unit, ...], ground: Ground) -> Shown:
    """What the case shows with every figure as stated."""
    asked = ground.problem(units, case.place, case.body, exact=True)
    proof = solve(asked)
    if proof.verdict == "holds":
        return Shown(Outcome.HOLDS)
    if proof.witness is None:
        return Shown(Outcome.NOT_SHOWN, proof.reason)
    past = _past(case, units, ground, exact=True)
    if past is not None and past.verdict == "holds":
        return Shown(Outcome.HOLDS, "past the leaf")
    if past is not None and past.verdict != "fails":
        return Shown(Outcome.NOT_SHOWN, "resolution")
    if past is not None:
        witness = _printed_past(past, case, ground)
    else:
        witness = _struck_fairly(case, units, ground)
        witness = witness or _printed(asked, proof.witness, case, ground)
    if witness is None:
        return Shown(Outcome.NOT_SHOWN, "resolution")
    return Shown(Outcome.FAILS, witness=witness)


def _struck_fairly(
    case: Case, units: tuple[Unit, ...], ground: Ground
) -> Witness | None:
    """A witness with its middle on the leaf path, or standing well in it.

    A pose that only touches the path is a failure all the same, but hard to
    believe and hard to set out.
    """
    path = case.place.must_meet
    if path is None:
        return None
    core = path.grown(-FAIRLY, -(path.far - path.near) * FAIR_SHARE)
    if core.left >= core.right:
        return None
    on_it = Place(core, core)
    for place in (on_it, replace(case.place, must_meet=core)):
        asked = ground.problem(units, place, case.body, exact=True)
        proof = solve(asked)
        if proof.witness is not None:
            return _printed(asked, proof.witness, case, ground)
    return None


def _proved(
    case: Case, units: tuple[Unit, ...], ground: Ground, *, hunt: bool
) -> Shown:
    """What the case shows: with all that aiming leaves open, else as stated.

    Without a hunt it is asked as stated first: what fails there is soon answered.
    """
    stated = None if hunt else _nominal(case, units, ground)
    if stated is not None and stated.outcome is Outcome.FAILS:
        return stated
    proof = solve(
        ground.problem(units, case.place, case.body), max_cells=TOLERANT_CELLS
    )
    if proof.verdict == "holds":
        # a body that nowhere can stand is no body that is reached
        if proof.reason:
            return Shown(Outcome.NOT_SHOWN, proof.reason)
        return Shown(Outcome.HOLDS, cells=proof.cells)
    shown = stated or _nominal(case, units, ground)
    if shown.outcome is not Outcome.HOLDS:
        return shown
    if shown.why == "past the leaf":
        past = _past(case, units, ground, exact=False)
        sure = past is not None and past.verdict == "holds"
        return shown if sure else Shown(Outcome.NOT_SHOWN, "tolerance")
    found = _failing_mounting(case, units, ground) if hunt else None
    if found is not None:
        return Shown(Outcome.FAILS, "tolerance", witness=found)
    reason = proof.reason if proof.verdict == "not shown" else "tolerance"
    return Shown(Outcome.NOT_SHOWN, reason)


def _past(
    case: Case, units: tuple[Unit, ...], ground: Ground, *, exact: bool
) -> Past | None:
    scope = ground.scope(case.body, exact=exact)
    most = MOST_CELLS if exact else TOLERANT_CELLS
    return reached_past_the_leaf(units, ground, case.place, scope, most)


def _failing_mounting(
    case: Case, units: tuple[Unit, ...], ground: Ground
) -> Witness | None:
    """A mounting within what aiming leaves open that fails, recomputed exactly."""
    curtains = [unit for unit in units if isinstance(unit, Placed)]
    signs = ((1, 1), (1, -1), (-1, 1), (-1, -1))
    for picks in product(signs, repeat=min(len(curtains), 2)):
        shifts: Shifts = {
            unit.fitting: (sx * unit.errors.floor_x, sy * unit.errors.floor_y)
            for unit, (sx, sy) in zip(curtains, picks, strict=False)
        }
        moved = tuple(_moved(unit, shifts) for unit in units)
        asked = ground.problem(moved, case.place, case.body, exact=True)
        proof = solve(asked)
        if proof.witness is not None:
            past = _past(case, moved, ground, exact=True)
            if past is not None:
                witness = _printed_past(past, case, ground, shifts)
            else:
                witness = _printed(asked, proof.witness, case, ground, shifts=shifts)
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
    ground: Ground,
    *,
    shifts: Shifts | None = None,
    gap: float | None = None,
) -> Witness | None:
    """The witness in whole millimetres and degrees, re-checked."""
    half, shifts = ground.plan.half, shifts or {}
    rounded = _from_the_nearer_post(asked, where, half)
    if rounded is None:
        return None
    x, y, yaw = rounded
    body = case.body
    pose = Pose(Role.WITNESS, x, y, yaw, body.width, body.depth, body.height, body.face)
    printed = {
        "centre_from_left_post": x + half,
        "centre_from_right_post": half - x,
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


def _printed_past(
    past: Past, case: Case, ground: Ground, shifts: Shifts | None = None
) -> Witness | None:
    """Where it fails with beams past the leaf counted; None if it was not shown."""
    if past.problem is None or past.witness is None:
        return None
    return _printed(
        past.problem, past.witness, case, ground, shifts=shifts, gap=past.gap
    )


def _from_the_nearer_post(
    asked: Problem, where: tuple[float, float, float], half: float
) -> tuple[float, float, float] | None:
    """The pose rounded as it is taped: from the nearer post, the left one at a tie."""
    post = -half if where[0] <= 0 else half
    for start in (post, -post):
        rounded = printable(asked, where, x0=start, y0=0.0)
        if rounded is not None and (rounded[0] <= 0) == (start < 0):
            return rounded[:3]
    return None


def _least_margin(
    case: Case, ways: Sequence[tuple[Unit, ...]], ground: Ground, cells: int
) -> Margin | None:
    """The least margin over all readings, errors included; None if one is unknown.

    Where the proof took more cells than one of the margin may, a smaller body takes
    more still: how much room is to spare is then not said.
    """
    if cells > MARGIN_CELLS:
        return None
    least: Margin | None = None
    for units in ways:
        asked = ground.problem(case.units(units), case.place, case.body)
        if least is not None and _still(asked, least.least):
            continue
        found = _bracketed(asked, AMPLE, holds=True)
        if found is None:
            return None
        if least is None or found.least < least.least:
            least = found
    return least


def _still(asked: Problem, shrink: float) -> bool:
    return solve(asked, grow=-shrink, max_cells=MARGIN_CELLS).verdict == "holds"


def _with_margin(
    shown: Shown,
    case: Case,
    ways: Sequence[tuple[Unit, ...]],
    number: int,
    ground: Ground,
    margins: bool,  # noqa: FBT001  # passed on
) -> Shown:
    if not margins or not ways:
        return shown
    exact = shown.outcome is Outcome.FAILS and shown.why != "tolerance"
    counted = case.units(ways[number])
    asked = ground.problem(counted, case.place, case.body, exact=exact)
    return replace(shown, margin=_bracketed(asked))


def _bracketed(
    asked: Problem, limit: float = MARGIN_LIMIT, *, holds: bool = False
) -> Margin | None:
    found = bracket(
        asked, precision=PRECISION, limit=limit, max_cells=MARGIN_CELLS, holds=holds
    )
    if found.refuted is None:
        return Margin(found.held, 0.0, Dimension.LENGTH) if found.held else None
    if found.held is None:
        # no size of the body helps where no beam reaches it; else the range ended
        ended = isfinite(found.refuted) and found.refuted <= -limit
        return Margin(-limit, 0.0, Dimension.LENGTH) if ended else None
    middle = (found.held + found.refuted) / 2
    return Margin(middle, (found.refuted - found.held) / 2, Dimension.LENGTH)
