"""Checks that are due, as an iCalendar file or feed (RFC 5545, RFC 7986)."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Any, cast

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
    from icalendar import Calendar

    # Its methods are typed in part only.
    calendar = cast("Any", Calendar())
    calendar.add("prodid", f"-//limen//{version}//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    if made is not None:
        calendar.add("method", "PUBLISH")
    if feed is not None:
        _describe(calendar, feed)
    for one in entries:
        calendar.add_component(_event(one, made or one.changed))
    lines = cast("Sequence[str]", calendar.content_lines())
    return b"".join(folded_line(str(one)) + LINE_END for one in lines if one)


def folded_line(line: str) -> bytes:
    """A content line in lines of at most 75 octets, no character broken in two.

    Each further line begins with a space, which counts.

    Args:
        line: without its end.

    Source:
        RFC 5545 (2009), section 3.1.
    """
    lines, room = [bytearray()], OCTETS
    for character in line:
        octets = character.encode("utf-8")
        if len(octets) > room:
            lines.append(bytearray(b" "))
            room = OCTETS - 1
        lines[-1] += octets
        room -= len(octets)
    return LINE_END.join(bytes(one) for one in lines)


def _describe(calendar: Any, feed: Feed) -> None:  # noqa: ANN401 - typed in part only
    from icalendar import vDuration

    calendar.add("name", feed.name)
    calendar.add("x-wr-calname", feed.name)
    interval = cast("Any", vDuration(feed.every))
    interval.params["VALUE"] = "DURATION"
    calendar.add("refresh-interval", interval)
    calendar.add("x-published-ttl", vDuration(feed.every).to_ical().decode())


def _event(one: Entry, stamp: datetime) -> object:
    from icalendar import Event

    event = cast("Any", Event())
    event.add("uid", f"{one.key}@{DOMAIN}")
    event.add("dtstamp", stamp.astimezone(UTC))
    event.add("last-modified", one.changed.astimezone(UTC))
    event.add("sequence", max(int((one.changed - EPOCH).total_seconds()), 0))
    event.add("dtstart", one.day)
    event.add("dtend", one.day + timedelta(days=1))
    if one.daily:
        event.add("rrule", {"freq": "daily"})
    event.add("summary", one.title)
    event.add("description", one.text)
    event.add("transp", "TRANSPARENT")
    if one.place:
        event.add("location", one.place)
    if one.url:
        event.add("url", one.url)
    if one.remind is not None:
        event.add_component(_alarm(one, one.remind))
    return event


def _alarm(one: Entry, ahead: timedelta) -> object:
    from icalendar import Alarm

    alarm = cast("Any", Alarm())
    alarm.add("action", "DISPLAY")
    alarm.add("description", one.title)
    alarm.add("trigger", -ahead)
    return alarm
