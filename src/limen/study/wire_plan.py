"""The wiring of a doorway as it is described, and as it might be where it is not."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from limen.findings import Finding, Lack, Study, Verdict
from limen.findings.wires import (
    Feed,
    Terminal,
    ToSet,
    Way,
    WirePlan,
    WireShown,
)
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.sheet import Output
from limen.model.wiring import Operator, Signal
from limen.quantity import Outcome
from limen.questions.settled import settle
from limen.questions.wiring_ends import (
    NOT_USED,
    ends,
    outputs_of,
    purpose_named,
    signals,
)
from limen.questions.wiring_settings import Meeting, settings_at
from limen.rules import Rulebook
from limen.study.wire_tries import tries
from limen.study.wires_tried import (
    ASKED,
    WORST_FIRST,
    Bench,
    bench_of,
    best,
    goals,
    tried,
    why_none,
)

FED = ("wiring.supply", "wiring.voltage")
"""Questions on how units are fed."""
TELLS = "input"
"""The gap of a finding's reason that names the wire it is about."""
_VERDICT = {
    Outcome.FAILS: Verdict.FAILS,
    Outcome.NOT_SHOWN: Verdict.NOT_SHOWN,
    Outcome.HOLDS: Verdict.HOLDS,
}


def wire_plan(study: Study, rulebook: Rulebook) -> WirePlan:
    """The terminals of a doorway and every wire between them.

    What is described is shown with what was found of it.  An output without a wire
    is tried at every input that does what it needs, by the questions that would be
    asked of it there: the best one is proposed, or it is said why none serves.

    Args:
        study: of the doorway, under the rulebook.
        rulebook: the one it was studied under.
    """
    door = study.doorway
    terminals = _terminals(door.operator, door.fitting)
    bench = bench_of(door, settle(door), rulebook, terminals, study.on)
    wires = tuple(_numbered(_every(study, bench)))
    to_set = tuple(_to_set(bench, wires))
    asked = [one for one in study.findings if one.question in (*ASKED, *FED)]
    return WirePlan(
        terminals=terminals,
        wires=wires,
        feeds=tuple(_feed(study, fitting) for fitting in door.fitting),
        to_set=to_set,
        tries=tries(door.fitting, terminals, wires),
        general=tuple(one for one in asked if one.fitting is None),
        look_up=_once(lack for one in asked for lack in one.lacking),
    )


def _terminals(
    operator: Operator, fittings: tuple[Fitting, ...]
) -> tuple[Terminal, ...]:
    """The inputs of the operator's manual, then those that only wires name."""
    listed = [Terminal(one.name, one, one.does) for one in operator.inputs]
    known = {one.name.casefold() for one in listed} | {NOT_USED}
    for wire in (wire for fitting in fittings for wire in fitting.wires):
        if wire.to.casefold() in known:
            continue
        known.add(wire.to.casefold())
        does = None if operator.inputs else purpose_named(wire.to)
        listed.append(Terminal(wire.to, None, does, by_name=does is not None))
    return tuple(listed)


def _place(terminals: tuple[Terminal, ...], name: str) -> int | None:
    """The terminal of a name; None where no one, or more than one, bears it."""
    found = [
        place
        for place, one in enumerate(terminals)
        if one.name.casefold() == name.casefold()
    ]
    return found[0] if len(found) == 1 else None


# Wires -------------------------------------------------------------------------


def _numbered(wires: Iterable[WireShown]) -> Iterator[WireShown]:
    for number, one in enumerate(wires, 1):
        yield replace(one, number=number)


def _every(study: Study, bench: Bench) -> Iterator[WireShown]:
    """Wires unit by unit; those that are proposed know of those before them."""
    taken = {
        place
        for fitting in study.doorway.fitting
        for wire in fitting.wires
        if (place := _place(bench.terminals, wire.to)) is not None
    }
    for fitting in study.doorway.fitting:
        for signal in signals(fitting):
            found = _of_output(study, fitting, signal)
            described = ends(study.doorway.operator, fitting, signal)
            if not described:
                one = _without(bench, fitting, signal, found, taken)
                taken |= {one.terminal} if one.terminal is not None else set()
                yield one
            for end in described:
                yield _described(bench, fitting, signal, end.wire.to, found)


def _of_output(study: Study, fitting: Fitting, signal: Signal) -> tuple[Finding, ...]:
    return tuple(
        one
        for one in study.findings
        if one.question in ASKED and (one.fitting, one.case) == (fitting.id, signal)
    )


