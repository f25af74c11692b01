"""What `limen due` prints."""

from importlib.metadata import version

from limen.cli.lines import EMPTY, Ink, Line, Piece, columns, wrapped
from limen.cli.paper import paper
from limen.desk.due import AllDue, DueThere
from limen.exchange import dumps
from limen.exchange.due import due_contract, due_row
from limen.findings import Message
from limen.words import say
from limen.words.due import said_state

INKS = {
    "at once": Ink.FAILS,
    "overdue": Ink.FAILS,
    "not known": Ink.NOT_SHOWN,
    "in time": Ink.PLAIN,
}


def as_json(told: AllDue) -> int:
    """Print it for programs; returns 0: the work is done."""
    rows = [due_row(one.site, one.due) for one in told.every]
    values = due_contract(rows, told.unasked, on=told.on, version=version("limen"))
    paper().put_text(dumps(values))
    return 0


def as_text(told: AllDue) -> int:
    """Print it for people, the soonest first; returns 0: the work is done."""
    page = paper()
    width = page.width
    title = Message("due.title", {"day": told.on.isoformat()})
    lines = [*wrapped(say(title), width, ink=Ink.STRONG), EMPTY]
    for one in told.every:
        lines += _one(one, width)
    if not told.every:
        lines += wrapped(say(Message("due.nothing")), width)
    if told.unasked:
        lines += [EMPTY, *wrapped(say(Message("due.unasked")), width)]
        lines += [ln for one in told.unasked for ln in wrapped(one, width, indent=2)]
    for key in ("daily", "caution"):
        lines += [EMPTY, *wrapped(say(Message(f"due.{key}")), width, ink=Ink.QUIET)]
    page.put(lines)
    return 0


def _one(there: DueThere, width: int | None) -> list[Line]:
    one = there.due
    day = one.day.isoformat() if one.day else "–"
    head = [
        Piece(f"{day}  "),
        Piece(said_state(one.state, one.left), INKS[one.state]),
        Piece(f"{there.site}, {one.name}", Ink.STRONG),
    ]
    lines = [ln for row in columns([head], width, ((1, 22), (2, 30))) for ln in row]
    if one.state == "in time":
        return lines
    lines += wrapped(say(one.finding.because), width, indent=4)
    for lack in one.finding.lacking:
        text = say(Message("due.to_settle", {"lack": lack.message}))
        lines += wrapped(f"→ {text}", width, indent=4, hang=2)
    return lines
