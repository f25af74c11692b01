"""The margin map of a doorway that is kept: computed once a text, given up if stale."""

from collections.abc import Callable
from dataclasses import dataclass, field
from time import monotonic
from typing import TYPE_CHECKING

from limen.desk.library import Desk, Opened, book_of
from limen.desk.library_cache import Kept

if TYPE_CHECKING:
    from limen.findings.margin_map import MarginMap

MAPPED = ("presence.threshold", "presence.leaf_path", "presence.side_screen")
"""Questions whose zone can be mapped, as `limen.study.mapping` has them."""


LOOKS = 0.1
"""Seconds between two looks whether a text is still the newest."""


class StaleError(Exception):
    """What was asked for is not wanted any more: the site was saved meanwhile."""


@dataclass(frozen=True, slots=True)
class Maps:
    """Maps that were computed.

    Attributes:
        kept: by everything that a map rests on.
    """

    kept: "Kept[MarginMap]" = field(default_factory=lambda: Kept(64))


def mapped_of(looked_at: tuple[str, str] | None) -> tuple[str, str | None]:
    """Question and case of the map that goes with a finding.

    Args:
        looked_at: question and case of the finding that is drawn.  One without a map,
            or none, gives the map of the threshold.
    """
    question, case = looked_at or ("", "")
    if question not in MAPPED:
        return MAPPED[0], None
    return question, None if case in ("", "near closed") else case


def margin_map(
    desk: Desk,
    maps: Maps,
    opened: Opened,
    doorway_id: str,
    looked_at: tuple[str, str] | None,
    *,
    fine: bool,
) -> "MarginMap | None":
    """By how much the test body is reached or missed at each place.

    Args:
        desk: the desk.
        maps: those computed before.
        opened: the site.
        doorway_id: one of its doorways.
        looked_at: question and case of the finding that is drawn.
        fine: whether places without ample room are cut again.

    Returns:
        None where nothing can be mapped.

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
        StaleError: the site was saved while it was computed.
    """
    from limen.study.mapping import room_map

    door = opened.doorway(doorway_id)
    book = book_of(desk, opened.site, door)
    question, case = mapped_of(looked_at)

    def made() -> "MarginMap":
        wanted = newest(desk, opened)
        found = room_map(door, book, question, case, fine=fine, wanted=wanted)
        if found is None and not wanted():
            raise StaleError
        if found is None:
            raise LookupError(case)
        return found

    key = (opened.stored.digest, doorway_id, book.digest, question, case, fine)
    try:
        return maps.kept.ask(key, made)
    except LookupError:
        return None


def newest(desk: Desk, opened: Opened) -> Callable[[], bool]:
    """Whether a text is still the one that counts; looked up now and then."""
    site_id, version = opened.stored.id, opened.stored.version
    looked, still = monotonic(), True

    def wanted() -> bool:
        nonlocal looked, still
        if still and monotonic() - looked > LOOKS:
            looked = monotonic()
            still = desk.library.read(site_id).version == version
        return still

    return wanted
