"""What changed at a doorway of a site file since a record that was sealed of it."""

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

from limen.desk.changes import Attended, Compared, Said, Text, Then, compare
from limen.desk.changes_doors import At
from limen.desk.clock import today
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.quantity import Show
from limen.words import say

if TYPE_CHECKING:
    from limen.store.sitefile import SiteFile

SHEET = "sheet "

Row = Mapping[str, Any]


def change_file(
    path: Path,
    doorway: str,
    record: Path,
    *,
    was: Path | None = None,
    visit: Path | None = None,
    done: Sequence[str] = (),
    mended: Sequence[str] = (),
    on: date | None = None,
    system: Show = Show.METRIC,
) -> Compared:
    """What changed at a doorway since a record, and which tests that owes.

    Args:
        path: the site file as it is now.
        doorway: id of the doorway.
        record: the sealed record, as JSON or as its PDF.
        was: the site file that the record rests on, where it is another one now.
        visit: the events of a visit since, as a card saves them.
        done: pieces of work that were done since.
        mended: causes that were mended since.
        on: the day; today if not given.
        system: in which units it is said.

    Raises:
        Refusal: something cannot be used, all of it together where that can be told.
    """
    from limen.desk.record_reading import read_record
    from limen.desk.sites import read

    sealed = read_record(record)
    said = sealed.table
    file = read(path)
    _of_door(said, record, file, doorway)
    day = on or today()
    now = _at(file, doorway, day)
    then = _then(said, sealed.digest, (file, now), _was(said, was), doorway, day)
    since = _said(file, doorway, visit, done, mended)
    return compare(then, now, since, system=system)


def _of_door(said: Row, path: Path, file: "SiteFile", doorway: str) -> None:
    if said["doorway"] != doorway or said["site"] != file.site.name:
        told = {"found": str(said["doorway"]), "site": str(said["site"])}
        _refuse("door", file=str(path), asked=doorway, **told)


def _was(said: Row, path: Path | None) -> "SiteFile | None":
    from limen.desk.sites import read

    if path is None:
        return None
    file = read(path)
    if file.digest not in said["files"].values():
        _refuse("was", file=str(path))
    return file


def _at(file: "SiteFile", doorway: str, day: date) -> At:
    from limen.desk.checking import study
    from limen.desk.reading_facts import looked_at
    from limen.desk.shelves import DEFAULT, judging, shelf
    from limen.desk.sites import chosen
    from limen.study.running import asked_of

    site = file.site
    (door,) = chosen(site, doorway)
    (book,) = judging([door], shelf(), site.rulebook or DEFAULT, None)
    return At(
        site,
        door,
        study(door, book, on=day, site=site),
        looked_at(door, site, book, day),
        asked_of(door, book, on=day, site=site),
    )


def _then(
    said: Row,
    digest: str,
    now: "tuple[SiteFile, At]",
    was: "SiteFile | None",
    doorway: str,
    day: date,
) -> Then:
    file, at = now
    number = said.get("number")
    before: At | None = None
    text: Text = "not here"
    if file.digest in said["files"].values():
        text, before = "same", at
    elif was is not None:
        text, before = "known", _at(was, doorway, day)
    sheets = _sheets(said, file)
    known = number if isinstance(number, int) else None
    return Then(said, digest, known, before, text, sheets)


def _sheets(said: Row, file: "SiteFile") -> frozenset[str]:
    """Sheets whose text is not that of the day on which the record was sealed."""
    files: Mapping[str, str] = said["files"]
    return frozenset(
        one.name
        for one in file.sheets
        if files.get(f"{SHEET}{one.name}", one.digest) != one.digest
    )


def _said(
    file: "SiteFile",
    doorway: str,
    visit: Path | None,
    done: Sequence[str],
    mended: Sequence[str],
) -> Said:
    from limen.desk.record_visit import visited_in
    from limen.desk.visits_folded import folded_json
    from limen.keep.touching import DONE
    from limen.store.causes import known_causes

    for one in done:
        if one not in DONE:
            _refuse("work", found=one, accepted=", ".join(DONE))
    groups = {one.id: one.owed for one in known_causes().causes}
    for one in mended:
        if one not in groups:
            _refuse("cause", found=one)
    visits: list[Attended] = []
    if visit is not None:
        found, raw = visited_in(visit, doorway)
        started = found.started
        current = started is not None and started.said.digest == file.digest
        visits.append(Attended(found, folded_json(found, raw), current))
    return Said(visits, tuple(done), {one: groups[one] for one in mended})


def _refuse(key: str, /, **values: str) -> NoReturn:
    raise Refusal([say(Message(f"change.refused.{key}", values))])
