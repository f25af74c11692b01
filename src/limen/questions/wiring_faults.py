"""What the door does when a wire is cut or a unit dies."""

from collections.abc import Iterator

from limen.findings import Finding, Lack, Message
from limen.model.fitting import Fitting
from limen.model.sheet import Output
from limen.model.wiring import Input, Signal, State
from limen.questions.asking import Asked, lack, lack_fact
from limen.questions.wiring_ends import (
    PROTECTIVE,
    End,
    Reply,
    answered,
    ends,
    fails,
    holds,
    lacks_wires,
    not_asked,
    output_of,
    said_output,
    signals,
    unknown,
    worst,
)

ESCAPE = "escape opening"
GUARDING: tuple[Signal, ...] = ("presence", ESCAPE)
CARRIES: dict[State, bool] = {
    "closed": True,
    "live": True,
    "open": False,
    "dead": False,
}
"""Whether a current is there at rest, so that a cut wire reads as a detection."""

Said = dict[str, str | int | Message]


def fail_safe(asked: Asked) -> tuple[Finding, ...]:
    """Does a cut wire or a dead unit open or stop the door?

    An output that is closed or live at rest reads as a detection when its wire is
    cut; one that is open or dead at rest must end on an input that notices the
    break.  What the operator does then must not be nothing; on an escape route it
    must open.  The unit and the input must speak of the same state and kind.

    Args:
        asked: no limits; ``sheet.outputs``, ``wires``, ``operator.inputs`` and
            ``use``.

    Returns:
        One finding for each unit's presence and escape opening output; one for the
        doorway, case "escape opening", where an escape route has no such output.

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
    """On an escape route without any unit that opens it for escape."""
    use = asked.doorway.use
    if use.escape_route is False:
        return
    if any(ESCAPE in signals(fitting) for fitting in asked.doorway.fitting):
        return
    yield answered(asked, _without_escape(asked), fitting=None, case=ESCAPE)


def _without_escape(asked: Asked) -> Reply:
    breaks_out = asked.doorway.use.breaks_out
    if breaks_out:
        return not_asked(Message("fail_safe.breaks_out"))
    if asked.doorway.use.escape_route is None:
        return unknown(Message("fail_safe.escape_unknown"), lack_fact("escape_route"))
    if breaks_out is None:
        missing = lack("lack.wiring.breaks_out", "use.breaks_out")
        return unknown(Message("fail_safe.breaks_out_unknown"), missing)
    remedy = Message("remedy.wiring.escape_unit")
    return fails(Message("fail_safe.no_escape_output"), remedy)


def _noticed(asked: Asked, fitting: Fitting, signal: Signal) -> Reply:
    found = ends(asked.doorway.operator, fitting, signal)
    told = output_of(fitting, signal)
    said: Said = {"fitting": fitting.id, "output": said_output(signal)}
    if not found:
        if signal == ESCAPE and asked.doorway.use.escape_route is False:
            return not_asked(Message("inputs.no_escape_route"))
        return unknown(Message("fail_safe.no_wire", said), lacks_wires(fitting, signal))
    if all(end.unused for end in found):
        return not_asked(Message("inputs.not_used", said))
    if told is None:
        missing = Lack(Message("lack.wiring.output", said), "sheet.outputs")
        return unknown(Message("fail_safe.output_unknown", said), missing)
    key, output = told
    guarding = (*PROTECTIVE, ESCAPE)
    serving = [end for end in found if end.does in guarding] or found
    return worst(_at_end(key, output, end, said) for end in serving)


def _at_end(key: str, output: Output, end: End, said: Said) -> Reply:
    """One output on one input: contradictions first, then what a cut wire does."""
    said = {**said, "input": end.wire.to}
    checks = (_same_kind, _same_rest, _heeded)
    wrong = (check(output, end.input, said) for check in checks if end.input)
    replies = [reply for reply in wrong if reply is not None]
    return replies[0] if replies else _cut(key, output, end, said)


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
    states: Said = {**said, "state": Message(f"state.{state or 'unknown'}")}
    if state is not None and CARRIES[state]:
        return _for_signal(key, output, end, states)
    if monitored:
        return _by_operator(key, output, end, states)
    if monitored is False:
        remedy = Message("remedy.wiring.closed", states)
        return fails(Message("fail_safe.unnoticed", states), remedy)
    return unknown(Message("fail_safe.may_pass", states), _monitored(end))


def _by_operator(key: str, output: Output, end: End, said: Said) -> Reply:
    """Only the operator notices the break: what does it do then?"""
    if end.input and end.input.fails_to is not None:
        return _for_signal(key, output, end, said)
    where = f"operator.inputs[{end.place}].fails_to"
    missing = lack("lack.wiring.fails_to", where, {"input": end.wire.to})
    return unknown(Message("fail_safe.fault_unknown", said), missing)


def _for_signal(key: str, output: Output, end: End, said: Said) -> Reply:
    """A presence output is done; one for escape watches itself and is watched."""
    if output.signals != ESCAPE:
        return holds(Message("fail_safe.holds", said), practice=end.by_name)
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
