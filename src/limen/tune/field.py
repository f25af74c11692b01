"""The radars of one side: fewest that fail, then late openings, then needless ones.

A longer reach holds all of a shorter one's field.  So at each tilt, yaw and array the
full reach is asked first, and only where that comes to something the shortest reach
that does as well is sought by halving.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import product
from math import prod

from limen.findings import Finding
from limen.model.doorway import Doorway
from limen.model.people import Side
from limen.quantity import Quantity
from limen.questions import QUESTIONS
from limen.questions.asking import Asked
from limen.questions.ranges import FIELD
from limen.questions.settled import settle
from limen.rules import Rule
from limen.tune.in_time import in_time
from limen.tune.measuring import Standing, late_at, lost, spoilt, standing
from limen.tune.scales import Beam, Option, radar_options, with_options

BEAMS = 64
"""Ways to turn the radars of a side that are looked at; of finer scales some steps."""
IN_TIME = "approach.opens_in_time"
LATE_STEP = 1e-3
NEEDLESS_STEP = 0.5
"""Shares of people and openings a day that differ by less are the same."""
UNKNOWN = float("inf")
Key = tuple[Standing, int, float, float, int, int, float]


FLAWLESS = Standing(), 0


@dataclass(frozen=True, slots=True)
class Set:
    """One way to set the radars of a side, and what it comes to.

    Attributes:
        options: of each unit.
        findings: of the side.
        late: share of people for whom it opens late; None if not known.
        needless: openings a day; None if not known.
        allowed: whether it makes nothing worse that may not become worse.
        lost: how many that held do so no longer.
    """

    options: tuple[Option, ...]
    findings: tuple[Finding, ...]
    late: float | None
    needless: Quantity | None
    allowed: bool
    lost: int

    @property
    def key(self) -> Key:
        """By which it is held against others: smaller is better."""
        stands = standing(self.findings)
        return (
            replace(stands, open=0),
            self.lost,
            stepped(self.late, LATE_STEP),
            stepped(self.needless and self.needless.value, NEEDLESS_STEP),
            stands.open,
            sum(one.changes for one in self.options),
            sum(one.travel for one in self.options),
        )


def stepped(value: float | None, step: float) -> float:
    """A figure to the step to which it counts; what is not known counts as worst."""
    return UNKNOWN if value is None else round(value / step) * step


@dataclass
class FieldAsked:
    """One side of a doorway, asked at each setting once.

    Attributes:
        doorway: as it is set.
        side: the side.
        rules: by question.
        before: findings as it is set, by key.
        wanted: called before each setting; whatever it raises ends the search.
        count: settings asked.
    """

    doorway: Doorway
    side: Side
    rules: Mapping[str, Rule]
    before: Mapping[tuple[str, str | None, str | None], Finding]
    wanted: Callable[[], None]
    count: int = 0
    _known: dict[tuple[object, ...], Set] = field(
        default_factory=dict[tuple[object, ...], Set]
    )

    @property
    def units(self) -> tuple[Option, ...]:
        """The units of this side with a motion sense, as they are set."""
        return tuple(
            Option((), one)
            for one in self.doorway.fitting
            if one.side == self.side and one.unit is not None and one.unit.motion
        )

    @property
    def every(self) -> int:
        """Every how manyth step of their tilt and yaw is looked at."""
        for every in range(1, BEAMS):
            counts = (len(radar_options(one.fitting, every)) for one in self.units)
            if prod(counts) <= BEAMS:
                return every
        return BEAMS

    @property
    def size(self) -> int:
        """Combinations of settings of this side."""
        each = (radar_options(one.fitting) for one in self.units)
        return prod(sum(len(beam.reaches) for beam in beams) for beams in each)

    def ask(self, options: tuple[Option, ...]) -> Set:
        """What settings of the side's radars come to."""
        key = tuple(one.turned for one in options)
        if key not in self._known:
            self.wanted()
            self.count += 1
            self._known[key] = self._asked(options)
        return self._known[key]

    def _asked(self, options: tuple[Option, ...]) -> Set:
        door = self._alone(options)
        settled = settle(door)
        asked = {n: Asked(door, settled, rule) for n, rule in self.rules.items()}
        findings = [
            one
            for name in FIELD
            if name in asked and name != IN_TIME
            for one in QUESTIONS[name].ask(asked[name])
            if (one.case or "").startswith(self.side)
        ]
        late: float | None = None
        if IN_TIME in asked:
            timed = in_time(asked[IN_TIME], self.side)
            findings += timed.findings
            late = timed.late
        allowed = not spoilt(self.before, findings)
        gone = lost(self.before, findings)
        needless = self.needless(options)
        return Set(options, tuple(findings), late, needless, allowed, gone)

    def needless(self, options: tuple[Option, ...]) -> Quantity | None:
        """Needless openings a day for those who pass on this side."""
        from limen.questions.passers import needless_a_day

        door = self._alone(options)
        passing = door.traffic.passing
        if not passing:
            return None
        here = tuple(one for one in passing if one.side == self.side)
        if not here:
            return Quantity(0.0)
        traffic = door.traffic.model_copy(update={"passing": here})
        door = door.model_copy(update={"traffic": traffic})
        return needless_a_day(door, settle(door))

    def sketch(self, options: tuple[Option, ...]) -> tuple[float, float]:
        """Late and needless openings alone, in the steps to which they count."""
        self.wanted()
        known = self._known.get(tuple(one.turned for one in options))
        if known is not None:
            return known.key[2], known.key[3]
        door, late = self._alone(options), None
        if IN_TIME in self.rules:
            late = late_at(Asked(door, settle(door), self.rules[IN_TIME]), self.side)
        passing = self.needless(options)
        per_day = passing and passing.value
        return stepped(late, LATE_STEP), stepped(per_day, NEEDLESS_STEP)

    def _alone(self, options: tuple[Option, ...]) -> Doorway:
        """The doorway with the units of this side only."""
        door = with_options(self.doorway, options)
        here = tuple(one for one in door.fitting if one.side == self.side)
        return door.model_copy(update={"fitting": here})


