"""What `limen due` prints."""

from collections.abc import Iterable, Iterator
from importlib.metadata import version

from limen.cli.lines import EMPTY, Ink, Line, Piece, columns, wrapped
from limen.cli.paper import paper
from limen.desk.due import AllDue, By, DailyThere, DueThere, grouped
from limen.exchange import dumps
from limen.exchange.due import daily_row, due_contract, due_row
from limen.findings import Message
from limen.words import say, say_word
from limen.words.due import said_daily, said_group, said_state

INKS = {
    "at once": Ink.FAILS,
    "overdue": Ink.FAILS,
    "not known": Ink.NOT_SHOWN,
    "in time": Ink.PLAIN,
}


def as_json(told: AllDue, by: By | None = None) -> int:
    """Print it for programs; returns 0: the work is done."""
    every = [one for _, rows in grouped(told.every, by) for one in rows] if by else None
    rows = [due_row(one.site, one.due) for one in every or told.every]
    values = due_contract(
        rows,
        told.unasked,
        on=told.on,
        version=version("limen"),
        daily=[daily_row(one.site, one.doors, one.who) for one in told.daily],
        not_used=told.refused,
    )
    paper().put_text(dumps(values))
    return 0


def as_text(told: AllDue, by: By | None = None) -> int:
    """Print it for people, the soonest first; returns 0: the work is done."""
    page = paper()
    width = page.width
    title = Message("due.title", {"day": told.on.isoformat()})
    lines = [*wrapped(say(title), width, ink=Ink.STRONG), EMPTY]
    lines += _groups(told, by, width) if by else _all(told.every, width)
    if not told.every:
        lines += wrapped(say(Message("due.nothing")), width)
    if told.unasked:
        lines += [EMPTY, *wrapped(say(Message("due.unasked")), width)]
        lines += [ln for one in told.unasked for ln in wrapped(one, width, indent=2)]
    lines += _daily(told.daily, width)
    if told.refused:
        lines.append(EMPTY)
    for one in told.refused:
        lines += wrapped(one, width, ink=Ink.NOT_SHOWN)
    lines += [EMPTY, *wrapped(say(Message("due.caution")), width, ink=Ink.QUIET)]
    page.put(lines)
    return 0


def _groups(told: AllDue, by: By, width: int | None) -> Iterator[Line]:
    for number, (name, rows) in enumerate(grouped(told.every, by)):
        if number:
            yield EMPTY
        yield from wrapped(said_group(by, name), width, ink=Ink.STRONG)
        yield from _all(rows, width)


def _all(rows: Iterable[DueThere], width: int | None) -> Iterator[Line]:
    for one in rows:
        yield from _one(one, width)


def _one(there: DueThere, width: int | None) -> list[Line]:
    one = there.due
    day = one.day.isoformat() if one.day else "–"
    head = [
        Piece(f"{day}  "),
        Piece(said_state(one.state, one.left), INKS[one.state]),
        Piece(f"{there.site}, {one.name}", Ink.STRONG),
    ]
    lines = [ln for row in columns([head], width, ((1, 22), (2, 30))) for ln in row]
    said = [] if one.state == "in time" else [one.because]
    for each in (*said, *one.beside):
        lines += wrapped(say(each), width, indent=4)
    if one.state == "in time":
        return lines
    for lack in one.lacking:
        text = say(Message("due.to_settle", {"lack": lack.message}))
        lines += wrapped(f"→ {text}", width, indent=4, hang=2)
    return lines


def _daily(every: Iterable[DailyThere], width: int | None) -> Iterator[Line]:
    """One line a site, and who asks for it, each once."""
    rows = list(every)
    if not rows:
        return
    yield EMPTY
    yield from wrapped(say(Message("due.daily.title")), width, ink=Ink.STRONG)
    for one in rows:
        text = f"{one.site}. {said_daily(one.doors, one.who)}"
        yield from wrapped(text, width, indent=2, hang=2)
    for document, grade in dict.fromkeys((one.document, one.grade) for one in rows):
        said = {"document": document, "grade": say_word("grade_short", grade)}
        asks = Message("due.daily.asked", said) if document else None
        text = say(asks or Message("due.daily.own"))
        yield from wrapped(text, width, indent=2, ink=Ink.QUIET)
