"""From answers to causes, and to the question that tells most a minute."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import prod

import numpy as np
from numpy.typing import NDArray

from limen.keep.causes import NEITHER, UNKNOWN, Asking, Cause, Causes

STRUCK = "struck"
"""The answer after which nothing is asked or touched any more."""
SYMPTOM = "does"
MUTE = frozenset({UNKNOWN, NEITHER})
"""Answers that tell nothing of the cause."""
NOTHING = 1e-300
ALIKE = 1e-12
"""Figures closer than this are alike: what stands first in the tables comes first."""
ONCE, HARDLY = 0.01, 0.01
"""A cause is ruled out that was at least so likely at first, and is less likely now."""
SAID_BY: Mapping[str, tuple[str, ...]] = {
    "self_view": ("presence.self_view",),
    "covered": ("presence.leaf_path", "presence.threshold"),
    "neighbours": ("presence.neighbours",),
    "hold_time": ("presence.hold_time",),
    "supply": ("wiring.supply", "wiring.voltage"),
    "wiring": ("wiring.inputs",),
    "exposure": ("mounting.exposure",),
    "in_time": ("approach.opens_in_time",),
    "slow_walker": ("approach.slow_walker",),
    "passers": ("approach.passers_by",),
    "gaps": ("leaf.gaps",),
    "obstacles": ("site.obstacles",),
}
"""Facts that turn odds, and the questions whose worst answer each of them is; the first
of them gives it its name."""


@dataclass(frozen=True, slots=True)
class Door:
    """What is known of a doorway before anything is asked.

    Attributes:
        has: of "presence", "motion", "lock", "battery", "neighbour".
        facts: as "self_view=fails" or "place=outdoors".
    """

    has: frozenset[str]
    facts: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Ranked:
    """A cause and how likely it is."""

    cause: str
    p: float


@dataclass(frozen=True, slots=True)
class Next:
    """What to ask next.

    Attributes:
        question: its key.
        minutes: what it takes now, a ladder's among them.
        parts: the two causes that it tells apart best, the likelier first.
        first: whether it is asked before all others, whatever it tells.
    """

    question: str
    minutes: float
    parts: tuple[str, str]
    first: bool


@dataclass(frozen=True, slots=True)
class Traced:
    """What the answers come to.

    Attributes:
        ranked: every cause that may be, the likeliest first; sums to one.
        next: what to ask next; nothing once it is found or not worth more time.
        asked: the questions that were answered, in their order.
        found: the cause, where one is likely enough to act on and no cheap look is left
            that may well speak against it.
        struck: a person was struck: no cause is looked for.
    """

    ranked: tuple[Ranked, ...]
    next: Next | None
    asked: tuple[str, ...]
    found: str | None
    struck: bool = False


def trace(causes: Causes, door: Door, answers: Mapping[str, str]) -> Traced:
    """The causes by what was answered, and the question that tells most a minute.

    One cause is at work, or none of those that are known.  Its odds are turned by the
    facts of the doorway and by the answers, each taken as free of the others but for
    the pictures in which a cause shows itself: these are weighed one by one, and count
    as that cause together.  Before a cause is named, cheap looks are taken that may
    well speak against it.

    Args:
        causes: what is known beforehand.
        door: the doorway.
        answers: by question; "unknown" and "neither" are answers and tell nothing.

    Returns:
        The causes ranked and what is next.  Where somebody was struck, neither.

    Raises:
        ValueError: a question or an answer that there is not.
    """
    _checked(causes, answers)
    asked = tuple(answers)
    if answers.get(SYMPTOM) == STRUCK:
        return Traced((), None, asked, None, struck=True)
    pictured = _pictured(causes, door, answers)
    pairs = zip(causes.causes, (causes.shows @ pictured).tolist(), strict=True)
    every = [Ranked(cause.id, p) for cause, p in pairs if p > 0]
    ranked = tuple(sorted(every, key=lambda one: -round(one.p / ALIKE)))
    following = _next(causes, door, answers, pictured)
    if ranked[0].p < causes.known:
        return Traced(ranked, following, asked, None)
    look = _look(causes, door, answers, pictured)
    found = ranked[0].cause if look is None else None
    if following is None or not following.first:
        following = look
    return Traced(ranked, following, asked, found)


def leading(causes: Causes, traced: Traced) -> tuple[str, ...]:
    """The causes that together are as likely as one has to be to be acted on.

    Args:
        causes: what is known beforehand.
        traced: what answers come to.

    Returns:
        The fewest, the likeliest first; one where it is found.
    """
    taken: list[str] = []
    sure = 0.0
    for one in traced.ranked:
        if sure >= causes.known:
            break
        taken.append(one.cause)
        sure += one.p
    return tuple(taken)


def ruled_out(
    causes: Causes, door: Door, answers: Mapping[str, str]
) -> tuple[tuple[str, str], ...]:
    """Causes that were likely before anything was answered and hardly are now.

    Args:
        causes: what is known beforehand.
        door: the doorway.
        answers: by question.

    Returns:
        Each with the question whose answer speaks most against it, what was likeliest
        at first before the others.
    """
    pictured = _pictured(causes, door, answers)
    before, now = causes.shows @ _pictured(causes, door, {}), causes.shows @ pictured
    told = [one for one, answer in answers.items() if answer not in MUTE]
    out = (before >= ONCE) & (now < HARDLY) if told else np.zeros(len(now), dtype=bool)
    places = sorted(np.flatnonzero(out).tolist(), key=lambda at: -before[at])
    return tuple(
        (causes.causes[at].id, _against(causes, at, told, answers, pictured))
        for at in places
    )


def _against(
    causes: Causes,
    at: int,
    told: Iterable[str],
    answers: Mapping[str, str],
    pictured: NDArray[np.float64],
) -> str:
    """The question whose answer is rarest with a cause, against the others."""
    own = causes.shows[at] * [one.share for one in causes.pictures]

    def spoken(question: str) -> float:
        column = [*causes.by_id[question].usual].index(answers[question])
        shares = causes.likelihoods[question][:, column]
        return float((own @ shares) / (pictured @ shares))

    return min(told, key=spoken)


def _checked(causes: Causes, answers: Mapping[str, str]) -> None:
    for question, answer in answers.items():
        asking = causes.by_id.get(question)
        if asking is None:
            raise ValueError(question)
        if answer in MUTE or answer in asking.usual:
            continue
        if (question, answer) != (SYMPTOM, STRUCK):
            raise ValueError(f"{question} = {answer}")


def _pictured(
    causes: Causes, door: Door, answers: Mapping[str, str]
) -> NDArray[np.float64]:
    """How likely every picture is, in the order of the causes."""
    facts = [f for f in door.facts if f.partition("=")[0] not in _told(answers)]
    odds = [max(_odds(one, facts), NOTHING) for one in causes.causes]
    logs = np.log(odds @ causes.shows) + np.log([one.share for one in causes.pictures])
    for question, answer in answers.items():
        if answer in MUTE:
            continue
        column = [*causes.by_id[question].usual].index(answer)
        logs += np.log(causes.likelihoods[question][:, column])
    chances = np.exp(logs - logs.max())
    chances *= [fits(one.needs, door) for one in causes.causes] @ causes.shows
    return chances / chances.sum()


def _told(answers: Mapping[str, str]) -> set[str]:
    """What a person answered is not counted once more from the records."""
    return {question for question, answer in answers.items() if answer not in MUTE}


def _odds(cause: Cause, facts: Iterable[str]) -> float:
    return cause.odds * prod(cause.raised.get(fact, 1.0) for fact in facts)


def fits(needs: str | None, door: Door) -> bool:
    """Whether a doorway has what a question or a cause needs."""
    return needs is None or needs in door.has


def _next(
    causes: Causes,
    door: Door,
    answers: Mapping[str, str],
    pictured: NDArray[np.float64],
) -> Next | None:
    open_ones = _open(causes, door, answers)
    leading = [one for one in open_ones if one.first is not None]
    if leading:
        first = min(leading, key=lambda one: one.first or 0)
        return _as_next(causes, first, answers, pictured, first=True)
    told = [
        _bits(causes, one, pictured) / _minutes(causes, one, answers)
        for one in open_ones
    ]
    asking = _best(open_ones, told, causes.enough)
    return asking and _as_next(causes, asking, answers, pictured, first=False)


def _look(
    causes: Causes,
    door: Door,
    answers: Mapping[str, str],
    pictured: NDArray[np.float64],
) -> Next | None:
    """The cheap look that is likeliest to speak against the likeliest cause."""
    cheap = [
        one
        for one in _open(causes, door, answers)
        if one.minutes <= causes.glance and not one.ladder and not one.barrier
    ]
    upset = [_upset(causes, one, pictured) for one in cheap]
    asking = _best(cheap, upset, causes.upset - ALIKE)
    return asking and _as_next(causes, asking, answers, pictured, first=False)


def _best(
    ones: Sequence[Asking], figures: Sequence[float], least: float
) -> Asking | None:
    """The first of those with about the largest figure; None if that is too small."""
    best = max(figures, default=0.0)
    if best < least:
        return None
    pairs = zip(ones, figures, strict=True)
    return next(one for one, figure in pairs if figure >= best - ALIKE)


def _upset(causes: Causes, asking: Asking, pictured: NDArray[np.float64]) -> float:
    """How likely an answer is after which the likeliest cause is not found any more."""
    joint = _joint(causes, asking, pictured)
    at, seen = int(joint.sum(axis=1).argmax()), joint.sum(axis=0)
    return float(seen[joint[at] < (causes.known - ALIKE) * seen].sum())


def _open(causes: Causes, door: Door, answers: Mapping[str, str]) -> list[Asking]:
    """Questions that fit the doorway and are not answered."""
    return [
        one for one in causes.asked if one.id not in answers and fits(one.needs, door)
    ]


def _as_next(
    causes: Causes,
    asking: Asking,
    answers: Mapping[str, str],
    pictured: NDArray[np.float64],
    *,
    first: bool,
) -> Next:
    minutes = _minutes(causes, asking, answers)
    return Next(asking.id, minutes, _parted(causes, asking, pictured), first)


def _minutes(causes: Causes, asking: Asking, answers: Mapping[str, str]) -> float:
    """What an answer takes, a ladder counted once."""
    up = any(causes.by_id[one].ladder for one in answers)
    return asking.minutes + (causes.ladder if asking.ladder and not up else 0.0)


def _bits(causes: Causes, asking: Asking, pictured: NDArray[np.float64]) -> float:
    """The doubt about the cause that an answer is expected to take away."""
    joint = _joint(causes, asking, pictured)
    seen, chances = joint.sum(axis=0), joint.sum(axis=1)
    return float(_doubt(chances) + _doubt(seen) - _doubt(joint))


def _joint(
    causes: Causes, asking: Asking, pictured: NDArray[np.float64]
) -> NDArray[np.float64]:
    """How likely each cause is together with each answer, (causes, answers)."""
    return causes.shows @ (pictured[:, None] * causes.likelihoods[asking.id])


def _doubt(chances: NDArray[np.float64]) -> float:
    """Shannon's entropy (bit)."""
    some = chances[chances > 0]
    return float(-(some * np.log2(some)).sum())


def _parted(
    causes: Causes, asking: Asking, pictured: NDArray[np.float64]
) -> tuple[str, str]:
    """The two causes it tells apart best, weighed by how likely both are."""
    joint = _joint(causes, asking, pictured)
    chances = joint.sum(axis=1)
    rows = np.sqrt(joint / np.where(chances > 0, chances, 1.0)[:, None])
    apart = (1.0 - rows @ rows.T) * np.outer(chances, chances)
    best = np.flatnonzero(apart.ravel() >= apart.max() - ALIKE)[0]
    one, other = np.unravel_index(int(best), apart.shape)
    if chances[other] > chances[one] + ALIKE:
        one, other = other, one
    return causes.causes[int(one)].id, causes.causes[int(other)].id
