"""The motion sense of a unit, as its manual describes it."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from limen.model.fields import (
    Id,
    Length,
    Ratio,
    Speed,
    Stated,
    Time,
    WideAngle,
    angle,
    in_order,
    length,
)
from limen.quantity import Quantity


class RadarTurn(Stated):
    """How far the radar can be turned, and in which steps."""

    least: WideAngle
    """Smallest setting."""
    most: WideAngle
    """Largest setting."""
    step: Annotated[Quantity, angle(1e-4, 0.8, "0.01 to 45 deg")] | None = None
    """One step of the scale."""

    @model_validator(mode="after")
    def _ordered(self) -> "RadarTurn":
        in_order(self.least, self.most, "45 deg")
        return self


class Patches(Stated):
    """An antenna of equal patches: few across make a wide field, many a narrow one."""

    columns: int = Field(ge=1, le=64)
    """Patches side by side, along the door."""
    rows: int = Field(ge=1, le=64)
    """Patches one above the other."""
    spacing: Annotated[Quantity, length(0.002, 0.05, "2 to 50 mm")] | None = None
    """From patch to patch; half a wavelength if left out."""


BeamWidth = Annotated[Quantity, angle(0.01, 3.1416, "0.6 to 180 deg")]


class Lobe(Stated):
    """A beam described by its two half-power widths."""

    across: BeamWidth
    """Full half-power width along the door."""
    ahead: BeamWidth
    """Full half-power width in the plane that leads away from the door."""


class Motion(Stated):
    """The motion sense: a radar's reference field as the manual draws it."""

    frequency: str | None = None
    """Radar frequency, as the manual writes it."""
    direction_aware: bool | None = None
    """Whether it tells coming from going."""
    patches: Patches | None = None
    """Its antenna, where the manual tells its patches."""
    lobe: Lobe | None = None
    """Its beam, where the manual gives half-power widths instead."""
    arrays: dict[Id, Patches] = Field(default_factory=dict[Id, Patches])
    """Antennas that can be changed for one another, by name."""
    field_depth: Length | None = None
    """Depth of the reference field, from below the lens."""
    field_width: Length | None = None
    """Width of the reference field."""
    at_height: Length | None = None
    """Mounting height of the reference field."""
    at_tilt: WideAngle | None = None
    """Tilt of the reference field's axis from straight down, away from the door."""
    field_for: Literal["adult", "child", "test body"] | None = None
    """For whom the field was drawn."""
    spread: Ratio | None = None
    """How far the field of one unit may differ from the reference, in reach."""
    least_speed: Speed | None = None
    """Slowest motion along the line of sight that it detects."""
    reach_law: Literal["field", "power"] | None = None
    """What the reach scale is proportional to: field strength or power."""
    tilt: RadarTurn | None = None
    """How far the radar can be tilted."""
    yaw: RadarTurn | None = None
    """How far the radar can be turned."""
    response: Time | None = None
    """From motion to output."""
