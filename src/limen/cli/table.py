"""The table of findings of one doorway."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from limen.cli.lines import Ink, Line, Piece, columns, wrapped
from limen.exchange.groups import Group, groups
from limen.exchange.tally import MUST
from limen.findings import Finding, Message, Verdict
from limen.quantity import Show
from limen.words import (
    of_case,
    said_assumed,
    said_room,
    said_where,
    say,
    say_count,
    say_question,
)

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
_MOST_KEYS = 3
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
    every, left_out = _told(groups(findings, every=style.every), style)
    cells = [_row(one, style) for one in every]
    if left_out:
        cells.append(_row_left_out(left_out))
    rows = columns(cells, style.width, _GIVES)
    owed = _owed(every, style)
    lines: list[Line] = []
    said: set[str] = set()
    for number, group in enumerate(every):
        lines += [*rows[number], *_below(group, style, said)]
        for text in owed.get(number, ()):
            lines += _indented(text, style, Ink.QUIET)
    if left_out:
        lines += [*rows[-1], *_titles(left_out, style)]
    return lines


def _told(
    every: Sequence[Group], style: Style
) -> tuple[Sequence[Group], Sequence[Group]]:
    """Rows told one by one, and those not asked where they share a row."""
    left_out = [one for one in every if one.worst.verdict is Verdict.NOT_ASKED]
    if style.every or len(left_out) <= 1:
        return every, ()
    return [one for one in every if one not in left_out], left_out


def _row_left_out(left_out: Sequence[Group]) -> tuple[Piece, ...]:
    count = say_count("cli.left_out", len(left_out))
    cells = (count, "", _verdict(left_out[0]), "")
    return (MARKS[Verdict.NOT_ASKED], *(Piece(one, Ink.QUIET) for one in cells))


def _titles(left_out: Sequence[Group], style: Style) -> list[Line]:
    """What was not asked, in one paragraph; --all says why."""
    titles = dict.fromkeys(_title(one.worst) for one in left_out)
    told = Message("cli.left_out_titles", {"titles": "; ".join(titles)})
    return _indented(style.say(told), style, Ink.QUIET)


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
    shown = said_where(worst)
    more = len(group.others)
    if not more or worst.verdict in _MAIN:
        return shown
    if not shown:
        return say(Message("cli.more_only", {"count": more + 1}))
    return say(Message("cli.more", {"where": shown, "count": more}))


def _below(group: Group, style: Style, said: set[str]) -> Iterator[Line]:
    """What stands under a row: the reason, what to do, what was left out."""
    worst = group.worst
    brief = _brief(worst, style)
    if (worst.verdict is not Verdict.HOLDS or style.every) and not brief:
        quiet = worst.verdict is Verdict.NOT_ASKED
        ink = Ink.QUIET if quiet else Ink.PLAIN
        yield from _indented(style.say(worst.because), style, ink)
    lacking = _lacking(worst, style, said, brief=brief)
    for text in (*_remedies(group, style, said), *lacking):
        yield from _indented(f"→ {text}", style, Ink.STRONG)
    if style.every:
        for text in dict.fromkeys(style.say(one) for one in _rests_on(worst)):
            yield from _indented(text, style, Ink.QUIET)
    if group.others and worst.verdict in _MAIN and not brief:
        yield from _indented(_others(group), style, Ink.QUIET)


def _brief(finding: Finding, style: Style) -> bool:
    """Whether a row only says what settles it: a doubt that is no must."""
    doubt = finding.verdict is Verdict.NOT_SHOWN and finding.weight != MUST
    return doubt and bool(finding.lacking) and not style.every


def _rests_on(finding: Finding) -> Iterator[Message]:
    """What a finding compared, and what it had to assume."""
    if finding.needed:
        yield Message("cli.needed", {"what": finding.needed})
    if finding.found:
        yield Message("cli.found", {"what": finding.found})
    for one in finding.assumed:
        yield Message("cli.assumed", {"what": said_assumed(one)})


def _remedies(group: Group, style: Style, said: set[str]) -> list[str]:
    """Everything that mends what fails or is open in this row, each once.

    Several are told apart by the case they belong to; what stands above already
    becomes one pointer upwards.
    """
    mends: dict[str, str] = {}
    for one in group.all:
        if one.remedy and one.verdict in _MAIN:
            mends.setdefault(style.say(one.remedy.message), said_where(one))
    every = list(mends)[:_MOST_REMEDIES]
    fresh = [text for text in every if text not in said]
    said.update(fresh)
    told = [of_case(text, mends[text]) if len(every) > 1 else text for text in fresh]
    return told if len(fresh) == len(every) else [*told, say(Message("cli.above"))]


def _lacking(
    finding: Finding, style: Style, said: set[str], *, brief: bool
) -> list[str]:
    """What would settle a finding and where it is written in the file, each once.

    In brief only the first is told.  What stands above is named by its keys.
    """
    keys = {
        style.say(Message("cli.lacking", {"what": one.message, "key": one.key})): (
            one.key
        )
        for one in finding.lacking
    }
    fresh = [text for text in keys if text not in said]
    told = fresh[:1] if brief else fresh
    said.update(told)
    if brief and len(fresh) > 1:
        more = {"first": told[0], "count": len(fresh) - 1}
        return [say(Message("cli.lacking_more", more))]
    if brief and told:
        return told
    above = [key for text, key in keys.items() if text not in fresh]
    return [*told, _see_above(above)] if above else told


def _see_above(keys: Sequence[str]) -> str:
    named = ", ".join(dict.fromkeys(keys[:_MOST_KEYS]))
    more = len(keys) - _MOST_KEYS
    if more > 0:
        named = say(Message("cli.more", {"where": named, "count": more}))
    return say(Message("cli.lacking_above", {"keys": named}))


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
