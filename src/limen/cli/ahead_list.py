"""What `limen ahead` prints."""

from collections.abc import Iterable
from importlib.metadata import version

from limen.cli.lines import EMPTY, Ink, Line, wrapped
from limen.cli.paper import paper
from limen.desk.ahead import AllAhead, There
from limen.exchange import dumps
from limen.exchange.ahead import ahead_contract, thing_row
from limen.findings import Message
from limen.model.agenda import FollowUp, Parts, Plan
from limen.words import say
from limen.words.ahead import said_by, said_late, said_refusal, said_thing, said_who


def as_json(found: AllAhead) -> int:
    """Print it for programs; returns 0: the work is done."""
    rows = (
        [_row(one) for one in every]
        for every in (found.planned, found.owed, found.awaited)
    )
    values = ahead_contract(*rows, on=found.on, version=version("limen"))
    paper().put_text(dumps(values))
    return 0


def _row(one: There) -> dict[str, object]:
    place = {"site": one.site, "site_name": one.site_name}
    door = {"doorway": one.doorway, "doorway_name": one.door_name}
    return {**place, **door, **thing_row(one.thing)}


def as_text(found: AllAhead) -> int:
    """Print it for people, the soonest first; returns 0: the work is done."""
    page = paper()
    title = say(Message("life.list.title", {"day": found.on.isoformat()}))
    lines = [*wrapped(title, page.width, ink=Ink.STRONG)]
    parts = {"planned": found.planned, "owed": found.owed, "awaited": found.awaited}
    for name, every in parts.items():
        if every:
            head = say(Message(f"life.list.{name}"))
            lines += [EMPTY, *wrapped(head, page.width, ink=Ink.STRONG)]
        for one in every:
            lines += _thing(one, found, page.width)
    if not any(parts.values()):
        nothing = say(Message("life.list.nothing"))
        lines += [EMPTY, *wrapped(nothing, page.width)]
    page.put(lines)
    return 0


def _thing(one: There, found: AllAhead, width: int | None) -> Iterable[Line]:
    thing = one.thing
    place = say(Message("life.list.at", {"site": one.site_name, "door": one.door_name}))
    named = say(Message("life.apart", {"one": said_thing(thing), "other": place}))
    yield from wrapped(named, width, indent=2, hang=2)
    day = None if isinstance(thing, Parts) else thing.day
    late = said_late(day, found.on)
    if late:
        yield from wrapped(late, width, ink=Ink.FAILS, indent=4)
    for told in _told(thing):
        yield from wrapped(told, width, ink=Ink.QUIET, indent=4)


def _told(thing: Plan | FollowUp | Parts) -> list[str]:
    match thing:
        case Plan():
            return [one for one in (said_who(thing), said_refusal(thing)) if one]
        case FollowUp():
            return [said_by(thing)]
        case Parts():
            return []
