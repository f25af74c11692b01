"""Where a unit's outputs go: the operator's inputs, and what these do."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import get_args

from limen.findings import Finding, Lack, Message, Remedy, Verdict, Witness
from limen.model.fitting import Fitting
from limen.model.sheet import Output, Sheet
from limen.model.wiring import Does, Input, Operator, Signal, Wire
from limen.quantity import Grade, Outcome
from limen.questions.asking import WORST_FIRST, Asked, graded, lack

NOT_USED = "not used"
"""What a wire goes ``to`` where an output is left alone on purpose."""
PROTECTIVE: tuple[Does, ...] = ("closing protection", "opening stop")
_SIDES = (" outside", " inside")


def left_alone(fitting: Fitting, *outputs: Signal) -> bool:
    """Whether every wire of these outputs goes nowhere, and one at least is named."""
    wires = [one for one in fitting.wires if one.output in outputs]
    return bool(wires) and all(one.to.casefold() == NOT_USED for one in wires)


@dataclass(frozen=True, slots=True)
class End:
    """One wire of an output and what the operator does at its end.

    Attributes:
        wire: as described.
        key: its key in the file.
        input: the input, as the operator's manual describes it; None if it is not.
        place: the input's number in the file, from 1.
        does: what the operator does; None if that is not known.
        twice: whether several terminals bear the name, so that none is meant.
    """

    wire: Wire
    key: str
    input: Input | None
    place: int
    does: Does | None
    twice: bool = False

    @property
    def by_name(self) -> bool:
        """Known only because the terminal is named after what it does."""
        return self.input is None and self.does is not None

    @property
    def unused(self) -> bool:
        """Left alone on purpose."""
        return self.wire.to.casefold() == NOT_USED


@dataclass(frozen=True, slots=True)
class Reply:
    """An answer before the grades had their say.

    Attributes:
        outcome: what was found; None if it is not asked.
        because: the reason.
        remedy: what to do where it fails.
        lacking: what would settle it.
        practice: whether it rests on a terminal's name.
    """

    outcome: Outcome | None
    because: Message
    remedy: Remedy | None = None
    lacking: tuple[Lack, ...] = ()
    practice: bool = False


def holds(because: Message, *, practice: bool = False) -> Reply:
    """It holds."""
    return Reply(Outcome.HOLDS, because, practice=practice)


def fails(because: Message, remedy: Message) -> Reply:
    """It fails, and what to do."""
    return Reply(Outcome.FAILS, because, Remedy(remedy))


def unknown(because: Message, *lacking: Lack) -> Reply:
    """It is not shown, and what would settle it."""
    return Reply(Outcome.NOT_SHOWN, because, lacking=lacking)


def not_asked(because: Message) -> Reply:
    """It is not asked."""
    return Reply(None, because)


def worst(replies: Iterable[Reply]) -> Reply:
    """The worst of several replies: what fails before what is not shown.

    What is not shown lacks all that any of them lacks.
    """
    order = (*WORST_FIRST, None)
    every = tuple(replies)
    found = min(every, key=lambda reply: order.index(reply.outcome))
    if found.outcome is not Outcome.NOT_SHOWN:
        on_practice = any(reply.practice for reply in every)
        return replace(found, practice=found.practice or on_practice)
    lacking = {one.key: one for reply in every for one in reply.lacking}
    return replace(found, lacking=tuple(lacking.values()))


def answered(
    asked: Asked, reply: Reply, *, fitting: str | None, case: str | None
) -> Finding:
    """The finding of a reply, capped by the grade of the rule."""
    if reply.outcome is None:
        return asked.answer(
            Verdict.NOT_ASKED, reply.because, fitting=fitting, case=case
        )
    by_name = (Grade.PRACTICE,) if reply.practice else ()
    told = graded(reply.outcome, (*asked.limits_graded(), *by_name), "values")
    return asked.answer(
        told.verdict,
        reply.because,
        fitting=fitting,
        case=case,
        remedy=reply.remedy,
        witness=Witness("state") if told.verdict is Verdict.FAILS else None,
        to_confirm=told.to_confirm,
        lacking=(*reply.lacking, *told.lacking),
    )


def signals(fitting: Fitting) -> tuple[Signal, ...]:
    """What a unit's outputs signal: as its sheet and its wires say.

    A sense of which neither says anything has an output all the same.
    """
    sheet = fitting.unit
    outputs = sheet.outputs if sheet else ()
    named: tuple[Signal, ...] = tuple(out.signals for out in outputs)
    wired: tuple[Signal, ...] = tuple(wire.output for wire in fitting.wires)
    told = dict.fromkeys((*named, *wired))
    return tuple(dict.fromkeys((*told, *_of_senses(sheet, tuple(told)))))


def _of_senses(sheet: Sheet | None, told: tuple[Signal, ...]) -> tuple[Signal, ...]:
    """What the senses are for; an escape opening output tells what moves, too."""
    if sheet is None:
        return ("presence",)
    sees = sheet.presence is not None or sheet.barrier is not None
    presence: tuple[Signal, ...] = ("presence",) if sees else ()
    moves = sheet.motion is not None and "escape opening" not in told
    return (*presence, "opening") if moves else presence


def outputs_of(fitting: Fitting, signal: Signal) -> tuple[tuple[str, Output], ...]:
    """A unit's outputs for a signal with their keys; none if the sheet is silent."""
    outputs = fitting.unit.outputs if fitting.unit else ()
    return tuple(
        (f"sheet.outputs[{place}]", output)
        for place, output in enumerate(outputs, 1)
        if output.signals == signal
    )


