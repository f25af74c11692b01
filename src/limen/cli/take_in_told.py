"""What `limen fleet take-in` prints."""

from collections.abc import Iterator
from pathlib import Path

from limen.cli.lines import EMPTY, Ink, Line, line, wrapped
from limen.cli.paper import paper
from limen.desk import taking_in as desk
from limen.desk import taking_in_told as say_in
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.words import say

MOST = 50
"""Refused rows that are listed; all of them stand in their file."""


def no_folder() -> int:
    """Refuse to guess where site files are wanted."""
    raise Refusal([_say("out_lacks")])


def map_written(table: desk.Table, path: Path) -> int:
    """Say how the list was read, and where the suggestion lies."""
    page = paper()
    page.put([*_read(table, page.width), EMPTY])
    page.put(wrapped(_say("map_written", file=str(path)), page.width))
    return 0


def suggestion(table: desk.Table, mapping: desk.DoorMap) -> None:
    """Print the mapping that the list suggests."""
    page = paper()
    page.put(wrapped(_say("no_map"), page.width))
    page.put([EMPTY])
    page.put_text(desk.map_text(mapping, table))
    page.put([EMPTY])


def tried(done: desk.Tried, *, every: bool) -> int:
    """Print what would be taken in; returns 0: the work is done."""
    page = paper()
    page.put([*_told(done, page.width, every=every), EMPTY])
    page.put(wrapped(_say("dry"), page.width))
    return 0


def written(done: desk.Tried, files: desk.Written, *, every: bool) -> int:
    """Print what was taken in; returns 0: the work is done."""
    page = paper()
    width = page.width
    lines = [*_told(done, width, every=every), EMPTY]
    lines += [ln for one in files.files for ln in _wrapped_file(one, width)]
    if not files.files:
        lines += wrapped(_say("nothing_written"), width)
    if files.refused:
        lines += wrapped(_say("refused_file", file=str(files.refused)), width)
    lines += wrapped(_say("unknown_rest"), width, ink=Ink.QUIET)
    page.put(lines)
    return 0


def _wrapped_file(path: Path, width: int | None) -> list[Line]:
    return wrapped(_say("written", file=str(path)), width, hang=2)


def _say(key: str, **values: str | int) -> str:
    return say(Message(f"take_in.done.{key}", values))


def _read(table: desk.Table, width: int | None) -> Iterator[Line]:
    for one in table.told:
        yield from wrapped(say(one), width, ink=Ink.QUIET, hang=2)


def _told(done: desk.Tried, width: int | None, *, every: bool) -> Iterator[Line]:
    yield from _read(done.table, width)
    for said in say_in.noted(done):
        yield from wrapped(said, width, ink=Ink.QUIET, hang=2)
    yield EMPTY
    yield from wrapped(say_in.counted(done), width, ink=Ink.STRONG)
    for said in say_in.sites_told(done.plan):
        yield from wrapped(said, width, indent=2, hang=2)
    rows = say_in.refused_told(done.plan)
    if rows:
        yield EMPTY
        yield line(say(Message("take_in.refused_rows")), Ink.STRONG)
    for row in rows if every else rows[:MOST]:
        yield from wrapped(row.where, width, indent=2, ink=Ink.FAILS)
        for why, accepted in row.whys:
            yield from wrapped(why, width, indent=4, hang=2)
            if accepted:
                said = _say("accepted", accepted=accepted)
                yield from wrapped(said, width, indent=4, hang=2, ink=Ink.QUIET)
    more = 0 if every else len(rows) - MOST
    if more > 0:
        yield from wrapped(_say("more", count=more, file=desk.REFUSED_FILE), width)
