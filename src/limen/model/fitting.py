"""A unit mounted at one place, with its settings."""

from typing import Annotated, Literal

from pydantic import Field, field_validator, model_validator
from pydantic.json_schema import SkipJsonSchema
from pydantic_core import PydanticCustomError

from limen.model.fields import (
    Id,
    Length,
    Offset,
    Ratio,
    SmallAngle,
    Speed,
    Stated,
    Time,
    WideAngle,
    angle,
    length,
)
from limen.model.people import Side
from limen.model.sheet import Sheet
from limen.model.wiring import Cable, Wire
from limen.quantity import Quantity

RowNumber = Annotated[int, Field(ge=1, le=12)]
HEIGHT = length(0.8, 8.0, "0.8 m to 8 m: the lens stands above the test body")


class Lens(Stated):
    """Where the lens is: along the opening, out from the leaf face, above the floor.

    ``along`` is positive to the right, seen from outside, on both sides.
    """

    along: Offset | None = None
    """From the middle of the opening, positive to the right seen from outside."""
    from_leaf: Annotated[Quantity, length(0.0, 3.0, "0 to 3 m from the leaf face")]
    """From the leaf face on its own side."""
    height: Annotated[Quantity, HEIGHT]
    """Above the floor."""


class Settings(Stated):
    """What is set on the unit.  Tilt is positive away from the door."""

    tilt: SmallAngle | None = None
    """Tilt of the rows, positive away from the door."""
    roll: SmallAngle | None = None
    """Turn about the axis that leads away from the door."""
    yaw: SmallAngle | None = None
    """Turn about the upright axis."""
    fan: Id | None = None
    """Which of the sheet's fan choices is set."""
    rows_on: tuple[RowNumber, ...] | None = Field(default=None, min_length=1)
    """Rows that are switched on, from 1 as the sheet lists them; all if left out."""
    channel: int | None = Field(default=None, ge=1, le=64)
    """The channel that is set."""
    channel_fixed: bool = False
    """Whether the channel must stay as it is set."""
    steadiness: str | None = None
    """The steadiness step that is set, in the sheet's words."""
    radar_tilt: WideAngle | None = None
    """Tilt of the radar's axis from straight down, away from the door."""
    radar_yaw: WideAngle | None = None
    """Turn of the radar about the upright axis."""
    reach: Ratio | None = None
    """Where the reach of the radar is set on its scale."""
    array: Id | None = None
    """Which of the sheet's arrays is put in."""
    hold: Time | None = None
    """For how long a still body is set to stay found."""


class Read(Stated):
    """What the tape showed after mounting, on the floor.

    ``first_row`` is the first row's distance from the leaf face; ``row_ends``
    are the outermost spot centres of the first row, from the middle of the
    opening, positive to the right seen from outside.
    """

    first_row: Length | None = None
    """The first row from the leaf face."""
    left_end: Offset | None = None
    """The first row's left end, negative left of the middle, seen from outside."""
    right_end: Offset | None = None
    """The first row's right end."""
    lit_ahead: tuple[Length, ...] = Field(default=(), max_length=9)
    """Chalk walks straight at the door: where the lamp lit, from the leaf face."""
    lit_speed: Speed | None = None
    """How quickly that was walked; 1 m/s if left out."""
    lit_reach: Ratio | None = None
    """Where the reach stood then, if it was set otherwise since."""
    lit_tilt: WideAngle | None = None
    """How the radar was tilted then, if it was tilted otherwise since."""

    @model_validator(mode="after")
    def _left_of_right(self) -> "Read":
        left, right = self.left_end, self.right_end
        if left is None or right is None or left.value < right.value:
            return self
        raise PydanticCustomError(
            "order",
            "the row's right end is not to the right of its left end",
            {
                "at": ("right_end",),
                "accepted": "more than left_end; both from the middle of the opening",
                "example": 'right_end = "900 mm"',
            },
        )


class Aim(Stated):
    """How closely the rows are brought to their target with the tape."""

    across: Annotated[Quantity, length(0.0, 0.2, "0 to 200 mm")] | None = None
    """How closely the first row is brought to its line."""
    along: Annotated[Quantity, length(0.0, 0.5, "0 to 500 mm")] | None = None
    """How closely the row ends are brought to their places."""
    turn: Annotated[Quantity, angle(0.0, 0.2, "0 to 11 deg")] | None = None
    """How closely the row is brought parallel to the leaf."""


class Mount(Stated):
    """How closely the unit is mounted before it is aimed."""

    place: Annotated[Quantity, length(0.0, 0.2, "0 to 200 mm")] | None = None
    """How closely the lens is placed."""
    height: Annotated[Quantity, length(0.0, 0.2, "0 to 200 mm")] | None = None
    """How closely its height is met."""
    plumb: Annotated[Quantity, angle(0.0, 0.2, "0 to 11 deg")] | None = None
    """How closely the unit hangs level."""
    tilt_scale: Annotated[Quantity, angle(0.0, 0.2, "0 to 11 deg")] | None = None
    """How closely the tilt scale can be set."""


class BarrierBeam(Stated):
    """One level beam across the opening."""

    height: Annotated[Quantity, length(0.02, 3.0, "20 mm to 3 m")]
    """Above the floor."""
    from_leaf: Annotated[Quantity, length(0.0, 1.0, "0 to 1 m from the leaf face")]
    """From the leaf face on the fitting's side."""


class Fitting(Stated):
    """One unit at the doorway.

    ``unit`` is the sheet named by ``sheet``; the reader hangs it on, a file
    never holds it.
    """

    id: Id
    """Short name: small letters, digits and hyphens."""
    sheet: Id
    """Name of the sensor sheet, without .toml."""
    side: Side
    """The side of the doorway."""
    place: Literal["header face", "underside", "ceiling", "beside", "posts"] = (
        "header face"
    )
    """Where it is mounted."""
    lens: Lens | None = None
    """Where its lens is."""
    beams: tuple[BarrierBeam, ...] = ()
    """The beams of a light barrier."""
    settings: Settings = Settings()
    """What is set on it."""
    read: Read = Read()
    """What the tape showed after mounting."""
    aim: Aim = Aim()
    """How closely its rows are aimed."""
    mount: Mount = Mount()
    """How closely it is mounted."""
    wires: tuple[Wire, ...] = ()
    """Its outputs and where they go."""
    cable: Cable | None = None
    """The lead that feeds it."""
    covered: bool | None = None
    """Whether a rain cover of the unit's own is fitted."""
    unit: SkipJsonSchema[Sheet | None] = Field(default=None, exclude=True)

    @field_validator("unit", mode="before")
    @classmethod
    def _not_from_a_file(cls, value: object) -> object:
        if isinstance(value, Sheet) or value is None:
            return value
        raise PydanticCustomError(
            "extra_forbidden", "Extra inputs are not permitted", {}
        )
