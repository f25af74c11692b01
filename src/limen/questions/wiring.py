"""How units are wired: each output on its input, tested, and noticed if it fails."""

from limen.findings import Finding, Message
from limen.model.fitting import Fitting
from limen.model.sheet import Output
from limen.model.wiring import Signal
from limen.questions.asking import Asked, lack, lack_fact
from limen.questions.wiring_ends import (
    End,
    Reply,
    answered,
    ends,
    fails,
    holds,
    lacks_input,
    lacks_wires,
    not_asked,
    output_of,
    said_output,
    said_purpose,
    signals,
    unknown,
    wanted,
    worst,
)

DYNAMIC = ("frequency", "current")
"""Kinds of output that cannot rest unnoticed: the operator hears them all the time."""


def inputs(asked: Asked) -> tuple[Finding, ...]:
    """Does each output go to an input that does what it says, and is it tested?

    An opening output opens; a presence output stops or reopens a closing leaf, or,
    of a unit beside the opening, stops an opening leaf; an escape opening output
    opens whatever the mode.  A presence output is tested by the operator before it
    relies on it, or is of a kind that is heard all the time.

    Args:
        asked: no limits; ``wires`` and ``sheet.outputs`` of each fitting,
            ``operator.inputs`` and ``operator.tests_before_closing``.

    Returns:
        One finding for each unit and output.

    Source:
        The rulebook; reading of the wiring as described.  Where no input is
        described a terminal's name is taken for what it does: common practice, no
        source.  Left out: whether the wire is sound, and what the operator's menu
        says in truth; pulling each unit's plug shows both.
    """
    return tuple(
        answered(
            asked, _connected(asked, fitting, signal), fitting=fitting.id, case=signal
        )
        for fitting in asked.doorway.fitting
        for signal in signals(fitting)
    )


def _connected(asked: Asked, fitting: Fitting, signal: Signal) -> Reply:
    found = ends(asked.doorway.operator, fitting, signal)
    said = {"fitting": fitting.id, "output": said_output(signal)}
    if not found:
        if signal == "escape opening" and asked.doorway.use.escape_route is False:
            return not_asked(Message("inputs.no_escape_route"))
        return unknown(Message("inputs.no_wire", said), lacks_wires(fitting, signal))
    if all(end.unused for end in found):
        return _left_alone(asked, fitting, signal)
    return _landed(asked, fitting, signal, found)


def _left_alone(asked: Asked, fitting: Fitting, signal: Signal) -> Reply:
    said = {"fitting": fitting.id, "output": said_output(signal)}
    escape = asked.doorway.use.escape_route
    if signal == "escape opening" and escape is None:
        return unknown(Message("inputs.not_used", said), lack_fact("escape_route"))
    needed = signal == "presence" or (signal == "escape opening" and escape)
    if not needed:
        return not_asked(Message("inputs.not_used", said))
    goal = said_purpose(wanted(asked, fitting, signal)[0])
    remedy = Message("remedy.wiring.connect", {**said, "purpose": goal})
    return fails(Message("inputs.unused", said), remedy)


def _landed(
    asked: Asked, fitting: Fitting, signal: Signal, found: tuple[End, ...]
) -> Reply:
    """What is at the ends of an output's wires."""
    goals = wanted(asked, fitting, signal)
    right = [end for end in found if end.does in goals]
    if right:
        if signal == "presence":
            return worst(_tested(asked, fitting, end) for end in right)
        end = right[0]
        said = _said(fitting, signal, end)
        return holds(Message("inputs.holds", said), practice=end.by_name)
    open_ends = [end for end in found if end.does is None and not end.unused]
    if open_ends:
        because = Message("inputs.not_known", {"input": open_ends[0].wire.to})
        return unknown(because, lacks_input(open_ends[0]))
    return _misled(fitting, signal, found[0], said_purpose(goals[0]))


def _said(fitting: Fitting, signal: Signal, end: End) -> dict[str, str | int | Message]:
    return {
        "fitting": fitting.id,
        "output": said_output(signal),
        "input": end.wire.to,
    }


def _misled(fitting: Fitting, signal: Signal, end: End, goal: Message) -> Reply:
    """The wire ends where something else is done."""
    does = said_purpose(end.does) if end.does else Message("purpose.nothing")
    said = {**_said(fitting, signal, end), "does": does, "purpose": goal}
    remedy = Message("remedy.wiring.move", said)
    return fails(Message("inputs.wrong", said), remedy)


# The test of a presence output -------------------------------------------------


def _tested(asked: Asked, fitting: Fitting, end: End) -> Reply:
    """Whether the operator tests the unit before it relies on it."""
    told = output_of(fitting, "presence")
    every = asked.doorway.operator.tests_before_closing
    stated = end.wire.test_enabled
    enabled = every if stated is None else stated
    said = _said(fitting, "presence", end)
    if enabled:
        return _test_enabled(asked, told, end, said)
    if told and heard_always(told[1]):
        return holds(Message("inputs.heard", said), practice=end.by_name)
    if told and told[1].test_input is False:
        remedy = Message("remedy.wiring.testable", {"fitting": fitting.id})
        return fails(Message("inputs.cannot_be_tested", said), remedy)
    if enabled is None:
        values = {"fitting": fitting.id, "input": end.wire.to}
        missing = lack("lack.wiring.test_enabled", f"{end.key}.test_enabled", values)
        return unknown(Message("inputs.test_unknown", said), missing)
    remedy = Message(
        "remedy.wiring.test", {"fitting": fitting.id, "input": end.wire.to}
    )
    return fails(Message("inputs.not_tested", said), remedy)


def _test_enabled(
    asked: Asked,
    told: tuple[str, Output] | None,
    end: End,
    said: dict[str, str | int | Message],
) -> Reply:
    """The test is said to be on: does anything contradict it?"""
    if asked.doorway.operator.tests_before_closing is False:
        missing = lack("lack.wiring.tests_or_not", "operator.tests_before_closing")
        return unknown(Message("inputs.test_contradicted", said), missing)
    if told and told[1].test_input is False and not heard_always(told[1]):
        missing = lack("lack.wiring.test_input", f"{told[0]}.test_input")
        return unknown(Message("inputs.test_without_input", said), missing)
    return holds(Message("inputs.tested", said), practice=end.by_name)


def heard_always(output: Output) -> bool:
    """Whether the operator hears an output all the time, so that silence tells."""
    return output.kind in DYNAMIC and output.monitored is not False