def _described(
    bench: Bench,
    fitting: Fitting,
    signal: Signal,
    to: str,
    found: tuple[Finding, ...],
) -> WireShown:
    about = tuple(one for one in found if _about(one, to))
    unused = to.casefold() == NOT_USED
    terminal = None if unused else _place(bench.terminals, to)
    way: Way = "left alone" if unused else "wired"
    worst = _worst(about)
    if worst is None and _unknown(bench.terminals, terminal):
        worst = Verdict.NOT_SHOWN
    reasons = tried(bench, fitting, signal) if worst is Verdict.FAILS else ()
    others = [one for one in reasons if one.terminal != terminal]
    better = best(others, bench.terminals, fitting.side, set(), signal)
    return WireShown(
        0,
        fitting.id,
        signal,
        _output(fitting, signal),
        way,
        terminal,
        worst,
        about,
        tuple(others),
        better.terminal if better else None,
    )


def _unknown(terminals: tuple[Terminal, ...], terminal: int | None) -> bool:
    return terminal is not None and terminals[terminal].does is None


def _about(finding: Finding, to: str) -> bool:
    """Whether a finding on an output is about this one of its wires."""
    named = finding.because.values.get(TELLS)
    return not isinstance(named, str) or named.casefold() == to.casefold()


def _without(
    bench: Bench,
    fitting: Fitting,
    signal: Signal,
    found: tuple[Finding, ...],
    taken: set[int],
) -> WireShown:
    """An output without a wire: where it would go, or why nowhere."""
    worst = _worst(found)
    reasons = () if worst is Verdict.NOT_ASKED else tried(bench, fitting, signal)
    chosen = best(reasons, bench.terminals, fitting.side, taken, signal)
    way: Way = "left alone" if worst is Verdict.NOT_ASKED else "open"
    return WireShown(
        0,
        fitting.id,
        signal,
        _output(fitting, signal),
        "proposed" if chosen else way,
        chosen.terminal if chosen else None,
        worst,
        found,
        reasons,
        none=None if reasons or way != "open" else why_none(bench, fitting, signal),
        named=False,
    )


def _worst(findings: Iterable[Finding]) -> Verdict | None:
    verdicts = [one.verdict for one in findings]
    return min(verdicts, key=WORST_FIRST.index, default=None)


def _output(fitting: Fitting, signal: Signal) -> Output | None:
    """What the manual says of an output; None if it says it of several."""
    found = outputs_of(fitting, signal)
    return found[0][1] if len(found) == 1 else None


# Around the wires --------------------------------------------------------------


def _to_set(bench: Bench, wires: tuple[WireShown, ...]) -> Iterator[ToSet]:
    """Input by input; what is found alike of several wires stands once.

    A wire that ends where something else is done is moved before anything is set.
    """
    for place, terminal in enumerate(bench.terminals):
        asked: dict[tuple[str, Verdict], ToSet] = {}
        here = [one for one in wires if one.terminal == place]
        for wire in (one for one in here if _serves(bench, one, terminal)):
            for one in settings_at(_meeting(bench.doorway, terminal, wire)):
                key = str(one.what), _VERDICT[one.outcome]
                before = asked[key].wires if key in asked else ()
                asked[key] = ToSet(place, one.what, key[1], (*before, wire.number))
        order = list(dict.fromkeys(what for what, _ in asked))
        yield from sorted(asked.values(), key=lambda one: order.index(str(one.what)))


def _serves(bench: Bench, wire: WireShown, terminal: Terminal) -> bool:
    """Whether an input is known to do what an output needs."""
    if not bench.rules or terminal.does is None:
        return False
    fitting = next(one for one in bench.doorway.fitting if one.id == wire.fitting)
    return terminal.does in goals(bench, fitting, wire.signal)


def _meeting(door: Doorway, terminal: Terminal, wire: WireShown) -> Meeting:
    return Meeting(wire.signal, wire.output, terminal.input, _tested(door, wire))


def _tested(door: Doorway, shown: WireShown) -> bool | None:
    """Whether the operator is said to test a unit; where it is said both ways, None."""
    every = door.operator.tests_before_closing
    fitting = next(one for one in door.fitting if one.id == shown.fitting)
    stated = [
        wire.test_enabled
        for wire in fitting.wires
        if wire.output == shown.signal and wire.test_enabled is not None
    ]
    if not stated:
        return every
    if all(stated):
        return None if every is False else True
    return False


def _feed(study: Study, fitting: Fitting) -> Feed:
    side = fitting.side
    around = study.doorway.exposure
    weather = around.outside if side == "outside" else around.inside
    found = tuple(
        one
        for one in study.findings
        if one.question in FED and one.fitting == fitting.id
    )
    return Feed(fitting, found, weather == "open")


def _once(lacks: Iterable[Lack]) -> tuple[Lack, ...]:
    return tuple({(one.key, str(one.message)): one for one in lacks}.values())
