"""Findings in the order in which they are read: what is to be done comes first."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from math import inf

from limen.findings import Finding, Verdict

_ORDER = (Verdict.FAILS, Verdict.NOT_SHOWN, Verdict.HOLDS, Verdict.NOT_ASKED)
_WEIGHTS = ("must", "should", "advice")


@dataclass(frozen=True, slots=True)
class Group:
    """Findings shown in one row: the worst of them, and the others.

    Attributes:
        worst: the finding shown.
        others: the rest, worst first.
    """

    worst: Finding
    others: tuple[Finding, ...] = ()

    @property
    def all(self) -> tuple[Finding, ...]:
        """Every finding of the row."""
        return (self.worst, *self.others)

    @property
    def to_confirm(self) -> bool:
        """Whether something in the row rests on a figure to be confirmed."""
        return any(one.to_confirm for one in self.all)

    def counted(self) -> Counter[Verdict]:
        """How many of the others have which verdict."""
        return Counter(one.verdict for one in self.others)


def groups(findings: Iterable[Finding], *, every: bool) -> tuple[Group, ...]:
    """Rows worst first: one a question and weight, or one a finding.

    What is advised never hides what a must says, nor the other way round.

    Args:
        findings: of one doorway, in the order of the study.
        every: one row a finding.
    """
    ranked = sorted(findings, key=_rank)
    if every:
        return tuple(Group(one) for one in ranked)
    rows: dict[tuple[str, str], list[Finding]] = {}
    for one in ranked:
        rows.setdefault((one.question, one.weight), []).append(one)
    return tuple(Group(worst, tuple(others)) for worst, *others in rows.values())


def _rank(finding: Finding) -> tuple[int, int, float]:
    margin = finding.margin.value if finding.margin else inf
    return (
        _ORDER.index(finding.verdict),
        _WEIGHTS.index(finding.weight.value),
        margin,
    )
