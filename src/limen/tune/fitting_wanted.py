"""What to tape of a unit, the useful minimum first, and about where it is found."""

from collections.abc import Iterator
from math import nan
from typing import Literal

from limen.findings import Message
from limen.findings.fitted import ToRead
from limen.model.doorway import Doorway
from limen.model.readings import UnitRead
from limen.physics.readings.missing import USEFUL, Missing, read_at
from limen.questions.settled import settle
from limen.tune.fitting_given import Given, given
from limen.tune.fitting_unit import CLOSELY

LENS: tuple[Literal["height", "from_leaf", "along"], ...] = (
    "height",
    "from_leaf",
    "along",
)
BOTH_ENDS = ("line", "end")


def to_read(doorway: Doorway, fitting: str) -> tuple[ToRead, ...]:
    """What to tape of a unit: its lens, the useful minimum, and one reading more.

    The minimum is how far out the first row runs near both of its ends, and where it
    ends.  The one more tells which of them is wrong if they do not agree.

    Args:
        doorway: as described, sheets hung on its fittings.
        fitting: a unit that throws rows.

    Raises:
        KeyError: the doorway has no such fitting.
        ValueError: the unit throws no rows.
    """
    unit = next((one for one in doorway.fitting if one.id == fitting), None)
    if unit is None:
        raise KeyError(fitting)
    if unit.unit is None:
        raise ValueError(f"{fitting} has no sheet")
    read = UnitRead(fitting=fitting)
    return tuple(_wanted(given(doorway, settle(doorway), unit, unit.unit, read)))


def _wanted(what: Given) -> Iterator[ToRead]:
    name, lens = what.fitting.id, what.known[0].lens
    said = {"fitting": name}
    places = {
        "height": (nan, nan),
        "from_leaf": (nan, what.way * lens[1] - what.face),
        "along": (lens[0], nan),
    }
    for which in LENS:
        message = Message(f"readings.lack.{which}", said)
        yield ToRead(name, which, None, "", *places[which], needed=True, said=message)
    for thing in USEFUL:
        yield _reading(what, thing)


def _reading(what: Given, thing: Missing) -> ToRead:
    expected = read_at(what.known[0], thing, CLOSELY)
    message = Message(
        f"readings.lack.{thing.what}_{thing.where}", {"fitting": what.fitting.id}
    )
    kinds: dict[str, Literal["row line", "row end", "spot centre"]] = {
        "line": "row line",
        "end": "row end",
        "spot": "spot centre",
    }
    return ToRead(
        what.fitting.id,
        kinds[thing.what],
        (expected.row or 0) + 1,
        thing.where,
        expected.x,
        what.way * expected.y - what.face,
        thing.what in BOTH_ENDS,
        message,
    )
