"""What is known of causes before a door is looked at: odds, and how each answers."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

UNKNOWN = "unknown"
"""The answer of whoever cannot tell; it changes nothing."""
NEITHER = "neither"
"""The answer that is none of those offered; kept, and it changes nothing either."""
NONE = "none_of_these"
"""The cause that is none of the others: it answers as usual."""
SLIP = 0.08
"""Share of answers that are mistaken (an estimate, grade C: no source)."""


@dataclass(frozen=True, slots=True)
class Asking:
    """One question about a door that misbehaves.

    Attributes:
        id: its key; the words for it stand in the catalogues.
        minutes: what an answer takes.
        usual: its answers, with their shares where the cause has no part in it.
        ladder: whether it is answered from one.
        barrier: whether the opening has to be barriered first.
        needs: what the doorway must have for it to be asked.
        first: its place among those that are asked before all others.
    """

    id: str
    minutes: float
    usual: Mapping[str, float]
    ladder: bool = False
    barrier: bool = False
    needs: str | None = None
    first: int | None = None


@dataclass(frozen=True, slots=True)
class Picture:
    """One of the ways in which a cause shows itself: answers belong together in it.

    Attributes:
        share: how often, against the other pictures of the cause.
        says: shares of the answers by question, before those of the cause.
    """

    share: float
    says: Mapping[str, Mapping[str, float]]


@dataclass(frozen=True, slots=True)
class Cause:
    """One cause, of sensor, wire, drive, building or people.

    Attributes:
        id: its key.
        odds: how often, against the others.
        owed: the group of tests that are owed once it is mended.
        raised: by what factor a fact of the doorway ("place=outdoors") turns the odds.
        says: shares of the answers by question; other questions are answered as usual.
        needs: what the doorway must have.
        pictures: the ways in which it shows itself, where it has more than one.
    """

    id: str
    odds: float
    owed: str
    raised: Mapping[str, float]
    says: Mapping[str, Mapping[str, float]]
    needs: str | None = None
    pictures: tuple[Picture, ...] = ()


@dataclass(frozen=True)
class Causes:
    """All causes and questions, and what an answer costs.

    Attributes:
        asked: the questions.
        causes: the causes, the unnamed one among them.
        ladder: minutes to be up on one, paid once (min).
        known: probability at which a cause counts as found.
        enough: bits a minute below which a question is not worth its time.
        glance: minutes of a look that is cheap, without ladder and barrier (min).
        upset: how likely a cheap look has to be to speak so much against a cause that
            it no longer counts as found, for it to be taken before that is named.
    """

    asked: tuple[Asking, ...]
    causes: tuple[Cause, ...]
    ladder: float
    known: float
    enough: float
    glance: float
    upset: float

    @cached_property
    def by_id(self) -> Mapping[str, Asking]:
        """The questions by their keys."""
        return {one.id: one for one in self.asked}

    @cached_property
    def pictures(self) -> tuple[Picture, ...]:
        """Of every cause in its order its pictures, with all that each says."""
        return tuple(each for one in self.causes for each in _pictures(one))

    @cached_property
    def shows(self) -> NDArray[np.float64]:
        """Which picture is of which cause: one or nought, (causes, pictures)."""
        many = [max(len(one.pictures), 1) for one in self.causes]
        return np.repeat(np.eye(len(many)), many, axis=1)

    @cached_property
    def likelihoods(self) -> Mapping[str, NDArray[np.float64]]:
        """Of each question the probability of its answers, (pictures, answers)."""
        return {one.id: self._rows(one) for one in self.asked}

    def _rows(self, asking: Asking) -> NDArray[np.float64]:
        usual = _row(asking.usual, asking.usual)
        rows = [_row(one.says.get(asking.id), asking.usual) for one in self.pictures]
        return (1 - SLIP) * np.stack(rows) + SLIP * usual


def _pictures(cause: Cause) -> tuple[Picture, ...]:
    """The shares of the pictures of a cause come to one."""
    every = cause.pictures or (Picture(1.0, {}),)
    whole = sum(one.share for one in every)
    return tuple(
        Picture(one.share / whole, {**cause.says, **one.says}) for one in every
    )


def _row(
    shares: Mapping[str, float] | None, usual: Mapping[str, float]
) -> NDArray[np.float64]:
    given = usual if shares is None else shares
    row = np.array([given.get(answer, 0.0) for answer in usual])
    return row / row.sum()
