"""What `limen check` prints."""

from collections.abc import Generator, Iterable, Sequence
from contextlib import contextmanager
from pathlib import Path
from threading import Timer
from typing import TYPE_CHECKING

from limen.cli.lines import EMPTY, Ink, Line, Piece, wrapped
from limen.cli.paper import paper
from limen.cli.table import Style, table
from limen.exchange import Tally, contract, dumps, exit_code, tally, together
from limen.exchange.groups import groups
from limen.findings import Finding, Message, Study, Verdict
from limen.quantity import Show
from limen.words import SOURCE, named, reading, said_assumed, say, say_count

if TYPE_CHECKING:
    from limen.desk.checking import Checked
    from limen.desk.drawing import Units
    from limen.desk.reporting import Paper

PATIENCE = 1.0  # s, before a word is said about what takes so long


def as_text(checked: "Checked", units: str, *, every: bool) -> int:
    """Print the findings for people; returns the exit status."""
    page = paper()
    style = Style(page.width, Show(units), every)
    page.put(told(checked, style))
    return exit_code(checked.studies)


def as_json(checked: "Checked", units: str) -> int:
    """Print the findings for programs; returns the exit status."""
    values = contract(checked.studies, site=checked.site.name, system=Show(units))
    page = paper()
    page.put_text(dumps(values))
    return exit_code(checked.studies)


def explain(checked: "Checked", question: str, units: str) -> int:
    """Print how one question is answered; returns the exit status."""
    from limen.cli.explaining import explained
    from limen.desk.explaining import proof_sheet

    page = paper()
    style = Style(page.width, Show(units), every=True)
    page.put(explained(checked, proof_sheet(question), style))
    return 0


def report(checked: "Checked", out: Path, size: "Paper | None", units: "Units") -> None:
    """Write the report; where it went is told beside the findings, not among them."""
    from limen.desk.reporting import report as to_file

    with patience(say_count("cli.reporting", len(checked.studies))):
        written = to_file(checked, out, paper=size, units=units)
    paper(error=True).put_text(say(Message("cli.reported", {"file": str(written)})))


@contextmanager
def patience(words: str) -> Generator[None]:
    """Say what is being done if it takes longer than a moment."""
    timer = Timer(PATIENCE, paper(error=True).put_text, [words])
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()


def told(checked: "Checked", style: Style) -> list[Line]:
    """The site's findings: counts first, then doorway by doorway."""
    studies = checked.studies
    lines = wrapped(headline(together(studies)), style.width, ink=Ink.STRONG)
    for study in studies:
        lines += [EMPTY, *doorway_lines(study, style)]
        if len(studies) > 1:
            lines += wrapped(headline(tally(study.findings)), style.width)
        lines += [EMPTY, *table(study.findings, style)]
    return [*lines, EMPTY, *footer(checked, style, _first(studies, style))]


def _first(studies: Sequence[Study], style: Style) -> list[Line]:
    """What to do first, once more: on a phone the top has long gone by."""
    for verdict in (Verdict.FAILS, Verdict.NOT_SHOWN):
        for study in studies:
            for group in groups(study.musts(verdict), every=False):
                if what := _to_do(group.worst):
                    first = Message("cli.first", {"what": what})
                    at = {"what": what, "door": study.doorway.name}
                    said = Message("cli.first_at", at) if len(studies) > 1 else first
                    told = wrapped(style.say(said), style.width, ink=Ink.STRONG)
                    return [EMPTY, *told, EMPTY]
    return []


def _to_do(finding: Finding) -> Message | None:
    if finding.remedy:
        return finding.remedy.message
    if not finding.lacking:
        return None
    lack = finding.lacking[0]
    return Message("cli.find_out", {"what": lack.message, "key": lack.key})


def headline(counts: Tally) -> str:
    """The first line: things to do, never one verdict for a door."""
    mend = say_count("tally.mend", counts.mend)
    rest = [
        say_count(f"tally.{name}", count)
        for name, count in (
            ("measure", counts.measure),
            ("office", counts.office),
            ("advised", counts.advised),
        )
        if count or name != "advised"
    ]
    return " · ".join([mend, *rest])


def doorway_lines(study: Study, style: Style) -> list[Line]:
    """Which doorway, judged by what."""
    name, rest = study.doorway.name, f"{study.doorway.id} · {_book(study)}"
    if style.width is None or len(name) + 2 + len(rest) <= style.width:
        return [(Piece(name, Ink.STRONG), Piece(f"  {rest}"))]
    return [*wrapped(name, style.width, ink=Ink.STRONG), *wrapped(rest, style.width)]


def _book(study: Study) -> str:
    return f"{study.rulebook} {study.edition}"


def footer(checked: "Checked", style: Style, first: Iterable[Line] = ()) -> list[Line]:
    """What everything above rests on, and what to do first."""
    lines: list[Line] = []
    findings = [one for study in checked.studies for one in study.findings]
    if any(one.to_confirm for one in findings):
        lines += _said(Message("cli.to_confirm"), style)
    lines += _assumed(checked, style)
    if reading() != SOURCE:
        lines += _said(Message("layout.rulebook_language"), style)
    for mark, name in dict.fromkeys((one.mark, one.title) for one in checked.rulebooks):
        lines += wrapped(named(mark, name), style.width, hang=2)
    for note in dict.fromkeys(n for study in checked.studies for n in study.notes):
        lines += wrapped(note, style.width, indent=2, ink=Ink.QUIET)
    lines += _said(_day(checked.studies), style)
    for text in dict.fromkeys(t for s in checked.studies for t in s.overrides):
        lines += _said(Message("cli.overridden", {"figures": text}), style)
    return [*lines, *first, *_said(Message("study.caution"), style)]


def _assumed(checked: "Checked", style: Style) -> list[Line]:
    """Every value that nobody stated, each once."""
    if style.every:
        return []
    said = dict.fromkeys(
        style.say(said_assumed(one))
        for study in checked.studies
        for finding in study.findings
        for one in finding.assumed
    )
    lines: list[Line] = []
    for text in said:
        lines += _said(Message("cli.assumed", {"what": text}), style)
    return lines


def _day(studies: Iterable[Study]) -> Message:
    days = {study.on for study in studies}
    day = next(iter(days), None)
    return (
        Message("cli.on_day", {"day": day.isoformat()})
        if day
        else Message("cli.no_day")
    )


def _said(message: Message, style: Style) -> list[Line]:
    return wrapped(style.say(message), style.width, hang=2, ink=Ink.QUIET)
