"""Call-outs drawn from the tables themselves, some of whose answers nobody can give."""

import numpy as np

from limen.keep.causes import UNKNOWN, Causes
from limen.keep.tracing import SYMPTOM, Door, trace

CANNOT_TELL = 0.1
"""Share of answers that nobody can give: a guess."""


def call_out(
    causes: Causes, rng: np.random.Generator
) -> tuple[Door, str, dict[str, str]]:
    """A door, what is the matter with it, and what whoever stands there would say."""
    has = {"presence", "motion"}
    has |= {one for one in ("lock", "battery", "neighbour") if rng.random() < 0.4}
    place = rng.choice(["outdoors", "lobby", "indoors"])
    door = Door(frozenset(has), frozenset({f"place={place}"}))
    start = {one.cause: one.p for one in trace(causes, door, {}).ranked}
    cause = str(rng.choice(list(start), p=list(start.values())))
    at = _picture(causes, cause, rng)
    return door, cause, {q: _answer(causes, q, at, rng) for q in causes.by_id}


def _picture(causes: Causes, cause: str, rng: np.random.Generator) -> int:
    """One of its pictures: all its answers are of that one."""
    own = causes.shows[[one.id for one in causes.causes].index(cause)]
    shares = own * [one.share for one in causes.pictures]
    return int(rng.choice(len(shares), p=shares / shares.sum()))


def _answer(causes: Causes, question: str, at: int, rng: np.random.Generator) -> str:
    if question != SYMPTOM and rng.random() < CANNOT_TELL:
        return UNKNOWN
    answers = list(causes.by_id[question].usual)
    return answers[rng.choice(len(answers), p=causes.likelihoods[question][at])]
