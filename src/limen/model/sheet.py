"""What a manual says about a unit, in our neutral form."""

from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from limen.model.fields import (
    Current,
    Id,
    Length,
    Name,
    Offset,
    Positive,
    Power,
    Ratio,
    SmallAngle,
    Stated,
    Temperature,
    Time,
    Voltage,
    angle,
    in_order,
    length,
)
from limen.model.radar import Motion
from limen.model.wiring import Kind, State
from limen.quantity import Quantity

FieldSize = Annotated[Quantity, length(0.1, 20.0, "100 mm to 20 m")]


class FanByAngle(Stated):
    """The manual gives the spots' angles: half-angles of each fan choice."""

    form: Literal["angles"]
    """The manual gives angles."""
    choices: dict[Id, Positive] = Field(min_length=1)
    """Half-angle of each fan choice."""
    spacing: Literal["equal in angle", "equal on floor"] | None = None
    """How the spots are spaced."""


class FanByWidth(Stated):
    """The manual gives a field width at a height, for each fan choice.

    ``measured_to`` and ``spacing`` are left out where the manual does not say.
    """

    form: Literal["width"]
    """The manual gives a field width."""
    choices: dict[Id, FieldSize] = Field(min_length=1)
    """Width of each fan choice."""
    at_height: FieldSize
    """Mounting height for which the widths are given."""
    measured_to: Literal["spot centres", "light edges", "test body"] | None = None
    """What the width was measured to."""
    spacing: Literal["equal in angle", "equal on floor"] | None = None
    """How the spots are spaced."""


class FanUnknown(Stated):
    """The manual says nothing of the fan."""

    form: Literal["unknown"]
    """The manual gives no fan."""
    spacing: Literal["equal in angle", "equal on floor"] | None = None
    """How the spots are spaced, as found at the door."""


Fan = Annotated[FanByAngle | FanByWidth | FanUnknown, Field(discriminator="form")]


class Row(Stated):
    """One line of beams: its angle from the unit's axis, its number of spots."""

    angle: SmallAngle
    """From the unit's axis, positive away from the door."""
    spots: int = Field(ge=2, le=200)
    """Number of spots."""
    pauses_while_moving: bool | None = None
    """Whether the row is ignored while the leaf moves."""


class Turn(Stated):
    """How far something can be turned, and in which steps."""

    least: SmallAngle
    """Smallest setting."""
    most: SmallAngle
    """Largest setting."""
    step: Annotated[Quantity, angle(1e-4, 0.35, "0.01 to 20 deg")] | None = None
    """One step of the scale."""

    @model_validator(mode="after")
    def _ordered(self) -> "Turn":
        in_order(self.least, self.most, "8 deg")
        return self


class Presence(Stated):
    """The presence sense: rows of light spots close to the leaves."""

    decides_by: Literal["brightness", "distance"] | None = None
    """What it compares: brightness or distance."""
    rows: tuple[Row, ...] = Field(min_length=1, max_length=12)
    """Its rows, the first one nearest the leaf."""
    fan: Fan
    """How wide the rows are."""
    tilt: Turn
    """How far the rows can be tilted."""
    spot_divergence: Positive | None = None
    """Full angle of one spot's light."""
    spots_needed: int | None = Field(default=None, ge=1, le=20)
    """How many spots of this unit must be covered."""
    lowest_height: Length | None = None
    """Lowest height at which it detects."""
    response: Time | None = None
    """From covered spot to output."""
    learns_after: Time | None = None
    """Time until a still body is learnt into the background."""
    channels: int | None = Field(default=None, ge=1, le=64)
    """Number of channels."""
    contrast_least: Ratio | None = None
    """Smallest change of brightness it detects."""
    angle_error: Annotated[Quantity, angle(0.0, 0.1, "0 to 5 deg")] | None = None
    """How far a spot may stand off its stated angle."""


class Barrier(Stated):
    """A light barrier: level beams across the opening, each for itself."""

    response: Time | None = None
    """From broken beam to output."""
    monitored: bool | None = None
    """Whether it can be tested by the operator."""


class Output(Stated):
    """One output of the unit, as the manual describes it."""

    signals: Literal["opening", "presence", "escape opening"]
    """What it signals."""
    kind: Kind | None = None
    """How it switches."""
    normal_state: State | None = None
    """Its state while nothing is detected."""
    monitored: bool | None = None
    """Whether the unit watches it."""
    test_input: bool | None = None
    """Whether the operator can ask it for a test."""


class Supply(Stated):
    """What the unit is fed with."""

    least: Voltage | None = None
    """Lowest voltage at its terminals at which it works."""
    most: Voltage | None = None
    """Highest voltage at its terminals."""
    current: Current | None = None
    """Current it takes, at most."""
    power: Power | None = None
    """Power it takes, at most, where the manual gives that instead."""
    alternating: bool | None = None
    """Whether it also works on alternating voltage."""


class Environment(Stated):
    """What the unit bears."""

    outdoors: bool | None = None
    """Whether it may be mounted in the open."""
    sealing: Annotated[str, Field(pattern=r"^IP[0-6X][0-9X]$")] | None = None
    """Degree of protection of its housing, as IP54."""
    coldest: Temperature | None = None
    """Lowest temperature at which it works."""
    hottest: Temperature | None = None
    """Highest temperature at which it works."""


class Hole(Stated):
    """One hole of the housing's back, from the middle of its back."""

    along: Offset
    """Along the opening, positive to the right for one who looks at the housing."""
    up: Offset
    """Upward."""
    diameter: Length
    """Diameter."""


class MountingRange(Stated):
    """Where the manual lets the unit be mounted."""

    least_height: Length | None = None
    """Lowest mounting height."""
    most_height: Length | None = None
    """Highest mounting height."""
    lens_known: bool = False
    """Whether the manual shows where the lens is in the housing."""
    places: tuple[Literal["header face", "underside", "ceiling", "beside"], ...] = ()
    """Where the manual lets it be mounted."""
    holes: tuple[Hole, ...] = Field(default=(), max_length=12)
    """Fixing holes."""
    cable_hole: Hole | None = None
    """Where the cable goes through."""
    edge: Length | None = None
    """How far the housing must stay from the lower edge of the profile."""
    width: Length | None = None
    """Width of the housing along the opening."""
    tall: Length | None = None
    """Height of the housing."""


class Sheet(Stated):
    """A sensor sheet.  Whatever the manual does not say is left out."""

    name: Name
    """What the unit is called."""
    note: str = ""
    """Anything worth knowing."""
    presence: Presence | None = None
    """The presence sense."""
    motion: Motion | None = None
    """The motion sense."""
    barrier: Barrier | None = None
    """The light barrier."""
    outputs: tuple[Output, ...] = ()
    """Its outputs."""
    mounting: MountingRange = MountingRange()
    """Where it may be mounted."""
    supply: Supply = Supply()
    """What it is fed with."""
    environment: Environment = Environment()
    """What it bears."""
    service_pause: Time | None = None
    """Time for which presence can be suspended for work."""
    steadiness: tuple[str, ...] = ()
    """The unit's own steps of how much disturbance it ignores."""

    @model_validator(mode="after")
    def _has_a_sense(self) -> "Sheet":
        if self.presence or self.motion or self.barrier:
            return self
        raise PydanticCustomError(
            "no_sense",
            "the sheet describes no sense at all",
            {
                "accepted": "a [presence], [motion] or [barrier] part",
                "example": "[presence]",
            },
        )
