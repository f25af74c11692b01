"""The doorway that an address names."""

from dataclasses import dataclass

from limen.desk.spoken import At


@dataclass(frozen=True, slots=True)
class Place:
    """A doorway as addresses name it.

    Attributes:
        site, door: their ids.
    """

    site: str
    door: str

    @property
    def address(self) -> str:
        """Of the doorway's own page."""
        return f"/sites/{self.site}/doorways/{self.door}"

    def at(self, person: str = "", known: int | None = None) -> At:
        """The doorway as of which somebody says something."""
        return At(self.site, self.door, person, known)
