"""Checks that are due, as an iCalendar file (RFC 5545)."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Any, cast

AHEAD = timedelta(days=14)
"""How long before the day a calendar reminds of it."""
DOMAIN = "limen.invalid"


@dataclass(frozen=True, slots=True)
class Entry:
    """One day in a calendar.

    Attributes:
        key: what stays the same when the day moves: site and doorway.
        day: the day.
        title: what is due.
        text: what is known of it.
        place: where.
    """

    key: str
    day: date
    title: str
    text: str
    place: str = ""


def calendar_file(entries: Sequence[Entry], *, made: date, version: str) -> bytes:
    """An iCalendar file with one whole day an entry, and a reminder before it.

    Args:
        entries: what is due.
        made: the day on which it is made.
        version: of limen.
    """
    from icalendar import Alarm, Calendar, Event

    # Its methods are typed in part only.
    calendar = cast("Any", Calendar())
    calendar.add("prodid", f"-//limen//{version}//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    for one in entries:
        event, alarm = cast("Any", Event()), cast("Any", Alarm())
        event.add("uid", f"{one.key}@{DOMAIN}")
        event.add("dtstamp", datetime.combine(made, time.min, UTC))
        event.add("dtstart", one.day)
        event.add("dtend", one.day + timedelta(days=1))
        event.add("summary", one.title)
        event.add("description", one.text)
        event.add("transp", "TRANSPARENT")
        if one.place:
            event.add("location", one.place)
        alarm.add("action", "DISPLAY")
        alarm.add("description", one.title)
        alarm.add("trigger", -AHEAD)
        event.add_component(alarm)
        calendar.add_component(event)
    return cast("bytes", calendar.to_ical())
