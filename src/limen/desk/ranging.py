"""Where a setting may stand with all that depends on it holding."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from limen.desk.library import Desk, Opened, book_of
from limen.desk.library_cache import Kept
from limen.desk.mapping import StaleError, newest
from limen.quantity import Quantity

if TYPE_CHECKING:
    from limen.questions.ranges import Range

Value = Quantity | str | int | tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Steps:
    """The values of one setting, step by step.

    Attributes:
        name: what tells this scale from others of a doorway: key and unit.
        fitting: id of the unit.
        setting: ``settings.tilt`` and the like.
        values: rising.
        now: number of the value nearest to the one that is set.
    """

    name: str
    fitting: str
    setting: str
    values: Sequence[Value]
    now: int


@dataclass(frozen=True, slots=True)
class Known:
    """The ranges of one text of a doorway that were computed.

    Attributes:
        kept: of all texts.
        key: of this text, doorway and day.
    """

    kept: "Kept[Range]"
    key: tuple[object, ...]

    def get(self, name: str) -> "Range | None":
        """The range of a scale, if it was computed."""
        return self.kept.get((*self.key, name))


@dataclass(frozen=True, slots=True)
class Ranges:
    """Ranges that were computed, by everything that they rest on.

    Attributes:
        kept: of all texts.
    """

    kept: "Kept[Range]" = field(default_factory=lambda: Kept["Range"](1024))

    def known(self, desk: Desk, opened: Opened, doorway_id: str) -> Known:
        """What can be asked without computing anything."""
        key = opened.stored.digest, doorway_id, desk.day()
        return Known(self.kept, key)


def range_of(
    desk: Desk, ranges: Ranges, opened: Opened, doorway_id: str, steps: Steps
) -> "Range":
    """The range of one setting, all other settings as they are kept.

    Args:
        desk: the desk.
        ranges: those computed before.
        opened: the site.
        doorway_id: one of its doorways.
        steps: the setting and its values.

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
        StaleError: the site was saved while it was computed.
    """
    from limen.questions.ranges import Scale
    from limen.study.ranging import NotWantedError
    from limen.study.ranging import range_of as found_on

    door = opened.doorway(doorway_id)
    book = book_of(desk, opened.site, door)
    scale = Scale(steps.fitting, steps.setting, tuple(steps.values), steps.now)

    def made() -> "Range":
        wanted = newest(desk, opened)
        return found_on(
            door, book, scale, on=desk.day(), site=opened.site, wanted=wanted
        )

    known = ranges.known(desk, opened, doorway_id)
    try:
        return known.kept.ask((*known.key, steps.name), made)
    except NotWantedError:
        raise StaleError from None
