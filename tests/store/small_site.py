"""A small model with the shapes of a site file, for the tests of the reader."""

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any, Literal

from pydantic import (
    BaseModel,
    ConfigDict,
    Field,
    GetCoreSchemaHandler,
    ValidationError,
    model_validator,
)
from pydantic_core import (
    CoreSchema,
    InitErrorDetails,
    PydanticCustomError,
    core_schema,
)

from limen.quantity import Dimension, Quantity, parse


@dataclass(frozen=True)
class Measure:
    """A quantity of one dimension within a span."""

    dimension: Dimension
    least: float
    most: float
    span: str

    def __get_pydantic_core_schema__(
        self, source: object, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def read(self, value: Any) -> Quantity:
        found = parse(value, self.dimension)
        if self.least <= found.value <= self.most:
            return found
        raise PydanticCustomError("span", "outside the span", {"accepted": self.span})


Width = Annotated[Quantity, Measure(Dimension.LENGTH, 0.5, 12.0, "0.5 to 12 m")]
Thickness = Annotated[Quantity, Measure(Dimension.LENGTH, 0.01, 0.3, "10 to 300 mm")]
Angle = Annotated[Quantity, Measure(Dimension.ANGLE, 0.001, 1.4, "up to 80°")]
Id = Annotated[str, Field(pattern=r"^[a-z0-9][a-z0-9-]{0,39}$")]


class Stated(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)


class ByAngle(Stated):
    form: Literal["angles"]
    half: Angle


class ByWidth(Stated):
    form: Literal["width"]
    width: Width


class Fitting(Stated):
    id: Id
    side: Literal["outside", "inside"]
    sheet: str = Field(examples=["generic-curtain"])
    channel: int | None = Field(default=None, ge=1, le=8)
    tested: bool | None = None
    rows: tuple[Angle, ...] = ()
    fan: Annotated[ByAngle | ByWidth, Field(discriminator="form")] | None = None


class Leaves(Stated):
    kind: Literal["single", "bi-parting"]
    thickness: Thickness


class Doorway(Stated):
    id: Id
    clear_width: Width
    commissioned: date | None = None
    leaves: Leaves
    choices: dict[str, Width] = {}
    fitting: tuple[Fitting, ...] = ()


class Site(Stated):
    name: str
    doorway: tuple[Doorway, ...] = Field(min_length=1)

    @model_validator(mode="after")
    def _ids_differ(self) -> "Site":
        seen: set[str] = set()
        errors: list[InitErrorDetails] = []
        for place, door in enumerate(self.doorway):
            if door.id in seen:
                twin = PydanticCustomError(
                    "twin", "another doorway has this id", {"accepted": "ids differ"}
                )
                errors.append(
                    InitErrorDetails(
                        type=twin, loc=("doorway", place, "id"), input=door.id
                    )
                )
            seen.add(door.id)
        if errors:
            raise ValidationError.from_exception_data("Site", errors)
        return self


SOUND = """\
# Alder Quay, as found
name = "Alder Quay"

[[doorway]]
id = "main"           # the wide one
clear_width = "1800 mm"
commissioned = 2024-05-31

[doorway.leaves]
kind = "bi-parting"
thickness = "40 mm"

[[doorway.fitting]]
id = "out"
side = "outside"
sheet = "generic-curtain"
channel = 2
rows = ["2.5°", "5°"]
fan = { form = "angles", half = "30°" }

[[doorway]]
id = "staff"
clear_width = "3 ft 4 1/2 in"
leaves = { kind = "single", thickness = "45 mm" }
"""
