"""What the door does when a wire is cut or a unit dies."""

from collections.abc import Iterator

from limen.findings import Finding, Lack, Message
from limen.model.fitting import Fitting
from limen.model.people import Side
from limen.model.sheet import Output
from limen.model.wiring import Does, Input, Signal, State
from limen.questions.asking import Asked, lack, lack_fact
from limen.questions.wiring_ends import (
    PROTECTIVE,
    End,
    Reply,
    agreed,
    answered,
    ends,
    fails,
    holds,
    lacks_input,
    lacks_outputs,
    lacks_wires,
    not_asked,
    outputs_of,
    said_output,
    said_purpose,
    signals,
    unknown,
    worst,
)
from limen.questions.wiring_tests import DYNAMIC

ESCAPE = "escape opening"
GUARDING: tuple[Signal, ...] = ("presence", ESCAPE)
CARRIES: dict[State, bool] = {
    "closed": True,
    "live": True,
    "open": False,
    "dead": False,
}
"""Whether a current is there at rest, so that a cut wire reads as a detection."""
SERVES: dict[Signal, tuple[Does, ...]] = {
    "presence": PROTECTIVE,
    ESCAPE: (ESCAPE,),
}
"""What an input does for an output that guards."""
SIDES: tuple[Side, ...] = ("outside", "inside")

Said = dict[str, str | int | Message]


def fail_safe(asked: Asked) -> tuple[Finding, ...]:
    """Does a cut wire or a dead unit open or stop the door?

    An output that is closed or live at rest reads as a detection when its wire is
    cut; one that is open or dead at rest must end on an input that notices the
    break.  What the operator does then must not be nothing; on an escape route it
    must open.  The unit and the input must speak of the same state and kind.  An
    output that may rest without its unit's power, as a contact may, looks at rest
    when the unit dies: there the operator must test it.

    Args:
        asked: no limits; ``sheet.outputs``, ``wires``, ``operator.inputs`` and
            ``use``.

    Returns:
        One finding for each unit's presence and escape opening output; one for the
        doorway, case "escape opening", where an escape route has no such output on
        a side from which people escape.

    Source:
        The rulebook; reading of outputs and inputs as described.  Left out: a short
        between wires, which only the test of `wiring.inputs` finds.
    """
    each = [
        answered(asked, _noticed(asked, fitting, one), fitting=fitting.id, case=one)
        for fitting in asked.doorway.fitting
        for one in signals(fitting)
        if one in GUARDING
    ]
    return (*each, *_for_escape(asked))


def _for_escape(asked: Asked) -> Iterator[Finding]:
    """On an escape route, the sides without a unit that opens it for escape."""
    use = asked.doorway.use
    if use.escape_route is False:
        return
    fittings = asked.doorway.fitting
    opened: list[Side] = [one.side for one in fittings if ESCAPE in signals(one)]
    sides: tuple[Side, ...] = use.escape_from or SIDES
    bare: tuple[Side, ...] = tuple(side for side in sides if side not in opened)
    if bare:
        reply = _without_escape(asked, opened, bare)
        yield answered(asked, reply, fitting=None, case=ESCAPE)


def _without_escape(asked: Asked, opened: list[Side], bare: tuple[Side, ...]) -> Reply:
    use = asked.doorway.use
    if use.breaks_out:
        return not_asked(Message("fail_safe.breaks_out"))
    if use.escape_route is None:
        return unknown(Message("fail_safe.escape_unknown"), lack_fact("escape_route"))
    if use.breaks_out is None:
        missing = lack("lack.wiring.breaks_out", "use.breaks_out")
        return unknown(Message("fail_safe.breaks_out_unknown"), missing)
    if opened and not use.escape_from:
        said = {"side": Message(f"side.{bare[0]}")}
        missing = lack("lack.use.escape_from", "use.escape_from")
        return unknown(Message("fail_safe.escape_from_unknown", said), missing)
    remedy = Message("remedy.wiring.escape_unit")
    if not opened:
        return fails(Message("fail_safe.no_escape_output"), remedy)
    said = {"side": Message(f"side.{bare[0]}")}
    return fails(Message("fail_safe.no_escape_output_there", said), remedy)


def _noticed(asked: Asked, fitting: Fitting, signal: Signal) -> Reply:
    found = ends(asked.doorway.operator, fitting, signal)
    said: Said = {"fitting": fitting.id, "output": said_output(signal)}
    if not found:
        if signal == ESCAPE and asked.doorway.use.escape_route is False:
            return not_asked(Message("inputs.no_escape_route"))
        return unknown(Message("fail_safe.no_wire", said), lacks_wires(fitting, signal))
    if all(end.unused for end in found):
        return not_asked(Message("inputs.not_used", said))
    told = outputs_of(fitting, signal)
    if not told:
        missing = lacks_outputs(fitting, signal)
        return unknown(Message("fail_safe.output_unknown", said), missing)
    which = Lack(Message("lack.wiring.which_output", said), "sheet.outputs")
    each = (_of_one(asked, one, signal, found, said) for one in told)
    return agreed(each, Message("inputs.which_output", said), which)


def _of_one(
    asked: Asked,
    told: tuple[str, Output],
    signal: Signal,
    found: tuple[End, ...],
    said: Said,
) -> Reply:
    """One output of the unit at the ends of its wires that guard."""
    serving = [end for end in found if end.does in SERVES[signal]]
    if serving:
        return worst(_at_end(asked, *told, end, said) for end in serving)
    for end in found:
        if end.does is None and not end.unused:
            because = Message("inputs.not_known", {"input": end.wire.to})
            return unknown(because, lacks_input(end))
    astray = next(end for end in found if end.does is not None)
    return _misled(astray, signal, said)


