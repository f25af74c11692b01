"""Whether a door opens in time with settings that are only tried: the verdict alone.

The question itself looks besides for speeds that are served and for what would mend
it; of settings that are dropped again nobody wants to know.
"""

from dataclasses import dataclass
from math import isfinite

from limen.findings import Finding, Margin, Message, Verdict
from limen.model.people import Side
from limen.physics.in_time import late_share
from limen.physics.in_time_worst import Sweep, Worst
from limen.quantity import Dimension, Outcome
from limen.questions.approach_field import passed_by
from limen.questions.asking import Asked, graded
from limen.questions.clear_width import REDUCED
from limen.questions.in_time_given import Given, given, groups_of, maybe
from limen.questions.in_time_told import late_walk

LINES = 16
"""Headings looked at for the share of a group, as in its finding."""
TRIED = Message("tune.only_tried")


@dataclass(frozen=True, slots=True)
class Timed:
    """One side of a doorway.

    Attributes:
        findings: question, case, verdict and margin as the study has them.
        late: share of people for whom it opens late, at its greater end; None if
            that is not known.
    """

    findings: tuple[Finding, ...] = ()
    late: float | None = None


def in_time(asked: Asked, side: Side) -> Timed:
    """How one side of a doorway stands, as `approach.opens_in_time` has it.

    Args:
        asked: the question, of a doorway with a motion sense on that side.
        side: the side.
    """
    if passed_by(asked.doorway, side):
        return Timed()
    wide = given(asked, side, None)
    found = [_finding(asked, wide, side)]
    reduced = asked.doorway.reduced_width
    if reduced is not None:
        like = wide if isinstance(wide, Given) else None
        narrow = given(asked, side, reduced.low, like)
        found.append(_finding(asked, narrow, f"{side}, {REDUCED}"))
    late = share_late(asked, wide) if isinstance(wide, Given) else None
    return Timed(tuple(found), late)


def share_late(asked: Asked, one: Given) -> float | None:
    """Share of the group that fares worst for whom it opens late; None if unknown."""
    groups = groups_of(asked)
    try:
        shares = [late_share(one.surely, group, LINES) for _, group in groups]
    except ValueError:
        return None
    return max(shares, default=None)


def _finding(asked: Asked, one: object, case: str) -> Finding:
    if not isinstance(one, Given):
        return asked.answer(Verdict.NOT_SHOWN, TRIED, case=case)
    fast = one.fastest.high
    found = Sweep(one.surely).worst(fast, fast)
    verdict = _verdict(asked, one, found)
    margin = None if found.walk is None else _margin(found)
    return asked.answer(verdict, TRIED, case=case, margin=margin)


def _verdict(asked: Asked, one: Given, found: Worst) -> Verdict:
    if found.walk is None:
        return Verdict.NOT_SHOWN
    if found.high <= 0.0:
        return graded(Outcome.HOLDS, one.taken.grades, one.taken.weak).verdict
    better = maybe(asked, one)
    late = late_walk(one, better) if better is not None else None
    return Verdict.NOT_SHOWN if late is None else Verdict.FAILS


def _margin(found: Worst) -> Margin | None:
    if not isfinite(found.low) or not isfinite(found.high):
        return None
    middle, half = (found.low + found.high) / 2, (found.high - found.low) / 2
    return Margin(-middle, half, Dimension.TIME)
