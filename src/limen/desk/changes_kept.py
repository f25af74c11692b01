"""What changed at a doorway of the library since its last record."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from limen.desk.ahead import agenda_of
from limen.desk.changes import Attended, Compared, Said, Then, compare
from limen.desk.changes_doors import At
from limen.desk.library import (
    Desk,
    FileFaults,
    Opened,
    book_of,
    read_text,
    study_of,
)
from limen.desk.reading_facts import reads_of
from limen.desk.refusal import Refusal
from limen.desk.visits import Folded, record_of_bytes, visits
from limen.findings import Message
from limen.quantity import Show
from limen.store.database.records import KeptRecord, records_at
from limen.words import say


def change_at(
    desk: Desk,
    opened: Opened,
    doorway: str,
    *,
    number: int | None = None,
    system: Show = Show.METRIC,
) -> Compared | None:
    """What changed at a doorway since a record, and which tests that owes.

    Args:
        desk: the desk.
        opened: the site as it is kept now.
        doorway: which doorway of it.
        number: of the record; the last one of a visit if None, or the last one.
        system: in which units it is said.

    Returns:
        None where the doorway has no record.

    Raises:
        Refusal: there is no such doorway or record, or nothing settles its edition.
    """
    opened.doorway(doorway)
    kept = records_at(desk.library, opened.stored.id, doorway)
    record = _chosen(kept, number)
    if record is None:
        return None
    then = _then(desk, opened, doorway, record)
    now = at(desk, opened, doorway)
    since = [
        _attended(one, opened)
        for one in reversed(visits(desk, opened.stored.id, doorway))
        if one.record is None and _later(one, then)
    ]
    said = Said(since, parts=tuple(_fitted(desk, opened, doorway, record)))
    return compare(then, now, said, system=system)


def at(desk: Desk, opened: Opened, doorway: str) -> At:
    """A doorway with all that is asked of it; computed once a text and day.

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
    """
    from limen.study.running import asked_of

    door, site = opened.doorway(doorway), opened.site
    book = book_of(desk, site, door)
    return At(
        site,
        door,
        study_of(desk, opened, doorway),
        reads_of(desk, opened, doorway),
        asked_of(door, book, on=desk.day(), site=site),
    )


def _chosen(kept: tuple[KeptRecord, ...], number: int | None) -> KeptRecord | None:
    """The record that was asked for; of a visit, where none was asked for.

    Raises:
        Refusal: there is none of this number.
    """
    if number is None:
        of_visit = (one for one in kept if one.visit is not None)
        return next(of_visit, next(iter(kept), None))
    found = next((one for one in kept if one.number == number), None)
    if found is None:
        said = Message("change.refused.number", {"number": number})
        raise Refusal([say(said)])
    return found


def _then(desk: Desk, opened: Opened, doorway: str, record: KeptRecord) -> Then:
    said = record_of_bytes(record.sealed)
    made = partial(Then, said, record.digest, record.number)
    files = set(said.get("files", {}).values())
    if opened.stored.digest in files:
        return made(at(desk, opened, doorway), "same")
    was = _of_that_day(desk, opened, files)
    try:
        return made(at(desk, was, doorway), "known") if was else made(None, "not here")
    except Refusal:
        return made(None, "not here")


def _of_that_day(desk: Desk, opened: Opened, files: set[str]) -> Opened | None:
    """The site as its text was; None if that is not kept, or cannot be read."""
    stored = opened.stored
    for version in desk.library.history(stored.id):
        if version.digest in files:
            text = desk.library.text(stored.id, version.number)
            then = replace(
                stored, text=text, version=version.number, digest=version.digest
            )
            try:
                return Opened(then, read_text(desk, text, stored.name)[0].site)
            except FileFaults:
                return None
    return None


def _fitted(
    desk: Desk, opened: Opened, doorway: str, record: KeptRecord
) -> Iterator[tuple[str, str | None]]:
    """Parts that were fitted after the record was sealed, and not at its own visit."""
    claimed = str(record_of_bytes(record.sealed).get("claimed", ""))
    for one in agenda_of(desk, opened.stored.id, doorway).parts:
        last = one.last
        own = record.visit is not None and last.said.visit == record.visit
        if one.state != "fitted" or own:
            continue
        day = last.said.day.isoformat() if last.said.day else last.at[:10]
        if (day, last.at[:19]) >= (claimed[:10], claimed[:19]):
            yield last.said.name, last.said.fitting


def _attended(one: Folded, opened: Opened) -> Attended:
    started = one.found.started
    current = started is not None and started.said.digest == opened.stored.digest
    return Attended(one.found, one.json, current)


def _later(one: Folded, then: Then) -> bool:
    """Whether a visit was begun after the record says that it was sealed."""
    first = one.found.started or one.found.events[0]
    return first.at[:19] >= str(then.record.get("claimed", ""))[:19]
