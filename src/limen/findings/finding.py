"""One finding: the answer to one question for one fitting and case."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from limen.findings.figures import Figure, Pose
from limen.findings.message import Measure, Message
from limen.findings.verdict import Verdict
from limen.quantity import Dimension, Grade
from limen.rules.rule import Authority, Weight


@dataclass(frozen=True, slots=True)
class Margin:
    """Room to spare, SI; negative where it is lacking.

    ``u`` is its uncertainty: half the bracket in which it is known.
    """

    value: float
    u: float
    dimension: Dimension

    @property
    def least(self) -> float:
        """The room that is certain: what may be printed."""
        return self.value - self.u


@dataclass(frozen=True, slots=True)
class Change:
    """One thing to set: on which fitting, which setting, to what (as in a file)."""

    fitting: str
    setting: str
    value: str


@dataclass(frozen=True, slots=True)
class Target:
    """Where a row must land: distances from the leaf face on its side (m).

    Attributes:
        fitting: the unit that throws the row.
        row: the row's number, from 1.
        best: where to bring it.
        least, most: the window in which the finding holds.
        was: where it lands now.
        turn: how far the unit is turned to bring it there (rad), away positive.
    """

    fitting: str
    row: int
    best: float
    least: float
    most: float
    was: float
    turn: float


@dataclass(frozen=True, slots=True)
class Remedy:
    """What to do.  ``changes`` applied make the finding hold.

    Where no setting helps, ``changes`` is empty and the message says what else
    is needed.
    """

    message: Message
    changes: tuple[Change, ...] = ()
    targets: tuple[Target, ...] = ()


@dataclass(frozen=True, slots=True)
class Lack:
    """What is missing, and the key of the file that would settle it."""

    message: Message
    key: str


@dataclass(frozen=True, slots=True)
class Assumed:
    """A value nobody stated: its key, what was taken, and its grade."""

    key: str
    value: Measure | str
    grade: Grade
    why: Message


@dataclass(frozen=True, slots=True)
class Witness:
    """A concrete place or mounting that shows a failure, as it is printed.

    Attributes:
        kind: what it is.
        pose: where the body is, rounded as printed.
        printed: distances as a tape takes them, by name (m, rad).
        mounting: errors of each unit in a mounting that fails, by
            ``fitting.error`` (m, rad).
        gap: free width between the leaves at which it fails, if that matters.
    """

    kind: Literal["pose", "mounting", "walk", "state"]
    pose: Pose | None = None
    printed: Mapping[str, float] = field(default_factory=dict[str, float])
    mounting: Mapping[str, float] = field(default_factory=dict[str, float])
    gap: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One answer.  Exactly one stands for each question, fitting and case."""

    question: str
    fitting: str | None = None
    case: str | None = None
    weight: Weight
    stricter: bool = False
    verdict: Verdict
    margin: Margin | None = None
    needed: Message | None = None
    found: Message | None = None
    because: Message
    remedy: Remedy | None = None
    lacking: tuple[Lack, ...] = ()
    authority: tuple[Authority, ...] = ()
    witness: Witness | None = None
    assumed: tuple[Assumed, ...] = ()
    to_confirm: bool = False
    owed: tuple[Message, ...] = ()
    figures: tuple[Figure, ...] = ()

    @property
    def key(self) -> tuple[str, str | None, str | None]:
        """Question, fitting and case: what makes it the one answer."""
        return self.question, self.fitting, self.case
