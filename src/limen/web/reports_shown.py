"""What pages say of a fault that was reported."""

from dataclasses import dataclass

from limen.desk.reports import Report
from limen.findings import Message
from limen.words import reading, say, say_day
from limen.words.tracing import said_answer
from limen.words.visits import said_moment


@dataclass(frozen=True, slots=True)
class Row:
    """A report as a list shows it.

    Attributes:
        id: its own.
        title: of which moment it is.
        head: what the door does, in a few words.
        text: what was said of it, line by line.
        more: who told it, since when, on which record.
        state: not seen, seen by whom, settled how.
        struck: whether somebody was struck.
        open: whether it is not settled.
        symptom: for the fault finder; empty if none was chosen.
    """

    id: str
    title: str
    head: str
    text: tuple[str, ...]
    more: tuple[str, ...]
    state: str
    struck: bool
    open: bool
    symptom: str


def row_of(one: Report) -> Row:
    """A report as a list shows it.

    Args:
        one: the report.
    """
    said = one.said
    head = said_answer("does", said.symptom) if said.symptom else ""
    struck = _say("list.struck") if said.struck else ""
    return Row(
        one.id,
        _say("list.one", moment=said_moment(one.first.at)),
        struck or head or _say("symptom_none"),
        tuple((said.text or "").splitlines()),
        tuple(_more(one)),
        _state(one),
        said.struck,
        one.open,
        said.symptom or "",
    )


def _more(one: Report) -> list[str]:
    said, found = one.said, list[str]()
    if said.struck and said.symptom:
        found.append(said_answer("does", said.symptom))
    if said.by:
        found.append(_say("list.by", person=said.by))
    if said.since:
        found.append(_say("list.since", day=say_day(said.since, reading())))
    if said.record:
        found.append(_say("list.record", number=said.record))
    return found


def _state(one: Report) -> str:
    if one.settled:
        return _say("list.settled", because=one.settled.said.because)
    if one.seen is None:
        return _say("list.new")
    if one.seen.person:
        return _say("list.seen", person=one.seen.person)
    return _say("list.seen_nobody")


def _say(key: str, /, **values: str | int) -> str:
    return say(Message(f"report_page.{key}", values))