def _misled(end: End, signal: Signal, said: Said) -> Reply:
    """The wire ends where nothing is done that guards anybody."""
    goal = said_purpose(SERVES[signal][0])
    does = said_purpose(end.does) if end.does else Message("purpose.nothing")
    told: Said = {**said, "input": end.wire.to, "does": does, "purpose": goal}
    return fails(Message("inputs.wrong", told), Message("remedy.wiring.move", told))


def _at_end(asked: Asked, key: str, output: Output, end: End, said: Said) -> Reply:
    """One output on one input: contradictions first, then what a cut wire does."""
    said = {**said, "input": end.wire.to}
    checks = (_same_kind, _same_rest, _heeded)
    wrong = (check(output, end.input, said) for check in checks if end.input)
    replies = [reply for reply in wrong if reply is not None]
    if replies:
        return replies[0]
    return worst((_cut(key, output, end, said), *_dead(asked, output, end, said)))


def _dead(asked: Asked, output: Output, end: End, said: Said) -> tuple[Reply, ...]:
    """A unit that dies: what rests without its power rests on, unless it is tested."""
    silent = output.kind == "semiconductor" and output.normal_state == "closed"
    if output.kind in DYNAMIC or output.normal_state == "live" or silent:
        return ()
    every = asked.doorway.operator.tests_before_closing
    general = every if output.signals == "presence" else None
    tested = end.wire.test_enabled
    if tested or (tested is None and general):
        return ()
    missing = lack("lack.wiring.test_enabled", f"{end.key}.test_enabled", said)
    return (unknown(Message("fail_safe.dead_unit", said), missing),)


def _same_kind(output: Output, one: Input | None, said: Said) -> Reply | None:
    """A kind of output that the input does not take."""
    if one is None or output.kind is None or not one.kinds or output.kind in one.kinds:
        return None
    kinds = {**said, "kind": Message(f"kind.{output.kind}")}
    remedy = Message("remedy.wiring.kind", kinds)
    return fails(Message("fail_safe.kind", kinds), remedy)


def _same_rest(output: Output, one: Input | None, said: Said) -> Reply | None:
    """Unit and operator that mean different states by rest."""
    if one is None or one.rests is None or output.normal_state is None:
        return None
    if CARRIES[one.rests] is CARRIES[output.normal_state]:
        return None
    states: Said = {
        **said,
        "unit": Message(f"state.{output.normal_state}"),
        "operator": Message(f"state.{one.rests}"),
    }
    return fails(
        Message("fail_safe.rest", states), Message("remedy.wiring.rest", states)
    )


def _heeded(output: Output, one: Input | None, said: Said) -> Reply | None:
    """What the operator does about a fault that it notices."""
    fault = one.fails_to if one else None
    ignored = fault == "ignored"
    stands = output.signals == ESCAPE and fault == "standing door"
    if not (ignored or stands):
        return None
    key = "ignored" if ignored else "stands"
    remedy = Message("remedy.wiring.fault", said)
    return fails(Message(f"fail_safe.{key}", said), remedy)


def _cut(key: str, output: Output, end: End, said: Said) -> Reply:
    """What the operator reads when the wire is cut."""
    state, monitored = output.normal_state, end.input and end.input.monitored
    if state is None and not monitored:
        missing = Lack(Message("lack.wiring.normal_state", said), f"{key}.normal_state")
        return unknown(Message("fail_safe.state_unknown", said), missing)
    if monitored:
        return _by_operator(key, output, end, said)
    states: Said = {**said, "state": Message(f"state.{state or 'unknown'}")}
    if state is not None and CARRIES[state]:
        return _for_signal(key, output, end, states)
    if monitored is False:
        remedy = Message("remedy.wiring.closed", states)
        return fails(Message("fail_safe.unnoticed", states), remedy)
    return unknown(Message("fail_safe.may_pass", states), _monitored(end))


def _by_operator(key: str, output: Output, end: End, said: Said) -> Reply:
    """The operator notices the break: what does it do then?"""
    if end.input and end.input.fails_to is not None:
        return _for_signal(key, output, end, said)
    where = f"operator.inputs[{end.place}].fails_to"
    missing = lack("lack.wiring.fails_to", where, {"input": end.wire.to})
    return unknown(Message("fail_safe.fault_unknown", said), missing)


def _for_signal(key: str, output: Output, end: End, said: Said) -> Reply:
    """A presence output is done; one for escape watches itself and is watched."""
    if output.signals != ESCAPE:
        watched = end.input is not None and end.input.monitored
        key = "fail_safe.watched" if watched else "fail_safe.holds"
        return holds(Message(key, said), practice=end.by_name)
    if output.monitored is False or (end.input and end.input.monitored is False):
        remedy = Message("remedy.wiring.monitored", said)
        return fails(Message("fail_safe.unmonitored", said), remedy)
    missing: list[Lack] = []
    if output.monitored is None:
        missing.append(Lack(Message("lack.wiring.monitored", said), f"{key}.monitored"))
    if end.input is None or end.input.monitored is None:
        missing.append(_monitored(end))
    if missing:
        return unknown(Message("fail_safe.monitoring_unknown", said), *missing)
    return holds(Message("fail_safe.holds_escape", said))


def _monitored(end: End) -> Lack:
    where = (
        f"operator.inputs[{end.place}].monitored" if end.input else "operator.inputs"
    )
    return lack("lack.wiring.input_monitored", where, {"input": end.wire.to})
