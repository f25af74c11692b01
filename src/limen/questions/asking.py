"""What a question is given, and how it words its answer."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from limen.findings import (
    Finding,
    Lack,
    Margin,
    Message,
    Verdict,
)
from limen.findings.verdict import verdict_of
from limen.model.doorway import Doorway, Facing
from limen.quantity import (
    Capped,
    Comparison,
    Dimension,
    Grade,
    Outcome,
    Quantity,
    cap,
)
from limen.questions.settled import Settled
from limen.rules.rule import Rule


@dataclass(frozen=True, slots=True)
class Met:
    """A doorway that this one faces, settled; None if it is not at hand."""

    facing: Facing
    settled: Settled | None


@dataclass(frozen=True, slots=True)
class Asked:
    """One question put to one doorway: the doorway, its figures and the rule.

    Attributes:
        doorway: as described.
        settled: its units with every figure stated or assumed.
        rule: the rule that asks.
        met: the doorways that it faces.
        on: the day for which it is asked; None if no day was named.
        around: the doorways of the site, this one as it is asked about among them;
            empty if no site is at hand.
    """

    doorway: Doorway
    settled: Settled
    rule: Rule
    met: tuple[Met, ...] = ()
    on: date | None = None
    around: tuple[Doorway, ...] = ()

    def answer(self, verdict: Verdict, because: Message, **more: object) -> Finding:
        """A finding on the rule's authority."""
        fields: dict[str, object] = {
            "question": self.rule.question,
            "weight": self.rule.weight,
            "stricter": self.rule.stricter,
            "authority": self.rule.authorities(),
        }
        return Finding(verdict=verdict, because=because, **(fields | more))  # pyright: ignore[reportArgumentType]  # checked by the dataclass's own fields

    def limits_graded(self, *names: str) -> tuple[Grade, ...]:
        """Grades of the rule's limits by name, with the rule's own."""
        own = self.rule.authority.grade
        return (own, *(self.rule.limit(name).grade for name in names))

    def weak_limits(self, *names: str) -> tuple[Lack, ...]:
        """Limits by name whose grade lets nothing hold; the own copy settles them."""
        given = ((name, self.rule.limit(name)) for name in names if self.rule.has(name))
        return once(
            Lack(
                Message(
                    "lack.grade_limit",
                    {"what": said_limit(name), "grade": figure.grade.value},
                ),
                self.figure(name),
            )
            for name, figure in given
            if not figure.grade.may_hold
        )

    def figure(self, name: str) -> str:
        """What a limit is called as the key that settles it: in the values file."""
        return f"values: {self.rule.id} {name}"

    def weak(
        self, figure: tuple[str, Quantity], *limits: str
    ) -> str | tuple[Lack, ...]:
        """What a comparison lacks if it shows nothing: weak figures, else the key.

        Args:
            figure: what is compared, with its key.
            limits: names of what it is compared with.
        """
        lacks = (*too_weak((figure,)), *self.weak_limits(*limits))
        return lacks or figure[0]


WORST_FIRST = (Outcome.FAILS, Outcome.NOT_SHOWN, Outcome.HOLDS)


def standing(comparison: Comparison) -> tuple[int, float]:
    """How well a figure is kept, to sort by: worst first, then nearest."""
    room = comparison.margin - comparison.u
    return WORST_FIRST.index(comparison.outcome), room


@dataclass(frozen=True, slots=True)
class Verdictful:
    """A verdict after the grades had their say, with what it lacks.

    Attributes:
        verdict: what may be said.
        to_confirm: it holds on a figure to be confirmed.
        lacking: what would settle it, where a grade stands in the way.
    """

    verdict: Verdict
    to_confirm: bool = False
    lacking: tuple[Lack, ...] = field(default_factory=tuple[Lack, ...])


def once(lacks: Iterable[Lack]) -> tuple[Lack, ...]:
    """What is missing, each key once."""
    return tuple({one.key: one for one in lacks}.values())


def too_weak(figures: Iterable[tuple[str, Quantity | None]]) -> tuple[Lack, ...]:
    """What lets nothing hold: figures of a weak grade, by the key that settles them.

    Args:
        figures: key of the file and figure, None where it is not stated.
    """
    return once(
        Lack(Message("lack.grade", {"grade": figure.grade.value}), key)
        for key, figure in figures
        if figure is not None and not figure.grade.may_hold
    )


def graded(
    outcome: Outcome, grades: Iterable[Grade], weak: str | tuple[Lack, ...]
) -> Verdictful:
    """Cap an outcome by the grades it rests on.

    Args:
        outcome: what the figures say.
        grades: of everything it rests on.
        weak: what would settle it where a grade stands in the way: a key, or what
            `too_weak` found.
    """
    return compared(cap(outcome, *grades), weak)


def compared(capped: Capped | Comparison, weak: str | tuple[Lack, ...]) -> Verdictful:
    """The verdict of a comparison, or of what the grades left of an outcome.

    A comparison whose ± reaches over the limit lacks a closer measurement of the
    figure at ``weak``.
    """
    verdict = verdict_of(capped.outcome)
    if capped.capped:
        named = Lack(Message("lack.grade", {"grade": capped.grade.value}), str(weak))
        lacking = (named,) if isinstance(weak, str) else weak
        return Verdictful(verdict, lacking=lacking)
    if verdict is Verdict.NOT_SHOWN and isinstance(capped, Comparison):
        closer = Lack(Message("lack.closer"), str(weak))
        return Verdictful(verdict, lacking=(closer,) if isinstance(weak, str) else weak)
    return Verdictful(verdict, capped.to_confirm and verdict is Verdict.HOLDS)


def margin_of(comparison: Comparison, dimension: Dimension) -> Margin:
    """The margin of a comparison."""
    return Margin(comparison.margin, comparison.u, dimension)


def lack(
    key: str, where: str, values: Mapping[str, str | int | Message] | None = None
) -> Lack:
    """What is missing: catalogue key, and key of the file that settles it."""
    return Lack(Message(key, dict(values or {})), where)


def said_limit(name: str) -> Message:
    """A figure of a rulebook by name, in words."""
    return Message(f"lack.limit.{name}")


def lack_fact(fact: str) -> Lack:
    """A fact of the doorway's use that nobody has stated, and where it is written."""
    return Lack(Message("lack.fact", {"fact": Message(f"fact.{fact}")}), f"use.{fact}")
