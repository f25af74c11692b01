"""A building with its doorways."""

from collections import Counter
from collections.abc import Iterable
from typing import Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from limen.model.doorway import Doorway
from limen.model.fields import Name, Stated


class Site(Stated):
    """One site file.

    The reader hangs on every fitting the sensor sheet that it names.
    """

    name: Name
    place: str = ""
    rulebook: Literal["en", "us"] | None = None
    note: str = ""
    doorway: tuple[Doorway, ...] = Field(min_length=1, max_length=500)

    @model_validator(mode="after")
    def _ids_differ(self) -> "Site":
        _refuse_twins("doorway", (door.id for door in self.doorway))
        for door in self.doorway:
            where = f'doorway "{door.id}" · fitting'
            _refuse_twins(where, (fitting.id for fitting in door.fitting))
        return self

    @model_validator(mode="after")
    def _facing_doorways_exist(self) -> "Site":
        known = {door.id for door in self.doorway}
        for door in self.doorway:
            for facing in door.facing:
                if facing.doorway not in known - {door.id}:
                    raise PydanticCustomError(
                        "facing",
                        "a doorway faces one that is not in this site",
                        {
                            "found": facing.doorway,
                            "accepted": "the id of another doorway of this file",
                        },
                    )
        return self

    def door(self, wanted: str) -> Doorway:
        """The doorway with this id.

        Raises:
            KeyError: the site has no such doorway.
        """
        for door in self.doorway:
            if door.id == wanted:
                return door
        raise KeyError(wanted)


def _refuse_twins(what: str, ids: Iterable[str]) -> None:
    counts = Counter(item.casefold() for item in ids)
    twins = sorted(item for item, count in counts.items() if count > 1)
    if twins:
        raise PydanticCustomError(
            "twins",
            "two of them have the same id",
            {"found": f"{what}: {', '.join(twins)}", "accepted": "ids that differ"},
        )
