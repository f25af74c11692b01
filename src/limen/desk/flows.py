"""Who walks through a door and past it, what that lets out, what a setting saves."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from limen.desk.refusal import Refusal
from limen.desk.weather import refuse_unread, weather_of, with_year
from limen.findings import Assumed, Finding, Lack, Message, Verdict
from limen.quantity import Dimension, Quantity, QuantityError, parse
from limen.words import say

if TYPE_CHECKING:
    from limen.model.doorway import Doorway
    from limen.model.site import Site
    from limen.questions.flows import Flow
    from limen.questions.passers import Needless
    from limen.questions.paying import Cost
    from limen.questions.reckoning import Reckoned
    from limen.rules import Rulebook

HOLD, REACH, TILT = "hold_open", "reach", "radar_tilt"
IN_TIME = "approach.opens_in_time"


@dataclass(frozen=True, slots=True)
class Instead:
    """One thing that is set otherwise.

    Attributes:
        what: ``hold_open``, ``reach`` or ``radar_tilt``.
        fitting: id of the unit; empty for the hold time.
        value: what it is set to.
    """

    what: str
    fitting: str
    value: Quantity


@dataclass(frozen=True, slots=True)
class Saving:
    """What a change saves in a year.

    Attributes:
        instead: what was set otherwise.
        fewer: needless openings a day that are saved.
        costs: heat and cold that are saved, and what they cost.
        later: what becomes of opening in time; empty where nothing does, or where
            no rulebook is at hand.
        looked: whether opening in time was looked at.
    """

    instead: Instead
    fewer: Quantity
    costs: "tuple[Cost, ...]"
    later: "tuple[Later, ...]" = ()
    looked: bool = False


@dataclass(frozen=True, slots=True)
class Later:
    """What a change does to opening in time, for one side.

    Attributes:
        case: the side, and the width.
        was: the verdict as it is.
        now: the finding with something set otherwise.
    """

    case: str
    was: Verdict
    now: Finding


@dataclass(frozen=True, slots=True)
class Flows:
    """The traffic of one doorway and what it comes to.

    Attributes:
        doorway: as described.
        through: people who walk through; None if nobody said it.
        paths: where people only pass; None where that is not known.
        path_lacks: what keeps that from being known.
        reckoned: openings, and heat where the weather is known; None if not known.
        lacks: what is missing for all of it.
        costs: what heat and cold cost.
        money_lacks: what is missing to say that.
        assumed: what was taken though nobody stated it.
    """

    doorway: "Doorway"
    through: "Flow | None"
    paths: "tuple[Needless, ...] | None"
    path_lacks: tuple[Lack, ...]
    reckoned: "Reckoned | None"
    lacks: tuple[Lack, ...]
    costs: "tuple[Cost, ...]"
    money_lacks: tuple[Lack, ...]
    assumed: tuple[Assumed, ...]

    @property
    def needless(self) -> Quantity | None:
        """Needless openings a day; None where they are not known."""
        from limen.questions.passers import total

        known = bool(self.paths) and not self.path_lacks
        return total(self.paths or ()) if known else None

    @property
    def heated(self) -> bool:
        """Whether the weather is known, so that heat is reckoned."""
        found = self.reckoned
        return found is not None and found.counted.exchanged is not None


def flows(
    path: str | Path, doorway: str | None = None, weather: Path | None = None
) -> "tuple[Site, tuple[Flows, ...]]":
    """Read a site file and reckon the flows of its doorways, or one of them.

    Args:
        path: the site file.
        doorway: id of the only doorway.
        weather: a weather file instead of those that are named.

    Raises:
        Refusal: whatever cannot be used, all of it together; the weather files that
            doorways name too.
    """
    from limen.desk.sites import chosen, read

    file = read(path)
    doors = chosen(file.site, doorway)
    if weather is not None:
        year = weather_of(weather)
        doors = tuple(with_year(door, year) for door in doors)
    else:
        refuse_unread(doors, Path(path).parent)
    return file.site, tuple(flows_of(door) for door in doors)


def flows_of(door: "Doorway") -> Flows:
    """The traffic of a doorway and what it comes to."""
    from limen.questions.flows import open_hours, through
    from limen.questions.indoors import within
    from limen.questions.passers import lacks_of, paths_of
    from limen.questions.paying import costs_of, money_lacks
    from limen.questions.reckoning import Reckoned, reckon
    from limen.questions.settled import settle

    plan = settle(door).plan
    when = open_hours(door.traffic)
    path_lacks = lacks_of(door, plan)
    paths = None if path_lacks else paths_of(door, plan)
    found = reckon(door, plan) if not within(door) else ()
    lacks = () if isinstance(found, Reckoned) else found
    if not isinstance(found, Reckoned):
        found = reckon(door, plan, heat=False)
    known = found if isinstance(found, Reckoned) else None
    heated = known is not None and known.counted.exchanged is not None
    money = money_lacks(door, cooled=known.cooled) if known and heated else ()
    return Flows(
        door,
        through(door.traffic, when),
        paths,
        path_lacks,
        known,
        lacks if isinstance(found, Reckoned) else (*lacks, *found),
        costs_of(door, known) if known and heated else (),
        tuple(money),
        known.taken.assumed if known else (),
    )


SHARP = 0.65
"""Discharge of a doorway under pressure, as the worked orifice has it."""


def pressed_through(door: "Doorway") -> tuple[float, float]:
    """Mean wind of the year (m/s), and the air that it could press through (m³/s).

    As if all of it came to rest on the façade and nothing inside held against it;
    no figure of heat counts it.

    Raises:
        ValueError: no weather is at hand.
    """
    from limen.physics.air import orifice, wind_pressure

    year = door.air.year
    if year is None:
        raise ValueError("no weather is at hand")
    speed, dense = float(year.wind.mean()), 1.2
    area = door.clear_width.value * door.clear_height.value
    return speed, orifice(area, wind_pressure(speed, dense), dense, SHARP)


def book_for(site: "Site", door: "Doorway") -> "Rulebook":
    """The edition that judges a doorway of a site file.

    Raises:
        Refusal: nothing settles it.
    """
    from limen.desk.shelves import DEFAULT, judging, shelf

    (book,) = judging([door], shelf(), site.rulebook or DEFAULT, None)
    return book


# What a setting saves ------------------------------------------------------------


def saving(
    door: "Doorway", instead: Instead, book: "Rulebook | None" = None
) -> Saving | tuple[Lack, ...]:
    """What one thing set otherwise saves in a year, and whether it makes it late.

    Args:
        door: as it is.
        instead: what is set otherwise.
        book: the rulebook by which opening in time is looked at; None leaves it.

    Returns:
        What it saves; what is missing where the openings are not known.
    """
    from limen.questions.paying import fewer, saved
    from limen.questions.reckoning import Reckoned, reckon
    from limen.questions.settled import settle

    plan = settle(door).plan
    heat = isinstance(reckon(door, plan), Reckoned)
    before = reckon(door, plan, heat=heat)
    after = reckon(turned(door, instead), plan, heat=heat)
    if not isinstance(before, Reckoned) or not isinstance(after, Reckoned):
        return before if isinstance(before, tuple) else _tuple(after)
    costs = saved(door, before, after) if heat else ()
    looked = book is not None and instead.what != HOLD
    later = _later(door, turned(door, instead), book) if looked and book else ()
    return Saving(instead, fewer(before, after), costs, later, looked)


def _later(door: "Doorway", other: "Doorway", book: "Rulebook") -> tuple[Later, ...]:
    """Sides on which opening in time is answered otherwise than before."""
    was, now = (_in_time(one, book) for one in (door, other))
    return tuple(
        Later(case, was[case].verdict, found)
        for case, found in now.items()
        if case in was and found.verdict is not was[case].verdict
    )


def _in_time(door: "Doorway", book: "Rulebook") -> dict[str, Finding]:
    """Whether the door opens in time, by side and width."""
    from limen.questions import QUESTIONS
    from limen.questions.asking import Asked
    from limen.questions.settled import settle
    from limen.rules import Rule
    from limen.study.running import facts_of

    rule = book.rule_for(IN_TIME, facts_of(door))
    if not isinstance(rule, Rule):
        return {}
    found = QUESTIONS[IN_TIME].ask(Asked(door, settle(door), rule))
    return {one.case or "": one for one in found}


def _tuple(found: "Reckoned | tuple[Lack, ...]") -> tuple[Lack, ...]:
    return found if isinstance(found, tuple) else ()


def turned(door: "Doorway", instead: Instead) -> "Doorway":
    """The doorway with one thing set otherwise."""
    from limen.questions.turned import with_hold, with_reach, with_tilt

    if instead.what == HOLD:
        return with_hold(door, instead.value)
    made = with_reach if instead.what == REACH else with_tilt
    return made(door, instead.fitting, instead.value)


SPANS: Mapping[str, tuple[Dimension, float, float, str]] = {
    HOLD: (Dimension.TIME, 0.0, 600.0, "0 s to 600 s"),
    REACH: (Dimension.RATIO, 0.01, 1.0, "1 to 100 %"),
    TILT: (Dimension.ANGLE, -1.6, 1.6, "-90 to 90 deg"),
}


def instead_of(door: "Doorway", text: str) -> Instead:
    """What is set otherwise, as it is typed: ``outside.reach=60 %``.

    Args:
        door: the doorway.
        text: ``hold_open=1 s``, ``UNIT.reach=60 %`` or ``UNIT.radar_tilt=20 deg``.

    Raises:
        Refusal: it is none of these, or its value cannot be taken.
    """
    key, _, value = text.partition("=")
    fitting, _, what = key.strip().rpartition(".")
    units = [one.id for one in door.fitting if one.unit and one.unit.motion]
    if what not in SPANS or (what == HOLD) != (not fitting) or not value.strip():
        choices = ", ".join([HOLD, *(f"{u}.{k}" for u in units for k in (REACH, TILT))])
        raise _refused("flows.refused.key", {"text": text[:80], "choices": choices})
    if fitting and fitting not in units:
        named = ", ".join(units) or "–"
        raise _refused("flows.refused.unit", {"unit": fitting[:40], "units": named})
    return Instead(what, fitting, _value(what, value.strip()))


def _value(what: str, text: str) -> Quantity:
    dimension, least, most, span = SPANS[what]
    try:
        found = parse(text, dimension)
    except QuantityError as error:
        raise Refusal([str(error)]) from None
    if not least <= found.low <= found.high <= most:
        raise _refused("flows.refused.span", {"text": text[:40], "span": span})
    return found


def _refused(key: str, values: Mapping[str, str]) -> Refusal:
    return Refusal([say(Message(key, dict(values)))])
