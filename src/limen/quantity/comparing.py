"""The one comparison of a value with a limit.

All of limen compares here, so that doubt, float noise and the grade of a number
are treated alike everywhere.
"""

from dataclasses import dataclass
from enum import StrEnum

from limen.quantity.grades import Grade, least
from limen.quantity.quantity import Quantity

TOUCH = 1e-9
"""Values closer than this share of their scale count as equal: far above float
noise, far below anything that can be measured at a door."""


class Outcome(StrEnum):
    """What a comparison shows."""

    HOLDS = "holds"
    FAILS = "fails"
    NOT_SHOWN = "not shown"


@dataclass(frozen=True, slots=True)
class Capped:
    """An outcome after the grades had their say.

    Attributes:
        outcome: What may be said.
        grade: The weakest grade it rests on.
        to_confirm: It rests on a figure to be confirmed.
        capped: The numbers say *holds*, the grade does not allow it.
    """

    outcome: Outcome
    grade: Grade
    to_confirm: bool
    capped: bool


@dataclass(frozen=True, slots=True)
class Comparison:
    """A value against a limit.

    Attributes:
        outcome: What may be said.
        margin: Room to spare, in the unit of both; negative: what is missing.
            Zero when the two touch.
        u: The uncertainty of the margin, the sum of both.
        grade: The weakest grade of both.
        to_confirm: It rests on a figure to be confirmed.
        capped: The numbers say *holds*, the grade does not allow it.
    """

    outcome: Outcome
    margin: float
    u: float
    grade: Grade
    to_confirm: bool
    capped: bool


def at_least(found: Quantity, limit: Quantity, *, scale: float = 0.0) -> Comparison:
    """Compare a value that must not be below its limit.

    *Holds* if every value the uncertainties allow holds, *fails* if none does,
    else *not shown*. A touch holds: with no uncertainty, found = limit holds;
    with some, margin = u holds and margin = -u is *not shown*.

    Args:
        found: The value, SI units.
        limit: The limit, same dimension.
        scale: The size of what was subtracted to get at the value, if it was: a
            gap of 0 between two walls at 10 m carries the noise of 10 m.
    """
    return _compare(found.value - limit.value, found, limit, scale)


def at_most(found: Quantity, limit: Quantity, *, scale: float = 0.0) -> Comparison:
    """Compare a value that must not be above its limit; see `at_least`."""
    return _compare(limit.value - found.value, found, limit, scale)


def cap(outcome: Outcome, *grades: Grade) -> Capped:
    """Let the grades cap an outcome that was found in another way.

    Args:
        outcome: What the numbers say.
        grades: The grades of everything it rests on, at least one.

    Raises:
        ValueError: No grade was given.
    """
    grade = least(*grades)
    capped = outcome is Outcome.HOLDS and not grade.may_hold
    said = Outcome.NOT_SHOWN if capped else outcome
    return Capped(said, grade, grade.to_confirm, capped)


def _compare(
    margin: float, found: Quantity, limit: Quantity, scale: float
) -> Comparison:
    u = found.u + limit.u
    touch = TOUCH * max(abs(found.value), abs(limit.value), u, scale)
    capped = cap(_outcome(margin, u, touch), found.grade, limit.grade)
    return Comparison(
        capped.outcome,
        0.0 if abs(margin) <= touch else margin,
        u,
        capped.grade,
        capped.to_confirm,
        capped.capped,
    )


def _outcome(margin: float, u: float, touch: float) -> Outcome:
    if margin - u >= -touch:
        return Outcome.HOLDS
    if margin + u < -touch:
        return Outcome.FAILS
    return Outcome.NOT_SHOWN
