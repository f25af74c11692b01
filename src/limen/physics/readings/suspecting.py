"""Which reading is wrong, where they do not agree.

Readings agree if their misfit would be exceeded by honest ones once in a thousand
times or more.  Where they do not, each is left out in turn.  A reading without which
the others agree is a suspect; it is named alone if no other suspect is nearly as
likely.  What geometry alone cannot tell apart (which of a row's two ends is wrong) is
decided by how units hang, as closely as they are mounted, or not at all.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log

from limen.physics.readings.expecting import Taken
from limen.physics.readings.hanging import Hanging, Known
from limen.physics.readings.resolving import (
    Explained,
    Usual,
    explanations,
)

ALARM = 0.001
"""How often honest readings are said not to agree."""
NAMED_APART = 2 * log(10.0)
"""Difference of costs at which one suspect is ten times as likely as the next."""
LEAST_TO_NAME = 5
"""Readings of which one can be named: with fewer, the rest prove too little."""


@dataclass(frozen=True, slots=True)
class Suspect:
    """A reading without which the others agree.

    Attributes:
        number: its place in the file, from 1.
        others: what the others show.
    """

    number: int
    others: tuple[Explained, ...]


def agree(hanging: Hanging) -> bool:
    """Whether readings agree with each other, as closely as they were taped."""
    return hanging.agreement is None or hanging.agreement >= ALARM


def suspects(known: Known, taken: Sequence[Taken], usual: Usual) -> tuple[Suspect, ...]:
    """The readings of which one is wrong, the likeliest first.

    Args:
        known: what is known of the unit.
        taken: readings that do not agree.
        usual: how units hang.

    Returns:
        One where it is plain; several where it is one of these; none where more than
        one must be wrong, or where there are too few.
    """
    if len(taken) < LEAST_TO_NAME:
        return ()
    found: list[Suspect] = []
    for one in taken:
        rest = [other for other in taken if other is not one]
        others = explanations(known, rest, usual)
        if others and agree(others[0].hanging):
            found.append(Suspect(one.number, others))
    found.sort(key=lambda suspect: suspect.others[0].cost)
    return tuple(
        suspect
        for suspect in found
        if suspect.others[0].cost - found[0].others[0].cost < NAMED_APART
    )
