"""What one search is about, what it may ask, and how far it is."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date

from limen.findings import Finding, Study
from limen.model.doorway import Doorway
from limen.model.site import Site
from limen.questions import QUESTIONS
from limen.questions.asking import Asked, Met
from limen.questions.settled import Settled, settle
from limen.rules import Rule, Rulebook
from limen.study import study
from limen.study.running import facts_of

Heard = Callable[[int, int], None]
"""Hears steps done and steps in all; whatever it raises ends the search."""


def unheard(done: int, of: int) -> None:
    """Nobody listens."""


@dataclass
class Searched:
    """What a search is about, and how far it is.

    Attributes:
        doorway: as it is set.
        rulebook: one edition.
        on: the day.
        site: for doorways that are faced.
        version: of limen.
        told: hears how far it is.
        done, of: steps.
        studies, proofs: what was made.
        grid: studies that a grid takes.
    """

    doorway: Doorway
    rulebook: Rulebook
    on: date | None
    site: Site | None
    version: str
    told: Heard
    done: int = 0
    of: int = 8
    studies: int = 0
    proofs: int = 0
    grid: int = 1
    _rules: dict[str, Rule] = field(default_factory=dict[str, Rule])

    def study(self, doorway: Doorway) -> Study:
        """A whole study."""
        self.beat()
        self.studies += 1
        book, on = self.rulebook, self.on
        return study(doorway, book, on=on, site=self.site, version=self.version)

    def asked(self, name: str, doorway: Doorway, settled: Settled) -> Asked | None:
        """One question; None if nobody asks it."""
        rule = self.rules.get(name)
        if rule is None:
            return None
        return Asked(doorway, settled, rule, self.met, self.on)

    @property
    def rules(self) -> Mapping[str, Rule]:
        """The rules of the edition that apply to the doorway, by question."""
        if not self._rules:
            facts = facts_of(self.doorway)
            every = {n: self.rulebook.rule_for(n, facts) for n in QUESTIONS}
            self._rules.update({n: r for n, r in every.items() if isinstance(r, Rule)})
        return self._rules

    @property
    def met(self) -> tuple[Met, ...]:
        """The doorways it faces."""
        site = self.site
        return tuple(
            Met(facing, settle(site.door(facing.doorway)) if site else None)
            for facing in self.doorway.facing
        )

    def beat(self) -> None:
        """Tell that the search goes on."""
        self.told(self.done, self.of)

    def step(self) -> None:
        """Tell that a part is done."""
        self.done = min(self.done + 1, self.of)
        self.beat()

    def answers(
        self, name: str, doorway: Doorway, settled: Settled
    ) -> tuple[Finding, ...]:
        """One question put to the doorway; nothing if nobody asks it."""
        asked = self.asked(name, doorway, settled)
        if asked is None:
            return ()
        self.proofs += 1
        return QUESTIONS[name].ask(asked)
