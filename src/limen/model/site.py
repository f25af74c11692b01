"""A building with its doorways."""

from collections.abc import Collection, Sequence
from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from limen.model.doorway import Doorway
from limen.model.fields import Name, Stated, angle
from limen.model.keeping import Charge
from limen.model.telling import FaultsTo
from limen.quantity import Quantity

Path = tuple[str | int, ...]
Latitude = Annotated[Quantity, angle(-1.5708, 1.5708, "-90 to 90 deg")]
Longitude = Annotated[Quantity, angle(-3.1416, 3.1416, "-180 to 180 deg")]


class Site(Stated):
    """One site file.

    The reader hangs on every fitting the sensor sheet that it names.
    """

    name: Name
    """Name of the building, as it stands on reports."""
    place: str = ""
    """Where it is, in words."""
    latitude: Latitude | None = None
    """Its latitude, north positive."""
    longitude: Longitude | None = None
    """Its longitude, east positive."""
    rulebook: Literal["en", "us", "de", "uk", "fr", "au"] | None = None
    """The rulebook asked for when none is given."""
    note: str = ""
    """Anything worth knowing."""
    kept: Charge = Charge()
    """Who sees to its doors."""
    faults: FaultsTo | None = None
    """Where faults of its doors are told; printed on the owner's page."""
    doorway: tuple[Doorway, ...] = Field(min_length=1, max_length=500)
    """Its automatic sliding doors."""

    @model_validator(mode="after")
    def _ids_differ(self) -> "Site":
        _refuse_twins(("doorway",), [door.id for door in self.doorway])
        for number, door in enumerate(self.doorway):
            ids = [fitting.id for fitting in door.fitting]
            _refuse_twins(("doorway", number, "fitting"), ids)
        return self

    @model_validator(mode="after")
    def _facing_doorways_exist(self) -> "Site":
        known = self.ids()
        for number, door in enumerate(self.doorway):
            met = (("facing", door.facing), ("beside", door.beside))
            told = ((table, *one) for table, some in met for one in enumerate(some))
            for table, place, other in told:
                if other.doorway not in known - {door.id}:
                    at = ("doorway", number, table, place, "doorway")
                    raise _stranger(other.doorway, at, known - {door.id})
        return self

    def ids(self) -> set[str]:
        """The ids of all doorways."""
        return {door.id for door in self.doorway}

    def charge_of(self, doorway: Doorway) -> Charge:
        """Who sees to a doorway: as it says itself, else as the site says."""
        own = doorway.kept
        return Charge(
            by=own.by or self.kept.by,
            route=own.route or self.kept.route,
            daily=self.kept.daily,
        )

    def door(self, wanted: str) -> Doorway:
        """The doorway with this id.

        Raises:
            KeyError: the site has no such doorway.
        """
        for door in self.doorway:
            if door.id == wanted:
                return door
        raise KeyError(wanted)


def _stranger(found: str, at: Path, known: Collection[str]) -> PydanticCustomError:
    listed = ", ".join(sorted(known)) or "there is no other doorway in this file"
    return PydanticCustomError(
        "facing",
        "it is not the id of another doorway of this file",
        {"found": found, "at": at, "accepted": listed},
    )


def _refuse_twins(place: Path, ids: Sequence[str]) -> None:
    """Refuse the first id that stands a second time."""
    for number, item in enumerate(ids):
        if item in ids[:number]:
            raise PydanticCustomError(
                "twins",
                "another one has the same id",
                {
                    "found": item,
                    "at": (*place, number, "id"),
                    "accepted": "ids that differ",
                    "example": f'id = "{item}-2"',
                },
            )
