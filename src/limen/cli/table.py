"""The table of findings of one doorway."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from limen.cli.lines import Ink, Line, Piece, columns, wrapped
from limen.exchange.groups import Group, groups
from limen.exchange.tally import MUST
from limen.findings import Finding, Message, Verdict
from limen.quantity import Show
from limen.words import said_assumed, said_room, say, say_count, say_question

MARKS: Mapping[Verdict, Piece] = {
    Verdict.FAILS: Piece("✕", Ink.FAILS),
    Verdict.HOLDS: Piece("■", Ink.HOLDS),
    Verdict.NOT_SHOWN: Piece("□?", Ink.NOT_SHOWN),
    Verdict.NOT_ASKED: Piece("–", Ink.NOT_ASKED),
}
CAVEAT = "owed.geometry_only"
"""Stands under whatever holds of presence, also where other cases fail."""
INDENT = 4
_GIVES = ((2, 18), (1, 26), (4, 10), (2, 10), (1, 14))
"""Columns that give way: the case, the question, the margin."""

_MOST_REMEDIES = 3
_MAIN = (Verdict.FAILS, Verdict.NOT_SHOWN)


@dataclass(frozen=True, slots=True)
class Style:
    """How the reader wants it.

    Attributes:
        width: columns, None without limit.
        system: units.
        every: every case in a row of its own, with its assumptions.
    """

    width: int | None
    system: Show = Show.METRIC
    every: bool = False

    def say(self, message: Message) -> str:
        """The message in the reader's units."""
        return say(message, system=self.system)


def table(findings: Iterable[Finding], style: Style) -> list[Line]:
    """The findings as aligned lines, worst first, what to do below each."""
    every = groups(findings, every=style.every)
    if not every:
        return []
    rows = columns([_row(one, style) for one in every], style.width, _GIVES)
    owed = _owed(every, style)
    lines: list[Line] = []
    said: set[str] = set()
    for number, (group, row) in enumerate(zip(every, rows, strict=True)):
        lines += [*row, *_below(group, style, said)]
        for text in owed.get(number, ()):
            lines += _indented(text, style, Ink.QUIET)
    return lines


def _room(finding: Finding, style: Style) -> str:
    room = said_room(finding)
    return style.say(room) if room else ""


def _row(group: Group, style: Style) -> tuple[Piece, ...]:
    worst = group.worst
    ink = Ink.QUIET if worst.verdict is Verdict.NOT_ASKED else Ink.PLAIN
    return (
        MARKS[worst.verdict],
        Piece(_title(worst), Ink.STRONG if worst.verdict in _MAIN else ink),
        Piece(_where(group), ink),
        Piece(_verdict(group), ink),
        Piece(_room(worst, style), ink),
    )


def _title(finding: Finding) -> str:
    """The question in words; with its weight where it asks for work and is no must."""
    words = say_question(finding.question)
    if finding.verdict in _MAIN and finding.weight != MUST:
        weight = Message(f"weight.{finding.weight}")
        return say(Message("cli.weighed", {"question": words, "weight": weight}))
    return words


def _verdict(group: Group) -> str:
    """The verdict's word, marked where any case rests on a figure to be confirmed."""
    word = say(Message(f"verdict.{group.worst.verdict}"))
    marked = group.worst.verdict is Verdict.HOLDS and group.to_confirm
    return f"{word}*" if marked else word


def _where(group: Group) -> str:
    """Fitting and case of the finding shown; how many more there are."""
    worst = group.worst
    shown = ", ".join(one for one in (worst.fitting, worst.case) if one)
    more = len(group.others)
    if not more or worst.verdict in _MAIN:
        return shown
    if not shown:
        return say(Message("cli.more_only", {"count": more + 1}))
    return say(Message("cli.more", {"where": shown, "count": more}))


def _below(group: Group, style: Style, said: set[str]) -> Iterator[Line]:
    """What stands under a row: the reason, what to do, what was left out."""
    worst = group.worst
    if worst.verdict is not Verdict.HOLDS or style.every:
        quiet = worst.verdict is Verdict.NOT_ASKED
        ink = Ink.QUIET if quiet else Ink.PLAIN
        yield from _indented(style.say(worst.because), style, ink)
    for text in _once((*_remedies(group, style), *_lacking(worst, style)), said):
        yield from _indented(f"→ {text}", style, Ink.STRONG)
    if style.every:
        for text in dict.fromkeys(style.say(one) for one in _rests_on(worst)):
            yield from _indented(text, style, Ink.QUIET)
    if group.others and worst.verdict in _MAIN:
        yield from _indented(_others(group), style, Ink.QUIET)


def _rests_on(finding: Finding) -> Iterator[Message]:
    """What a finding compared, and what it had to assume."""
    if finding.needed:
        yield Message("cli.needed", {"what": finding.needed})
    if finding.found:
        yield Message("cli.found", {"what": finding.found})
    for one in finding.assumed:
        yield Message("cli.assumed", {"what": said_assumed(one)})


def _remedies(group: Group, style: Style) -> list[str]:
    """Everything that mends what fails or is open in this row, each once."""
    open_yet = (Verdict.FAILS, Verdict.NOT_SHOWN)
    said = [
        style.say(one.remedy.message)
        for one in group.all
        if one.remedy and one.verdict in open_yet
    ]
    return list(dict.fromkeys(said))[:_MOST_REMEDIES]


def _lacking(finding: Finding, style: Style) -> list[str]:
    """What would settle a finding and where it is written in the file, each once."""
    said = [
        style.say(Message("cli.lacking", {"what": one.message, "key": one.key}))
        for one in finding.lacking
    ]
    return list(dict.fromkeys(said))


def _once(texts: Iterable[str], said: set[str]) -> list[str]:
    """What has not been said yet; what has, as one pointer upwards."""
    every = tuple(texts)
    fresh = [text for text in every if text not in said]
    said.update(fresh)
    above = len(fresh) < len(every)
    return [*fresh, say(Message("cli.above"))] if above else fresh


def _others(group: Group) -> str:
    """How the other cases stand: "other cases: 2 fail, 3 hold"."""
    parts = [
        say_count(f"counted.{verdict}", count)
        for verdict, count in group.counted().items()
    ]
    return say(Message("cli.others", {"counts": ", ".join(parts)}))


def _indented(text: str, style: Style, ink: Ink = Ink.PLAIN) -> list[Line]:
    hang = 2 if text.startswith("→ ") else 0
    return wrapped(text, style.width, indent=INDENT, hang=hang, ink=ink)


def _owed(every: Sequence[Group], style: Style) -> dict[int, list[str]]:
    """What is still owed, by the number of the last row that owes it."""
    last = {
        style.say(message): number
        for number, group in enumerate(every)
        for finding in group.all
        for message in finding.owed
        if group.worst.verdict is Verdict.HOLDS or message.key == CAVEAT
    }
    under: dict[int, list[str]] = {}
    for text, number in last.items():
        under.setdefault(number, []).append(text)
    return under
