"""What a doorway's wiring is, or might be: terminals, wires, and what proves them."""

from dataclasses import dataclass
from typing import Literal

from limen.findings.finding import Finding, Lack
from limen.findings.message import Message
from limen.findings.verdict import Verdict
from limen.model.fitting import Fitting
from limen.model.sheet import Output
from limen.model.wiring import Does, Input, Signal

Way = Literal["wired", "proposed", "open", "left alone"]
"""As described; as it might be; where it goes is not known; left alone on purpose."""


@dataclass(frozen=True, slots=True)
class Terminal:
    """A terminal of the operator for sensors.

    Attributes:
        name: as it stands in the file.
        input: what the operator's manual says of it; None if nobody described it.
        does: what the operator does with it; None if that is not known.
        by_name: whether that is told by its name alone.
    """

    name: str
    input: Input | None
    does: Does | None
    by_name: bool = False


@dataclass(frozen=True, slots=True)
class Reason:
    """Why an input would not serve an output, or what is not known of it.

    Attributes:
        terminal: the input's number among the terminals.
        verdict: what would be found.
        because: the reason.
    """

    terminal: int
    verdict: Verdict
    because: Message


@dataclass(frozen=True, slots=True)
class WireShown:
    """One wire of an output, one that might be, or an output without any.

    Attributes:
        number: from 1, as it is marked on the drawing and checked off.
        fitting: the unit.
        signal: what its output signals.
        output: what the unit's manual says of it; None if it does not say, or says
            it of several.
        way: what kind of wire it is.
        terminal: where it ends, by number among the terminals; None if nowhere.
        verdict: what was found of it; None where a finding on the same output is
            about another wire.
        findings: those on this wire.
        reasons: of an output without a wire, or with one that fails: why other
            inputs would not serve, or what is not known of them.
        serves: an input that would serve better, by number among the terminals.
        none: why no input comes into question at all.
        named: whether the file says so, of one that is left alone.
    """

    number: int
    fitting: str
    signal: Signal
    output: Output | None
    way: Way
    terminal: int | None
    verdict: Verdict | None
    findings: tuple[Finding, ...] = ()
    reasons: tuple[Reason, ...] = ()
    serves: int | None = None
    none: Message | None = None
    named: bool = True


@dataclass(frozen=True, slots=True)
class ToSet:
    """One thing to be set at an input of the operator.

    Attributes:
        terminal: the input, by number among the terminals.
        what: what must stand there.
        verdict: holds: it is described so; fails: it is described otherwise; not
            shown: nobody said.
        wires: numbers of the wires that ask for it.
    """

    terminal: int
    what: Message
    verdict: Verdict
    wires: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Try:
    """One thing to do at the door that shows whether wires do what they should.

    Attributes:
        fitting: the unit.
        kind: a plug to pull, or a walk.
        do: what to do.
        must: what must then happen.
        verdict: what was found of its wires: what is known to fail is mended first.
        wires: their numbers.
    """

    fitting: str
    kind: Literal["plug", "walk"]
    do: Message
    must: tuple[Message, ...]
    verdict: Verdict
    wires: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Feed:
    """How a unit is fed.

    Attributes:
        fitting: the unit, its sheet hung on.
        findings: on its voltage, by the operator's supply and by its lead.
        drips: whether a drip loop is asked of its cable: in the open.
    """

    fitting: Fitting
    findings: tuple[Finding, ...]
    drips: bool


@dataclass(frozen=True, slots=True)
class WirePlan:
    """The wiring of one doorway, whole.

    Attributes:
        terminals: the operator's inputs as its manual lists them, then those that
            only a wire names.
        wires: unit by unit.
        feeds: one a unit.
        to_set: input by input.
        tries: in the order in which they are best done.
        general: findings on the doorway's wiring that are on no one wire.
        look_up: what is not known, each once.
    """

    terminals: tuple[Terminal, ...]
    wires: tuple[WireShown, ...]
    feeds: tuple[Feed, ...]
    to_set: tuple[ToSet, ...]
    tries: tuple[Try, ...]
    general: tuple[Finding, ...]
    look_up: tuple[Lack, ...]

    def of(self, fitting: str) -> tuple[WireShown, ...]:
        """The wires of one unit."""
        return tuple(one for one in self.wires if one.fitting == fitting)
