"""A card pack on paper: what its page says, gathered for the setter."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from limen.desk.drawing import Units
from limen.desk.library import Desk, open_site
from limen.desk.refusal import Refusal
from limen.desk.reporting import Paper, paper_of
from limen.desk.taping import ToTape, to_tape
from limen.quantity import Show

if TYPE_CHECKING:
    from limen.model.doorway import Doorway
    from limen.report.paper_card import Card, Place, Test, Unit, Work

Pack = Mapping[str, Any]
YEARLY = "yearly"
EVERY = 3
"""Ways in which a door is met: work that is for all of them needs no word of it."""
ALIKE = frozenset({"box.left", "box.middle", "box.right", "box.lying"})
"""Tests of the minimum set that are done like every further place."""
_THIN = 0.04
"""How thick leaves are drawn where their thickness is not stated (m)."""


def printed(
    desk: Desk,
    site_id: str,
    packs: Sequence[Pack],
    *,
    paper: Paper | None = None,
    units: Units = "metric",
) -> bytes:
    """The cards of doorways as one PDF.

    Args:
        desk: the desk.
        site_id: the site.
        packs: of its doorways.
        paper: size of the pages; that of the rulebook's country if not given.
        units: in which lengths are written.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: a letter of the site cannot be printed.
    """
    from limen.report import ReportError
    from limen.report.paper_card import paper_card
    from limen.report.tongue import Tongue

    opened = open_site(desk, site_id)
    cards = [card_of(opened.doorway(pack["doorway"]), pack) for pack in packs]
    try:
        return paper_card(
            cards,
            site=opened.site.name,
            on=desk.day(),
            paper=paper or paper_of(opened.site.rulebook),
            tongue=Tongue(system=Show(units)),
        )
    except ReportError as error:
        raise Refusal([str(error)]) from error


def card_of(door: "Doorway", pack: Pack) -> "Card":
    """One doorway's card.

    Args:
        door: the doorway.
        pack: what its page is given along.
    """
    from limen.report.paper_card import Card

    thick = door.leaves.thickness.value if door.leaves.thickness else _THIN
    budget = pack["budgets"][YEARLY]
    return Card(
        door=door.name,
        half=door.clear_width.value / 2,
        leaf=thick / 2,
        version=pack["version"],
        digest=pack["digest"],
        safety=" ".join(str(one) for one in _safety(pack)),
        units=tuple(_unit(one) for one in to_tape(door)),
        targets=tuple(str(one["says"]) for one in pack["targets"]),
        work=tuple(_work(one) for one in pack["work"] if not one["after"]),
        after=tuple(_work(one) for one in pack["work"] if one["after"]),
        tests=tuple(_tests(pack, int(budget["steps"]))),
        steps=int(budget["steps"]),
        minutes=int(budget["minutes"]),
    )


def _safety(pack: Pack) -> Iterator[str]:
    yield pack["words"].get("safety") or ""


def _unit(one: ToTape) -> "Unit":
    from limen.report.paper_card import Reading, Unit

    readings = (Reading(a.name, a.ask, a.post, a.out is not None) for a in one.asked)
    sheet = one.fitting.unit.name if one.fitting.unit else one.fitting.sheet
    return Unit(one.fitting.id, sheet, tuple(readings))


def _work(one: Mapping[str, Any]) -> "Work":
    from limen.report.paper_card import Work

    found = () if len(one["found"]) == EVERY else tuple(one["found"])
    return Work(one["title"], one["says"], found)


def _tests(pack: Pack, most: int) -> Iterator["Test"]:
    """The minimum set, then the first places of a visit if nothing fails."""
    from limen.report.paper_card import Test

    minimum = [one for one in pack["tests"] if one["minimum"]]
    extra = [one for one in pack["tests"] if not one["minimum"]][:most]
    for one in (*minimum, *extra):
        causes = tuple(f"{each['cause']}: {each['turn']}" for each in one["if_failed"])
        alike = not one["minimum"] or one["id"] in ALIKE
        says = str(one["says"])
        # How a box is tested stands on the page once; where it goes is said first.
        says = says.partition(". ")[0] if alike else says
        place = _place(one["place"])
        yield Test(one["title"], says, one["minimum"], place, alike, causes)


def _place(place: Mapping[str, Any] | None) -> "Place | None":
    from limen.report.paper_card import Place

    if place is None:
        return None
    return Place(
        place["x"],
        place["y"],
        place["yaw"],
        place["width"],
        place["depth"],
        place["far"],
        place["face"] != "upright",
    )