def best_field(asked: FieldAsked) -> Set:
    """The best way to set the radars of a side; as they are where none is better."""
    now = asked.units
    best = asked.ask(now)
    if not now or not any(name in asked.rules for name in FIELD):
        return best
    for beams in _in_order(asked):
        furthest = tuple(beam.reaches[-1] for beam in beams)
        if best.key[:2] == FLAWLESS and asked.sketch(furthest)[0] > best.key[2]:
            continue
        full = asked.ask(furthest)
        for one in _improved(asked, beams, full, best):
            if one.allowed and one.key < best.key:
                best = one
    return best


def _in_order(asked: FieldAsked) -> list[tuple[Beam, ...]]:
    """Every tilt, yaw and array of every unit, the least changed first."""
    step = asked.every
    every = product(*(radar_options(one.fitting, step) for one in asked.units))
    return sorted(every, key=lambda beams: sum(b.option.travel for b in beams))


def _improved(
    asked: FieldAsked, beams: tuple[Beam, ...], full: Set, best: Set
) -> Iterator[Set]:
    """What reaches of these beams may be better than the best so far."""
    if full.key[:3] > best.key[:3]:
        return
    if not full.allowed:
        yield from (asked.ask(options) for options in _every_reach(beams))
        return
    options = [beam.reaches[-1] for beam in beams]
    for unit, beam in enumerate(beams):
        low, high = 0, len(beam.reaches) - 1
        while low < high:
            middle = (low + high) // 2
            options[unit] = beam.reaches[middle]
            one = asked.ask(tuple(options))
            if one.key[:3] <= full.key[:3] and one.allowed:
                high = middle
            else:
                low = middle + 1
        for reach in beam.reaches[high:]:
            options[unit] = reach
            yield asked.ask(tuple(options))
        options[unit] = beam.reaches[high]
    yield full


def _every_reach(beams: tuple[Beam, ...]) -> Iterator[tuple[Option, ...]]:
    yield from product(*(beam.reaches for beam in beams))


def _some_reaches(beams: tuple[Beam, ...]) -> Iterator[tuple[Option, ...]]:
    """Every other reach, the full one among them, and as it is."""
    for options in _every_reach(beams):
        steps = zip(options, beams, strict=True)
        if all(
            one is beam.option
            or (len(beam.reaches) - 1 - beam.reaches.index(one)) % 2 == 0
            for one, beam in steps
        ):
            yield options


# Choices ---------------------------------------------------------------------------


def choices_of(asked: FieldAsked, best: Set) -> tuple[Set, ...]:
    """Ways to set a side of which none is better in late and in needless openings.

    Args:
        asked: the side.
        best: the best in the order of the search; always among them, and first.
    """
    if best.needless is None or best.late is None:
        return (best,)
    every = [o for beams in _in_order(asked) for o in _some_reaches(beams)]
    sketched = sorted((*asked.sketch(o), n) for n, o in enumerate(every))
    found, least = [best], UNKNOWN
    for _, needless, number in sketched:
        if needless >= least:
            continue
        one = asked.ask(every[number])
        if one.allowed:
            least = needless
            found.append(one)
    return tuple(found)
