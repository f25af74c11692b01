"""What tape, finder and box showed of units that hang at a door.

Spots are invisible.  A reading says how one was found, where, and how closely; where
a reading does not say how closely, that is taken by its kind, and listed.
"""

from datetime import date
from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from limen.model.doorway import Hand
from limen.model.fields import Id, Offset, Stated, length
from limen.model.fitting import HEIGHT, RowNumber
from limen.quantity import Quantity

MOST_READINGS = 40
Out = Annotated[Quantity, length(0.0, 5.0, "0 to 5 m from the leaf face")]
BoxHeight = Annotated[Quantity, length(0.05, 1.5, "50 mm to 1.5 m")]
FromPost = Annotated[Quantity, length(-5.0, 15.0, "-5 m to 15 m from the post")]


class Found(Stated):
    """Where along the opening something was found, in one of three ways."""

    along: Offset | None = None
    """From the middle of the opening, positive to the right seen from outside."""
    from_left: FromPost | None = None
    """From the left post instead, seen from outside, positive towards the right."""
    from_right: FromPost | None = None
    """From the right post instead, seen from outside, positive towards the left."""
    row: RowNumber | None = None
    """Which row, from 1 as the sheet lists them; left out where it is not known."""
    struck: bool = False
    """Whether it is left out: read wrong, and kept as it was read."""

    @model_validator(mode="after")
    def _one_way(self) -> "Found":
        ways = (self.along, self.from_left, self.from_right)
        if sum(way is not None for way in ways) == 1:
            return self
        raise PydanticCustomError(
            "one_way",
            "the place along the opening is to be said once",
            {
                "at": ("along",),
                "accepted": "one of along, from_left and from_right",
                "example": 'along = "-980 mm"',
            },
        )

    def place(self, clear_width: Quantity) -> Quantity:
        """The place from the middle of the opening, positive to the right (m).

        Args:
            clear_width: of the doorway; its doubt enters where a post was taped from.
        """
        half, doubt = clear_width.value / 2, clear_width.u / 2
        if self.from_left is not None:
            taped = self.from_left
            return Quantity(taped.value - half, taped.u and taped.u + doubt)
        if self.from_right is not None:
            taped = self.from_right
            return Quantity(half - taped.value, taped.u and taped.u + doubt)
        assert self.along is not None  # noqa: S101  # by the check above
        return self.along


class SpotCentre(Found):
    """The middle of one spot on the floor, found with the finder."""

    kind: Literal["spot centre"]
    """The middle of a spot."""
    out: Out
    """How far from the leaf face, away from the door."""
    spot: Annotated[int, Field(ge=1, le=200)] | None = None
    """Which spot of the row, from the left seen from outside; or not known."""


class RowLine(Found):
    """How far from the leaf face a row runs, at one place along it."""

    kind: Literal["row line"]
    """Where a row runs."""
    out: Out
    """How far from the leaf face, away from the door."""


class RowEnd(Found):
    """Where a row ends: the middle of its last spot, along the opening alone."""

    kind: Literal["row end"]
    """Where a row ends."""
    end: Hand
    """Which end, seen from outside."""


class BoxEdge(Found):
    """Where a box stood when the unit noticed it.

    The box is pushed square to the door, slowly, either *in*, from far out towards
    the leaf, or *out*, from the leaf away from it.  Read is the edge that leads.
    """

    kind: Literal["box edge in", "box edge out"]
    """Which way the box was pushed."""
    out: Out
    """How far the leading edge stood from the leaf face."""
    height: BoxHeight
    """How high the box is."""


Reading = Annotated[
    SpotCentre | RowLine | RowEnd | BoxEdge, Field(discriminator="kind")
]


class TapedLens(Stated):
    """Where the lens was taped this time; what is left out stands as in the site."""

    along: Offset | None = None
    """From the middle of the opening, positive to the right seen from outside."""
    from_leaf: Annotated[Quantity, length(0.0, 3.0, "0 to 3 m from the leaf face")] | (
        None
    ) = None
    """From the leaf face on its own side."""
    height: Annotated[Quantity, HEIGHT] | None = None
    """Above the floor."""


class UnitRead(Stated):
    """The readings of one unit."""

    fitting: Id
    """Id of the fitting in the site file."""
    lens: TapedLens = TapedLens()
    """Where its lens was taped."""
    fan: Literal["as stated", "as read"] = "as stated"
    """Whether the width of its rows is taken from the sheet or from the readings."""
    reading: tuple[Reading, ...] = Field(default=(), max_length=MOST_READINGS)
    """What was read."""


class Readings(Stated):
    """One readings file: what was read at one doorway."""

    site: Annotated[str, Field(min_length=1, max_length=400)]
    """The site file, from where this file lies."""
    doorway: Id
    """Id of the doorway."""
    taken: date | None = None
    """The day on which it was read."""
    note: str = ""
    """Anything worth knowing."""
    unit: tuple[UnitRead, ...] = Field(min_length=1, max_length=20)
    """The units that were read."""

    @model_validator(mode="after")
    def _units_differ(self) -> "Readings":
        seen: set[str] = set()
        for number, one in enumerate(self.unit):
            if one.fitting in seen:
                raise PydanticCustomError(
                    "twins",
                    "this unit stands here twice",
                    {
                        "found": one.fitting,
                        "at": ("unit", number, "fitting"),
                        "accepted": "each unit once, with all its readings",
                        "example": 'fitting = "inside"',
                    },
                )
            seen.add(one.fitting)
        return self
