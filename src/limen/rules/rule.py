"""A rule: what is asked, of which limits, on whose authority."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Literal

from limen.quantity import Dimension, Grade, Quantity
from limen.rules.mistakes import RulebookError

CLAUSE_TO_BE_CONFIRMED = "tbc"

Says = Literal["holds", "fails", "not shown", "not asked"]
Compare = Literal["at least", "at most"]


class Weight(StrEnum):
    """How much hangs on a rule."""

    MUST = "must"
    SHOULD = "should"
    ADVICE = "advice"


@dataclass(frozen=True, slots=True)
class Authority:
    """Who says so.

    Attributes:
        rulebook: id of the rulebook.
        edition: edition of the rulebook.
        document: the document that holds the figure, with its own edition.
        clause: the clause in that document; "tbc" when it is to be confirmed.
        grade: how well the figure is known.
        note: what a reader should know about it.
        seen_in: where a figure of grade *seen* was read.
    """

    rulebook: str
    edition: str
    document: str
    clause: str
    grade: Grade
    note: str = ""
    seen_in: str = ""

    @property
    def clause_known(self) -> bool:
        """Whether the clause number may be printed."""
        return self.clause != CLAUSE_TO_BE_CONFIRMED


@dataclass(frozen=True, slots=True)
class Given:
    """A plain comparison of a case: this was found, against that limit."""

    limit: str
    found: Quantity
    compare: Compare


@dataclass(frozen=True, slots=True)
class RuleCase:
    """A case the rulebook carries to show on which side of a limit it lies.

    Exactly one of ``given`` and ``doorway`` is set.

    Attributes:
        title: the case in a few words.
        says: the verdict it must have.
        given: a comparison with one of the rule's limits.
        doorway: what differs from the reference doorway.
    """

    title: str
    says: Says
    given: Given | None = None
    doorway: Mapping[str, object] | None = None


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of a rulebook.

    Attributes:
        id: rulebook, edition, question and perhaps a variant, joined by points.
        question: the question that asks it, ``group.question``.
        asks: what it asks, one short sentence of our own.
        weight: how much hangs on it.
        stricter: whether it asks more than its document.
        limits: its figures by name; each carries grade and origin.
        authority: who says so.
        where: facts that must be so for the rule to apply; all of them, each
            one of the values listed.
        cases: at least one on each side of its limits.
        unset: limits that ship without a figure, with the reason.
        dimensions: the dimension of every limit that has a figure.
        sources: limits that rest on another document or grade than the rule.
        also: who else says so, though none of its figures is the one in force.
    """

    id: str
    question: str
    asks: str
    weight: Weight
    stricter: bool
    limits: Mapping[str, Quantity]
    authority: Authority
    where: Mapping[str, tuple[str | bool, ...]] = field(
        default_factory=dict[str, tuple[str | bool, ...]]
    )
    cases: tuple[RuleCase, ...] = ()
    unset: Mapping[str, str] = field(default_factory=dict[str, str])
    dimensions: Mapping[str, Dimension] = field(default_factory=dict[str, Dimension])
    sources: Mapping[str, Authority] = field(default_factory=dict[str, Authority])
    also: tuple[Authority, ...] = ()

    def has(self, name: str) -> bool:
        """Whether the limit has a figure."""
        return name in self.limits

    def limit(self, name: str) -> Quantity:
        """The figure of a limit.

        Args:
            name: name of the limit.

        Returns:
            The figure in SI units, with its grade and origin.

        Raises:
            RulebookError: the limit is unset or unknown.
        """
        if name in self.limits:
            return self.limits[name]
        why = self.unset.get(name)
        reason = f"ships without a figure: {why}" if why else "is no limit of this rule"
        raise RulebookError.of(self._book, self.id, f"limits.{name}", reason)

    def source(self, name: str) -> Authority:
        """Who says so for one limit: its own source, else the rule's."""
        return self.sources.get(name, self.authority)

    def authorities(self) -> tuple[Authority, ...]:
        """Everyone this rule rests on, the rule's own authority first."""
        every = (self.authority, *self.sources.values(), *self.also)
        return tuple(dict.fromkeys(every))

    @property
    def name(self) -> str:
        """Question and variant: its id without rulebook and edition."""
        return self.id[self.id.index(self.question) :]

    @property
    def _book(self) -> str:
        return f"{self.authority.rulebook} {self.authority.edition}"


@dataclass(frozen=True, slots=True)
class Excluded:
    """No rule applies, so the question is not asked.

    Attributes:
        question: the question.
        fact: the fact that excludes it; "rulebook" when no rule exists for it.
        said: what the fact is; None when no rule exists.
        said_by: who said so: "doorway", or the rulebook and edition.
    """

    question: str
    fact: str
    said: str | bool | None
    said_by: str


@dataclass(frozen=True, slots=True)
class Unsettled:
    """Whether a rule applies hangs on facts that nobody has stated.

    The question is then *not shown*, lacking these facts; it is never passed
    over in silence.

    Attributes:
        question: the question.
        facts: the facts that are missing, in the order of the rulebook.
    """

    question: str
    facts: tuple[str, ...]