def agreed(replies: Iterable[Reply], because: Message, *lacking: Lack) -> Reply:
    """What all replies say; where they differ, nothing is shown.

    Args:
        replies: at least one.
        because: why nothing is shown where they differ.
        lacking: what tells which of them counts.
    """
    every = tuple(replies)
    if len({reply.outcome for reply in every}) > 1:
        return unknown(because, *lacking)
    return worst(every)


def ends(operator: Operator, fitting: Fitting, signal: Signal) -> tuple[End, ...]:
    """Every wire of an output, followed to its end."""
    return tuple(
        _end(operator, wire, f"fitting[{fitting.id}].wires[{place}]")
        for place, wire in enumerate(fitting.wires, 1)
        if wire.output == signal
    )


def _end(operator: Operator, wire: Wire, key: str) -> End:
    named = [
        (place, one)
        for place, one in enumerate(operator.inputs, 1)
        if one.name.casefold() == wire.to.casefold()
    ]
    if len(named) > 1:
        return End(wire, key, None, 0, None, twice=True)
    for place, one in named:
        return End(wire, key, one, place, one.does)
    does = None if operator.inputs else purpose_named(wire.to)
    return End(wire, key, None, 0, does)


def purpose_named(terminal: str) -> Does | None:
    """What a terminal does by its name alone: "opening", "opening inside".

    Source:
        Common practice, no source.
    """
    name = terminal.casefold()
    for side in _SIDES:
        name = name.removesuffix(side)
    return next((does for does in get_args(Does) if does == name), None)


def watches_side(fitting: Fitting, half: float) -> bool:
    """Whether a unit stands beside the opening and watches the opening leaf.

    Args:
        fitting: as described.
        half: half the clear width (m).
    """
    along = fitting.lens.along if fitting.lens else None
    beside = along is not None and abs(along.value) - along.u > half
    return fitting.place == "beside" or beside


def stops_opening(operator: Operator, fitting: Fitting) -> bool | None:
    """Whether a unit's presence stops an opening leaf; None if that is not known."""
    found = ends(operator, fitting, "presence")
    if any(end.does == "opening stop" for end in found):
        return True
    known = found and all(end.does is not None or end.unused for end in found)
    return False if known else None


def wanted(asked: Asked, fitting: Fitting, signal: Signal) -> tuple[Does, ...]:
    """What an operator's input must do for an output to serve."""
    match signal:
        case "opening":
            return ("opening", "escape opening")
        case "escape opening":
            return ("escape opening",)
        case "test":
            return ("test",)
        case "presence":
            half = asked.doorway.clear_width.high / 2
            beside = watches_side(fitting, half)
            return ("opening stop",) if beside else ("closing protection",)


def said_output(signal: Signal) -> Message:
    """An output in words."""
    return Message(f"output.{signal}")


def said_purpose(does: Does) -> Message:
    """What an input does, in words."""
    return Message(f"purpose.{does}")


def lacks_wires(fitting: Fitting, signal: Signal) -> Lack:
    """Where an output goes is not known."""
    said = {"fitting": fitting.id, "output": said_output(signal)}
    return Lack(Message("lack.wiring.wires", said), f"fitting[{fitting.id}].wires")


def lacks_outputs(fitting: Fitting, signal: Signal) -> Lack:
    """How an output works is not known: of the sheet, or as no sheet is named."""
    if fitting.unit is None:
        where = f"fitting[{fitting.id}].sheet"
        return lack("lack.sheet", where, {"fitting": fitting.id})
    said = {"fitting": fitting.id, "output": said_output(signal)}
    return Lack(Message("lack.wiring.output", said), "sheet.outputs")


def lacks_input(end: End) -> Lack:
    """What the operator does at a terminal is not known."""
    if end.twice:
        said = {"input": end.wire.to}
        return lack("lack.wiring.input_twice", "operator.inputs", said)
    return lack("lack.wiring.input", "operator.inputs", {"input": end.wire.to})
