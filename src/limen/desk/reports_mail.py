"""A mail of the owner's page that is pasted at the desk: what it fills in."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Literal

from limen.desk.refusal import Refusal
from limen.desk.spoken import At
from limen.exchange.fault_mail import ReadBack, UnreadableMailError, read_mail
from limen.findings import Message
from limen.model.telling import SYMPTOMS
from limen.words import languages, say
from limen.words.tracing import said_answer

YES = frozenset({"yes", "ja", "oui"})
NO = frozenset({"no", "nein", "non"})
_DAY = re.compile(r"(\d{1,2})[./](\d{1,2})[./](\d{4})")


@dataclass(frozen=True, slots=True)
class Filled:
    """What a mail fills into the fields of a report.

    Attributes:
        struck: whether somebody was struck; None where that cannot be read.
        symptom: what the door does, where the words are those of an answer.
        text: everything that was written, so that nothing of it is lost.
        by: who says so.
        since: the day, where one was written.
        record: number of the record on their page.
    """

    struck: bool | None
    symptom: str
    text: str
    by: str
    since: date | None
    record: int | None


def read_pasted(at: At, text: str) -> Filled:
    """What a pasted mail says of this doorway.

    Args:
        at: the doorway.
        text: the mail, all of it.

    Raises:
        Refusal: it cannot be read, or is about another door, and why.
    """
    try:
        found = read_mail(text)
    except UnreadableMailError as error:
        raise Refusal([str(error)]) from None
    if (found.site, found.doorway) != (at.site, at.doorway):
        other = {"doorway": found.doorway, "site": found.site}
        raise Refusal([say(Message("report_page.about_other", other))])
    return filled_of(found)


def filled_of(found: ReadBack) -> Filled:
    """What the answers of a mail come to; doubtful ones are left to a person."""
    answers = found.answers
    return Filled(
        struck_of(answers["struck"]),
        symptom_of(answers["does"]),
        "\n".join(_told(found)),
        " ".join(answers["who"].split())[:120],
        day_of(answers["since"]),
        found.record,
    )


def _told(found: ReadBack) -> Iterator[str]:
    """Whatever was written that no field takes as it is."""
    fields: tuple[Literal["does", "since", "struck"], ...] = ("does", "since", "struck")
    for field in fields:
        answer = found.answers[field]
        if not answer:
            continue
        if field == "does":
            yield answer
        elif not _taken(field, answer):
            asked = say(Message(f"fault_mail.{field}"), language=found.language)
            yield f"{asked} {answer}"


def _taken(field: str, answer: str) -> bool:
    """Whether a field says all of an answer."""
    if field == "since":
        return day_of(answer) is not None
    return answer.strip(" .!").casefold() in YES | NO


def struck_of(answer: str) -> bool | None:
    """Whether somebody was struck, by the first word; None if that says neither."""
    first = re.split(r"[\W_]+", answer.strip(" .!").casefold(), maxsplit=1)[0]
    if first in YES:
        return True
    return False if first in NO else None


def symptom_of(answer: str) -> str:
    """The symptom whose words these are, in any language; empty if of none."""
    plain = answer.strip(" .!").casefold()
    for one in SYMPTOMS:
        for tongue in languages():
            if plain == said_answer("does", one, language=tongue).casefold():
                return one
    return ""


def day_of(answer: str) -> date | None:
    """A day, written 2026-11-26, 26.11.2026 or 26/11/2026; None if it is none.

    A month before the day cannot be told from a day before the month: where both
    could be meant and differ, it is none.
    """
    plain = answer.strip(" .")
    try:
        found = _DAY.fullmatch(plain)
        if not found:
            return date.fromisoformat(plain)
        one, other, year = (int(part) for part in found.groups())
        if "/" in plain and one != other and max(one, other) <= 12:  # noqa: PLR2004
            return None
        return date(year, other, one)
    except ValueError:
        return None
