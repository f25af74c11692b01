"""The best settings of doorways that are kept: found once a text, and set."""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import TYPE_CHECKING

from limen.desk.exporting import Exported, Told, unheard
from limen.desk.library import (
    Clash,
    Desk,
    Opened,
    Stored,
    book_of,
    open_site,
    read_text,
    save_edits,
)
from limen.desk.library_cache import Kept
from limen.desk.library_keys import sheets_state
from limen.desk.library_sites import file_name
from limen.desk.refusal import Refusal
from limen.desk.tuning import search
from limen.desk.turned_text import written_as
from limen.findings import Message
from limen.quantity import Show
from limen.words import say

if TYPE_CHECKING:
    from limen.findings.tuned import Choice, Tuned
    from limen.model.doorway import Doorway
    from limen.model.site import Site
    from limen.rules import Rulebook

__all__ = [
    "Tunings",
    "choice_of",
    "contract_of",
    "edits_of",
    "known",
    "letter_of",
    "set_choice",
    "tuned",
    "tuning_file",
]

FIRST = ord("A")


def searched(
    door: "Doorway", book: "Rulebook", site: "Site", on: date, told: Told
) -> "Tuned":
    """The best settings of a doorway, searched for now."""
    return search(door, book, site=site, on=on, told=told)


Search = Callable[["Doorway", "Rulebook", "Site", date, Told], "Tuned"]


@dataclass(frozen=True, slots=True)
class Tunings:
    """What was found before, and who searches.

    Attributes:
        search: finds the best settings of a doorway.
        kept: what was found, by everything that a search rests on.
    """

    search: Search = searched
    kept: "Kept[Tuned]" = field(default_factory=lambda: Kept["Tuned"](64))


def known(
    desk: Desk, tunings: Tunings, opened: Opened, doorway_id: str
) -> "Tuned | None":
    """The best settings of a doorway, if they were found for its present text.

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
    """
    return tunings.kept.get(_key(desk, opened, doorway_id))


def tuned(
    desk: Desk,
    tunings: Tunings,
    opened: Opened,
    doorway_id: str,
    told: Told = unheard,
) -> "Tuned":
    """The best settings of a doorway; searched for once a text and day.

    Args:
        desk: the desk.
        tunings: those found before.
        opened: the site.
        doorway_id: one of its doorways.
        told: hears how far the search is; whatever it raises ends the search.

    Raises:
        Refusal: there is no such doorway, nothing settles its edition, or there is
            nothing to turn.
    """
    door = opened.doorway(doorway_id)
    book = book_of(desk, opened.site, door)

    def made() -> "Tuned":
        return tunings.search(door, book, opened.site, desk.day(), told)

    return tunings.kept.ask(_key(desk, opened, doorway_id), made)


def contract_of(opened: Opened, found: "Tuned", system: Show) -> dict[str, object]:
    """What was found, as `limen tune --json` prints it.

    Args:
        opened: the site.
        found: of one of its doorways.
        system: units inside the sentences.
    """
    from limen.exchange.tuning import tuning_contract

    return tuning_contract([found], site=opened.site.name, system=system)


def tuning_file(
    desk: Desk,
    tunings: Tunings,
    site_id: str,
    doorway_id: str,
    system: Show,
    told: Told = unheard,
) -> Exported:
    """What was found, as a file.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: as `tuned`.
    """
    opened = open_site(desk, site_id)
    found = tuned(desk, tunings, opened, doorway_id, told)
    text = json.dumps(contract_of(opened, found, system), indent=2, ensure_ascii=False)
    name = f"{file_name(opened.stored.name)}-{doorway_id}-tuning.json"
    return Exported(name, "application/json", text.encode())


# Choices ------------------------------------------------------------------------


def letter_of(index: int) -> str:
    """What a choice is called: A, B and so on, after Z two letters."""
    letters = ord("Z") - FIRST + 1
    rest, last = divmod(index, letters)
    return (letter_of(rest - 1) if rest else "") + chr(FIRST + last)


def choice_of(found: "Tuned", letter: str) -> "tuple[str, Choice]":
    """A choice by its letter; the best where none is named.

    Raises:
        Refusal: there is none of this letter.
    """
    for index, one in enumerate(found.front):
        if letter_of(index) == (letter or letter_of(0)):
            return letter_of(index), one
    raise Refusal([say(Message("desk_tune.refused.choice", {"letter": letter}))])


def edits_of(choice: "Choice") -> Mapping[str, str]:
    """The settings of a choice as edits of the site's text, as they were proved."""
    return {
        f"fitting[{one.fitting}].{one.setting}": written_as(one)
        for one in choice.settings
    }


def set_choice(
    desk: Desk,
    tunings: Tunings,
    site_id: str,
    doorway_id: str,
    letter: str,
    base_version: int,
) -> Stored | Clash:
    """Set what a choice sets: one change of the text, which can be undone.

    The choice is that of the version that was seen, whatever was saved since.

    Args:
        desk: the desk.
        tunings: those found before.
        site_id: the site.
        doorway_id: one of its doorways.
        letter: the choice.
        base_version: the version that was seen.

    Raises:
        NoSuchSiteError: there is no such site or version.
        Refusal: there is no such choice, or nothing in it differs.
        FileFaults: a value is not accepted; nothing is saved.
    """
    now = open_site(desk, site_id)
    seen = now if now.stored.version == base_version else _at(desk, now, base_version)
    _, choice = choice_of(tuned(desk, tunings, seen, doorway_id), letter)
    if not choice.settings:
        raise Refusal([say(Message("desk_variants.refused.same"))])
    return save_edits(desk, site_id, doorway_id, edits_of(choice), base_version)


def _at(desk: Desk, opened: Opened, version: int) -> Opened:
    """The site as it was at a version."""
    text = desk.library.text(opened.stored.id, version)
    stored = replace(opened.stored, text=text, version=version, digest="")
    return Opened(stored, read_text(desk, text, stored.name)[0].site)


def _key(desk: Desk, opened: Opened, doorway_id: str) -> tuple[object, ...]:
    book = book_of(desk, opened.site, opened.doorway(doorway_id))
    sheets = sheets_state(desk.sheets)
    return opened.stored.text, doorway_id, book.digest, sheets, desk.day()
