"""What is to be set at an operator's input for an output that ends there."""

from collections.abc import Iterator
from dataclasses import dataclass

from limen.findings import Message
from limen.model.sheet import Output
from limen.model.wiring import Input, Signal
from limen.quantity import Outcome
from limen.questions.wiring_faults import CARRIES, ESCAPE
from limen.questions.wiring_tests import DYNAMIC


@dataclass(frozen=True, slots=True)
class Wanted:
    """One thing that must be set.

    Attributes:
        what: in words.
        outcome: whether it is described so.
    """

    what: Message
    outcome: Outcome


@dataclass(frozen=True, slots=True)
class Meeting:
    """An output and the input at which it ends.

    Attributes:
        signal: what the output signals.
        output: how the unit's manual describes it; None if it does not.
        input: how the operator's manual describes it; None if it does not.
        tested: whether the operator is said to test the unit; None if nobody said.
    """

    signal: Signal
    output: Output | None
    input: Input | None
    tested: bool | None


def settings_at(meeting: Meeting) -> tuple[Wanted, ...]:
    """What must be set at an input for the output that ends there.

    The kind of signal and its state at rest are those of the output; a presence
    unit is tested, unless it is heard all the time; an output that carries no
    current at rest, and one for escape, is watched, and a fault on it is heeded.

    Args:
        meeting: output and input.

    Source:
        `wiring.inputs` and `wiring.fail_safe`, taken apart by what a hand can set;
        for opening outputs, of which these ask less, the same by common practice,
        no source.
    """
    output = meeting.output
    if output is None:
        return tuple(_test(meeting))
    return (*_kind(output, meeting), *_rest(output, meeting), *_guard(output, meeting))


def misfits(meeting: Meeting) -> tuple[tuple[str, dict[str, Message]], ...]:
    """In what an output and an input contradict each other.

    Args:
        meeting: output and input.

    Returns:
        ``kind`` and ``rest``, each with what fills its sentence; none where nothing
        contradicts, or where nobody said.
    """
    output, one = meeting.output, meeting.input
    if output is None or one is None:
        return ()
    found: list[tuple[str, dict[str, Message]]] = []
    if output.kind and one.kinds and output.kind not in one.kinds:
        found.append(("kind", {"kind": Message(f"kind.{output.kind}")}))
    state = output.normal_state
    if state and one.rests and CARRIES[state] is not CARRIES[one.rests]:
        unit, operator = (Message(f"state.{each}") for each in (state, one.rests))
        found.append(("rest", {"unit": unit, "operator": operator}))
    return tuple(found)


def _guard(output: Output, meeting: Meeting) -> Iterator[Wanted]:
    yield from _test(meeting)
    if meeting.signal != "opening":
        yield from _watch(output, meeting)


def _kind(output: Output, meeting: Meeting) -> Iterator[Wanted]:
    if output.kind is None:
        return
    takes = meeting.input.kinds if meeting.input else ()
    known = output.kind in takes if takes else None
    said = {"kind": Message(f"kind.{output.kind}")}
    yield Wanted(Message("desk_wiring.set.kind", said), _told(known))


def _rest(output: Output, meeting: Meeting) -> Iterator[Wanted]:
    state = output.normal_state
    if state is None:
        return
    rests = meeting.input.rests if meeting.input else None
    known = None if rests is None else CARRIES[rests] is CARRIES[state]
    said = {"state": Message(f"state.{state}")}
    yield Wanted(Message("desk_wiring.set.rest", said), _told(known))


def _test(meeting: Meeting) -> Iterator[Wanted]:
    """Whether the test is on; of a kind that is heard all the time, nothing.

    Where it is not known whether it is heard, a unit without a test input is not
    known to need one.
    """
    output = meeting.output
    if meeting.signal != "presence":
        return
    heard = _heard(output, meeting.input)
    if heard:
        return
    if output is not None and output.test_input is False:
        yield Wanted(Message("desk_wiring.set.no_test"), _told(heard))
        return
    yield Wanted(Message("desk_wiring.set.test"), _told(meeting.tested))


def _heard(output: Output | None, one: Input | None) -> bool | None:
    """Whether the operator hears an output all the time; None if nobody said."""
    if output is None or output.kind not in DYNAMIC or output.monitored is False:
        return False
    takes = one.kinds if one else ()
    if takes and output.kind not in takes:
        return False
    return True if takes and output.monitored else None


def _watch(output: Output, meeting: Meeting) -> Iterator[Wanted]:
    """An input that watches its line, where a cut wire would look like rest."""
    one, state = meeting.input, output.normal_state
    silent = state is not None and not CARRIES[state]
    watched = one.monitored if one else None
    if not (silent or meeting.signal == ESCAPE or watched):
        return
    yield Wanted(Message("desk_wiring.set.watch"), _told(watched))
    yield from _fault(meeting, one)


def _fault(meeting: Meeting, one: Input | None) -> Iterator[Wanted]:
    does = one.fails_to if one else None
    if meeting.signal == ESCAPE:
        known = None if does is None else does == "open door"
        yield Wanted(Message("desk_wiring.set.fault_opens"), _told(known))
        return
    known = None if does is None else does != "ignored"
    yield Wanted(Message("desk_wiring.set.fault_heeded"), _told(known))


def _told(known: bool | None) -> Outcome:  # noqa: FBT001 - yes, no or nobody said
    match known:
        case True:
            return Outcome.HOLDS
        case False:
            return Outcome.FAILS
        case None:
            return Outcome.NOT_SHOWN
