"""What `limen check --explain` prints: method, rule, and what went in here."""

from typing import TYPE_CHECKING

from limen.cli.lines import EMPTY, Ink, Line, line, wrapped
from limen.cli.table import Style, table, title
from limen.findings import Finding, Message
from limen.words import said_clause, say

if TYPE_CHECKING:
    from limen.desk.checking import Checked
    from limen.desk.explaining import ProofSheet


def explained(checked: "Checked", sheet: "ProofSheet", style: Style) -> list[Line]:
    """The proof sheet of a question, then each doorway's answers to it."""
    lines = [*_head(sheet), *_method(sheet, style)]
    for study in checked.studies:
        answers = [one for one in study.findings if one.question == sheet.question]
        lines += [EMPTY, line(study.doorway.name, Ink.STRONG)]
        lines += _rules(answers, style) + table(answers, style)
    return lines


def _head(sheet: "ProofSheet") -> list[Line]:
    return [line(f"{title(sheet.question)} · {sheet.question}", Ink.STRONG), EMPTY]


def _method(sheet: "ProofSheet", style: Style) -> list[Line]:
    """Paragraphs of the proof sheet; lines set by hand, as formulas are, stay."""
    lines: list[Line] = []
    for heading, text in sheet.sections:
        if heading:
            words = say(Message(f"explain.{heading.lower()}"))
            lines += [EMPTY, line(words, Ink.STRONG)]
        for paragraph in text.split("\n\n"):
            lines += _paragraph(paragraph.replace("`", ""), style)
    return lines


def _paragraph(text: str, style: Style) -> list[Line]:
    if any(one.startswith(" ") for one in text.splitlines()):
        return [line(f"  {one}") for one in text.splitlines()]
    return wrapped(" ".join(text.split()), style.width, indent=2)


def _rules(answers: list[Finding], style: Style) -> list[Line]:
    """Who asks, with clause and grade."""
    sources = dict.fromkeys(one for answer in answers for one in answer.authority)
    lines: list[Line] = []
    for one in sources:
        clause = say(
            said_clause(one.document, one.clause if one.clause_known else None)
        )
        grade = say(Message(f"grade.{one.grade}"))
        lines += wrapped(f"{clause} ({grade})", style.width, indent=2, hang=2)
        if one.note:
            lines += wrapped(one.note, style.width, indent=4, ink=Ink.QUIET)
    return lines
