"""A calendar that other programs take: RFC 5545 (2009), RFC 7986 (2016).

Read back by vobject and by icalendar's own parser.  T78 and T79 of the table of worked
rows: a line of 76 octets is folded after the 75th, and a character of two octets that
would begin on the 75th goes to the next line (RFC 5545, 3.1).
"""

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
import vobject
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar

from limen.exchange.calendar import EPOCH, Entry, Feed, calendar_file

MADE = datetime(2026, 11, 26, 8, 30, 5, tzinfo=UTC)
EARLIER = datetime(2026, 3, 17, 10, 0, 0, tzinfo=UTC)
DAY = date(2027, 2, 28)
SIX_HOURS = timedelta(hours=6)
"""RFC 7986, 5.7: how often a calendar is worth asking for again."""
LINE = 75
"""RFC 5545, 3.1: octets of a line, its end not counted."""


def entry(**said: Any) -> Entry:
    base: dict[str, Any] = {
        "key": "a" * 32,
        "day": DAY,
        "title": "Check the door: Library, Main entrance",
        "text": "Checked on 2026-08-31.",
        "place": "Alder Quay",
        "changed": EARLIER,
    }
    return Entry(**base | said)


def written(*entries: Entry, **more: Any) -> bytes:
    said: dict[str, Any] = {"made": MADE, **more}
    return calendar_file(entries, version="1.2", **said)


def read(data: bytes) -> Any:
    """Both readers take it; what vobject found is given."""
    Calendar.from_ical(data)
    found = vobject.readOne(data.decode("utf-8"))
    assert found.validate(raiseException=True)
    return found


@pytest.mark.parametrize(
    ("title", "first", "rest"),
    [
        # T78: SUMMARY: has 8 octets, so 68 of one octet each make a line of 76.
        ("a" * 68, LINE, b" a"),
        # T79: an é of two octets that begins on the 75th octet goes to the next line.
        ("a" * 66 + "é", 74, " é".encode()),
    ],
    ids=["T78", "T79"],
)
def test_a_line_is_folded_before_its_76th_octet_and_never_in_a_character(
    title: str, first: int, rest: bytes
) -> None:
    lines = written(entry(title=title)).split(b"\r\n")
    place = next(n for n, one in enumerate(lines) if one.startswith(b"SUMMARY:"))
    assert len(lines[place]) == first
    assert lines[place + 1] == rest


TEXTS = st.text(
    st.characters(
        codec="utf-8", exclude_categories=("Cc", "Cs"), include_characters="\n"
    ),
    min_size=1,
    max_size=200,
)


@settings(max_examples=30)
@given(TEXTS, TEXTS)
def test_whatever_a_site_is_called_comes_back_as_it_was_written(
    title: str, text: str
) -> None:
    """Escaping (3.3.11), ends of lines and folding (3.1)."""
    data = written(entry(title=title, text=text))
    lines = data.split(b"\r\n")
    assert max(map(len, lines)) <= LINE
    assert b"\n" not in b"".join(lines)
    assert b"\r" not in b"".join(lines)
    (event,) = Calendar.from_ical(data).walk("VEVENT")
    assert (str(event["SUMMARY"]), str(event["DESCRIPTION"])) == (title, text)


def test_nobody_puts_a_line_into_a_calendar_by_a_name() -> None:
    """3.1 and 3.3.11: an end of a line in a value is escaped, other control is none."""
    place = "Quay\r\nATTENDEE:mailto:a@example\rX-B:1\x00\x85Y"
    event = read(written(entry(place=place))).vevent
    assert not hasattr(event, "attendee")
    assert event.location.value == "Quay \nATTENDEE:mailto:a@example X-B:1  Y"


def test_a_day_is_a_whole_day_that_takes_no_time_away() -> None:
    """3.6.1: DTEND of whole days is the day after; 3.8.2.7: transparent."""
    event = read(written(entry())).vevent
    assert (event.dtstart.value, event.dtend.value) == (DAY, date(2027, 3, 1))
    assert event.transp.value == "TRANSPARENT"


def test_a_file_is_of_the_moment_at_which_it_was_made() -> None:
    """3.8.7.2: with a METHOD, DTSTAMP is when the file was made."""
    found = read(written(entry()))
    assert found.method.value == "PUBLISH"
    assert found.vevent.dtstamp.value == MADE
    assert found.vevent.last_modified.value == EARLIER


def test_an_entry_of_a_feed_is_of_the_moment_at_which_it_was_changed() -> None:
    """3.8.7.2: without a METHOD, DTSTAMP is when it was last revised."""
    feed = Feed("Door checks", SIX_HOURS)
    data = written(entry(), made=None, feed=feed)
    found = read(data)
    assert not hasattr(found, "method")
    assert found.vevent.dtstamp.value == found.vevent.last_modified.value == EARLIER
    assert written(entry(), made=None, feed=feed) == data


def test_a_feed_says_its_name_and_when_to_ask_again() -> None:
    """RFC 7986, 5.1 and 5.7; the older names beside them are common practice."""
    lines = written(entry(), made=None, feed=Feed("Door checks", SIX_HOURS)).split(
        b"\r\n"
    )
    assert b"NAME:Door checks" in lines
    assert b"X-WR-CALNAME:Door checks" in lines
    assert b"REFRESH-INTERVAL;VALUE=DURATION:PT6H" in lines
    assert b"X-PUBLISHED-TTL:PT6H" in lines


def test_a_later_change_has_a_higher_number_that_fits() -> None:
    """3.8.7.4: the sequence goes upwards; an INTEGER has 31 bits (3.3.8)."""
    moments = [EARLIER, EARLIER + timedelta(seconds=1), MADE]
    moments.append(datetime(2087, 12, 31, tzinfo=UTC))
    numbers = [
        int(read(written(entry(changed=one))).vevent.sequence.value) for one in moments
    ]
    assert numbers == sorted(set(numbers))
    assert 0 <= numbers[0] <= numbers[-1] < 2**31


def test_a_change_before_the_epoch_has_the_number_nought() -> None:
    data = written(entry(changed=EPOCH - timedelta(days=1)))
    assert b"SEQUENCE:0\r\n" in data


def test_what_comes_back_every_day_says_so_by_a_rule() -> None:
    """3.8.5.3."""
    event = read(written(entry(daily=True))).vevent
    assert event.rrule.value == "FREQ=DAILY"
    first = event.getrruleset(addRDate=True)[0:3]
    assert [one.date() for one in first] == [DAY + timedelta(days=n) for n in range(3)]


def test_a_reminder_comes_before_the_day_where_it_was_asked_for() -> None:
    """3.6.6: action, trigger and, to be shown, a description."""
    ahead = timedelta(days=14)
    alarm = read(written(entry(remind=ahead))).vevent.valarm
    assert (alarm.action.value, alarm.trigger.value) == ("DISPLAY", -ahead)
    assert alarm.description.value.startswith("Check the door")
    assert not hasattr(read(written(entry())).vevent, "valarm")


def test_an_entry_leads_to_more_of_it() -> None:
    """3.8.4.6."""
    event = read(written(entry(url="http://127.0.0.1:8765/sites/a/doorways/b"))).vevent
    assert event.url.value == "http://127.0.0.1:8765/sites/a/doorways/b"
