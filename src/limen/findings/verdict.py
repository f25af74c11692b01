"""The four verdicts."""

from enum import StrEnum
from typing import assert_never

from limen.quantity import Outcome


class Verdict(StrEnum):
    """What a finding says.  Doubt has its own verdict and is never rounded up."""

    HOLDS = "holds"
    FAILS = "fails"
    NOT_SHOWN = "not shown"
    NOT_ASKED = "not asked"

    @property
    def key(self) -> str:
        """The verdict as part of a key in the catalogue."""
        return self.value.replace(" ", "_")


def verdict_of(outcome: Outcome) -> Verdict:
    """The verdict of a comparison's outcome."""
    match outcome:
        case Outcome.HOLDS:
            return Verdict.HOLDS
        case Outcome.FAILS:
            return Verdict.FAILS
        case Outcome.NOT_SHOWN:
            return Verdict.NOT_SHOWN
        case _:
            assert_never(outcome)
