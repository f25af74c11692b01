"""How many people walk through a door, and how many only walk past it."""

from typing import Annotated

from pydantic import Field, GetJsonSchemaHandler, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError

from limen.model.fields import InUnits, Length, Name, Ratio, Speed, Stated, length
from limen.model.people import Side
from limen.quantity import Dimension, Quantity

HOURS = 24
DAY = 86_400.0  # s
MOST = 200_000  # people a day: no single door and no pavement before one has more


EXAMPLE = "600 /d"


class _Daily(InUnits):
    """How many a day, with an example of its own."""

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        told = super().__get_pydantic_json_schema__(schema, handler)
        return {**told, "examples": [EXAMPLE]}

    def _fault(self, found: str, why: str, accepted: str) -> PydanticCustomError:
        said = {"found": found[:80], "why": why, "accepted": accepted}
        return PydanticCustomError("quantity", "{why}", {**said, "example": EXAMPLE})


Daily = Annotated[
    Quantity, _Daily(Dimension.FREQUENCY, 0.0, MOST / DAY, "0 to 200000 /d")
]
Counts = Annotated[
    tuple[Annotated[int, Field(ge=0, le=MOST)], ...], Field(max_length=HOURS)
]


class Passing(Stated):
    """People who walk past the door along one line, parallel to it.

    Counts by hour are those of one day; ``people`` beside them says how many a day
    it is on average, and the counts are then only the shape of that day.
    """

    name: Name
    """Where they walk: the pavement, the mall."""
    side: Side
    """The side of the doorway on which they walk."""
    distance: Length
    """From the leaf face to the middle of where they walk."""
    breadth: Annotated[Quantity, length(0.05, 30.0, "50 mm to 30 m")] | None = None
    """How broad the strip is in which they walk; 1 m if left out."""
    people: Daily | None = Field(default=None, examples=[EXAMPLE])
    """How many pass on a day on which the door works, both ways together."""
    by_hour: Counts = ()
    """How many pass in each hour from midnight on: 24 counts of one day."""
    from_left: Ratio | None = None
    """Share that comes from the left, seen from outside; half if left out."""
    speed: Speed | None = None
    """How quickly they walk on average; that of adults if left out."""
    speed_spread: Speed | None = None
    """One standard deviation of it."""

    @model_validator(mode="after")
    def _whole_day(self) -> "Passing":
        _refuse_part_of_day("by_hour", self.by_hour)
        return self


class Traffic(Stated):
    """Who walks through the door and past it, and when the door works."""

    opens: int | None = Field(default=None, ge=0, le=23)
    """Hour of the day from which the door works by itself."""
    shuts: int | None = Field(default=None, ge=1, le=24)
    """Hour of the day until which it does."""
    days: int | None = Field(default=None, ge=1, le=7)
    """Days a week on which it does."""
    through: Daily | None = Field(default=None, examples=[EXAMPLE])
    """How many walk through on such a day, both ways together."""
    through_by_hour: Counts = ()
    """How many walk through in each hour from midnight on: 24 counts of one day."""
    passing: tuple[Passing, ...] = Field(default=(), max_length=12)
    """Where people only walk past."""
    most_needless: Daily | None = Field(default=None, examples=[EXAMPLE])
    """The owner's limit: needless openings a day."""

    @model_validator(mode="after")
    def _checked(self) -> "Traffic":
        _refuse_part_of_day("through_by_hour", self.through_by_hour)
        early, late = self.opens, self.shuts
        if early is not None and late is not None and late <= early:
            raise PydanticCustomError(
                "order",
                "the door shuts before it opens",
                {
                    "found": str(late),
                    "at": ("shuts",),
                    "accepted": f"{early + 1} to 24, after the hour at which it opens",
                    "example": "shuts = 20",
                },
            )
        names = [one.name for one in self.passing]
        for number, name in enumerate(names):
            if name in names[:number]:
                raise PydanticCustomError(
                    "twice",
                    "the same one is described twice",
                    {
                        "found": name,
                        "at": ("passing", number, "name"),
                        "accepted": "names that differ",
                    },
                )
        return self


def _refuse_part_of_day(key: str, counts: tuple[int, ...]) -> None:
    if len(counts) in (0, HOURS):
        return
    raise PydanticCustomError(
        "hours",
        "a day has 24 hours, and one count stands for each",
        {
            "found": f"{len(counts)} counts",
            "at": (key,),
            "accepted": "24 whole numbers, from midnight on; 0 where nobody walks",
            "example": f"{key} = {[0] * 7 + [20] * 12 + [0] * 5}",
        },
    )
