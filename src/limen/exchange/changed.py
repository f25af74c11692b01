"""What changed since a record, for programs."""

from collections.abc import Iterable, Mapping
from datetime import date

from limen.exchange.contract import Json
from limen.exchange.symbols import SI
from limen.findings import Message
from limen.keep.differing import ReadAgain
from limen.keep.owing import OwedTest, Owing, Reopened, Test
from limen.quantity import Show
from limen.words import say

DIGITS = 6


def change_contract(
    head: Json,
    changes: Iterable[Json] | None,
    readings: Iterable[Json],
    owing: Owing,
    titles: Mapping[str, Message],
    *,
    since: Iterable[str] = (),
    system: Show = Show.METRIC,
) -> Json:
    """What changed, what is open again, which tests are owed and which are not.

    Args:
        head: what is compared: site, doorway, record, day.
        changes: facts that are not as they were; None where nobody can tell.
        readings: what was read again.
        owing: what that asks for.
        titles: by test what it is called.
        since: what was done, in words.
        system: units of the sentences.
    """
    return {
        **head,
        "changes": None if changes is None else list(changes),
        "readings": list(readings),
        "done": list(since),
        "reopened": [_reopened(one, system) for one in owing.reopened],
        "owed": [_owed(one, titles, system) for one in owing.owed],
        "minutes": owing.minutes,
        "work": list(owing.work),
        "not_asked_again": [_left(one, titles, system) for one in owing.left],
        "elsewhere": [
            {"question": question, "shown": by} for question, by in owing.elsewhere
        ],
    }


def change_head(
    *, site: str, doorway: str, record: Json, on: date | None, version: str
) -> Json:
    """What is compared with what.

    Args:
        site: name of the site.
        doorway: id of the doorway.
        record: number, digest and claimed time of the record.
        on: the day for which it is asked.
        version: of limen.
    """
    return {
        "limen": version,
        "schema": 1,
        "site": site,
        "doorway": doorway,
        "on": on.isoformat() if on else None,
        "record": record,
    }


def reading_row(one: ReadAgain, outcome: str) -> Json:
    """One thing that was read again; figures are SI."""
    figures = one.left is not None and one.found is not None
    return {
        "fitting": one.fitting or None,
        "of": one.kind,
        "part": one.part.strip("|") or None,
        "left": one.said[0],
        "found": one.said[1],
        "by": round(one.by, DIGITS) if figures else None,
        "within": round(one.within, DIGITS) if figures else None,
        "unit": SI[one.dimension] if figures and one.dimension else None,
        "moved": one.moved,
        "says": outcome,
    }


def _reopened(one: Reopened, system: Show) -> Json:
    question, fitting, case = one.key
    return {
        "question": question,
        "fitting": fitting or None,
        "case": case or None,
        "must": one.must,
        "now": one.now.value,
        "why": one.why,
        "because": [say(each, system=system) for each in one.because],
    }


def _owed(one: OwedTest, titles: Mapping[str, Message], system: Show) -> Json:
    because = [say(each, system=system) for each in one.because]
    return {**_left(one.test, titles, system), "because": because}


def _left(one: Test, titles: Mapping[str, Message], system: Show) -> Json:
    return {
        "id": one.id,
        "title": say(titles[one.id], system=system),
        "minutes": one.minutes,
        "minimum": one.minimum,
    }
