"""What a survey already shows: the first verdicts, and what would settle the rest."""

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from limen.cli.checking import headline
from limen.cli.lines import EMPTY, Ink, Line, wrapped
from limen.cli.paper import paper
from limen.cli.table import MARKS, Style
from limen.exchange import together
from limen.exchange.tally import MUST
from limen.findings import Finding, Message, Verdict
from limen.quantity import Show
from limen.words import said_assumed, say_count, say_question

if TYPE_CHECKING:
    from limen.desk.checking import Checked

_BULLET = "· "
_OPEN = (Verdict.FAILS, Verdict.NOT_SHOWN)
_MOST = 10
"""Things to settle that are listed; `limen check` tells them all."""


def surveyed(checked: "Checked", written: Path, units: str) -> int:
    """Print what was written and what it shows; returns 0: the work is done."""
    page = paper()
    style = Style(page.width, Show(units), every=False)
    page.put(lines(checked, written, style))
    return 0


def lines(checked: "Checked", written: Path, style: Style) -> list[Line]:
    """What was written, what fails, what would settle the rest, what comes next."""
    findings = [one for study in checked.studies for one in study.findings]
    file = {"file": str(written), "full": str(_beside(written))}
    return [
        EMPTY,
        *_said(Message("survey.written", file), style),
        EMPTY,
        *wrapped(headline(together(checked.studies)), style.width, ink=Ink.STRONG),
        *_failing(findings, style),
        *_open(findings, style),
        *_holding(findings, style),
        *_taken(findings, style),
        EMPTY,
        *_said(Message("survey.next", file), style),
        *_said(Message("survey.next_full", file), style),
        *wrapped(style.say(Message("study.caution")), style.width, ink=Ink.QUIET),
    ]


def _beside(written: Path) -> Path:
    return written.with_name(f"{written.stem}-full{written.suffix}")


def _of(findings: Iterable[Finding], verdict: Verdict) -> list[Finding]:
    return [one for one in findings if one.verdict is verdict]


def _titles(findings: Iterable[Finding]) -> str:
    return "; ".join(dict.fromkeys(say_question(one.question) for one in findings))


def _failing(findings: Iterable[Finding], style: Style) -> list[Line]:
    """Each fault in its own words, with what to do."""
    told: list[Line] = []
    said: set[str] = set()
    for one in _of(findings, Verdict.FAILS):
        because = style.say(one.because)
        if because in said:
            continue
        said.add(because)
        told += _row(Verdict.FAILS, f"{say_question(one.question)}. {because}", style)
        if one.remedy:
            do = f"→ {style.say(one.remedy.message)}"
            told += wrapped(do, style.width, indent=4, hang=2, ink=Ink.STRONG)
    return told


def _open(findings: Iterable[Finding], style: Style) -> list[Line]:
    """What cannot be answered yet, and the short list of what settles it."""
    open_ = _of(findings, Verdict.NOT_SHOWN)
    if not open_:
        return []
    questions = len(dict.fromkeys(one.question for one in open_))
    told = f"{say_count('survey.open_questions', questions)} {_titles(open_)}."
    rows = _row(Verdict.NOT_SHOWN, told, style)
    rows += _said(Message("survey.to_settle"), style, indent=4)
    settling = _settling(open_, style)
    rows += [line for one in settling[:_MOST] for line in _bullet(one, style)]
    more = len(settling) - _MOST
    return rows if more <= 0 else [*rows, *_bullet(_more(more), style)]


def _settling(open_: Iterable[Finding], style: Style) -> list[str]:
    """What would settle them, each once, the musts' first."""
    ranked = sorted(open_, key=lambda one: one.weight != MUST)
    return list(
        dict.fromkeys(
            style.say(Message("survey.settle", {"what": lack.message, "key": lack.key}))
            for one in ranked
            for lack in one.lacking
        )
    )


def _more(count: int) -> str:
    return say_count("survey.more", count)


def _holding(findings: Sequence[Finding], style: Style) -> list[Line]:
    """Questions of which nothing fails or is open."""
    left = {one.question for one in findings if one.verdict in _OPEN}
    holding = [one for one in _of(findings, Verdict.HOLDS) if one.question not in left]
    return _row(Verdict.HOLDS, f"{_titles(holding)}.", style) if holding else []


def _taken(findings: Iterable[Finding], style: Style) -> list[Line]:
    """Everything that was taken though nobody stated it, each once."""
    said = dict.fromkeys(
        style.say(said_assumed(one)) for finding in findings for one in finding.assumed
    )
    if not said:
        return []
    head = [EMPTY, *_said(Message("survey.taken"), style)]
    return [*head, *(line for one in said for line in _bullet(one, style))]


def _row(verdict: Verdict, text: str, style: Style) -> list[Line]:
    mark = MARKS[verdict]
    first, *rest = wrapped(text, style.width, indent=4)
    (piece,) = first
    start = f"{mark.text:<4}"
    return [(type(mark)(start, mark.ink), type(mark)(piece.text[4:], piece.ink)), *rest]


def _bullet(text: str, style: Style) -> list[Line]:
    return wrapped(f"{_BULLET}{text}", style.width, indent=4, hang=len(_BULLET))


def _said(message: Message, style: Style, *, indent: int = 0) -> list[Line]:
    return wrapped(style.say(message), style.width, indent=indent)
