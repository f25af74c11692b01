"""How units are wired: each output on its input, tested, and noticed if it fails."""

from limen.findings import Finding, Message
from limen.model.fitting import Fitting
from limen.model.wiring import Does, Signal
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
    said_output,
    said_purpose,
    signals,
    unknown,
    wanted,
    worst,
)
from limen.questions.wiring_tests import tested

CONNECT: dict[Does, str] = {
    "closing protection": "connect",
    "opening stop": "connect_stop",
    "escape opening": "connect_escape",
}
"""How to try an output that was left alone, once it is connected."""
HINDERS: dict[Signal, tuple[Does, ...]] = {
    "opening": ("opening stop", "test"),
    "escape opening": ("opening stop", "test"),
    "presence": ("test",),
    "test": (),
}
"""What a second wire of an output must not do beside what the first one does."""


def inputs(asked: Asked) -> tuple[Finding, ...]:
    """Does each output go to an input that does what it says, and is it tested?

    An opening output opens; a presence output stops or reopens a closing leaf, or,
    of a unit beside the opening, stops an opening leaf; an escape opening output
    opens whatever the mode.  No further wire of it does the contrary.  A presence
    output is tested by the operator before it relies on it, or is of a kind that is
    heard all the time.

    Args:
        asked: no limits; ``wires`` and ``sheet.outputs`` of each fitting,
            ``operator.inputs`` and ``operator.tests_before_closing``.

    Returns:
        One finding for each unit and output.

    Source:
        The rulebook; reading of the wiring as described.  Where no input is
        described a terminal's name is taken for what it does: common practice, no
        source.  Left out: whether the wire is sound, what the operator's menu says
        in truth, and whether several units on one input hide each other, as contacts
        do that are closed at rest and lie side by side; pulling each unit's plug in
        turn shows all three.
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
    use = asked.doorway.use
    because = Message("inputs.not_used", said)
    if signal == "escape opening":
        if use.escape_route is False or use.breaks_out:
            return not_asked(because)
        if use.escape_route is None:
            return unknown(because, lack_fact("escape_route"))
        if use.breaks_out is None:
            return unknown(because, lack("lack.wiring.breaks_out", "use.breaks_out"))
    elif signal != "presence":
        return not_asked(because)
    goal = wanted(asked, fitting, signal)[0]
    remedy = Message(
        f"remedy.wiring.{CONNECT[goal]}", {**said, "purpose": said_purpose(goal)}
    )
    return fails(Message("inputs.unused", said), remedy)


def _landed(
    asked: Asked, fitting: Fitting, signal: Signal, found: tuple[End, ...]
) -> Reply:
    """What is at the ends of an output's wires: all of them must serve."""
    goals = wanted(asked, fitting, signal)
    right = [end for end in found if end.does in goals]
    open_ends = [end for end in found if end.does is None and not end.unused]
    if not right and not open_ends:
        used = next(end for end in found if not end.unused)
        return _misled(fitting, signal, used, said_purpose(goals[0]))
    hinders = HINDERS[signal]
    astray = [
        _misled(fitting, signal, end, said_purpose(goals[0]))
        for end in found
        if end.does in hinders and end.does not in goals
    ]
    return worst((*astray, *map(_open_end, open_ends), *_serve(asked, fitting, right)))


def _open_end(end: End) -> Reply:
    """A wire to a terminal of which nobody knows what it does."""
    why = "named_twice" if end.twice else "not_known"
    return unknown(Message(f"inputs.{why}", {"input": end.wire.to}), lacks_input(end))


def _serve(asked: Asked, fitting: Fitting, right: list[End]) -> tuple[Reply, ...]:
    """The wires that end where they should."""
    if right and right[0].wire.output == "presence":
        return tuple(tested(asked, fitting, end) for end in right)
    return tuple(
        holds(
            Message("inputs.holds", _said(fitting, end.wire.output, end)),
            practice=end.by_name,
        )
        for end in right
    )


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
