"""The rows of all units, chosen with their light, their scales and what stands near."""

from collections.abc import Sequence
from dataclasses import replace
from math import floor, prod

from limen.findings import Finding
from limen.findings.tuned import Turned
from limen.quantity import Dimension
from limen.questions.coverage import Case
from limen.questions.settled import settle
from limen.tune.aims import AIMED
from limen.tune.measuring import (
    BESIDES,
    CHANNELS,
    LIGHT,
    OBSTACLES,
    POSITION,
    Standing,
    standing,
)
from limen.tune.rows import Best, Own, best_rows, candidates
from limen.tune.rows_proved import STEP, TOP, Proofs
from limen.tune.scales import Option, row_options, rows_grid, turned_all
from limen.tune.searched import Searched

HAIR = 1e-9


def chosen_rows(
    searched: Searched, cases: Sequence[Case]
) -> tuple[tuple[Turned, ...], Best]:
    """The settings of the rows; none where no settings hold."""
    doorway = searched.doorway
    outer_off = any(thing.moves for thing in doorway.thing)
    units = tuple(
        row_options(doorway, one, outer_off=outer_off)
        for one in doorway.fitting
        if one.unit is not None and one.unit.presence is not None
    )
    searched.grid *= prod(
        rows_grid(one, outer_off=outer_off) for one in doorway.fitting
    )
    if not units or not cases:
        return (), Best(None, -1, 0.0)
    proofs = Proofs(doorway, settle(doorway), units, tuple(cases))
    own = [own_of(searched, proofs, unit) for unit in range(len(units))]
    found = best_rows(proofs, candidates(own), searched.beat)
    best = _besides(searched, proofs, own, found)
    searched.proofs += proofs.count
    return _turned(units, best), best


def _turned(units: Sequence[Sequence[Option]], best: Best) -> tuple[Turned, ...]:
    picked = best.picked or tuple(0 for _ in units)
    chosen = (options[number] for options, number in zip(units, picked, strict=True))
    return tuple(turned for option in chosen for turned in option.turned)


def own_of(searched: Searched, proofs: Proofs, unit: int) -> list[Own]:
    """What each option of a unit comes to by itself.

    Args:
        searched: the search.
        proofs: of its doorway.
        unit: number of the unit.
    """
    count = len(proofs.units[unit])
    return [_own(searched, proofs, unit, number) for number in range(count)]


def _own(searched: Searched, proofs: Proofs, unit: int, number: int) -> Own:
    """What an option comes to by itself: its light, and whether its scale reaches."""
    option, facts = proofs.units[unit][number], proofs.facts(unit, number)
    if number % 16 == 0:
        searched.beat()
    settled = replace(proofs.base, units=(facts,) if facts else ())
    door = searched.doorway.model_copy(update={"fitting": (option.fitting,)})
    light = searched.answers(LIGHT, door, settled)
    place = searched.answers(POSITION, door, settled)
    aimed = any(one.setting in AIMED for one in option.turned)
    reached = all(one.margin is not None and one.margin.value >= 0 for one in place)
    stands = standing((*light, *place))
    return Own(
        stands, _level(light), not aimed or reached, option.changes, option.travel
    )


def _level(light: Sequence[Finding]) -> int:
    """Room of the light in whole steps; nothing is bounded where it is not known."""
    rooms = [
        one.margin.least
        for one in light
        if one.margin and one.margin.dimension is Dimension.LENGTH
    ]
    least_of = min(rooms, default=TOP * STEP)
    return min(max(floor(least_of / STEP + 1e-9), 0), TOP)


def _besides(
    searched: Searched, proofs: Proofs, own: list[list[Own]], found: Best
) -> Best:
    """Other rows where those found leave something else open that others do not.

    What stands the same with the rows as they are and as they were found is not of
    the rows' making.
    """
    if found.picked is None:
        return found
    now = tuple(0 for _ in own)
    was, then = (_beside(searched, proofs, one) for one in (now, found.picked))
    if then <= Standing() or (then == was and not _things(searched)):
        return found
    again = [
        [
            replace(one, standing=one.standing + _beside_alone(searched, proofs, u, n))
            for n, one in enumerate(each)
        ]
        for u, each in enumerate(own)
    ]
    other = best_rows(proofs, candidates(again), searched.beat)
    if other.picked is None:
        return found
    better = _beside(searched, proofs, other.picked) < then
    return other if better else found


def _things(searched: Searched) -> bool:
    return any(thing.moves for thing in searched.doorway.thing)


def _beside(searched: Searched, proofs: Proofs, picked: tuple[int, ...]) -> Standing:
    """How the other questions of the rows stand, channels left aside."""
    options = [proofs.units[unit][number] for unit, number in enumerate(picked)]
    turned = [one for option in options for one in option.turned]
    door = turned_all(searched.doorway, turned)
    settled = proofs.settled(picked)
    return standing(
        finding
        for name in BESIDES
        if name != CHANNELS
        for finding in searched.answers(name, door, settled)
    )


def _beside_alone(
    searched: Searched, proofs: Proofs, unit: int, number: int
) -> Standing:
    option, facts = proofs.units[unit][number], proofs.facts(unit, number)
    door = searched.doorway.model_copy(update={"fitting": (option.fitting,)})
    settled = replace(proofs.base, units=(facts,) if facts else ())
    return standing(searched.answers(OBSTACLES, door, settled))
