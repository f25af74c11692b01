"""What `limen wires` prints: wires with both ends, what to set, what shows it."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from limen.cli.lines import EMPTY, Ink, Line, line, wrapped
from limen.cli.paper import paper
from limen.cli.table import MARKS, Style
from limen.findings import Message, Verdict
from limen.quantity import Show
from limen.words.wiring import (
    route_of,
    said_ends,
    said_for,
    said_numbers,
    said_reasons,
    said_setting,
    said_try,
    said_wire,
    shared,
    word_of,
    wrong,
)

if TYPE_CHECKING:
    from limen.desk.wiring import Wired
    from limen.findings.wires import WirePlan, WireShown

BASE = "desk_wiring"
INDENT, HANG = 4, 2


def told(every: "Sequence[Wired]", units: str) -> int:
    """Print the wiring of doorways; returns 0: the work is done."""
    page = paper()
    style = Style(page.width, Show(units))
    for index, one in enumerate(every):
        page.put([EMPTY] if index else [])
        page.put(lines(one, style))
    return 0


def lines(one: "Wired", style: Style) -> Iterator[Line]:
    """The wiring of one doorway."""
    door, plan = one.study.doorway, one.plan
    yield from _said(Message(f"{BASE}.doorway", {"name": door.name}), style, Ink.STRONG)
    yield from _said(Message(f"{BASE}.route.{route_of(door)}"), style)
    if not plan.wires:
        yield from _said(Message(f"{BASE}.no_units"), style)
    yield from _wrong(plan, style)
    if not plan.wires:
        return
    yield from _head("wires", style)
    for wire in plan.wires:
        yield from _wire(plan, wire, style)
    yield from _settings(plan, style)
    yield from _tries(plan, style)
    yield from _look_up(plan, style)
    yield EMPTY
    yield from _said(Message(f"{BASE}.manual"), style, Ink.QUIET)


def _said(message: Message, style: Style, ink: Ink = Ink.PLAIN) -> list[Line]:
    return wrapped(style.say(message), style.width, ink=ink)


def _head(part: str, style: Style) -> list[Line]:
    return [EMPTY, line(style.say(Message(f"{BASE}.{part}.title")), Ink.STRONG)]


def _row(verdict: Verdict | None, text: str, style: Style) -> list[Line]:
    """A paragraph behind the mark of its verdict."""
    if verdict is None:
        return wrapped(text, style.width, indent=INDENT)
    mark = MARKS[verdict]
    first, *rest = wrapped(text, style.width, indent=INDENT)
    (piece,) = first
    start = f"{mark.text:<{INDENT}}"
    body = type(mark)(piece.text[INDENT:], piece.ink)
    return [(type(mark)(start, mark.ink), body), *rest]


def _more(text: str, style: Style, ink: Ink = Ink.QUIET) -> list[Line]:
    return wrapped(text, style.width, indent=INDENT, ink=ink)


def _wrong(plan: "WirePlan", style: Style) -> Iterator[Line]:
    found = wrong(plan)
    yield from _head("wrong", style)
    if not found:
        yield from _said(Message(f"{BASE}.wrong.none"), style)
    for numbers, one in found:
        because = style.say(one.because)
        if numbers:
            values = {"numbers": said_numbers(numbers)}
            key = "wire" if len(numbers) == 1 else "wires"
            because = f"{style.say(Message(f'{BASE}.wrong.{key}', values))}: {because}"
        yield from _row(Verdict.FAILS, because, style)
        if one.remedy:
            yield from _more(f"→ {style.say(one.remedy.message)}", style, Ink.STRONG)


def _wire(plan: "WirePlan", wire: "WireShown", style: Style) -> Iterator[Line]:
    said = said_wire(plan, wire)
    if wire.verdict is not None:
        verdict = {"verdict": Message(f"verdict.{wire.verdict}")}
        said = f"{said} {style.say(Message(f'{BASE}.picture.verdict', dict(verdict)))}"
    yield from _row(wire.verdict, said, style)
    more = (*said_ends(plan, wire), *said_reasons(plan, wire, style.system))
    yield from _more(" ".join(more), style)


def _settings(plan: "WirePlan", style: Style) -> Iterator[Line]:
    yield from _head("set", style)
    if not plan.to_set:
        yield from _said(Message(f"{BASE}.set.none"), style)
    for one in plan.to_set:
        word = style.say(Message(f"{BASE}.set.{word_of(one.verdict)}"))
        said = f"{said_setting(plan, one)}, {said_for(one.wires)}: {word}"
        yield from _row(one.verdict, said, style)


def _tries(plan: "WirePlan", style: Style) -> Iterator[Line]:
    yield from _head("try", style)
    if not plan.tries:
        yield from _said(Message(f"{BASE}.try.none"), style)
        return
    yield from _said(Message(f"{BASE}.try.what"), style)
    for one in plan.tries:
        do, must = said_try(one, style.system)
        yield from wrapped(f"[ ] {do}", style.width, hang=INDENT)
        yield from _more(must, style, Ink.STRONG)
        if one.verdict is Verdict.FAILS:
            yield from _more(style.say(Message(f"{BASE}.try.fails")), style)
    if any(one.signal == "presence" for one in plan.wires):
        yield from _said(Message(f"{BASE}.try.test_note"), style, Ink.QUIET)
    for name in shared(plan):
        note = Message(f"{BASE}.try.share_note", {"input": name})
        yield from _said(note, style, Ink.QUIET)


def _look_up(plan: "WirePlan", style: Style) -> Iterator[Line]:
    if not plan.look_up:
        return
    yield from _head("look", style)
    for one in plan.look_up:
        yield from _row(Verdict.NOT_SHOWN, style.say(one.message), style)
