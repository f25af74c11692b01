"""Field types that carry their unit as text in a file and a Quantity inside."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import (
    BaseModel,
    ConfigDict,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    StringConstraints,
)
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from limen.quantity import Dimension, Grade, Quantity, QuantityError, parse, write

EXAMPLES = {
    Dimension.LENGTH: "1800 mm",
    Dimension.ANGLE: "1.5 deg",
    Dimension.TIME: "0.3 s",
    Dimension.SPEED: "0.5 m/s",
    Dimension.MASS: "60 kg",
    Dimension.RATIO: "40 %",
    Dimension.FREQUENCY: "24.125 GHz",
    Dimension.VOLTAGE: "24 V",
    Dimension.CURRENT: "0.2 A",
    Dimension.ACCELERATION: "0.8 m/s²",
    Dimension.FORCE: "140 N",
    Dimension.ENERGY: "6.9 J",
    Dimension.POWER: "4 W",
    Dimension.RESISTANCE: "3.9 ohm",
    Dimension.AREA: "0.5 mm²",
    Dimension.TEMPERATURE: "-10 °C",
    Dimension.CALENDAR: "6 months",
}
ACCEPTED = "x-accepted"
"""Key of a JSON Schema under which a field says what it accepts, in words."""


class Stated(BaseModel):
    """A thing described in a file: frozen, strict, nothing unknown let in.

    An error that belongs to one key of a table carries the rest of the way to it
    as ``at`` in its context.
    """

    model_config = ConfigDict(
        frozen=True, extra="forbid", strict=True, defer_build=True
    )


@dataclass(frozen=True, slots=True)
class InUnits:
    """Marks a field as a quantity of one dimension, within a span.

    Args:
        dimension: what is measured.
        least: smallest value accepted, SI.
        most: largest value accepted, SI.
        span: the span in words, as a person would write it.
    """

    dimension: Dimension
    least: float | None = None
    most: float | None = None
    span: str = ""

    def __get_pydantic_core_schema__(
        self, source: object, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(
            self.read,
            serialization=core_schema.plain_serializer_function_ser_schema(
                lambda value: write(value, self.dimension)
            ),
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        kind = self.dimension.value.capitalize()
        return {
            "type": "string",
            "examples": [EXAMPLES.get(self.dimension, "")],
            ACCEPTED: f"{kind} with its unit: {self.span}.",
        }

    def read(self, value: object, info: core_schema.ValidationInfo[Any]) -> Quantity:
        """Text or a ready Quantity in, a Quantity within the span out.

        Raises:
            PydanticCustomError: not a text with a unit, or outside the span.
        """
        context: Mapping[str, Grade] = info.context or {}
        quantity = self._quantity(value, context.get("grade"))
        low_enough = self.most is None or quantity.value <= self.most
        if low_enough and (self.least is None or quantity.value >= self.least):
            return quantity
        raise self._fault(str(value), "it is outside what a door can have", self.span)

    def _quantity(self, value: object, grade: Grade | None) -> Quantity:
        if isinstance(value, Quantity):
            return value
        if not isinstance(value, str):
            why = "a number needs its unit, written as text in quotes"
            raise self._fault(str(value), why, f"a {self.dimension.value} with a unit")
        try:
            return parse(value, self.dimension, grade or Grade.MEASURED)
        except QuantityError as error:
            raise self._fault(error.found, error.why, error.accepted) from None

    def _fault(self, found: str, why: str, accepted: str) -> PydanticCustomError:
        return PydanticCustomError(
            "quantity",
            "{why}",
            {
                "found": found[:80],
                "why": why,
                "accepted": accepted,
                "example": EXAMPLES.get(self.dimension, ""),
            },
        )


def length(least: float, most: float, span: str) -> InUnits:
    """A length within a span, metres."""
    return InUnits(Dimension.LENGTH, least, most, span)


def angle(least: float, most: float, span: str) -> InUnits:
    """An angle within a span, radians."""
    return InUnits(Dimension.ANGLE, least, most, span)


Length = Annotated[Quantity, length(0.0, 100.0, "0 to 100 m")]
Offset = Annotated[Quantity, length(-20.0, 20.0, "-20 m to 20 m")]
SmallAngle = Annotated[Quantity, angle(-0.7854, 0.7854, "-45 to 45 deg")]
Positive = Annotated[Quantity, angle(1e-6, 1.4, "more than 0, up to 80 deg")]
Time = Annotated[Quantity, InUnits(Dimension.TIME, 0.0, 1e5, "0 s to a day")]
Speed = Annotated[Quantity, InUnits(Dimension.SPEED, 0.0, 20.0, "0 to 20 m/s")]
Mass = Annotated[Quantity, InUnits(Dimension.MASS, 0.0, 2000.0, "0 to 2000 kg")]
Acceleration = Annotated[
    Quantity, InUnits(Dimension.ACCELERATION, 0.01, 50.0, "0.01 to 50 m/s²")
]
Force = Annotated[Quantity, InUnits(Dimension.FORCE, 0.0, 10_000.0, "0 to 10 kN")]
Energy = Annotated[Quantity, InUnits(Dimension.ENERGY, 0.0, 1000.0, "0 to 1000 J")]
Voltage = Annotated[Quantity, InUnits(Dimension.VOLTAGE, 0.0, 500.0, "0 to 500 V")]
Current = Annotated[Quantity, InUnits(Dimension.CURRENT, 0.0, 20.0, "0 to 20 A")]
Power = Annotated[Quantity, InUnits(Dimension.POWER, 0.0, 2000.0, "0 to 2000 W")]
Resistance = Annotated[
    Quantity, InUnits(Dimension.RESISTANCE, 0.0, 1e4, "0 to 10 kohm")
]
Area = Annotated[Quantity, InUnits(Dimension.AREA, 0.0, 1e-4, "0 to 100 mm²")]
Temperature = Annotated[
    Quantity, InUnits(Dimension.TEMPERATURE, 200.0, 370.0, "-73 to 97 °C")
]
WideAngle = Annotated[Quantity, angle(-1.6, 1.6, "-90 to 90 deg")]
Ratio = Annotated[Quantity, InUnits(Dimension.RATIO, 0.0, 1.0, "0 to 100 %")]

Name = Annotated[
    str, StringConstraints(strip_whitespace=True, min_length=1, max_length=120)
]
Id = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9-]{0,39}$")]


def in_order(least: Quantity, most: Quantity, example: str) -> None:
    """Refuse a range that runs backwards.

    Raises:
        PydanticCustomError: ``least`` is larger than ``most``.
    """
    if least.value > most.value:
        raise PydanticCustomError(
            "order",
            "the range runs backwards",
            {
                "at": ("most",),
                "accepted": "least at most as large as most",
                "example": f'most = "{example}"',
            },
        )
