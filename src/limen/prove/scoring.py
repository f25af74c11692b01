"""Which test tells most a minute about whether there is a place nobody is seen at.

The same arithmetic stands in the job card's own script (web/src/card/scoring.ts);
both are held to the same vectors.  Nothing of it is ever printed: it brings tests into
an order.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from limen.geometry.turns import Array

Flags = NDArray[np.bool_]
Tool = Literal["body", "carton", "leg"]
Reason = Literal["least room", "shows most", "how far", "spread"]


@dataclass(frozen=True, slots=True)
class Trust:
    """How far an answer can be trusted, by what stands for the body.

    Attributes:
        reached: how often the door stays open for a body that is reached.
        missed: how often it does for one that is missed.
    """

    reached: float
    missed: float


SURE: Mapping[Tool, Trust] = {
    "body": Trust(0.96, 0.04),
    "carton": Trust(0.93, 0.08),
    "leg": Trust(0.95, 0.20),
}
"""Estimates: a box is put down a little off, a tap goes wrong; a leg is higher, warmer
and never still, and seen where a box is not."""
LEAST = 1e-12
"""Scores closer than this are alike (bit a minute)."""
DOUBTFUL = 2e-3
"""A place is in doubt where the body is missed at least this often."""
CLEARED = 0.25
"""It is left in doubt until it is missed this much less often than at first."""


def scores(
    weights: Array, hole: Flags, reached: Flags, minutes: Array, trust: Trust
) -> Array:
    """What each test is expected to tell of a hole, a minute.

    Args:
        weights: (n,) how likely each way is; they add up to 1.
        hole: (n,) whether some place is missed in it.
        reached: (tests, n) whether the body is reached in it where the test puts it.
        minutes: (tests,) what each test takes.
        trust: how far the answer can be trusted.

    Returns:
        (tests,) expected loss of entropy about `hole` (bit) a minute, never below 0.

    Source:
        Expected information of an experiment: Lindley, On a measure of the information
        provided by an experiment, Ann. Math. Statist. 27 (1956) 986-1005 (from memory).
    """
    good = np.where(reached, trust.reached, trust.missed)
    with_hole = good @ (weights * hole)
    any_way = good @ weights
    share = float(weights @ hole)
    before = _entropy(np.array([share]))[0]
    after = any_way * _entropy(_part(with_hole, any_way))
    other = 1.0 - any_way
    after += other * _entropy(_part(share - with_hole, other))
    return np.maximum(0.0, before - after) / minutes


def reweighed(weights: Array, reached: Flags, trust: Trust, *, good: bool) -> Array:
    """How likely each way is once a test was answered.

    Args:
        weights: (n,) before it.
        reached: (n,) whether the body is reached in each way where it was put.
        trust: how far the answer can be trusted.
        good: whether the unit answered: the door stayed open, opened again, or at
            least the lamp came on.
    """
    said = np.where(reached, trust.reached, trust.missed)
    likely = weights * (said if good else 1.0 - said)
    return likely / likely.sum()


@dataclass(frozen=True, slots=True)
class Answer:
    """An answer to a test of the body at a place.

    Attributes:
        test: its number.
        good: whether the unit answered.
        tool: what stood for the body.
    """

    test: int
    good: bool
    tool: Tool = "body"


@dataclass(frozen=True, slots=True)
class Suggestion:
    """The test to do next, and why.

    Attributes:
        test: its number; None if none is left.
        why: it has the least room; it shows most of what is left; a body was missed
            and this tells how far that goes; nothing tells more than another, and it
            lies apart from those that were done.
        left: how many places are still in doubt.
        of: how many were at first.
    """

    test: int | None
    why: Reason
    left: int
    of: int


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of a doorway's tests before anything was answered.

    Attributes:
        weights, hole: (n,) as in `scores`.
        reached: (tests, n) as in `scores`.
        minutes: (tests,) what each takes.
        room: (tests,) room as planned (m); minus infinity where nobody knows.
    """

    weights: Array
    hole: Flags
    reached: Flags
    minutes: Array
    room: Array


def weighed(known: Known, answers: Sequence[Answer]) -> Array:
    """(n,) how likely each way is after some answers."""
    weights = known.weights
    for answer in answers:
        reached, trust = known.reached[answer.test], SURE[answer.tool]
        weights = reweighed(weights, reached, trust, good=answer.good)
    return weights


def suggested(
    known: Known,
    answers: Sequence[Answer],
    may: Sequence[int],
    tool: Tool = "body",
) -> Suggestion:
    """The test that tells most a minute, of those that may be done next.

    Args:
        known: what is known of the tests.
        answers: those given so far.
        may: numbers of the tests that may be done.
        tool: what stands for the body.
    """
    weights = weighed(known, answers)
    done = {answer.test for answer in answers}
    at_first, now = ~known.reached @ known.weights, ~known.reached @ weights
    doubted = at_first >= DOUBTFUL
    tested = np.isin(np.arange(len(doubted)), list(done))
    left = int((doubted & ~tested & (now >= CLEARED * at_first)).sum())
    of = int(doubted.sum())
    open_ones = [number for number in may if number not in done]
    if not open_ones:
        return Suggestion(None, "spread", left, of)
    told = scores(weights, known.hole, known.reached, known.minutes, SURE[tool])
    best = _best(told, known.room, open_ones)
    return Suggestion(best, _why(told, known.room, open_ones, best, answers), left, of)


def _best(told: Array, room: Array, open_ones: Sequence[int]) -> int:
    """The most telling; of those alike the one with least room.

    Where none tells anything, the first: places come in an order that is spread.
    """
    most = max(told[number] for number in open_ones)
    if most <= LEAST:
        return open_ones[0]
    alike = [number for number in open_ones if told[number] >= most - LEAST]
    return min(alike, key=lambda number: float(room[number]))


def _why(
    told: Array,
    room: Array,
    open_ones: Sequence[int],
    best: int,
    answers: Sequence[Answer],
) -> Reason:
    if any(not answer.good for answer in answers):
        return "how far"
    least = min(room[number] for number in open_ones)
    if np.isfinite(room[best]) and room[best] <= least:
        return "least room"
    return "shows most" if told[best] > LEAST else "spread"


def _part(part: Array, whole: Array) -> Array:
    """A share, 0 where there is nothing to share."""
    some = whole > 0.0
    return np.clip(np.where(some, part / np.where(some, whole, 1.0), 0.0), 0.0, 1.0)


def _entropy(share: Array) -> Array:
    """Of a yes or no (bit)."""
    inner = (share > 0.0) & (share < 1.0)
    p = np.where(inner, share, 0.5)
    found = -p * np.log2(p) - (1.0 - p) * np.log2(1.0 - p)
    return np.where(inner, found, 0.0)
