"""The floor plan of a site as its page shows it: pins, and the doorways beside them."""

import re
from dataclasses import dataclass
from typing import Any

from limen.desk import doors, plans
from limen.desk.doors import DoorFound
from limen.desk.library import Desk, Opened
from limen.desk.plans import Floor, Pin
from limen.exchange import Tally
from limen.findings import Message, Verdict
from limen.model.visit import PHOTO_BYTES
from limen.web.sites_shown import counts_of
from limen.words import reading, say, unnumbered
from limen.words.numbers import numbered

_PART = re.compile(r"([0-9]{1,3}(?:\.[0-9]{1,6})?) ?%?")
HUNDRED = 100
APART = " · "
LEFT = {"in use with defects", "out of use"}


@dataclass(frozen=True, slots=True)
class Spot:
    """A doorway of the plan.

    Attributes:
        number: by which plan and list name it, from 1.
        id, name: which doorway.
        mark: the mark of what is to be done: a verdict; empty for nothing.
        state: the same in words.
        left: how it was left, where that matters; else empty.
        pin: where it is; None if it is not on the plan.
        at: the same in words.
    """

    number: int
    id: str
    name: str
    mark: str
    state: str
    left: str
    pin: Pin | None
    at: str

    @property
    def x(self) -> str:
        """From the left, in percent, as an attribute takes it."""
        return f"{self.pin.x:.2%}" if self.pin else ""

    @property
    def y(self) -> str:
        """From the top, in percent, as an attribute takes it."""
        return f"{self.pin.y:.2%}" if self.pin else ""


def plan_page(desk: Desk, opened: Opened, chosen: str = "") -> dict[str, Any]:
    """What the page of a floor plan shows.

    Args:
        desk: the desk.
        opened: the site.
        chosen: the doorway whose pin is to be set; empty if none is.
    """
    floor = plans.floor_of(desk, opened.stored.id)
    spots = spots_of(desk, opened, floor)
    picked = next((one for one in spots if one.id == chosen), None)
    return {
        "site": opened.stored,
        "floor": floor,
        "spots": spots,
        "pinned": sum(one.pin is not None for one in spots),
        "chosen": picked,
        "typed": _typed(picked),
        "back": _back(floor, spots),
        "most": PHOTO_BYTES // 10**6,
        "faults": [],
    }


def spots_of(desk: Desk, opened: Opened, floor: Floor) -> list[Spot]:
    """Every doorway of a site, with its pin and what is to be done there."""
    known = doors.of_site(desk, opened.stored.id)
    return [
        _spot(number, door.id, door.name, known.get(door.id), floor.pins.get(door.id))
        for number, door in enumerate(opened.site.doorway, 1)
    ]


def next_spot(desk: Desk, opened: Opened, after: str) -> str:
    """The doorway whose pin is set next: the first after one that has none.

    Args:
        desk: the desk.
        opened: the site.
        after: the doorway whose pin was just set.
    """
    floor = plans.floor_of(desk, opened.stored.id)
    ids = [door.id for door in opened.site.doorway]
    place = ids.index(after) + 1 if after in ids else 0
    left = (one for one in ids[place:] + ids[:place] if one not in floor.pins)
    return next(left, "")


def part_of(text: str) -> float | None:
    """A part of the picture as it was typed, ``37.5 %``; None if it is none."""
    found = _PART.fullmatch(unnumbered(text.strip(), reading()))
    part = float(found[1]) / HUNDRED if found else None
    return part if part is not None and part <= 1 else None


def _spot(
    number: int, door: str, name: str, known: DoorFound | None, pin: Pin | None
) -> Spot:
    mark, state = _state(known)
    harm = known.left_as if known and known.left_as in LEFT else ""
    left = say(Message(f"visits.over.{harm}")) if harm else ""
    mark = Verdict.FAILS.value if harm and not mark else mark
    at = ""
    if pin:
        place = {"x": f"{_percent(pin.x)} %", "y": f"{_percent(pin.y)} %"}
        at = say(Message("plan.at", place))
    return Spot(number, door, name, mark, state, left, pin, at)


def _state(known: DoorFound | None) -> tuple[str, str]:
    """Mark and words of what is to be done at a doorway.

    Nothing to be done has no mark of its own: no doorway is summed up in one verdict.
    """
    if known is None or not known.known:
        return Verdict.NOT_ASKED.value, say(Message("plan.unknown"))
    if not known.judged:
        return Verdict.NOT_SHOWN.value, say(Message("doors.unjudged"))
    told = counts_of(Tally(known.mend, known.measure, 0, 0))
    marks = [mark for mark, _ in told if mark]
    words = APART.join(said for _, said in told)
    return (marks[0] if marks else ""), words


def _typed(one: Spot | None) -> tuple[str, str]:
    if one is None or one.pin is None:
        return "", ""
    return _percent(one.pin.x), _percent(one.pin.y)


def _percent(part: float) -> str:
    """A part in percent, as the reader writes numbers."""
    return numbered(f"{part * HUNDRED:.1f}".removesuffix(".0"), reading())


def _back(floor: Floor, spots: list[Spot]) -> str:
    """What the last step was, where it can be taken back."""
    if floor.last is None:
        return ""
    if not floor.of:
        return say(Message("plan.back.picture"))
    named = {one.id: one.name for one in spots}
    name = named.get(floor.of, floor.of)
    return say(Message("plan.back.pin", {"name": name}))
