"""What is ahead of a doorway as its page shows it, and its life for programs."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from limen.desk.ahead import There, all_ahead
from limen.desk.fact_words import said_key, said_value
from limen.desk.library import Desk
from limen.desk.life import Entry, Life, SaidEntry, TextEntry
from limen.desk.merging import MISSING
from limen.desk.visits import Folded
from limen.exchange.ahead import thing_row
from limen.findings import Message
from limen.model.agenda import Agenda, Defect, FollowUp, Parts, Plan
from limen.quantity import Show
from limen.web.life_forms import Form
from limen.words import say
from limen.words.ahead import said_by, said_late, said_refusal, said_thing, said_who

APART = " · "
SETTINGS = "settings"
Thing = Plan | FollowUp | Parts


@dataclass(frozen=True, slots=True)
class Ahead:
    """Something that is ahead.

    Attributes:
        about: its id.
        title: what it is.
        lines: what else is known of it.
        late: that it is overdue, in words; empty if it is not.
        href: the visit that it comes from; empty if it comes from none.
        forms: by which something is said of it.
    """

    about: str
    title: str
    lines: tuple[str, ...]
    late: str
    href: str
    forms: tuple[Form, ...]


def ahead_of(
    found: Agenda,
    address: str,
    on: date,
    forms: Callable[[Thing], tuple[Form, ...]],
) -> Mapping[str, tuple[Ahead, ...]]:
    """What is ahead: visits that are planned, what is owed, parts on order.

    Args:
        found: what is ahead, and what became of it.
        address: of the doorway.
        on: the day it is.
        forms: the forms by which something is said of a thing.
    """
    plans = [one for one in found.plans if one.state in {"planned", "refused"}]
    owed = [one for one in found.follow_ups if one.state == "open"]
    parts = [one for one in found.parts if one.state == "ordered"]
    return {
        "plans": tuple(_plan(one, on, forms(one)) for one in plans),
        "owed": tuple(_owed(one, address, on, forms(one)) for one in owed),
        "parts": tuple(_part(one, forms(one)) for one in parts),
    }


def _plan(one: Plan, on: date, forms: tuple[Form, ...]) -> Ahead:
    said = one.first.said
    lines = [said_who(one), said.note or "", said_refusal(one)]
    if one.state == "refused":
        lines.append(_say("ahead.again"))
    told = tuple(line for line in lines if line)
    late = said_late(one.day, on)
    return Ahead(one.words.about, said_thing(one), told, late, "", forms)


def _owed(one: FollowUp, address: str, on: date, forms: tuple[Form, ...]) -> Ahead:
    lines = [said_by(one)]
    first = one.first
    if isinstance(first, Defect):
        found = _say("ahead.from_visit", day=first.day.isoformat())
        told = _say("ahead.told", told=first.told) if first.told else ""
        lines.append(", ".join(part for part in (found, told) if part))
    href = f"{address}/visits/{one.visit}" if one.visit else ""
    late = said_late(one.day, on)
    return Ahead(one.words.about, one.text, tuple(lines), late, href, forms)


def _part(one: Parts, forms: tuple[Form, ...]) -> Ahead:
    said = one.last.said
    title = _say("ahead.part", part=said_thing(one))
    day = [_say("part.day", day=said.day.isoformat())] if said.day else []
    return Ahead(one.words.about, title, tuple(day), "", "", forms)


@dataclass(frozen=True, slots=True)
class Waiting:
    """Something that is ahead at a site, in its list.

    Attributes:
        title: what it is.
        door: at which doorway.
        href: where all of it stands.
        late: that it is overdue, in words; empty if it is not.
    """

    title: str
    door: str
    href: str
    late: str


def site_ahead(desk: Desk, site_id: str) -> list[Waiting]:
    """What is ahead of all doorways of a site: visits, then what is owed, then parts.

    Args:
        desk: the desk.
        site_id: the site.
    """
    found = all_ahead(desk, site_id)
    every = (*found.planned, *found.owed, *found.awaited)
    return [_waiting(one, found.on) for one in every]


def _waiting(one: There, on: date) -> Waiting:
    thing = one.thing
    about = thing.words.about
    href = f"/sites/{one.site}/doorways/{one.doorway}/life#a-{about}"
    day = None if isinstance(thing, Parts) else thing.day
    title = said_thing(thing)
    if isinstance(thing, Parts):
        title = _say("ahead.part", part=title)
    return Waiting(title, one.door_name, href, said_late(day, on))


# Settings ---------------------------------------------------------------------------


def settings_over(found: Life, system: Show) -> list[tuple[str, list[tuple[str, str]]]]:
    """By setting what it was changed to and when, the newest first.

    Args:
        found: the doorway's life.
        system: units of the reader.
    """
    told: dict[tuple[str, ...], list[tuple[str, str]]] = {}
    for entry in found.entries:
        if isinstance(entry.of, TextEntry):
            for change in entry.of.changes or ():
                if SETTINGS in change.key and change.mine is not MISSING:
                    value = said_value(change.mine, change.key, system)
                    told.setdefault(change.key, []).append((entry.moment[:10], value))
                    if change.was is not MISSING:
                        was = said_value(change.was, change.key, system)
                        told[change.key].append(("", was))
    return [(_short(key), list(_once(values))) for key, values in told.items()]


def _once(values: Sequence[tuple[str, str]]) -> Iterable[tuple[str, str]]:
    """Each change once; what was before the first of them last, without a day."""
    for place, (day, value) in enumerate(values):
        if day or place == len(values) - 1:
            yield day, value


def _short(key: tuple[str, ...]) -> str:
    return said_key(key).partition(APART)[2] or said_key(key)


# For programs -----------------------------------------------------------------------


def json_of(found: Life) -> dict[str, Any]:
    """A doorway's life for programs: what is ahead, and every entry in brief."""
    ahead = found.ahead
    return {
        "schema": 1,
        "plans": [_thing(one) for one in ahead.plans],
        "follow_ups": [_thing(one) for one in ahead.follow_ups],
        "parts": [_thing(one) for one in ahead.parts],
        "entries": [_entry(one) for one in found.entries],
    }


def _thing(one: Thing) -> dict[str, Any]:
    events = [each.model_dump(mode="json") for each in one.words.standing]
    return {**thing_row(one), "events": events}


def _entry(one: Entry) -> dict[str, Any]:
    head: dict[str, Any] = {"moment": one.moment, "kind": one.kind}
    match one.of:
        case TextEntry() as text:
            return head | {"version": text.number, "versions": list(text.numbers)}
        case Folded() as visit:
            return head | {"visit": visit.visit}
        case SaidEntry() as said:
            row = said.row
            gone = {"taken_back": said.taken_back}
            return head | {"event": row.id, "about": row.about, "said": row.kind} | gone
        case record:
            return head | {"record": record.number, "digest": record.digest}


def _say(key: str, /, **values: str | int) -> str:
    return say(Message(f"life.{key}", values))
