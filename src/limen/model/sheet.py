"""What a manual says about a unit, in our neutral form."""

from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from limen.model.fields import (
    Id,
    Length,
    Name,
    Positive,
    Ratio,
    SmallAngle,
    Stated,
    Time,
    angle,
)
from limen.quantity import Quantity


class FanByAngle(Stated):
    """The manual gives the spots' angles: half-angles of each fan choice."""

    form: Literal["angles"]
    choices: dict[Id, Positive] = Field(min_length=1)
    spacing: Literal["equal in angle", "equal on floor"] | None = None


class FanByWidth(Stated):
    """The manual gives a field width at a height, for each fan choice.

    ``measured_to`` and ``spacing`` are left out where the manual does not say.
    """

    form: Literal["width"]
    choices: dict[Id, Length] = Field(min_length=1)
    at_height: Length
    measured_to: Literal["spot centres", "light edges", "test body"] | None = None
    spacing: Literal["equal in angle", "equal on floor"] | None = None


class FanUnknown(Stated):
    """The manual says nothing of the fan."""

    form: Literal["unknown"]


Fan = Annotated[FanByAngle | FanByWidth | FanUnknown, Field(discriminator="form")]


class Row(Stated):
    """One line of beams: its angle from the unit's axis, its number of spots."""

    angle: SmallAngle
    spots: int = Field(ge=2, le=200)
    pauses_while_moving: bool | None = None


class Turn(Stated):
    """How far something can be turned, and in which steps."""

    least: SmallAngle
    most: SmallAngle
    step: Annotated[Quantity, angle(1e-4, 0.35, "0.01 to 20 deg")] | None = None

    @model_validator(mode="after")
    def _ordered(self) -> "Turn":
        if self.least.value > self.most.value:
            raise PydanticCustomError(
                "order",
                "the range runs backwards",
                {"accepted": "least at most as large as most"},
            )
        return self


class Presence(Stated):
    """The presence sense: rows of light spots close to the leaves."""

    decides_by: Literal["brightness", "distance"] | None = None
    rows: tuple[Row, ...] = Field(min_length=1, max_length=12)
    fan: Fan
    tilt: Turn
    spot_divergence: Positive | None = None
    spots_needed: int | None = Field(default=None, ge=1, le=20)
    lowest_height: Length | None = None
    response: Time | None = None
    learns_after: Time | None = None
    channels: int | None = Field(default=None, ge=1, le=64)
    contrast_least: Ratio | None = None
    angle_error: Annotated[Quantity, angle(0.0, 0.1, "0 to 5 deg")] | None = None


class Motion(Stated):
    """The motion sense: a radar's reference field as the manual draws it."""

    frequency: str | None = None
    direction_aware: bool | None = None
    field_depth: Length | None = None
    field_width: Length | None = None
    at_height: Length | None = None
    at_tilt: SmallAngle | None = None
    tilt: Turn | None = None
    yaw: Turn | None = None
    response: Time | None = None


class Barrier(Stated):
    """A light barrier: level beams across the opening, each for itself."""

    response: Time | None = None
    monitored: bool | None = None


class Output(Stated):
    """One output of the unit, as the manual describes it."""

    signals: Literal["opening", "presence", "escape opening"]
    kind: Literal["relay", "semiconductor", "frequency", "current"] | None = None
    normal_state: Literal["open", "closed", "live", "dead"] | None = None
    monitored: bool | None = None
    test_input: bool | None = None


class MountingRange(Stated):
    """Where the manual lets the unit be mounted."""

    least_height: Length | None = None
    most_height: Length | None = None
    lens_known: bool = False
    places: tuple[Literal["header face", "underside", "ceiling", "beside"], ...] = ()


class Sheet(Stated):
    """A sensor sheet.  Whatever the manual does not say is left out."""

    name: Name
    note: str = ""
    presence: Presence | None = None
    motion: Motion | None = None
    barrier: Barrier | None = None
    outputs: tuple[Output, ...] = ()
    mounting: MountingRange = MountingRange()
    service_pause: Time | None = None
    steadiness: tuple[str, ...] = ()

    @model_validator(mode="after")
    def _has_a_sense(self) -> "Sheet":
        if self.presence or self.motion or self.barrier:
            return self
        raise PydanticCustomError(
            "no_sense",
            "the sheet describes no sense at all",
            {"accepted": "a [presence], [motion] or [barrier] part"},
        )
