"""The two-minute survey at the terminal: questions out, answers in."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from limen.cli.lines import EMPTY, Ink, Line, wrapped
from limen.cli.paper import Paper, paper
from limen.desk.refusal import Refusal
from limen.desk.survey import (
    BACK,
    HELP,
    Asked,
    Survey,
    Why,
    anew,
    answer,
    asked,
    back,
    begin,
    finish,
)
from limen.findings import Message
from limen.words import has, say, say_count

if TYPE_CHECKING:
    from collections.abc import Iterator

_INDENT = 2
_PICTURE = 4
_SIDES = ("outside", "inside", "left", "right")
_PROMPT = "> "


def ask(file: Path, rulebook: str | None, units: str) -> int:
    """Ask, write the short form, and say what it already shows.

    Raises:
        Refusal: the file is there, or the answers end too early; those that were
            given are kept.
    """
    page = paper()
    survey = begin(file, rulebook)
    page.put(wrapped(say(Message("survey.intro")), page.width))
    try:
        survey = _from_last_time(survey, page)
        put = None
        while (question := asked(survey)) is not None:
            if question != put:
                page.put([EMPTY, *question_lines(question, page.width)])
            put, survey = question, _step(survey, question, page)
    except KeyboardInterrupt:
        page.put([EMPTY, *wrapped(_kept(survey), page.width)])
        raise
    except EOFError:
        raise Refusal([_kept(survey)]) from None
    return _closed(finish(survey), units)


def _kept(survey: Survey) -> str:
    """Where the answers are that lie on the disk now, if there are any."""
    if not survey.answers:
        return say(Message("survey.nothing_kept"))
    return say(Message("survey.kept", {"file": str(survey.path)}))


def _closed(written: Path, units: str) -> int:
    from limen.cli.surveyed import surveyed
    from limen.desk.checking import check

    return surveyed(check(written), written, units)


# One question ----------------------------------------------------------------------


def question_lines(question: Asked, width: int | None) -> list[Line]:
    """A question: which one, what to measure, a picture, what is accepted."""
    topic, values = _topic(question.key)
    head = say(Message(f"survey.{topic}.ask", values))
    how = say(Message(f"survey.{topic}.how", values))
    accepts = Message(f"survey.{topic}.accepts", values)
    accepted = say(Message("survey.accepted", {"accepts": accepts}))
    lines = wrapped(f"{_which(question)} · {head}", width, ink=Ink.STRONG)
    lines += wrapped(how, width, indent=_INDENT)
    lines += _picture(topic)
    lines += [line for one in _choices(question, width) for line in one]
    lines += wrapped(accepted, width, indent=_INDENT)
    lines += wrapped(_keys(question), width, indent=_INDENT, ink=Ink.QUIET)
    return [*lines, *_before(question, width)]


def _topic(key: str) -> tuple[str, dict[str, str | int | Message]]:
    """A question's sentences, and the side that fills their gaps."""
    topic, _, side = key.rpartition("_")
    if side in _SIDES:
        return topic, {"side": Message(f"side.{side}")}
    return key, {}


def _which(question: Asked) -> str:
    if not question.number:
        return say(Message("survey.papers"))
    counted = {"number": question.number, "of": question.of}
    return say(Message("survey.number", counted))


def _picture(topic: str) -> list[Line]:
    key = f"survey.{topic}.picture"
    if not has(key):
        return []
    rows = say(Message(f"survey.{topic}.picture")).split("\n")
    return [line for row in rows for line in wrapped(row, None, indent=_PICTURE)]


def _choices(question: Asked, width: int | None) -> "Iterator[list[Line]]":
    widest = max((len(choice) for choice in question.choices), default=0)
    told = zip(question.choices, question.titles, strict=True)
    for number, (choice, title) in enumerate(told, 1):
        row = f"{number}  {choice:<{widest}}  {title}".rstrip()
        yield wrapped(row, width, indent=_PICTURE, hang=widest + 5)


def _keys(question: Asked) -> str:
    return say(Message("survey.keys_needed" if question.needed else "survey.keys"))


def _before(question: Asked, width: int | None) -> list[Line]:
    if not question.before:
        return []
    told = say(Message("survey.before", {"typed": question.before}))
    return wrapped(told, width, indent=_INDENT, ink=Ink.STRONG)


# One answer ------------------------------------------------------------------------


def _step(survey: Survey, question: Asked, page: Paper) -> Survey:
    """The survey after one line was typed."""
    typed = _line(page)
    if typed == BACK:
        return back(survey)
    if typed == HELP:
        page.put(_help(question, page.width))
        return survey
    taken = answer(survey, typed)
    if isinstance(taken, Why):
        page.put(_told(taken, question, page.width))
        return survey
    return taken


def _line(page: Paper) -> str:
    """A line from the keyboard, or from a pipe; then it is shown as well."""
    typed = input(_PROMPT).strip()
    if not sys.stdin.isatty():
        page.put_text(typed)
    return typed


def _help(question: Asked, width: int | None) -> list[Line]:
    topic, values = _topic(question.key)
    help_ = say(Message(f"survey.{topic}.help", values))
    rest = say(Message("survey.help_needed" if question.needed else "survey.help"))
    return [
        *wrapped(help_, width, indent=_INDENT),
        *wrapped(rest, width, indent=_INDENT, ink=Ink.QUIET),
    ]


def _told(refused: Why, question: Asked, width: int | None) -> list[Line]:
    topic, values = _topic(question.key)
    accepts = Message(f"survey.{topic}.accepts", values)
    said = {"why": refused.why, "accepts": accepts}
    return wrapped(say(Message("survey.refused", said)), width, hang=2, ink=Ink.FAILS)


def _from_last_time(survey: Survey, page: Paper) -> Survey:
    """Go on with the answers of last time, or begin anew."""
    if not survey.answers:
        return survey
    page.put(wrapped(say_count("survey.last_time", len(survey.answers)), page.width))
    while (typed := _line(page).lower()) not in ("", "y", "yes", "n", "no"):
        page.put(wrapped(say(Message("survey.last_time_again")), page.width))
    return anew(survey) if typed.startswith("n") else survey
