"""Whether the operator would notice a presence unit that is dead."""

from limen.findings import Lack, Message
from limen.model.fitting import Fitting
from limen.model.sheet import Output
from limen.questions.asking import Asked, lack
from limen.questions.wiring_ends import (
    End,
    Reply,
    agreed,
    fails,
    holds,
    lacks_outputs,
    outputs_of,
    said_output,
    unknown,
)

DYNAMIC = ("frequency", "current")
"""Kinds of output that cannot rest unnoticed where the operator listens to them."""
Said = dict[str, str | int | Message]


def tested(asked: Asked, fitting: Fitting, end: End) -> Reply:
    """Whether the operator tests a presence unit, or hears it all the time.

    Args:
        asked: ``operator.tests_before_closing``, where the wire says nothing.
        fitting: the unit.
        end: where its presence output ends.
    """
    outputs = outputs_of(fitting, "presence")
    if not outputs:
        return _of_one(asked, fitting, end, None)
    replies = (_of_one(asked, fitting, end, told) for told in outputs)
    return agreed(replies, *_which(fitting))


def _which(fitting: Fitting) -> tuple[Message, Lack]:
    said: Said = {"fitting": fitting.id, "output": said_output("presence")}
    missing = Lack(Message("lack.wiring.which_output", said), "sheet.outputs")
    return Message("inputs.which_output", said), missing


def _of_one(
    asked: Asked, fitting: Fitting, end: End, told: tuple[str, Output] | None
) -> Reply:
    said: Said = {"fitting": fitting.id, "input": end.wire.to}
    unheard = _unheard(told, end)
    if told and unheard == ():
        return holds(Message("inputs.heard", said), practice=end.by_name)
    stated = end.wire.test_enabled
    every = asked.doorway.operator.tests_before_closing
    enabled = every if stated is None else stated
    if enabled:
        return _enabled(asked, fitting, end, told)
    if unheard:
        return unknown(Message("inputs.hearing_unknown", said), *unheard)
    if _has_input(fitting, told) is False:
        remedy = Message("remedy.wiring.testable", {"fitting": fitting.id})
        return fails(Message("inputs.cannot_be_tested", said), remedy)
    if enabled is None:
        missing = lack("lack.wiring.test_enabled", f"{end.key}.test_enabled", said)
        return unknown(Message("inputs.test_unknown", said), missing)
    return fails(
        Message("inputs.not_tested", said), Message("remedy.wiring.test", said)
    )


def _enabled(
    asked: Asked, fitting: Fitting, end: End, told: tuple[str, Output] | None
) -> Reply:
    """The test is said to be on: does anything contradict it, or leave it open?"""
    said: Said = {"fitting": fitting.id, "input": end.wire.to}
    if asked.doorway.operator.tests_before_closing is False:
        missing = lack("lack.wiring.tests_or_not", "operator.tests_before_closing")
        return unknown(Message("inputs.test_contradicted", said), missing)
    has_input = _has_input(fitting, told)
    if has_input:
        return holds(Message("inputs.tested", said), practice=end.by_name)
    why = "test_without_input" if has_input is False else "test_input_unknown"
    missing = _lacks_input(fitting, told)
    return unknown(Message(f"inputs.{why}", said), missing)


def _has_input(fitting: Fitting, told: tuple[str, Output] | None) -> bool | None:
    """Whether a unit can be tested: what its output says, else its barrier."""
    barrier = fitting.unit.barrier if fitting.unit else None
    stated = (told[1].test_input if told else None, barrier and barrier.monitored)
    if False in stated:
        return False
    return True if True in stated else None


def _lacks_input(fitting: Fitting, told: tuple[str, Output] | None) -> Lack:
    if told is None:
        return lacks_outputs(fitting, "presence")
    barrier = fitting.unit.barrier if fitting.unit else None
    denied = barrier is not None and barrier.monitored is False
    where = "sheet.barrier.monitored" if denied else f"{told[0]}.test_input"
    return lack("lack.wiring.test_input", where, {"fitting": fitting.id})


def _unheard(told: tuple[str, Output] | None, end: End) -> tuple[Lack, ...] | None:
    """What is missing before an output is heard all the time; None if it is not.

    It is heard where it is of a kind that never rests, the unit watches it and the
    operator's input listens to that kind.
    """
    output = told[1] if told else None
    if told is None or output is None or output.kind not in DYNAMIC:
        return None
    listens = end.input.kinds if end.input else ()
    if output.monitored is False or (listens and output.kind not in listens):
        return None
    found: list[Lack] = []
    said: Said = {"output": said_output("presence"), "input": end.wire.to}
    if output.monitored is None:
        missing = Message("lack.wiring.monitored", said)
        found.append(Lack(missing, f"{told[0]}.monitored"))
    if not listens:
        place = (
            f"operator.inputs[{end.place}].kinds" if end.input else "operator.inputs"
        )
        found.append(Lack(Message("lack.wiring.kinds", said), place))
    return tuple(found)
