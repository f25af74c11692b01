"""What else than its remedy makes a finding hold, by settings."""

from dataclasses import dataclass, field

from limen.desk.library import Desk, Opened, book_of, study_of
from limen.desk.library_cache import Kept
from limen.desk.library_keys import sheets_state
from limen.findings import Finding, Remedy


@dataclass(frozen=True, slots=True)
class Ways:
    """Ways that were asked for, by everything that they rest on.

    Attributes:
        kept: of all texts.
    """

    kept: "Kept[tuple[Remedy, ...]]" = field(
        default_factory=lambda: Kept[tuple[Remedy, ...]](256)
    )


def ways_of(
    desk: Desk, ways: Ways, opened: Opened, doorway_id: str, finding: Finding
) -> tuple[Remedy, ...]:
    """Other settings with which a finding holds and nothing stands worse.

    Args:
        desk: the desk.
        ways: those asked for before.
        opened: the site.
        doorway_id: one of its doorways.
        finding: of the doorway's study.

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
    """
    from limen.study.ways import At
    from limen.study.ways import ways as other

    door = opened.doorway(doorway_id)
    at = At(book_of(desk, opened.site, door), desk.day(), opened.site)

    def made() -> tuple[Remedy, ...]:
        return other(study_of(desk, opened, doorway_id), finding, at)

    sheets = sheets_state(desk.sheets)
    key = opened.stored.digest, sheets, at.rulebook.digest, at.on, doorway_id
    return ways.kept.ask((*key, finding.key), made)
