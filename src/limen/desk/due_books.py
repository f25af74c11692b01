"""The editions that judge many doorways, each read once."""

from typing import TYPE_CHECKING

from limen.desk.refusal import Refusal

if TYPE_CHECKING:
    from limen.model.doorway import Doorway
    from limen.model.site import Site
    from limen.rules import Rulebook
    from limen.store.bookshelf import Bookshelf


class Books:
    """What judges doorways, by rulebook and edition."""

    def __init__(self, shelf: "Bookshelf") -> None:
        """Begin with none read.

        Args:
            shelf: where they stand.
        """
        self._shelf = shelf
        self._read: dict[tuple[str, str], Rulebook] = {}

    def every(self, site: "Site") -> list["Rulebook"]:
        """What judges each doorway of a site.

        Raises:
            Refusal: of every doorway of which nothing settles it.
        """
        found: list[Rulebook] = []
        told: list[str] = []
        for door in site.doorway:
            try:
                found.append(self.of(site, door))
            except Refusal as refusal:
                told += refusal.lines
        if told:
            raise Refusal(told)
        return found

    def of(self, site: "Site", door: "Doorway") -> "Rulebook":
        """What judges one doorway.

        Raises:
            Refusal: nothing settles it.
        """
        from limen.desk.shelves import DEFAULT, bound_edition, judging
        from limen.rules import AskEdition, choose_edition

        name, edition = site.rulebook or DEFAULT, door.edition
        if edition is None:
            chosen = choose_edition(self._shelf.editions(name), door.commissioned)
            if isinstance(chosen, AskEdition):
                return judging([door], self._shelf, name, None)[0]
            edition = chosen.edition
        key = name, edition
        if key not in self._read:
            self._read[key] = bound_edition(self._shelf, name, edition)
        return self._read[key]
