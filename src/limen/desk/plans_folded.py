"""What the events of a site's floor plans come to: plans, pins, the last step.

A plan that has neither a picture nor a pin is not there.  The picture of a site that
had one before there were several is its first plan, which has no name of its own.
"""

import json
import re
import unicodedata
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from limen.desk.library import Desk
from limen.store.database.keeping import KeepingRow
from limen.store.database.photos import photo_of

FIRST = "first"
"""The plan of events that name none."""
BACK = "plan_back"
KINDS = ("plan", "plan_name", "pin", BACK)

_NUMBER = re.compile(r"(?:(?<=\s)|^)[-\N{MINUS SIGN}]?[0-9]+|[0-9]+")


@dataclass(frozen=True, slots=True)
class Pin:
    """Where a doorway is on a plan.

    Attributes:
        doorway: its id.
        plan: id of the plan.
        x, y: from the left and from the top, as fractions of the picture.
    """

    doorway: str
    plan: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Picture:
    """The picture of a plan.

    Attributes:
        sha256: of its bytes.
        width, height: in pixels.
    """

    sha256: str
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Plan:
    """The plan of one floor.

    Attributes:
        id: its own, within the site.
        name: as somebody named it; empty if nobody did.
        picture: its picture; None if it was taken away.
    """

    id: str
    name: str
    picture: Picture | None


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that was said of the plans.

    Attributes:
        event: id of what was said.
        kind: "pin", "name", "picture" or "added".
        plan: id of the plan that it is said of; where a pin is taken off, of the one
            that it was on.
        name: of that plan, after it.
        doorway: whose pin; empty if it is not of a pin.
    """

    event: str
    kind: Literal["pin", "name", "picture", "added"]
    plan: str
    name: str
    doorway: str


@dataclass(frozen=True, slots=True)
class Floors:
    """The floor plans of a site as they stand.

    Attributes:
        plans: those that are there, in the order of their names.
        pins: by doorway where it is.
        last: what was said last of them and still counts; None if nothing does.
    """

    plans: tuple[Plan, ...]
    pins: Mapping[str, Pin]
    last: Step | None

    def of(self, plan: str) -> Plan | None:
        """A plan that is there; None if it is not."""
        return next((one for one in self.plans if one.id == plan), None)


def folded(
    desk: Desk, events: Iterable[KeepingRow], doorways: Collection[str]
) -> Floors:
    """What is said of floor plans comes to this.

    Args:
        desk: the desk, which has the pictures.
        events: of one site, in the order in which they came in.
        doorways: the ids of those that are there: pins of others do not show.
    """
    kept = _Kept()
    every = [(one, _said(one)) for one in events]
    gone = {said["event"] for one, said in every if one.kind == BACK}
    for one, said in every:
        if one.kind != BACK and one.id not in gone:
            kept.hear(one, said)
    pins = {door: pin for door, pin in kept.pins.items() if door in doorways}
    there = {plan for plan, digest in kept.digests.items() if digest}
    there.update(pin.plan for pin in pins.values())
    plans = [
        Plan(one, kept.names.get(one, ""), _picture(desk, kept.digests.get(one)))
        for one in there
    ]
    plans.sort(key=lambda one: (as_sorted(one.name), one.id))
    return Floors(tuple(plans), pins, kept.last)


def as_sorted(name: str) -> tuple[tuple[float, str], ...]:
    """By what a name is put in order: words as letters, numbers by size.

    Accents and capitals make no difference; a minus before a number counts.
    """
    plain = unicodedata.normalize("NFKD", name.casefold())
    bare = "".join(one for one in plain if not unicodedata.combining(one))
    key: list[tuple[float, str]] = []
    done = 0
    for found in _NUMBER.finditer(bare):
        key.append((_NO_NUMBER, bare[done : found.start()]))
        key.append((float(found[0].replace("\N{MINUS SIGN}", "-")), ""))
        done = found.end()
    return (*key, (_NO_NUMBER, bare[done:]))


_NO_NUMBER = float("inf")
"""Numbers stand before letters."""


class _Kept:
    """What events come to while they are gone through."""

    def __init__(self) -> None:
        self.names: dict[str, str] = {}
        self.digests: dict[str, str | None] = {}
        self.pins: dict[str, Pin] = {}
        self.last: Step | None = None

    def hear(self, one: KeepingRow, said: Mapping[str, Any]) -> None:
        """One event more."""
        plan = said.get("plan", FIRST)
        kind = "picture"
        match one.kind:
            case "pin":
                kind, before = "pin", self.pins.pop(one.doorway, None)
                if said["x"] is not None:
                    self.pins[one.doorway] = Pin(
                        one.doorway, plan, said["x"], said["y"]
                    )
                elif before:
                    plan = before.plan
            case "plan_name":
                kind = "name"
                self.names[plan] = said["name"]
            case _:
                self.digests[plan] = said["sha256"]
                if "name" in said:
                    kind, self.names[plan] = "added", said["name"]
        self.last = Step(one.id, kind, plan, self.names.get(plan, ""), one.doorway)


def _said(one: KeepingRow) -> dict[str, Any]:
    return json.loads(one.text)


def _picture(desk: Desk, digest: str | None) -> Picture | None:
    found = photo_of(desk.library, digest) if digest else None
    return found and Picture(found.sha256, found.width, found.height)
