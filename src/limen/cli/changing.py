"""What `limen change` prints."""

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from limen.cli.lines import EMPTY, Ink, Line, Piece, wrapped
from limen.cli.paper import paper
from limen.exchange import dumps
from limen.findings import Message
from limen.words import named, say

if TYPE_CHECKING:
    from limen.desk.changes import Compared
    from limen.desk.changes_told import Line as Said
    from limen.desk.changes_told import Told
    from limen.quantity import Show


def as_json(found: "Compared", system: "Show") -> int:
    """Print it for programs; returns 0: the work is done."""
    from limen.desk.changes_told import change_json

    paper().put_text(dumps(change_json(found, system)))
    return 0


def as_text(found: "Compared", system: "Show") -> int:
    """Print it for people: what changed, what is owed; returns 0: the work is done."""
    from limen.desk.changes_told import told

    page = paper()
    said = told(found, system, kept=False)
    title = say(Message("change.title", {"door": found.now.door.name}))
    lines = wrapped(title, page.width, ink=Ink.STRONG)
    lines += wrapped(said.compared, page.width, ink=Ink.QUIET)
    if said.visits:
        lines += wrapped(said.visits, page.width, ink=Ink.QUIET)
    for note in said.notes:
        lines += [EMPTY, *wrapped(note, page.width)]
    parts: list[tuple[str, Iterable[Said]]] = [
        ("found.settings", said.settings),
        ("found.readings", said.readings),
        ("reopened.title", said.reopened),
        ("left.title", said.left),
        ("elsewhere.title", said.elsewhere),
    ]
    lines += _owed(said, page.width)
    for key, items in parts:
        lines += _part(key, items, _under(key, said), page.width)
    if not said.settings and not said.readings and found.settings is not None:
        lines += [EMPTY, *wrapped(say(Message("change.nothing")), page.width)]
    if said.work:
        lines += _listed("work.title", said.work, page.width)
    lines += [
        EMPTY,
        *wrapped(say(Message("change.caution")), page.width, ink=Ink.QUIET),
    ]
    page.put(lines)
    return 0


def _under(key: str, said: "Told") -> str:
    """What stands under a heading before its list."""
    return said.left_total if key == "left.title" else ""


def _owed(said: "Told", width: int | None) -> Iterator[Line]:
    """The tests owed, those for the same reasons together."""
    yield EMPTY
    title = say(Message("change.owed.title"))
    yield from wrapped(title, width, ink=Ink.STRONG)
    yield from wrapped(said.total, width, indent=2)
    for group in said.owed:
        yield EMPTY
        for why in group.because:
            yield from wrapped(why, width, indent=2, hang=2, ink=Ink.QUIET)
        for one in group.tests:
            yield from wrapped(named(one.name, one.says), width, indent=4, hang=2)


def _part(
    key: str, items: "Iterable[Said]", under: str, width: int | None
) -> Iterator[Line]:
    listed = list(items)
    if not listed and not under:
        return
    yield EMPTY
    yield from wrapped(say(Message(f"change.{key}")), width, ink=Ink.STRONG)
    if under:
        yield from wrapped(under, width, indent=2)
    for one in listed:
        yield from _one(one, width)


def _one(one: "Said", width: int | None) -> Iterator[Line]:
    from limen.cli.table import MARKS
    from limen.findings import Verdict

    head = named(one.name, one.says) if one.says else one.name
    if one.mark:
        mark = MARKS[Verdict(one.mark)]
        first, *rest = wrapped(head, width, indent=4, hang=0)
        yield (Piece(f"  {mark.text} ", mark.ink), Piece(_text(first).lstrip()))
        yield from rest
    else:
        yield from wrapped(head, width, indent=2, hang=2)
    for more in one.more:
        yield from wrapped(more, width, indent=4, ink=Ink.QUIET)


def _text(line: Line) -> str:
    return "".join(piece.text for piece in line)


def _listed(key: str, items: Iterable[str], width: int | None) -> list[Line]:
    lines = [EMPTY, *wrapped(say(Message(f"change.{key}")), width, ink=Ink.STRONG)]
    for one in items:
        lines += wrapped(one, width, indent=2)
    return lines
