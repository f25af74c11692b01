"""How units are wired: outputs, the operator's inputs, cable and supply."""

from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from limen.model.fields import (
    Area,
    Current,
    Length,
    Name,
    Resistance,
    Stated,
    Temperature,
    Time,
    Voltage,
)

Signal = Literal["opening", "presence", "escape opening", "test"]
Kind = Literal["relay", "semiconductor", "frequency", "current"]
State = Literal["open", "closed", "live", "dead"]
Does = Literal[
    "opening", "closing protection", "opening stop", "escape opening", "test"
]


class Wire(Stated):
    """One output of the unit and the operator's input it goes to."""

    output: Signal
    """The unit's output."""
    to: Name
    """The operator's input, as its terminal is named; "not used" if none."""
    test_enabled: bool | None = None
    """Whether the operator tests the unit before it closes."""


class Cable(Stated):
    """The lead from the operator to the unit: its supply runs through it."""

    length: Length
    """One way."""
    area: Area | None = None
    """Cross-section of one core, as printed on it."""
    awg: Annotated[int, Field(ge=10, le=32)] | None = None
    """Gauge of one core, where it is marked so."""
    loop: Resistance | None = None
    """Measured: out and back, the far ends joined."""
    hottest: Temperature | None = None
    """How hot the cable gets."""
    drip_loop: bool | None = None
    """Whether it makes a loop below the entry, so that water drips off."""


class Input(Stated):
    """One input of the operator, as its manual describes it.

    ``does`` is what the operator does when the input is active: opens; reopens
    or stops a closing leaf; stops an opening leaf; opens on an escape route;
    tests the unit.
    """

    name: Name
    """As its terminal is named."""
    does: Does
    """What the operator does with it."""
    kinds: tuple[Kind, ...] = ()
    """Kinds of output that it takes."""
    rests: State | None = None
    """Its state while nothing is detected."""
    monitored: bool | None = None
    """Whether the operator notices a broken wire or a short."""
    fails_to: Literal["open door", "standing door", "ignored"] | None = None
    """What the operator does when it notices a fault on it."""


class Operator(Stated):
    """The door's operator: its inputs and what it supplies."""

    inputs: tuple[Input, ...] = ()
    """Its inputs for sensors."""
    supply: Voltage | None = None
    """Voltage for the units at its terminals, the least under load."""
    current: Current | None = None
    """Current it can give to all units together."""
    reacts_in: Time | None = None
    """From a signal at its input until it acts on the drive."""
    tests_before_closing: bool | None = None
    """Whether it tests every presence unit before each closing."""


class Document(Stated):
    """A paper that says what cannot be seen at the door."""

    about: Literal["performance level", "conformity", "type examination", "force"]
    """What it is about."""
    function: Literal["presence", "escape opening", "operator", "door"]
    """Which function or part it speaks of."""
    level: Literal["a", "b", "c", "d", "e"] | None = None
    """The performance level that it states."""
    title: Name
    """Title, number, who wrote it."""
    dated: date | None = None
    """Its date."""
    fitting: str | None = None
    """The unit it speaks of, by id; left out if it speaks of all."""
