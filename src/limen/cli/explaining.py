"""What `limen check --explain` prints: method, rule, and what went in here."""

import re
from typing import TYPE_CHECKING

from limen.cli.lines import EMPTY, Ink, Line, line, wrapped
from limen.cli.shelves import rule_lines
from limen.cli.table import Style, table
from limen.desk.differences import plain
from limen.findings import Message
from limen.words import SOURCE, reading, say, say_question

if TYPE_CHECKING:
    from limen.desk.checking import Checked
    from limen.desk.explaining import ProofSheet
    from limen.desk.shelves import Rule, Rulebook

_NAMED = re.compile(r"`+([^`]*)`+")
_STRESSED = re.compile(r"\*(\w[^*\n]*)\*")
_ASKED = "asked: "
"""The one thing that every question is given; its name says nothing to people."""


def explained(checked: "Checked", sheet: "ProofSheet", style: Style) -> list[Line]:
    """The proof sheet of a question, then each doorway's answers to it."""
    lines = [*_head(sheet, style), EMPTY, *_method(sheet, style)]
    for study, book in zip(checked.studies, checked.rulebooks, strict=True):
        answers = [one for one in study.findings if one.question == sheet.question]
        lines += [EMPTY, *wrapped(study.doorway.name, style.width, ink=Ink.STRONG)]
        lines += [*_rules(book, sheet.question, style), EMPTY, *table(answers, style)]
    return lines


def _head(sheet: "ProofSheet", style: Style) -> list[Line]:
    text = f"{say_question(sheet.question)} · {sheet.question}"
    lines = wrapped(text, style.width, ink=Ink.STRONG)
    if reading() != SOURCE:
        told = say(Message("explain.language"))
        lines += wrapped(told, style.width, ink=Ink.QUIET)
    return lines


def _method(sheet: "ProofSheet", style: Style) -> list[Line]:
    """Paragraphs of the proof sheet; lines set by hand, as formulas are, stay."""
    lines: list[Line] = []
    for heading, text in sheet.sections:
        if heading:
            words = say(Message(f"explain.{heading.lower()}"))
            lines += [EMPTY, line(words, Ink.STRONG)]
        for paragraph in text.split("\n\n"):
            lines += _paragraph(_in_print(paragraph.removeprefix(_ASKED)), style)
    return lines


def _in_print(text: str) -> str:
    """Without marks, which a terminal has no type for; limits as the rules name them.

    What has a dot is a key of a file and stays as it is written there.
    """
    named = _NAMED.sub(lambda one: _limit_or_key(one.group(1)), text)
    return _STRESSED.sub(r"\1", named)


def _limit_or_key(name: str) -> str:
    return name if "." in name else f"“{plain(name)}”"


def _paragraph(text: str, style: Style) -> list[Line]:
    if any(one.startswith(" ") for one in text.splitlines()):
        return [line(f"  {one}") for one in text.splitlines()]
    return wrapped(" ".join(text.split()), style.width, indent=2)


def _rules(book: "Rulebook", question: str, style: Style) -> list[Line]:
    """The rules that ask it: figures, clauses, grades, and what to know of them."""
    lines: list[Line] = []
    for rule in (one for one in book.rules if one.question == question):
        lines += rule_lines(rule, style.width, style.system)
        for note in _notes(rule):
            lines += wrapped(note, style.width, indent=2, ink=Ink.QUIET)
    return lines


def _notes(rule: "Rule") -> list[str]:
    """What is to be known of a rule's sources, each with the figures it is about."""
    notes: list[str] = []
    for source in rule.authorities():
        about = [plain(name) for name in rule.limits if rule.source(name) == source]
        named = f"{', '.join(about)}: " if source != rule.authority else ""
        notes += [f"{named}{source.note}"] if source.note else []
    return notes
