"""What is remembered of the checks at each site, as values that are written down."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from datetime import date, datetime
from typing import TYPE_CHECKING, Any, cast

from limen.findings import Lack, Measure, Message
from limen.quantity import Dimension
from limen.store.database.witnesses import Seen

if TYPE_CHECKING:
    from limen.desk.due import DailyThere
    from limen.desk.due_books import Books
    from limen.keep.due import Due
    from limen.keep.folding import Said

Table = Mapping[str, Any]
Stamp = tuple[str, str, Seen]
"""Digest of the site's text, what else it rests on, and how much had come in."""


@dataclass(frozen=True, slots=True)
class SiteDue:
    """The checks at a site.

    Attributes:
        on: the day for which they were worked out.
        changed: when anything that they rest on was changed last, ISO 8601.
        place: where the site is.
        every: its doorways and their checks, in the order of its file.
        unasked: names of doorways whose rulebook asks for no check.
        unjudged: id and name of doorways that no edition judges.
        daily: the owner's daily check, if it is asked for.
        unread: whether its text cannot be read.
    """

    on: date
    changed: str
    place: str = ""
    every: "tuple[Due, ...]" = ()
    unasked: tuple[str, ...] = ()
    unjudged: tuple[tuple[str, str], ...] = ()
    daily: "DailyThere | None" = None
    unread: bool = False

    def holds_on(self, on: date) -> bool:
        """Whether it can be said for another day."""
        return on == self.on or not any(one.fixed for one in self.every)


@dataclass
class DueMemory:
    """What is known of all sites, and how far the library was looked through for it.

    Attributes:
        seen: by site how much had come in.
        visits, said: numbers of the last events that were looked at.
        sites: by id what was worked out, and of what.
        whole: the list put together, under all that it rests on.
        recalled: whether what was written down before was looked at.
        books: the editions that judge doorways, once they were read.
    """

    seen: dict[str, Seen] = field(default_factory=dict[str, Seen])
    visits: int = 0
    said: int = 0
    sites: dict[str, tuple[Stamp, SiteDue]] = field(
        default_factory=dict[str, tuple[Stamp, SiteDue]]
    )
    whole: tuple[object, object] | None = None
    recalled: bool = False
    books: "Books | None" = None


def as_plain(stamp: Stamp, one: SiteDue) -> dict[str, Any]:
    """What is known of a site as JSON takes it."""
    return {
        "of": [stamp[0], stamp[1], asdict(stamp[2])],
        "on": one.on.isoformat(),
        "changed": one.changed,
        "place": one.place,
        "every": [_due(each) for each in one.every],
        "unasked": list(one.unasked),
        "unjudged": [list(each) for each in one.unjudged],
        "daily": _daily(one.daily) if one.daily else None,
        "unread": one.unread,
    }


def from_plain(said: Table) -> tuple[Stamp, SiteDue]:
    """The same from JSON.

    Raises:
        KeyError, TypeError, ValueError: another version of limen wrote it.
    """
    from limen.desk.due import DailyThere

    digest, basis, seen = said["of"]
    daily = said["daily"]
    made = SiteDue(
        date.fromisoformat(said["on"]),
        said["changed"],
        said["place"],
        tuple(_due_from(each) for each in said["every"]),
        tuple(said["unasked"]),
        tuple((door, name) for door, name in said["unjudged"]),
        DailyThere(**daily | {"doors": tuple(daily["doors"]), "since": _day(daily)})
        if daily
        else None,
        said["unread"],
    )
    return (digest, basis, Seen(**seen)), made


def _day(daily: Table) -> date | None:
    return date.fromisoformat(daily["since"]) if daily["since"] else None


def _daily(one: "DailyThere") -> dict[str, Any]:
    since = one.since.isoformat() if one.since else None
    return {**asdict(one), "doors": list(one.doors), "since": since}


def _due(one: "Due") -> dict[str, Any]:
    return {
        "doorway": one.doorway,
        "name": one.name,
        "state": one.state,
        "day": one.day.isoformat() if one.day else None,
        "left": one.left,
        "because": _message(one.because),
        "lacking": [[lack.key, _message(lack.message)] for lack in one.lacking],
        "beside": [_message(each) for each in one.beside],
        "person": one.person,
        "route": one.route,
        "fixed": one.fixed,
        "last": _said(one.last),
        "pending": _said(one.pending),
    }


def _due_from(said: Table) -> "Due":
    from limen.keep.due import Due

    return Due(
        doorway=said["doorway"],
        name=said["name"],
        state=said["state"],
        day=date.fromisoformat(said["day"]) if said["day"] else None,
        left=said["left"],
        because=_message_from(said["because"]),
        lacking=tuple(Lack(_message_from(each), key) for key, each in said["lacking"]),
        beside=tuple(_message_from(each) for each in said["beside"]),
        person=said["person"],
        route=said["route"],
        fixed=said["fixed"],
        last=_said_from(said["last"]),
        pending=_said_from(said["pending"]),
    )


def _said(one: "Said | None") -> dict[str, Any] | None:
    if one is None:
        return None
    return {
        "what": one.what,
        "day": one.day.isoformat(),
        "source": _message(one.source),
        "at": one.at.isoformat() if one.at else None,
        "text": _value(one.text),
        "of": one.of,
    }


def _said_from(said: Table | None) -> "Said | None":
    from limen.keep.folding import Said

    if said is None:
        return None
    at, text = said["at"], _value_from(said["text"])
    return Said(
        said["what"],
        date.fromisoformat(said["day"]),
        _message_from(said["source"]),
        datetime.fromisoformat(at) if at else None,
        text if isinstance(text, Message) else str(text),
        said["of"],
    )


def _message(one: Message) -> list[Any]:
    return [one.key, {name: _value(each) for name, each in one.values.items()}]


def _value(one: "str | int | Measure | Message") -> object:
    match one:
        case Message():
            return {"message": _message(one)}
        case Measure():
            return {"measure": [one.value, one.dimension.value]}
        case _:
            return one


def _message_from(said: "list[Any]") -> Message:
    key, values = said
    return Message(key, {name: _value_from(each) for name, each in values.items()})


def _value_from(said: object) -> "str | int | Measure | Message":
    if not isinstance(said, dict):
        return cast("str | int", said)
    table = cast("Table", said)
    if "message" in table:
        return _message_from(table["message"])
    value, dimension = table["measure"]
    return Measure(value, Dimension(dimension))
