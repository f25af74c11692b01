"""Which edition of a rulebook judges a door, by the day it was commissioned.

A new edition does not reach back: a door is judged by the edition of its day.
While two editions were valid side by side the date alone does not tell, and the
answer is a question to the person, naming both.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum


@dataclass(frozen=True, slots=True)
class Edition:
    """An edition of a rulebook and the days on which a door could be built to it.

    Attributes:
        rulebook: id of the rulebook.
        edition: the edition, as its folder is named.
        title: its title.
        valid_from: the first day; None when no other edition came before.
        valid_until: the last day; None while it is in force.
        transition: why it overlaps with another edition.
    """

    rulebook: str
    edition: str
    title: str
    valid_from: date | None = None
    valid_until: date | None = None
    transition: str = ""

    def covers(self, day: date) -> bool:
        """Whether a door commissioned on that day can be judged by it."""
        after = self.valid_from is None or self.valid_from <= day
        before = self.valid_until is None or day <= self.valid_until
        return after and before


class WhyAsk(StrEnum):
    """Why a date does not settle the edition."""

    DATE_UNKNOWN = "date unknown"
    TRANSITION = "transition"
    OUTSIDE = "outside every edition"


@dataclass(frozen=True, slots=True)
class AskEdition:
    """The date does not tell which edition applies: a person has to say so.

    Attributes:
        rulebook: id of the rulebook.
        commissioned: the date, if known.
        editions: what there is to choose from, oldest first.
        why: what makes it ambiguous.
    """

    rulebook: str
    commissioned: date | None
    editions: tuple[Edition, ...]
    why: WhyAsk


def choose_edition(
    editions: Iterable[Edition], commissioned: date | None
) -> Edition | AskEdition:
    """Choose the edition of the day on which the door was commissioned.

    Without a date there is nothing to ask where the shelf holds one edition only.

    Args:
        editions: the editions of one rulebook.
        commissioned: when the door was commissioned, if known.

    Returns:
        The edition, or what to ask.

    Raises:
        ValueError: no edition, or editions of different rulebooks.

    Source:
        A trade association's notice of January 2024 on EN 16005:2023: a door put
        in before national publication is judged by the edition of its day.
    """
    shelf = sorted(editions, key=lambda one: (one.valid_from or date.min, one.edition))
    names = {one.rulebook for one in shelf}
    if len(names) != 1:
        raise ValueError(f"editions of exactly one rulebook are needed, not {names}")
    covering = [one for one in shelf if _may_apply(one, commissioned)]
    if len(covering) == 1:
        return covering[0]
    why = _why(commissioned, found=bool(covering))
    return AskEdition(names.pop(), commissioned, tuple(covering or shelf), why)


def _may_apply(edition: Edition, commissioned: date | None) -> bool:
    return commissioned is None or edition.covers(commissioned)


def _why(commissioned: date | None, *, found: bool) -> WhyAsk:
    if commissioned is None:
        return WhyAsk.DATE_UNKNOWN
    return WhyAsk.TRANSITION if found else WhyAsk.OUTSIDE
