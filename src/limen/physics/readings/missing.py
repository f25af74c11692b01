"""What to tape where readings do not determine how a unit hangs."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import nan
from typing import Literal

from limen.geometry.turns import Array
from limen.physics.readings.expecting import (
    ACROSS,
    ALONG,
    HEIGHT,
    Curtain,
    Kind,
    Taken,
    row_slopes,
)
from limen.physics.readings.hanging import Known, determined
from limen.physics.readings.resolving import nearest

What = Literal["height", "from_leaf", "along", "line", "end", "spot"]
Where = Literal["left", "right", "middle", ""]
LENS: tuple[What, What, What] = ("along", "from_leaf", "height")
SURELY = 2.0
"""How many times closer than asked a pose is to be known by what is suggested."""
SHARE_OF_ROW = 0.8
"""How far out along its row a line is best read, of the way to its end."""


@dataclass(frozen=True, slots=True)
class Missing:
    """One thing to tape.

    Attributes:
        what: a figure of the lens, or a kind of reading.
        where: at which end of the first row, seen from outside; empty for the lens.
    """

    what: What
    where: Where = ""


USEFUL = (
    Missing("line", "left"),
    Missing("line", "right"),
    Missing("end", "left"),
    Missing("end", "right"),
    Missing("spot", "middle"),
)
"""Readings of the first row: the four of the useful minimum, and one that tells which
of them is wrong."""


def missing(
    known: Known, taken: Sequence[Taken], within: Mapping[Kind, float], lens: float
) -> tuple[Missing, ...]:
    """The fewest things to tape with which the readings determine how a unit hangs.

    Args:
        known: what is known of the unit.
        taken: the readings there are; rows and spots may be open.
        within: how closely each kind is read, half-width (m).
        lens: how closely a lens is taped, half-width (m).

    Returns:
        Nothing if they do already.  Of sets as small as each other the one that is
        quickest to tape: the lens first, then the first row's ends.
    """
    pose = known.begin()
    now, _ = nearest(known.curtain, taken, pose)
    if determined(known, now, pose):
        return ()
    things = tuple(_things(known))
    for count in range(1, len(things) + 1):
        for picked in combinations(things, count):
            told = _with(known, now, picked, within, lens)
            if determined(*told, pose, SURELY):
                return picked
    return things


def read_at(
    known: Known, thing: Missing, within: Mapping[Kind, float], number: int = 0
) -> Taken:
    """The reading that a thing to tape stands for, where the plan expects it.

    Args:
        known: what is known of the unit.
        thing: a reading, not a figure of the lens.
        within: how closely each kind is read (m).
        number: its place in a file.
    """
    curtain, pose = known.curtain, known.begin()
    row = curtain.rows_on[0]
    spot, x, y = _place(curtain, pose, row, thing.where)
    match thing.what:
        case "line":
            x = float(pose[ALONG]) + (x - float(pose[ALONG])) * SHARE_OF_ROW
            return Taken(number, "line", x, y, within["line"], within["line"], row)
        case "end":
            return Taken(number, "end", x, nan, within["end"], 0.0, row, spot)
        case _:
            u = within["spot"]
            return Taken(number, "spot", x, y, u, u, row, spot)


def _place(
    curtain: Curtain, pose: Array, row: int, where: Where
) -> tuple[int, float, float]:
    """Number from the left, and place on the floor, of a spot of a row."""
    floor = pose[[ALONG, ACROSS]] + pose[HEIGHT] * row_slopes(curtain, pose, row)
    if curtain.turned:
        floor = floor[::-1]
    last = len(floor) - 1
    spot = {"left": 0, "right": last}.get(where, last // 2)
    return spot, float(floor[spot, 0]), float(floor[spot, 1])


def _things(known: Known) -> Iterator[Missing]:
    """All that may be taped, in the order in which it is quickest."""
    for which in (2, 1, 0):
        if known.taped[which] is None:
            yield Missing(LENS[which])
    yield from USEFUL


def _with(
    known: Known,
    taken: Sequence[Taken],
    picked: Sequence[Missing],
    within: Mapping[Kind, float],
    lens: float,
) -> tuple[Known, tuple[Taken, ...]]:
    """The same with these taped too."""
    taped = list(known.taped)
    for thing in picked:
        if not thing.where:
            taped[LENS.index(thing.what)] = lens / 3**0.5
    more = tuple(read_at(known, thing, within) for thing in picked if thing.where)
    return replace(known, taped=(taped[0], taped[1], taped[2])), (*taken, *more)
