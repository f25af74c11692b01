"""What tuning a doorway comes to: settings, target lines, choices, and what binds."""

from dataclasses import dataclass

from limen.findings.finding import Change, Finding, Lack, Margin, Target
from limen.findings.message import Message
from limen.findings.study import Study
from limen.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Turned:
    """One setting that is changed, as a file takes it.

    Attributes:
        fitting: the unit.
        setting: which, such as ``settings.tilt``.
        was: what is set now; empty where nothing is stated.
        to: what it is to be set to.
    """

    fitting: str
    setting: str
    was: str
    to: str

    @property
    def change(self) -> Change:
        """The same as a change of the doorway."""
        return Change(self.fitting, self.setting, self.to)


@dataclass(frozen=True, slots=True)
class Aim:
    """A target line, and what one step of the scale is worth there.

    Attributes:
        target: the line with its window, from the leaf face.
        step: how far one step of the scale moves the row on the floor (m); None where
            the sheet states no step.
    """

    target: Target
    step: float | None

    @property
    def coarse(self) -> bool:
        """Whether one step moves the row further than its window is wide."""
        window = self.target.most - self.target.least
        return self.step is not None and self.step > window


@dataclass(frozen=True, slots=True)
class Measures:
    """By what one choice is held against another.

    Attributes:
        margin: least room to spare among the questions that the settings bear upon;
            None where no room is known.
        late: share of the people for whom the door opens late, 0 to 1, at its greater
            end; None where it is not known.
        needless: needless openings a day; None where nobody said who walks past.
    """

    margin: Margin | None
    late: float | None
    needless: Quantity | None


@dataclass(frozen=True, slots=True)
class Choice:
    """Settings of which no others are better in everything.

    Attributes:
        settings: what is changed; empty where nothing is.
        aims: the target lines of its rows.
        measures: what it comes to.
        study: all findings with it.
    """

    settings: tuple[Turned, ...]
    aims: tuple[Aim, ...]
    measures: Measures
    study: Study


@dataclass(frozen=True, slots=True)
class Binding:
    """A question that keeps the settings from being better.

    Attributes:
        finding: as it is answered with the best settings.
        lifts: what beyond the settings was proved to lift it, the smallest first.
    """

    finding: Finding
    lifts: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class Work:
    """What the search took.

    Attributes:
        studies: whole studies made.
        proofs: single questions proved besides.
        grid: studies that a grid over the same settings takes.
        gap: by how much something better may have been missed (m); nought where the
            search was exact.
        every: of the radars' scales every how manyth step was tried.
        step: rooms that differ by less are alike (m).
    """

    studies: int
    proofs: int
    grid: int
    gap: float
    every: int = 1
    step: float = 0.0


@dataclass(frozen=True, slots=True)
class Tuned:
    """All of it for one doorway.

    Attributes:
        before: the study as it is set now.
        now: what the present settings come to.
        front: the choices, the best in the order of the search first.
        why_not_better: what binds.
        lacking: what would settle a measure that is not known, by its name.
        work: what the search took.
    """

    before: Study
    now: Measures
    front: tuple[Choice, ...]
    why_not_better: tuple[Binding, ...]
    lacking: dict[str, tuple[Lack, ...]]
    work: Work

    @property
    def best(self) -> Choice:
        """The first choice."""
        return self.front[0]
