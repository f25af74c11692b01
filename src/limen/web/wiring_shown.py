"""The wiring page in words: wires, what is wrong, what to set, what shows it."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from limen.desk.wiring import NARROW, WIDE
from limen.findings import Finding, Message, Verdict
from limen.quantity import Show
from limen.words import named, say
from limen.words.wiring import (
    route_of,
    said_ends,
    said_for,
    said_numbers,
    said_reasons,
    said_try,
    said_wire,
    shared,
    word_of,
    wrong,
)

if TYPE_CHECKING:
    from limen.desk.wiring import Wired
    from limen.findings.wires import WirePlan

BASE = "desk_wiring"


@dataclass(frozen=True, slots=True)
class Said:
    """One line of the page.

    Attributes:
        verdict: its mark; empty for none.
        word: the verdict in words.
        says: what it says.
        more: what stands beneath, more quietly.
        to_do: what to do about it.
    """

    verdict: str
    word: str
    says: str
    more: str = ""
    to_do: str = ""


@dataclass(frozen=True, slots=True)
class Shown:
    """The wiring of a doorway as the page shows it.

    Attributes:
        route: what the use of the doorway asks.
        wide, narrow: the drawing, for a wide screen and for a phone.
        wrong: what fails.
        wires: one a wire.
        proposed: wires that might be.
        settings: what to set, by input.
        tries: what to do at the door, and what must happen.
        notes: what to know when trying.
        look_up: what is not known.
    """

    route: str
    wide: str
    narrow: str
    wrong: tuple[Said, ...]
    wires: tuple[Said, ...]
    proposed: tuple[str, ...]
    settings: tuple[tuple[str, tuple[Said, ...]], ...]
    tries: tuple[Said, ...]
    notes: tuple[str, ...]
    look_up: tuple[str, ...]


def shown(one: "Wired", system: Show) -> Shown:
    """Everything that the page says of a doorway's wiring."""
    plan = one.plan
    return Shown(
        route=_say(f"route.{route_of(one.study.doorway)}"),
        wide=one.drawn(WIDE, system) if plan.wires else "",
        narrow=one.drawn(NARROW, system) if plan.wires else "",
        wrong=tuple(_wrong(plan, system)),
        wires=tuple(_wires(plan, system)),
        proposed=tuple(
            said_wire(plan, one) for one in plan.wires if one.way == "proposed"
        ),
        settings=tuple(_settings(plan)),
        tries=tuple(_tries(plan, system)),
        notes=tuple(_notes(plan)),
        look_up=tuple(say(lack.message, system=system) for lack in plan.look_up),
    )


def _say(key: str, **values: str | Message) -> str:
    return say(Message(f"{BASE}.{key}", dict(values)))


def _word(verdict: Verdict | None) -> str:
    return say(Message(f"verdict.{verdict}")) if verdict else ""


def _wrong(plan: "WirePlan", system: Show) -> Iterator[Said]:
    for numbers, one in wrong(plan):
        because = say(one.because, system=system)
        if numbers:
            key = "wire" if len(numbers) == 1 else "wires"
            told = _say(f"wrong.{key}", numbers=said_numbers(numbers))
            because = named(told, because)
        yield Said(one.verdict, _word(one.verdict), because, to_do=_do(one, system))


def _do(one: Finding, system: Show) -> str:
    return say(one.remedy.message, system=system) if one.remedy else ""


def _wires(plan: "WirePlan", system: Show) -> Iterator[Said]:
    for wire in plan.wires:
        ends = " ".join(said_ends(plan, wire))
        why = " ".join(said_reasons(plan, wire, system))
        says = said_wire(plan, wire)
        yield Said(wire.verdict or "", _word(wire.verdict), says, ends, why)


def _settings(plan: "WirePlan") -> Iterator[tuple[str, tuple[Said, ...]]]:
    for place, terminal in enumerate(plan.terminals):
        here = [one for one in plan.to_set if one.terminal == place]
        if not here:
            continue
        lines = [
            Said(
                one.verdict,
                _say(f"set.{word_of(one.verdict)}"),
                say(one.what),
                said_for(one.wires),
            )
            for one in here
        ]
        yield _say("set.at", input=terminal.name), tuple(lines)


def _tries(plan: "WirePlan", system: Show) -> Iterator[Said]:
    for one in plan.tries:
        do, must = said_try(one, system)
        fails = one.verdict is Verdict.FAILS
        note = _say("try.fails") if fails else ""
        yield Said("fails" if fails else "", "", do, must, note)


def _notes(plan: "WirePlan") -> Iterator[str]:
    if any(one.signal == "presence" for one in plan.wires):
        yield _say("try.test_note")
    for name in shared(plan):
        yield _say("try.share_note", input=name)
