"""The range of one setting in which all that depends on it holds, by the questions."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date

from limen.findings import Finding, Verdict
from limen.model.doorway import Doorway
from limen.model.people import Side
from limen.model.site import Site
from limen.physics.reach import Placed, row_distance
from limen.quantity import Quantity
from limen.questions import QUESTIONS
from limen.questions.asking import Asked, Met
from limen.questions.coverage import widest
from limen.questions.presence import at_a_glance
from limen.questions.ranges import (
    BEARS,
    Range,
    Scale,
    Standing,
    search,
    stride_of,
    tried_first,
    with_value,
)
from limen.questions.settled import Settled, settle
from limen.questions.tilts import FURTHEST, Setting, light_to_spare
from limen.questions.variants import Variant
from limen.rules import Rule, Rulebook, Weight
from limen.study.glimpse import CASES_OF
from limen.study.running import facts_of

SPREAD = 25
"""Values tried over a scale before its run is followed to its ends."""
DENSE = 60
"""Steps of a tilt scale that are all tried, where that many land near the leaf."""
AIMED = ("settings.tilt", "read.first_row")
"""Settings by which rows are aimed: their light is to stay clear of the door too."""
LIGHT = "presence.self_view"

Key = tuple[str, str | None, str | None]
Said = tuple[Verdict, str]


class NotWantedError(Exception):
    """The range is not wanted any more."""


def range_of(
    doorway: Doorway,
    rulebook: Rulebook,
    scale: Scale,
    *,
    on: date | None = None,
    site: Site | None = None,
    wanted: Callable[[], bool] = lambda: True,
) -> Range:
    """The run of values with which every must that depends on the setting holds.

    Each value is asked as the study asks it.  Where no must depends on the setting, the
    same is found for what should hold.  Findings that stand the same at every value
    tried, and do not hold, are not of this setting's making: they are named, not asked.

    Args:
        doorway: as it stands.
        rulebook: one edition.
        scale: the setting and its values.
        on: the day for questions that have one.
        site: the site, for doorways that are faced.
        wanted: asked before each value.

    Raises:
        NotWantedError: `wanted` said no.
    """
    for weight in (Weight.MUST, Weight.SHOULD):
        rules = _rules(doorway, rulebook, scale, weight)
        if rules:
            met = _met(doorway, site)
            judge = _Judge(doorway, scale, rules, weight, met, on, wanted)
            return _ranged(judge)
    return Range(scale, None, weight="")


def _rules(
    doorway: Doorway, rulebook: Rulebook, scale: Scale, weight: Weight
) -> dict[str, Rule]:
    facts = facts_of(doorway)
    rules = {name: rulebook.rule_for(name, facts) for name in BEARS[scale.setting]}
    return {
        name: rule
        for name, rule in rules.items()
        if isinstance(rule, Rule) and rule.weight is weight
    }


def _met(doorway: Doorway, site: Site | None) -> tuple[Met, ...]:
    return tuple(
        Met(facing, settle(site.door(facing.doorway)) if site else None)
        for facing in doorway.facing
    )


def _ranged(judge: "_Judge") -> Range:
    scale = judge.scale
    tried = judge.first()
    besides = judge.constant(tried)
    ends, open_yet = search(
        lambda number: judge.stands(number, besides), tried, scale.now
    )
    chosen = not isinstance(scale.values[0], Quantity)
    return Range(
        scale,
        ends,
        tuple(sorted(open_yet)),
        tuple(sorted({key[0] for key in besides})),
        judge.weight.value,
        tuple(n for n in tried if chosen and judge.stands(n, besides).holds),
        judge.lands(ends) if ends else None,
        1 if chosen else stride_of(judge.counted(ends), ends),
    )


@dataclass
class _Judge:
    """How the questions stand at each value, remembered.

    Attributes:
        doorway: as it stands.
        scale: the setting and its values.
        rules: by question, those that are asked.
        weight: of the findings that count.
        met: the doorways that it faces.
        on: the day.
        wanted: whether to go on.
    """

    doorway: Doorway
    scale: Scale
    rules: Mapping[str, Rule]
    weight: Weight
    met: tuple[Met, ...]
    on: date | None
    wanted: Callable[[], bool]
    beside: dict[int, dict[Key, Said]] = field(
        default_factory=dict[int, dict[Key, Said]]
    )
    stood: dict[int, Standing] = field(default_factory=dict[int, Standing])

    def first(self) -> tuple[int, ...]:
        """Numbers of the values that are tried first."""
        count, now = len(self.scale.values), self.scale.now
        if not isinstance(self.scale.values[0], Quantity):
            return tuple(range(count))
        if self.scale.setting not in AIMED:
            return tried_first(count, now, SPREAD)
        near = [number for number in range(count) if self._near(number)]
        if len(near) > DENSE:
            near = near[:: -(-len(near) // DENSE)]
        edges = {min(near, default=now) - 1, max(near, default=now) + 1, now}
        return tuple(sorted({*near, *(one for one in edges if 0 <= one < count)}))

    def counted(self, ends: tuple[int, int] | None) -> list[int]:
        """Numbers of the values tried; of an aimed row where it could serve."""
        served = self.scale.setting not in AIMED or ends is not None
        return [number for number in self.stood if served or self._near(number)]

    def constant(self, tried: tuple[int, ...]) -> frozenset[Key]:
        """Findings that stand the same at every value tried, and do not hold."""
        every = [self._beside(number) for number in tried]
        return frozenset(
            key
            for key, said in every[0].items()
            if said[0] is not Verdict.HOLDS and all(e.get(key) == said for e in every)
        )

    def stands(self, number: int, besides: frozenset[Key]) -> Standing:
        """How all stands at one value, some findings left out."""
        if number not in self.stood:
            self.stood[number] = self._stands(number, besides)
        return self.stood[number]

    def _stands(self, number: int, besides: frozenset[Key]) -> Standing:
        said = {k: v for k, v in self._beside(number).items() if k not in besides}
        fails = {key[0] for key, one in said.items() if one[0] is Verdict.FAILS}
        still = {key[0] for key, one in said.items() if one[0] is Verdict.NOT_SHOWN}
        if fails:
            return Standing(frozenset(fails), frozenset(still))
        door, settled = self._at(number)
        if not self._clear(door, settled):
            return Standing(frozenset({LIGHT}))
        for asked in self._asked(door, settled, presence=True):
            for case in widest(CASES_OF[asked.rule.question](asked)):
                (found,) = at_a_glance(asked, [case])
                if found.verdict is Verdict.FAILS:
                    return Standing(frozenset({asked.rule.question}), frozenset(still))
                if found.verdict is Verdict.NOT_SHOWN:
                    still.add(asked.rule.question)
        return Standing(frozenset(), frozenset(still))

    def _beside(self, number: int) -> dict[Key, Said]:
        """Findings of the questions that are not proved case by case."""
        if number not in self.beside:
            if not self.wanted():
                raise NotWantedError
            door, settled = self._at(number)
            self.beside[number] = {
                finding.key: (finding.verdict, finding.because.key)
                for asked in self._asked(door, settled, presence=False)
                for finding in self._found(asked)
            }
        return self.beside[number]

    def _found(self, asked: Asked) -> list[Finding]:
        found = QUESTIONS[asked.rule.question].ask(asked)
        return [
            one
            for one in found
            if one.weight is self.weight and one.verdict is not Verdict.NOT_ASKED
        ]

    def lands(self, ends: tuple[int, int]) -> tuple[float, float] | None:
        """Where the first row lands at two values, nearest first, if they aim it."""
        if self.scale.setting not in AIMED:
            return None
        far = sorted(filter(None, (self._row(number) for number in ends)))
        return (far[0], far[-1]) if far else None

    def _asked(self, door: Doorway, settled: Settled, *, presence: bool) -> list[Asked]:
        return [
            Asked(door, settled, rule, self.met, self.on)
            for name, rule in self.rules.items()
            if (name in CASES_OF) == presence
        ]

    def _at(self, number: int) -> tuple[Doorway, Settled]:
        if not self.wanted():
            raise NotWantedError
        door = with_value(self.doorway, self.scale, number)
        return door, settle(door)

    def _near(self, number: int) -> bool:
        """Whether the first row lands between the leaf and where it could serve."""
        settled = settle(self.doorway)
        face = settled.plan.side(self._side).face
        far = self._row(number)
        return far is not None and 0.0 < far <= FURTHEST - face

    def _row(self, number: int) -> float | None:
        """How far from the leaf face the first row lands at a value (m)."""
        settled = settle(with_value(self.doorway, self.scale, number))
        unit = self._unit(settled)
        if unit is None:
            return None
        return row_distance(unit, 0, settled.plan.side(unit.side).face)

    @property
    def _side(self) -> Side:
        fittings = self.doorway.fitting
        return next(one.side for one in fittings if one.id == self.scale.fitting)

    def _clear(self, door: Doorway, settled: Settled) -> bool:
        """Whether the light of rows that are aimed surely stays clear of the door."""
        unit = self._unit(settled)
        if self.scale.setting not in AIMED or unit is None:
            return True
        face = settled.plan.side(unit.side).face
        here = Setting(row_distance(unit, 0, face), unit.attitude.tilt)
        room, error = light_to_spare(Variant((), door, settled), unit, here)
        return room >= error

    def _unit(self, settled: Settled) -> Placed | None:
        for facts in settled.units:
            unit = facts.choices[0] if facts.choices else None
            if facts.fitting.id == self.scale.fitting and isinstance(unit, Placed):
                return unit
        return None
