"""How much room there is at each place of the presence zone.

The zone of a case is cut into pieces, and each piece is asked as the whole zone is:
the same proof, with the same errors, for every place of the body's middle in the piece
and every turn.  So what is shown for the pieces together is shown for the zone, and no
number is better than what was proved.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from math import ceil, isfinite
from typing import TYPE_CHECKING

from limen.findings import Lack, Margin, Verdict
from limen.findings.margin_map import MarginMap, Spot
from limen.geometry.boxes import Box
from limen.physics.coverage import bracket, solve
from limen.physics.reach import Ground, Unit, on_path, rest_faces
from limen.quantity import Outcome
from limen.questions.asking import Asked
from limen.questions.coverage import (
    AMPLE,
    MARGIN_CELLS,
    MARGIN_LIMIT,
    PRECISION,
    Case,
    Shown,
    shows,
)
from limen.questions.presence import (
    BODY,
    path_cases,
    pausing,
    threshold_cases,
)
from limen.questions.room import opening_sides, space_at, trailing_plan

if TYPE_CHECKING:
    from limen.model.doorway import Hand

COARSE = 0.04
FINE = 0.02
"""Sides of a piece (m): first, and where there is not ample room."""

Ways = Sequence[tuple[Unit, ...]]


@dataclass(frozen=True, slots=True)
class Mapped:
    """What is mapped: a case on its floor.

    Attributes:
        case: the body and the state of the doorway.
        ways: the units under each reading of the manuals.
        ground: the plan and the floor.
        lacks: what keeps further units out of the geometry.
    """

    case: Case
    ways: Ways
    ground: Ground
    lacks: tuple[Lack, ...]


def mapped(asked: Asked, case: str | None) -> Mapped | None:
    """The case of a question that has a map.

    Args:
        asked: ``presence.threshold``, ``presence.leaf_path`` or
            ``presence.side_screen``.
        case: the case's name; the first if none is named.

    Returns:
        None where there is no such case, or where its place is not known.
    """
    settled = asked.settled
    if asked.rule.question == "presence.side_screen":
        return _side_screen(asked, case)
    found = next((one for one in _cases(asked) if case in (None, one.name)), None)
    if found is None:
        return None
    return Mapped(found, settled.ways(), settled.ground, settled.all_lacks())


def _cases(asked: Asked) -> Iterable[Case]:
    if asked.rule.question == "presence.threshold":
        return threshold_cases(asked)
    cases = path_cases(asked)
    first = cases[0]
    units = [one.fitting.id for one in asked.settled.units if one.choices]
    dead = (
        replace(first, name=f"{first.body.face}, {unit} dead", muted=frozenset({unit}))
        for unit in units
    )
    return (*cases, *dead)


def _side_screen(asked: Asked, case: str | None) -> Mapped | None:
    """The path of the trailing edge, where what stands there is known."""
    settled = asked.settled
    sides: dict[str, Hand] = {one: one for one in opening_sides(asked)}
    side = sides.get(case or next(iter(sides)))
    space = space_at(asked, side) if side else None
    if space is None or space.clearance is None or space.gap is None:
        return None
    plan = trailing_plan(settled.plan, space, space.clearance.high)
    body = rest_faces(*(asked.rule.limit(name).value for name in BODY))[0]
    place = on_path(plan.leaf_path, body)
    paused = pausing(asked, unknown=True)
    doubt = settled.ground.doubt
    loose = replace(doubt, reveal=doubt.reveal + space.gap.u)
    ground = Ground(plan, settled.ground.evenness, loose)
    whole = Case(side or "", body, place, pausing=paused, path=plan.leaf_path)
    return Mapped(whole, settled.ways(), ground, settled.all_lacks())


def margin_map(
    question: str,
    what: Mapped,
    *,
    fine: bool = False,
    wanted: Callable[[], bool] = lambda: True,
) -> MarginMap | None:
    """The room at each place of a case's zone.

    Args:
        question: whose case it is.
        what: the case on its floor.
        fine: whether pieces without ample room are cut again.
        wanted: asked between pieces; False ends the work.

    Returns:
        The map; None once it is not wanted any more.

    Source:
        `limen.questions.coverage.shows` on every piece.
    """
    zone = what.case.place.zone
    columns, rows = (_pieces(zone.right - zone.left), _pieces(zone.far - zone.near))
    cut = 2 if fine else 1
    spots = [Spot(Verdict.NOT_ASKED)] * (columns * rows * cut * cut)
    for number in range(columns * rows):
        if not wanted():
            return None
        column, row = number % columns, number // columns
        box = _piece(zone, columns, rows, column, row)
        for index, spot in _within(what, box, column, row, columns, cut):
            spots[index] = spot
    return _drawn(question, what, columns * cut, rows * cut, spots)


def _within(
    what: Mapped, box: Box, column: int, row: int, columns: int, cut: int
) -> Iterable[tuple[int, Spot]]:
    """A piece, cut again where its own number would be a coarse one."""
    whole = spot_in(what, box)
    ample = whole.verdict is Verdict.HOLDS and (whole.least or 0.0) >= AMPLE
    enough = ample or whole.verdict is Verdict.NOT_ASKED
    for j in range(cut):
        for i in range(cut):
            index = (row * cut + j) * columns * cut + column * cut + i
            part = box if cut == 1 else _piece(box, cut, cut, i, j)
            yield index, whole if enough or cut == 1 else spot_in(what, part)


def spot_in(what: Mapped, box: Box) -> Spot:
    """What is shown for every body whose middle is in a box.

    Args:
        what: the case on its floor.
        box: of body middles (m).
    """
    case = replace(what.case, place=replace(what.case.place, zone=box))
    shown = _asked_of(case, what)
    if case.known.pausing != case.pausing and shown.outcome is not Outcome.HOLDS:
        # rows of which it is not known whether they pause
        case, shown = case.known, _asked_of(case.known, what)
        if shown.outcome is Outcome.HOLDS:
            return Spot(Verdict.NOT_SHOWN)
    match shown.outcome:
        case Outcome.HOLDS:
            return _reached(_asked_of(case, what, margins=True).margin)
        case Outcome.FAILS:
            return _missed(case, what, shown)
        case Outcome.NOT_SHOWN:
            nobody = _nobody(case, what)
            return Spot(Verdict.NOT_ASKED if nobody else Verdict.NOT_SHOWN)


def _asked_of(case: Case, what: Mapped, *, margins: bool = False) -> Shown:
    return shows(case, what.ways, what.ground, what.lacks, margins=margins)


def _reached(margin: Margin | None) -> Spot:
    """What is reached, with the room that was shown; open where none was refuted."""
    if margin is None:
        return Spot(Verdict.HOLDS)
    most = margin.value + margin.u if margin.u else None
    return Spot(Verdict.HOLDS, max(margin.least, 0.0), most)


def _missed(case: Case, what: Mapped, shown: Shown) -> Spot:
    """What is missed, by how much, and the body of this piece that shows it.

    Where only a mounting within what aiming leaves open misses it, or a leaf on its way
    hides a beam, it is not measured out.
    """
    witness = shown.witness
    if witness is None or witness.kind == "mounting" or witness.gap is not None:
        return Spot(Verdict.FAILS)
    units = case.units(next(iter(what.ways), ()))
    asked = what.ground.problem(units, case.place, case.body, exact=True)
    found = bracket(
        asked, precision=PRECISION, limit=MARGIN_LIMIT, max_cells=MARGIN_CELLS
    )
    if found.refuted is None or found.refuted > 0.0:
        return Spot(Verdict.FAILS)
    least = -found.refuted if isfinite(found.refuted) else MARGIN_LIMIT
    most = None if found.held is None else -found.held
    return Spot(Verdict.FAILS, least, most, found.witness)


def _nobody(case: Case, what: Mapped) -> bool:
    """Whether no body can stand there, or none that is asked for."""
    empty = what.ground.problem((), case.place, case.body, exact=True)
    return solve(empty).verdict == "holds"


def _pieces(span: float) -> int:
    return max(1, ceil(span / COARSE - 1e-9))


def _piece(zone: Box, columns: int, rows: int, column: int, row: int) -> Box:
    wide, deep = (zone.right - zone.left) / columns, (zone.far - zone.near) / rows
    left, near = zone.left + column * wide, zone.near + row * deep
    # the last piece ends where the zone does, whatever rounding made of it
    right = zone.right if column == columns - 1 else zone.left + (column + 1) * wide
    far = zone.far if row == rows - 1 else zone.near + (row + 1) * deep
    return Box(left, right, near, far)


def _drawn(
    question: str, what: Mapped, columns: int, rows: int, spots: list[Spot]
) -> MarginMap:
    plan, zone = what.ground.plan, what.case.place.zone
    return MarginMap(
        question,
        what.case.name,
        what.case.body.face,
        plan.half,
        (-plan.inside.face, plan.outside.face),
        (zone.left, zone.right, zone.near, zone.far),
        columns,
        rows,
        tuple(spots),
        AMPLE,
    )
