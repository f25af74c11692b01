"""A doorway's openings reckoned, or what is missing to do so."""

from collections.abc import Iterator
from dataclasses import dataclass

from limen.findings import Lack, Message
from limen.model.doorway import Doorway
from limen.physics.plan import Plan
from limen.quantity import Grade, least
from limen.questions.approach_taken import NOTHING, Taken, assumed
from limen.questions.asking import lack, once
from limen.questions.flows import Open, open_hours, through
from limen.questions.indoors import Climate, climate_of
from limen.questions.ledger import Counted, Ledger, grade_of, ledger_of
from limen.questions.needless import rests_of
from limen.questions.opened import WhileOpen, while_open
from limen.questions.passers import Needless, lacks_of, paths_of


@dataclass(frozen=True, slots=True)
class Reckoned:
    """A doorway's openings, reckoned.

    Attributes:
        counted: what they are reckoned from.
        ledger: what they come to.
        taken: what that rests on.
        cooled: whether cooling is counted.
    """

    counted: Counted
    ledger: Ledger
    taken: Taken
    cooled: bool

    @property
    def grade(self) -> Grade:
        """The weakest grade of what it rests on."""
        return least(grade_of(self.counted), *self.taken.grades)


def reckon(
    doorway: Doorway, plan: Plan, *, heat: bool = True
) -> Reckoned | tuple[Lack, ...]:
    """Reckon a doorway's openings, and what they let out in a year.

    Args:
        doorway: as described.
        plan: the same as boxes.
        heat: whether the weather must be known too.
    """
    climate = climate_of(doorway)
    opened = while_open(doorway, plan)
    when = open_hours(doorway.traffic)
    people = through(doorway.traffic, when)
    blind = heat and isinstance(climate, Lack)
    if people is None or isinstance(opened, tuple) or blind:
        return once(_missing(doorway, opened, climate, heat=heat))
    lacks = lacks_of(doorway, plan) if doorway.traffic.passing else ()
    paths = paths_of(doorway, plan)
    if lacks or paths is None:
        return once(lacks)
    exchanged = None if isinstance(climate, Lack) else climate.exchanged
    counted = Counted(people, paths, opened, when, exchanged)
    taken = people.taken + when.taken + opened.taken + _passing(doorway, paths)
    if isinstance(climate, Lack):
        return Reckoned(counted, ledger_of(counted), taken, cooled=False)
    return Reckoned(counted, ledger_of(counted), taken + climate.taken, climate.cooled)


def _missing(
    doorway: Doorway,
    opened: WhileOpen | tuple[Lack, ...],
    climate: Climate | Lack,
    *,
    heat: bool,
) -> Iterator[Lack]:
    if through(doorway.traffic, _ANY) is None:
        yield lack("flows.lack.through", "traffic.through")
    if isinstance(opened, tuple):
        yield from opened
    if heat and isinstance(climate, Lack):
        yield climate


_ANY = Open(0, 24, 7)


def _passing(doorway: Doorway, paths: tuple[Needless, ...]) -> Taken:
    """What those who only pass rest on; nobody is counted where none are described."""
    if doorway.traffic.passing:
        return rests_of(paths)
    more = lack("flows.lack.passing", "traffic.passing")
    why = Message("flows.assumed.nobody")
    taken = assumed("traffic.passing", why, "0", Grade.ESTIMATE, more)
    return NOTHING + taken
