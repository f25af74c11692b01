"""What divides the air of a building from the weather, and what heat costs there."""

import re
from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import AfterValidator, Field
from pydantic.json_schema import SkipJsonSchema
from pydantic_core import PydanticCustomError

from limen.model.fields import InUnits, Ratio, Stated, Temperature
from limen.model.weather import Weather, Year
from limen.quantity import Dimension, Grade, Quantity

KWH = 3_600_000.0  # J
_NUMBER = r"\d{1,6}(?:\.\d{1,6})?"
_RATE = re.compile(
    rf"({_NUMBER}) ?(kg|[A-Z]{{3}})/kWh"
    rf"(?: ?(?:±|\+/-) ?({_NUMBER})(?: ?(kg|[A-Z]{{3}})/kWh)?)?(?:, ?([a-z]+))?"
)
_WEATHER = re.compile(r"(?:weather/)?[A-Za-z0-9][A-Za-z0-9_-]*(?:\.[A-Za-z0-9_-]+)+")
ENDINGS = (".epw", ".csv", ".tm2")


@dataclass(frozen=True, slots=True)
class Rate:
    """So much for each joule.

    Attributes:
        each: kilograms or money for 1 J, with its bound and grade.
        unit: ``kg``, or three letters of a currency.
    """

    each: Quantity
    unit: str


def rate_of(text: str) -> Rate:
    """A price or an emission as files have it: ``0.12 EUR/kWh ± 0.02 EUR/kWh``.

    Raises:
        ValueError: it is not written so.
    """
    found = _RATE.fullmatch(" ".join(text.split()))
    if found is None or found[4] not in (None, found[2]):
        raise ValueError(text)
    grade = Grade(found[5]) if found[5] else Grade.MEASURED
    value, u = float(found[1]), float(found[3] or 0.0)
    return Rate(Quantity(value / KWH, u / KWH, grade), found[2])


def _price(text: str) -> str:
    return _rate(text, "money for a kilowatt-hour", "0.12 EUR/kWh", money=True)


def _intensity(text: str) -> str:
    return _rate(text, "kilograms for a kilowatt-hour", "0.2 kg/kWh", money=False)


def _rate(text: str, accepted: str, example: str, *, money: bool) -> str:
    why = "it is not read as an amount for each kilowatt-hour"
    try:
        if (rate_of(text).unit != "kg") == money:
            return text
    except ValueError:
        pass
    raise PydanticCustomError(
        "quantity",
        "{why}",
        {"found": text[:80], "why": why, "accepted": accepted, "example": example},
    )


def _weather_name(text: str) -> str:
    if _WEATHER.fullmatch(text) and text.lower().endswith(ENDINGS):
        return text
    raise PydanticCustomError(
        "quantity",
        "{why}",
        {
            "found": text[:80],
            "why": "it is no name of a weather file beside this one",
            "accepted": "a file that ends in .epw, .csv or .tm2, here or in weather/",
            "example": "weather/our-town.epw",
        },
    )


Price = Annotated[str, AfterValidator(_price)]
Intensity = Annotated[str, AfterValidator(_intensity)]
WeatherName = Annotated[str, AfterValidator(_weather_name)]
Efficiency = Annotated[
    Quantity,
    InUnits(Dimension.RATIO, 0.05, 10.0, "5 to 1000 %, more than 100 % of a heat pump"),
]
Yearly = Annotated[
    Quantity, InUnits(Dimension.ENERGY, 0.0, 3.6e13, "0 to 10000 MWh a year")
]


class Air(Stated):
    """What divides the air of the building from the weather, and what heat costs.

    ``hung`` gives the year named by ``weather`` when it is first asked for; the reader
    hangs it on, a file never holds it.
    """

    weather: WeatherName | None = Field(default=None, examples=["weather/our-town.epw"])
    """File with the weather of a year, here or in weather/: EPW, TMY3 or TMY2."""
    beyond: Literal["nothing", "vestibule", "air screen"] | None = None
    """What lessens the exchange of air besides this door."""
    lessened: Ratio | None = None
    """By how much that lessens it."""
    heated_to: Temperature | None = None
    """Temperature to which the building is heated."""
    cooled_to: Temperature | None = None
    """Temperature to which it is cooled."""
    heats_below: Temperature | None = None
    """Temperature outdoors below which it is heated."""
    humidity: Ratio | None = None
    """Relative humidity inside while it is cooled."""
    heated_by: Efficiency | None = Field(default=None, examples=["90 %"])
    """Heat that one unit of what is paid for gives: boiler 90 %, heat pump 300 %."""
    cooled_by: Efficiency | None = Field(default=None, examples=["300 %"])
    """Cold that one unit of what is paid for gives."""
    heat_price: Price | None = Field(default=None, examples=["0.12 EUR/kWh"])
    """What is paid for heating: money for a kilowatt-hour."""
    cold_price: Price | None = Field(default=None, examples=["0.30 EUR/kWh"])
    """What is paid for cooling: money for a kilowatt-hour."""
    heat_emits: Intensity | None = Field(default=None, examples=["0.2 kg/kWh"])
    """What heating emits: kilograms of carbon dioxide for a kilowatt-hour paid for."""
    cold_emits: Intensity | None = Field(default=None, examples=["0.4 kg/kWh"])
    """What cooling emits: kilograms of carbon dioxide for a kilowatt-hour paid for."""
    most_heat: Yearly | None = Field(default=None, examples=["2000 kWh"])
    """The owner's limit: heat and cold that may leave through openings in a year."""
    hung: SkipJsonSchema[Weather | None] = Field(default=None, exclude=True)

    @property
    def year(self) -> Year | None:
        """The weather of a year; None if none is named, or it cannot be used."""
        return None if self.hung is None else self.hung()
