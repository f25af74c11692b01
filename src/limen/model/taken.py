"""Values of a doorway that nobody stated: taken by the short form, and listed.

The short form of a file holds a dozen figures; what else a doorway needs is taken
for it.  Such a value carries its origin, so that it is never mistaken for one that
somebody measured, wherever it goes.
"""

from collections.abc import Iterator
from operator import attrgetter

from limen.model.doorway import Doorway
from limen.quantity import Grade, Quantity

TAKEN = "taken by the short form"
"""Origin of a value that nobody stated."""

MAY_BE_TAKEN = (
    "clear_height",
    "leaves.thickness",
    "header.outside",
    "header.inside",
    "reveal.outside",
    "reveal.inside",
)
"""What a doorway needs and its short form leaves out; all of them lengths."""


def taken(value: float, u: float = 0.0) -> Quantity:
    """A value taken where nobody stated one: no better than an estimate.

    Args:
        value: what is taken, SI.
        u: how far it may be off, same unit.
    """
    return Quantity(value, u, Grade.ESTIMATE, TAKEN)


def taken_for(doorway: Doorway) -> Iterator[tuple[str, Quantity]]:
    """Key and value of everything that was taken for a doorway.

    Args:
        doorway: as described, in the short form or in full.
    """
    for key in MAY_BE_TAKEN:
        value: Quantity = attrgetter(key)(doorway)
        if value.origin == TAKEN:
            yield key, value
