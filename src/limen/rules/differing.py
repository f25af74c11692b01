"""What an overlay says otherwise than the rulebook it is laid on."""

from dataclasses import dataclass
from enum import StrEnum

from limen.quantity import Dimension, Quantity
from limen.rules.rule import Authority


class How(StrEnum):
    """How a figure or a rule of an overlay stands to the one below it."""

    ADDS = "adds"
    """A rule that the base does not have."""
    NARROWS = "narrows"
    """A rule of its own for some doorways, beside the base's for the others."""
    CITES = "cites"
    """The same is asked by one more document."""
    RAISES = "raises"
    """More hangs on the rule than in the base."""
    FILLS = "fills"
    """A figure where the base has none."""
    TIGHTENS = "tightens"
    """The stricter figure: it is in force."""
    AGREES = "agrees"
    """The same figure; the better known of the two is in force."""
    YIELDS = "yields"
    """The less strict figure: the base's stays in force, both are cited."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing in which an overlay differs from its base, or agrees with it.

    Attributes:
        rule: id of the rule in the overlay.
        how: how the two stand to each other.
        authority: who says so in the overlay.
        limit: the limit; empty where the rule as a whole is meant.
        base: the base's figure, if it has one.
        own: the overlay's figure, if one is meant.
        dimension: of the figures; None where none is meant.
    """

    rule: str
    how: How
    authority: Authority
    limit: str = ""
    base: Quantity | None = None
    own: Quantity | None = None
    dimension: Dimension | None = None

    @property
    def changes(self) -> bool:
        """Whether a door is judged otherwise than by the base."""
        return self.how not in {How.CITES, How.AGREES, How.YIELDS}
