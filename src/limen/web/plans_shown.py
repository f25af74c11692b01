"""The floor plans of a site as their page shows them: pins, doorways beside them."""

import re
from dataclasses import dataclass
from typing import Any

from limen.desk import doors, plans
from limen.desk.doors import DoorFound
from limen.desk.library import Desk, Opened
from limen.desk.plans import called, chosen_plan
from limen.desk.plans_folded import Floors, Pin, Plan
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
ALL = "all"
"""In place of the id of a plan: every plan."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A doorway of the site.

    Attributes:
        number: by which plan and list name it, from 1.
        id, name: which doorway.
        mark: the mark of what is to be done: a verdict; empty for nothing.
        state: the same in words.
        left: how it was left, where that matters; else empty.
        pin: where it is; None if it is on no plan.
        on: what the plan is called on which it is; empty if it is on none.
    """

    number: int
    id: str
    name: str
    mark: str
    state: str
    left: str
    pin: Pin | None
    on: str

    @property
    def plan(self) -> str:
        """The id of the plan on which it is; empty if it is on none."""
        return self.pin.plan if self.pin else ""

    @property
    def x(self) -> str:
        """From the left, in percent, as an attribute takes it."""
        return f"{self.pin.x:.2%}" if self.pin else ""

    @property
    def y(self) -> str:
        """From the top, in percent, as an attribute takes it."""
        return f"{self.pin.y:.2%}" if self.pin else ""


def plan_page(desk: Desk, opened: Opened, asked: str, door: str = "") -> dict[str, Any]:
    """What the page of a floor plan shows.

    Args:
        desk: the desk.
        opened: the site.
        asked: the id of the plan; if it is empty, the one that the doorway is on, or
            the first; ``all`` for every plan.
        door: the doorway whose pin is to be set; empty if none is.

    Raises:
        NoSuchPlanError: there is no such plan.
    """
    floors = plans.floors_of(desk, opened)
    every = asked == ALL
    plan = chosen_plan(floors, "" if every else asked, door)
    spots = spots_of(desk, opened, floors)
    here = [one for one in spots if plan and one.plan == plan.id]
    picked = next((one for one in spots if one.id == door), None)
    several = len(floors.plans) > 1
    return {
        "site": opened.stored,
        "floors": floors,
        "plan": plan,
        "plan_name": called(plan.name) if plan and several else "",
        "every": [(one, called(one.name)) for one in floors.plans] if every else [],
        "tabs": [(one.id, called(one.name)) for one in floors.plans] if several else [],
        "spots": spots,
        "here": here,
        "groups": _groups(spots, here) if several else [("list", spots)],
        "chosen": picked,
        "typed": _typed(picked, plan),
        "back": _back(floors, spots),
        "most": PHOTO_BYTES // 10**6,
        "longest": plans.LONGEST,
        "faults": [],
        "wrong": "",
        "in_place": False,
        "typed_name": plan.name if plan else "",
        "new_name": "",
    }


def spots_of(desk: Desk, opened: Opened, floors: Floors) -> list[Spot]:
    """Every doorway of a site, with its pin and what is to be done there."""
    known = doors.of_site(desk, opened.stored.id)
    names = {one.id: called(one.name) for one in floors.plans}
    spots: list[Spot] = []
    for number, door in enumerate(opened.site.doorway, 1):
        mark, state, left = _states(known.get(door.id))
        pin = floors.pins.get(door.id)
        on = names.get(pin.plan, "") if pin else ""
        spots.append(Spot(number, door.id, door.name, mark, state, left, pin, on))
    return spots


def next_spot(desk: Desk, opened: Opened, after: str) -> str:
    """The doorway whose pin is set next: the first after one that has none.

    Args:
        desk: the desk.
        opened: the site.
        after: the doorway whose pin was just set.
    """
    pins = plans.floors_of(desk, opened).pins
    ids = [door.id for door in opened.site.doorway]
    place = ids.index(after) + 1 if after in ids else 0
    left = (one for one in ids[place:] + ids[:place] if one not in pins)
    return next(left, "")


def part_of(text: str) -> float | None:
    """A part of the picture as it was typed, ``37.5 %``; None if it is none."""
    found = _PART.fullmatch(unnumbered(text.strip(), reading()))
    part = float(found[1]) / HUNDRED if found else None
    return part if part is not None and part <= 1 else None


def values_of(told: dict[str, Any]) -> dict[str, Any]:
    """The plans, for programs."""
    made = [
        {"id": one.id, "name": one.name, "picture": _address(one)}
        for one in told["floors"].plans
    ]
    return {
        "picture": made[0]["picture"] if made else None,
        "plans": made,
        "doorways": [
            {
                "id": one.id,
                "name": one.name,
                "state": one.state,
                "pin": one.pin
                and {"plan": one.pin.plan, "x": one.pin.x, "y": one.pin.y},
            }
            for one in told["spots"]
        ],
    }


def _address(plan: Plan) -> str | None:
    return f"/visits/photos/{plan.picture.sha256}" if plan.picture else None


def _groups(spots: list[Spot], here: list[Spot]) -> list[tuple[str, list[Spot]]]:
    """The doorways beside one plan of several, each group with what it is called."""
    elsewhere = [one for one in spots if one.pin and one not in here]
    nowhere = [one for one in spots if not one.pin]
    more = [("elsewhere", elsewhere), ("nowhere", nowhere)]
    return [("here", here), *((name, group) for name, group in more if group)]


def _states(known: DoorFound | None) -> tuple[str, str, str]:
    """Mark and words of what is to be done at a doorway, and how it was left."""
    mark, state = _state(known)
    harm = known.left_as if known and known.left_as in LEFT else ""
    left = say(Message(f"visits.over.{harm}")) if harm else ""
    return (Verdict.FAILS.value if harm and not mark else mark), state, left


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


def _typed(one: Spot | None, plan: Plan | None) -> tuple[str, str]:
    """Where the pin is, in percent; empty if it is not on this plan."""
    if one is None or one.pin is None or plan is None or one.plan != plan.id:
        return "", ""
    return _percent(one.pin.x), _percent(one.pin.y)


def _percent(part: float) -> str:
    """A part in percent, as the reader writes numbers."""
    return numbered(f"{part * HUNDRED:.1f}".removesuffix(".0"), reading())


def _back(floors: Floors, spots: list[Spot]) -> str:
    """What the last step was, where it can be taken back.

    A plan is named where there are others, or where it is gone.
    """
    last = floors.last
    if last is None:
        return ""
    names = {one.id: one.name for one in spots}
    said = {
        "name": names.get(last.doorway, last.doorway),
        "plan": called(last.name),
    }
    alone = [one.id for one in floors.plans] in ([last.plan], [])
    named = last.kind in ("pin", "picture") and not alone
    return say(Message(f"plan.back.{last.kind}{'_on' if named else ''}", said))
