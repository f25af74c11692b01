"""What a phone needs to look for a cause by itself: tables, a doorway weighed in.

The card's script reckons as `limen.keep.tracing` does (web/src/card/tracing.ts); both
are held to the same vectors.
"""

from collections.abc import Mapping
from math import prod
from typing import NotRequired, TypedDict

from limen.keep.causes import SLIP, Causes
from limen.keep.tracing import Door, fits

DIGITS = 12
"""Of a weight, as it is carried."""


class CarriedQuestion(TypedDict):
    """A question that fits the doorway; `usual` by answer, in parts of a hundred."""

    id: str
    minutes: float
    usual: dict[str, float]
    ladder: NotRequired[bool]
    barrier: NotRequired[bool]
    first: NotRequired[int]


class CarriedPicture(TypedDict):
    """One of the ways in which a cause shows itself, its share of a hundred."""

    share: float
    says: dict[str, dict[str, float]]


class CarriedCause(TypedDict):
    """A cause that fits the doorway.

    ``weight`` has every fact of the doorway in it but those that a question asks for;
    these stand under ``told`` and count while that question is not answered.
    """

    id: str
    weight: float
    told: NotRequired[dict[str, float]]
    says: dict[str, dict[str, float]]
    pictures: NotRequired[list[CarriedPicture]]


class Carried(TypedDict):
    """All of it, in the order of the tables."""

    ladder: float
    known: float
    enough: float
    glance: float
    upset: float
    slip: float
    questions: list[CarriedQuestion]
    causes: list[CarriedCause]


def carried(causes: Causes, door: Door) -> Carried:
    """What is carried along for one doorway.

    Args:
        causes: what is known beforehand.
        door: the doorway.
    """
    asked = {one.id for one in causes.asked}
    before, told = _parted(door, asked)
    made: list[CarriedCause] = []
    for one in (each for each in causes.causes if fits(each.needs, door)):
        weight = one.odds * prod(one.raised.get(fact, 1.0) for fact in before)
        row = CarriedCause(id=one.id, weight=_short(weight), says=_said(one.says))
        factors = {
            question: _short(prod(one.raised.get(fact, 1.0) for fact in facts))
            for question, facts in told.items()
        }
        if any(factor != 1.0 for factor in factors.values()):
            row["told"] = factors
        if one.pictures:
            row["pictures"] = [
                CarriedPicture(share=each.share, says=_said(each.says))
                for each in one.pictures
            ]
        made.append(row)
    return Carried(
        ladder=causes.ladder,
        known=causes.known,
        enough=causes.enough,
        glance=causes.glance,
        upset=causes.upset,
        slip=SLIP,
        questions=_questions(causes, door),
        causes=made,
    )


def _parted(door: Door, asked: set[str]) -> tuple[list[str], dict[str, list[str]]]:
    """Facts that count always, and by question those it asks for."""
    before: list[str] = []
    told: dict[str, list[str]] = {}
    for fact in sorted(door.facts):
        name = fact.partition("=")[0]
        (told.setdefault(name, []) if name in asked else before).append(fact)
    return before, told


def _questions(causes: Causes, door: Door) -> list[CarriedQuestion]:
    made: list[CarriedQuestion] = []
    for one in causes.asked:
        if not fits(one.needs, door):
            continue
        row = CarriedQuestion(id=one.id, minutes=one.minutes, usual=dict(one.usual))
        if one.ladder:
            row["ladder"] = True
        if one.barrier:
            row["barrier"] = True
        if one.first is not None:
            row["first"] = one.first
        made.append(row)
    return made


def _said(says: Mapping[str, Mapping[str, float]]) -> dict[str, dict[str, float]]:
    return {question: dict(row) for question, row in says.items()}


def _short(weight: float) -> float:
    return float(f"{weight:.{DIGITS}g}")
