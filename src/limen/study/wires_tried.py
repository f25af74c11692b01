"""An output's wire tried at every input: what would be found of it there."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from limen.findings import Finding, Measure, Message, Verdict
from limen.findings.wires import Reason, Terminal
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.sheet import Output
from limen.model.wiring import Does, Signal, Wire
from limen.questions import QUESTIONS
from limen.questions.asking import Asked
from limen.questions.settled import Settled
from limen.questions.wiring_ends import outputs_of, wanted
from limen.questions.wiring_settings import Meeting, misfits
from limen.rules import Rule, Rulebook
from limen.study.running import facts_of

ASKED = ("wiring.inputs", "wiring.fail_safe")
"""Questions on one output's wires."""
WORST_FIRST = (Verdict.FAILS, Verdict.NOT_SHOWN, Verdict.HOLDS, Verdict.NOT_ASKED)


@dataclass(frozen=True, slots=True)
class Bench:
    """What wires are tried on.

    Attributes:
        doorway: as described.
        settled: the same, settled.
        rules: those of `ASKED` that the rulebook has for it.
        terminals: the operator's inputs.
        on: the day.
    """

    doorway: Doorway
    settled: Settled
    rules: tuple[Rule, ...]
    terminals: tuple[Terminal, ...]
    on: date | None


def bench_of(
    doorway: Doorway,
    settled: Settled,
    rulebook: Rulebook,
    terminals: tuple[Terminal, ...],
    on: date | None,
) -> Bench:
    """Everything that trying a wire needs."""
    facts = facts_of(doorway)
    found = (rulebook.rule_for(name, facts) for name in ASKED)
    rules = tuple(one for one in found if isinstance(one, Rule))
    return Bench(doorway, settled, rules, terminals, on)


def goals(bench: Bench, fitting: Fitting, signal: Signal) -> tuple[Does, ...]:
    """What an input must do for an output to serve."""
    asked = Asked(bench.doorway, bench.settled, bench.rules[0], (), bench.on)
    return wanted(asked, fitting, signal)


def tried(bench: Bench, fitting: Fitting, signal: Signal) -> tuple[Reason, ...]:
    """What would be found of an output at each input that does what it needs.

    The test of a unit that has one is taken to be switched on with the wire, since
    that is part of connecting it.

    Args:
        bench: what it is tried on.
        fitting: the unit.
        signal: its output.

    Returns:
        One for each such input, in their order; none where the rulebook asks
        nothing of wires, or where no input is known to do it.
    """
    if not bench.rules:
        return ()
    serving = goals(bench, fitting, signal)
    return tuple(
        _at(bench, fitting, signal, place)
        for place, one in enumerate(bench.terminals)
        if one.does in serving
    )


def _at(bench: Bench, fitting: Fitting, signal: Signal, place: int) -> Reason:
    outputs = [one for _, one in outputs_of(fitting, signal)]
    testable = any(one.test_input for one in outputs)
    barrier = fitting.unit.barrier if fitting.unit else None
    has_test = testable or bool(barrier and barrier.monitored)
    wire = Wire(
        output=signal,
        to=bench.terminals[place].name,
        test_enabled=True if signal == "presence" and has_test else None,
    )
    found = [(one.verdict, one.because) for one in _found(bench, fitting, wire)]
    found += _suited(outputs, bench.terminals[place], wire, fitting)
    worst = min(found, key=lambda one: WORST_FIRST.index(one[0]))
    return Reason(place, *worst)


def _suited(
    outputs: list[Output], terminal: Terminal, wire: Wire, fitting: Fitting
) -> list[tuple[Verdict, Message]]:
    """Kind and state at rest, which are asked of outputs that guard alone.

    An input that takes another kind, or means the other state by rest, is not
    proposed for any output.
    """
    one = terminal.input
    if len(outputs) != 1 or one is None:
        return []
    said: dict[str, str | int | Measure | Message] = {
        "fitting": fitting.id,
        "output": Message(f"output.{wire.output}"),
        "input": terminal.name,
    }
    meeting = Meeting(wire.output, outputs[0], one, tested=True)
    wrong = [
        (Verdict.FAILS, Message(f"fail_safe.{key}", {**said, **values}))
        for key, values in misfits(meeting)
    ]
    if wrong or (one.kinds and one.rests):
        return wrong
    return [(Verdict.NOT_SHOWN, Message("desk_wiring.wire.expects_unknown"))]


def _found(bench: Bench, fitting: Fitting, wire: Wire) -> list[Finding]:
    """What is found of an output if this is its only wire."""
    others = [one for one in fitting.wires if one.output != wire.output]
    wired = fitting.model_copy(update={"wires": (*others, wire)})
    door = bench.doorway
    fittings = tuple(wired if one.id == fitting.id else one for one in door.fitting)
    changed = door.model_copy(update={"fitting": fittings})
    return [
        one
        for rule in bench.rules
        for one in QUESTIONS[rule.question].ask(
            Asked(changed, bench.settled, rule, (), bench.on)
        )
        if (one.fitting, one.case) == (fitting.id, wire.output)
    ]


def best(
    reasons: Iterable[Reason],
    terminals: tuple[Terminal, ...],
    side: str,
    taken: set[int],
    signal: Signal,
) -> Reason | None:
    """The input that serves an output best; None if none does.

    What holds goes before what is not shown; inputs for escape are left to outputs
    for escape; then an input named after the unit's side, then one at which nothing
    ends yet, then the first.

    Args:
        reasons: what would be found at each.
        terminals: the inputs.
        side: on which the unit is.
        taken: inputs at which something ends already.
        signal: what the output signals.
    """

    def rank(one: Reason) -> tuple[bool, bool, int, bool, int]:
        terminal = terminals[one.terminal]
        unsettled = one.verdict is Verdict.NOT_SHOWN
        more = signal != "escape opening" and terminal.does == "escape opening"
        named = _elsewhere(terminal.name, side)
        return unsettled, more, named, one.terminal in taken, one.terminal

    fitting = [one for one in reasons if one.verdict is not Verdict.FAILS]
    return min(fitting, key=rank, default=None)


def _elsewhere(name: str, side: str) -> int:
    """0: named after the side; 1: after none; 2: after the other one."""
    words = name.casefold().split()
    if side in words:
        return 0
    return 2 if {"outside", "inside"} & set(words) else 1


def why_none(bench: Bench, fitting: Fitting, signal: Signal) -> Message:
    """Why no input serves an output, where none is known to do what it needs."""
    if not bench.rules:
        return Message("desk_wiring.none.no_rule")
    if not bench.doorway.operator.inputs:
        return Message("desk_wiring.none.no_inputs")
    goal = goals(bench, fitting, signal)[0]
    return Message(
        "desk_wiring.none.no_purpose", {"purpose": Message(f"purpose.{goal}")}
    )
