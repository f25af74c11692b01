"""How the records of a door hang together: each names those it was made after.

Two phones without a line may each make a record after the same one; the next record
then names both.  A chain cannot show that its last link is missing: so the number of
records and the digests of the last ones are printed on the owner's page.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter

Parents = Mapping[str, tuple[str, ...]]
"""By digest of a sealed record, the digests of those it names as its parents."""


class ChainCircularError(ValueError):
    """Records that are each other's parents: no honest signer can make them."""


@dataclass(frozen=True, slots=True)
class Chain:
    """The records of a door.

    Attributes:
        order: digests, every parent before its children, otherwise by digest.
        heads: the last ones: those that no record names.
        missing: digests that are named and not there.
    """

    order: tuple[str, ...]
    heads: tuple[str, ...]
    missing: tuple[str, ...]

    @property
    def whole(self) -> bool:
        """Whether every record that is named is there."""
        return not self.missing


def chained(parents: Parents) -> Chain:
    """Bring the records of a door into their order.

    Args:
        parents: by digest of each record.

    Raises:
        ChainCircularError: some record is among its own ancestors.
    """
    named = {one for every in parents.values() for one in every}
    sorter = TopologicalSorter(
        {one: sorted(parents[one]) for one in sorted(parents)},
    )
    try:
        order = tuple(one for one in _levels(sorter) if one in parents)
    except CycleError as error:
        raise ChainCircularError from error
    heads = tuple(sorted(set(parents) - named))
    return Chain(order, heads, tuple(sorted(named - set(parents))))


def _levels(sorter: TopologicalSorter[str]) -> list[str]:
    """Level by level, so that the order does not depend on how it was given."""
    order: list[str] = []
    sorter.prepare()
    while sorter.is_active():
        ready = sorted(sorter.get_ready())
        order += ready
        sorter.done(*ready)
    return order
