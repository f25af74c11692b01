"""A fault as a mail that is begun for whoever writes it, and read back at the desk.

The mail asks a few questions in the owner's language.  Its last line names the door for
the desk; it stays the same in every language and when the mail is quoted.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal
from urllib.parse import parse_qsl, quote, urlencode, urlsplit, urlunsplit

from limen.findings import Message
from limen.words import languages, reading, say

Field = Literal["does", "since", "struck", "who"]
FIELDS: tuple[Field, ...] = ("does", "since", "struck", "who")
VERSION = 1
MOST = 20_000
"""Letters of a mail that is read."""
BREAK = "\r\n"
_MARK = "limen-fault"
_LINE = re.compile(
    r"limen-fault (?P<version>[0-9]{1,4}) (?P<site>[A-Za-z0-9][A-Za-z0-9_-]{0,59})"
    r"/(?P<door>[a-z0-9][a-z0-9-]{0,79}) r(?P<record>[0-9]{1,9}) (?P<tongue>[a-z]{2})"
)
_QUOTED = re.compile(r"^(?:[ \t\u00a0]*>)+[ \t\u00a0]?")


@dataclass(frozen=True, slots=True)
class Door:
    """Of which door a fault is told.

    Attributes:
        site, doorway: their ids.
        site_name, door_name: as people say them.
        record: number of its last record; None if it has none.
    """

    site: str
    doorway: str
    site_name: str = ""
    door_name: str = ""
    record: int | None = None


@dataclass(frozen=True, slots=True)
class ReadBack:
    """What a mail says.

    Attributes:
        site, doorway, record: which door, and which record stood on the page.
        language: of its questions.
        answers: by field what was written; empty where nothing was.
    """

    site: str
    doorway: str
    record: int | None
    language: str
    answers: dict[Field, str]


class UnreadableMailError(ValueError):
    """A text that is no such mail, or was changed too much to be read."""


# Written -------------------------------------------------------------------------


def mail_body(
    door: Door,
    answers: dict[Field, str] | None = None,
    *,
    language: str | None = None,
) -> str:
    """What stands in the mail.

    Args:
        door: of which it is.
        answers: what is written already, by field.
        language: of the questions; the reader's if None.
    """
    given, tongue = answers or {}, language or reading()
    lines: list[str] = []
    for one in FIELDS:
        lines += [_question(one, tongue), given.get(one, ""), ""]
    lines += [_said("below", tongue), desk_line(door, tongue)]
    return BREAK.join(lines)


def desk_line(door: Door, language: str) -> str:
    """The line that names the door for the desk; record 0 is none."""
    named = f"{door.site}/{door.doorway}"
    return f"{_MARK} {VERSION} {named} r{door.record or 0} {language}"


def mail_address(mail: str, door: Door, *, language: str | None = None) -> str:
    """A mail that is begun, as an address (RFC 6068).

    Args:
        mail: to whom.
        door: of which it is.
        language: of the questions; the reader's if None.
    """
    names = {"door": door.door_name, "site": door.site_name}
    subject = say(Message("fault_mail.subject", names), language=language)
    body = mail_body(door, language=language)
    return f"mailto:{mail}?subject={quote(subject)}&body={quote(body)}"


def web_address(web: str, door: Door) -> str:
    """A page with the doorway in its query, after what stands there already."""
    parts = urlsplit(web)
    named = [("site", door.site), ("doorway", door.doorway)]
    record = [("record", f"{door.record}")] if door.record else []
    query = [*parse_qsl(parts.query, keep_blank_values=True), *named, *record]
    return urlunsplit(parts._replace(query=urlencode(query)))


def call_address(phone: str) -> str:
    """A telephone number as an address (RFC 3966), without what only eases reading."""
    return f"tel:{re.sub('[ ()/.-]', '', phone)}"


# Read back -----------------------------------------------------------------------


def read_mail(text: str) -> ReadBack:
    """What was written into such a mail.

    Quoting signs, line ends and what stands around it do not matter.

    Args:
        text: as it was pasted.

    Raises:
        UnreadableMailError: it is none, or cannot be read, and why.
    """
    if not text.strip():
        raise _wrong("empty")
    if len(text) > MOST:
        raise _wrong("long")
    lines = [_plain(line) for line in text.splitlines()]
    at, found = _desk_line(lines)
    tongue = found["tongue"]
    if tongue not in languages():
        raise _wrong("language", language=tongue)
    return ReadBack(
        found["site"],
        found["door"],
        int(found["record"]) or None,
        tongue,
        _answers(lines[:at], tongue),
    )


def _plain(line: str) -> str:
    return _QUOTED.sub("", line).replace("\u00a0", " ").replace("\u202f", " ").strip()


def _desk_line(lines: list[str]) -> tuple[int, re.Match[str]]:
    """Where the line for the desk stands, and what it says."""
    marked = [(at, one) for at, one in enumerate(lines) if one.startswith(_MARK)]
    if not marked:
        raise _wrong("no_line")
    if len({one for _, one in marked}) > 1:
        raise _wrong("lines")
    at, line = marked[0]
    found = _LINE.fullmatch(line)
    if found is None:
        raise _wrong("line", line=line[:120])
    if int(found["version"]) != VERSION:
        raise _wrong("newer", line=line[:120])
    return at, found


def _answers(lines: list[str], tongue: str) -> dict[Field, str]:
    """What stands after each question, up to the next."""
    starts = [_start(lines, one, tongue) for one in FIELDS]
    ends = [*starts[1:], _end(lines, tongue)]
    if sorted(starts) != starts:
        raise _wrong("order")
    every = zip(FIELDS, starts, ends, strict=True)
    return {
        one: _answer(lines[start:end], _question(one, tongue))
        for one, start, end in every
    }


def _start(lines: list[str], field: Field, tongue: str) -> int:
    question = _question(field, tongue)
    found = [at for at, line in enumerate(lines) if line.startswith(question)]
    if len(found) == 1:
        return found[0]
    raise _wrong("asked_twice" if found else "asked_not", question=question)


def _end(lines: list[str], tongue: str) -> int:
    below = _said("below", tongue)
    return next((at for at, line in enumerate(lines) if line == below), len(lines))


def _answer(lines: list[str], question: str) -> str:
    """What was written behind a question or below it."""
    return "\n".join(_trimmed([lines[0].removeprefix(question).strip(), *lines[1:]]))


def _trimmed(lines: list[str]) -> Iterator[str]:
    """The lines without those that are empty, at both ends."""
    full = [at for at, line in enumerate(lines) if line]
    yield from lines[full[0] : full[-1] + 1] if full else ()


def _question(field: Field, tongue: str) -> str:
    return _said(field, tongue)


def _said(key: str, tongue: str) -> str:
    """A sentence as it comes back: mail programs make plain spaces of others."""
    said = say(Message(f"fault_mail.{key}"), language=tongue)
    return said.replace("\u00a0", " ").replace("\u202f", " ")


def _wrong(key: str, **values: str) -> UnreadableMailError:
    return UnreadableMailError(say(Message(f"fault_mail.wrong.{key}", values)))
