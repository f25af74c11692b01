"""Checks that are due, as an iCalendar file or feed (RFC 5545, RFC 7986)."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from unicodedata import category

AHEAD = timedelta(days=14)
"""How long before the day a calendar reminds of it, unless asked otherwise."""
DOMAIN = "limen.invalid"
OCTETS = 75
"""Of a line, its end not counted (RFC 5545, 3.1)."""
LINE_END = b"\r\n"
EPOCH = datetime(2020, 1, 1, tzinfo=UTC)
"""From when sequence numbers count; with seconds they fit 31 bits until 2088."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One day in a calendar, or every day.

    Attributes:
        key: what stays the same when the day moves: site and doorway.
        day: the day, or the first one of every day.
        title: what is due.
        text: what is known of it.
        place: where.
        changed: when anything that it says was changed last.
        url: where more of it stands; empty if nowhere.
        remind: how long before the day a calendar reminds of it; None: never.
        daily: whether it comes back every day.
    """

    key: str
    day: date
    title: str
    text: str
    place: str
    changed: datetime
    url: str = ""
    remind: timedelta | None = None
    daily: bool = False


@dataclass(frozen=True, slots=True)
class Feed:
    """What a calendar that is subscribed to says of itself.

    Attributes:
        name: what it is called.
        every: how often it is worth asking for again.
    """

    name: str
    every: timedelta


def calendar_file(
    entries: Sequence[Entry],
    *,
    version: str,
    made: datetime | None = None,
    feed: Feed | None = None,
) -> bytes:
    """An iCalendar file with one whole day an entry, and a reminder before it.

    Args:
        entries: what is due.
        version: of limen.
        made: when a file is made that is sent and taken in; None for a feed, whose
            entries are of the moment at which each was changed (RFC 5545, 3.8.7.2).
        feed: name and interval of a feed.
    """
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        f"PRODID:-//limen//{version}//EN",
        "CALSCALE:GREGORIAN",
        *(("METHOD:PUBLISH",) if made is not None else ()),
        *(_described(feed) if feed is not None else ()),
        *(line for one in entries for line in _event(one, made or one.changed)),
        "END:VCALENDAR",
    ]
    return b"".join(folded_line(one) + LINE_END for one in lines)


def folded_line(line: str) -> bytes:
    """A content line in lines of at most 75 octets, no character broken in two.

    Each further line begins with a space, which counts.

    Args:
        line: without its end.

    Source:
        RFC 5545 (2009), section 3.1.
    """
    whole = line.encode("utf-8")
    if len(whole) <= OCTETS:
        return whole
    lines, room = [bytearray()], OCTETS
    for character in line:
        octets = character.encode("utf-8")
        if len(octets) > room:
            lines.append(bytearray(b" "))
            room = OCTETS - 1
        lines[-1] += octets
        room -= len(octets)
    return LINE_END.join(bytes(one) for one in lines)


def _described(feed: Feed) -> Iterator[str]:
    from icalendar import vDuration

    every = vDuration(feed.every).to_ical().decode()
    yield f"NAME:{_text(feed.name)}"
    yield f"X-WR-CALNAME:{_text(feed.name)}"
    yield f"REFRESH-INTERVAL;VALUE=DURATION:{every}"
    yield f"X-PUBLISHED-TTL:{every}"


def _event(one: Entry, stamp: datetime) -> Iterator[str]:
    """The lines of an entry; written here, since there may be ten thousand."""
    yield "BEGIN:VEVENT"
    yield f"UID:{one.key}@{DOMAIN}"
    yield f"DTSTAMP:{_moment(stamp)}"
    yield f"LAST-MODIFIED:{_moment(one.changed)}"
    yield f"SEQUENCE:{max(int((one.changed - EPOCH).total_seconds()), 0)}"
    yield f"DTSTART;VALUE=DATE:{one.day:%Y%m%d}"
    yield f"DTEND;VALUE=DATE:{one.day + timedelta(days=1):%Y%m%d}"
    if one.daily:
        yield "RRULE:FREQ=DAILY"
    yield f"SUMMARY:{_text(one.title)}"
    yield f"DESCRIPTION:{_text(one.text)}"
    yield "TRANSP:TRANSPARENT"
    if one.place:
        yield f"LOCATION:{_text(one.place)}"
    if one.url:
        yield f"URL:{one.url}"
    if one.remind is not None:
        yield from _alarm(one, one.remind)
    yield "END:VEVENT"


def _alarm(one: Entry, ahead: timedelta) -> Iterator[str]:
    yield "BEGIN:VALARM"
    yield "ACTION:DISPLAY"
    yield f"DESCRIPTION:{_text(one.title)}"
    yield f"TRIGGER:-P{ahead.days}D"
    yield "END:VALARM"


def _moment(at: datetime) -> str:
    return f"{at.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def _text(text: str) -> str:
    """A TEXT value, escaped; it has no control characters (RFC 5545, 3.3.11)."""
    from icalendar import vText

    plain = "".join(
        one if one == "\n" or category(one) != "Cc" else " " for one in text
    )
    return vText(plain).to_ical().decode("utf-8")
