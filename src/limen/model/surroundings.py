"""What the weather does to the door, and what warns people of it."""

from typing import Annotated, Literal

from limen.model.fields import Length, Name, Stated, Temperature, angle
from limen.model.people import Side
from limen.quantity import Quantity

Bearing = Annotated[Quantity, angle(0.0, 6.2832, "0 to 360 deg")]
Weather = Literal["open", "sheltered", "indoors"]


class Exposure(Stated):
    """What the door and its units are exposed to."""

    outside: Weather | None = None
    """Weather on the outside: open, sheltered (under a roof) or indoors."""
    inside: Weather | None = None
    """Weather on the inside."""
    coldest: Temperature | None = None
    """Lowest temperature at the units."""
    hottest: Temperature | None = None
    """Highest temperature at the units."""
    windy: bool | None = None
    """Whether wind moves leaves, header or what stands near."""
    faces: Bearing | None = None
    """Where the outside looks, on the compass: 0 is north, 90 deg east."""


class Marking(Stated):
    """What makes the door seen and its way of working known."""

    glass: Literal["marked", "plain", "none"] | None = None
    """Whether large glass is marked so that people see it; none: no glass."""
    lowest: Length | None = None
    """Lower edge of the lowest marks on the glass."""
    highest: Length | None = None
    """Upper edge of the highest marks on the glass."""
    signs: tuple[Name, ...] | None = None
    """The signs at the door, in their own words; () if it has none."""
    signed: tuple[Side, ...] | None = None
    """The sides from which one reads that the door works by itself."""
