"""A unit mounted at one place, with its settings."""

from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator
from pydantic.json_schema import SkipJsonSchema
from pydantic_core import PydanticCustomError

from limen.model.fields import (
    Id,
    Length,
    Name,
    Offset,
    SmallAngle,
    Stated,
    angle,
    length,
)
from limen.model.sheet import Sheet
from limen.quantity import Quantity

Side = Literal["outside", "inside"]
HEIGHT = length(0.8, 8.0, "0.8 m to 8 m: the lens stands above the test body")


class Lens(Stated):
    """Where the lens is: along the opening, out from the leaf face, above the floor.

    ``along`` is positive to the right, seen from outside, on both sides.
    """

    along: Offset | None = None
    from_leaf: Annotated[Quantity, length(0.0, 3.0, "0 to 3 m from the leaf face")]
    height: Annotated[Quantity, HEIGHT]


class Settings(Stated):
    """What is set on the unit.  Tilt is positive away from the door."""

    tilt: SmallAngle | None = None
    roll: SmallAngle | None = None
    yaw: SmallAngle | None = None
    fan: Id | None = None
    rows_on: tuple[int, ...] | None = Field(default=None, min_length=1)
    channel: int | None = Field(default=None, ge=1, le=64)
    steadiness: str | None = None


class Read(Stated):
    """What the tape showed after mounting, on the floor.

    ``first_row`` is the first row's distance from the leaf face; ``row_ends``
    are the outermost spot centres of the first row, from the middle of the
    opening, positive to the right seen from outside.
    """

    first_row: Length | None = None
    left_end: Offset | None = None
    right_end: Offset | None = None


class Aim(Stated):
    """How closely the rows are brought to their target with the tape."""

    across: Annotated[Quantity, length(0.0, 0.2, "0 to 200 mm")] | None = None
    along: Annotated[Quantity, length(0.0, 0.5, "0 to 500 mm")] | None = None
    turn: Annotated[Quantity, angle(0.0, 0.2, "0 to 11 deg")] | None = None


class Mount(Stated):
    """How closely the unit is mounted before it is aimed."""

    place: Annotated[Quantity, length(0.0, 0.2, "0 to 200 mm")] | None = None
    height: Annotated[Quantity, length(0.0, 0.2, "0 to 200 mm")] | None = None
    plumb: Annotated[Quantity, angle(0.0, 0.2, "0 to 11 deg")] | None = None
    tilt_scale: Annotated[Quantity, angle(0.0, 0.2, "0 to 11 deg")] | None = None


class Wire(Stated):
    """One output of the unit and the operator's input it goes to."""

    output: Literal["opening", "presence", "escape opening", "test"]
    to: Name
    test_enabled: bool | None = None


class BarrierBeam(Stated):
    """One level beam across the opening."""

    height: Annotated[Quantity, length(0.02, 3.0, "20 mm to 3 m")]
    from_leaf: Annotated[Quantity, length(0.0, 1.0, "0 to 1 m from the leaf face")]


class Fitting(Stated):
    """One unit at the doorway.

    ``unit`` is the sheet named by ``sheet``; the reader hangs it on, a file
    never holds it.
    """

    id: Id
    sheet: Name
    side: Side
    place: Literal["header face", "underside", "ceiling", "beside", "posts"] = (
        "header face"
    )
    lens: Lens | None = None
    beams: tuple[BarrierBeam, ...] = ()
    settings: Settings = Settings()
    read: Read = Read()
    aim: Aim = Aim()
    mount: Mount = Mount()
    wires: tuple[Wire, ...] = ()
    unit: SkipJsonSchema[Sheet | None] = Field(default=None, exclude=True)

    @field_validator("unit", mode="before")
    @classmethod
    def _not_from_a_file(cls, value: object, info: ValidationInfo) -> object:
        if isinstance(value, Sheet) or value is None:
            return value
        raise PydanticCustomError(
            "extra_forbidden", "Extra inputs are not permitted", {}
        )
