"""The floor plans of a site: a picture a floor, and on one of them a pin a doorway.

What is said of them is kept as events that are added and never changed; a step is
taken back by one more event.
"""

import json
from collections.abc import Mapping
from hashlib import sha256

from limen.desk.library import Desk, Opened
from limen.desk.plans_folded import BACK, FIRST, KINDS, Floors, Pin, Plan, folded
from limen.desk.refusal import Refusal
from limen.desk.visits_photos import take_piece
from limen.findings import Message
from limen.model.visit import PHOTO_BYTES, PHOTO_PIXELS
from limen.store.database.keeping import events_at, keep_event
from limen.store.picture_bare import TurnedError, bare
from limen.store.picture_heads import PhotoRefusedError
from limen.words import say, visible

ABOUT = "plan"
PLACES = 4
"""Digits of a place after the point: a tenth of a thousandth of the picture."""
LONGEST = 60
"""Letters of a name, at most."""


class NoSuchPlanError(LookupError):
    """There is no such plan at this site."""


def floors_of(desk: Desk, opened: Opened) -> Floors:
    """The floor plans of a site as they stand."""
    events = events_at(desk.library, opened.stored.id, kinds=KINDS)
    return folded(desk, events, {one.id for one in opened.site.doorway})


def called(name: str) -> str:
    """The name of a plan, or what it is called while it has none."""
    return name or say(Message("plan.go"))


def chosen_plan(floors: Floors, plan: str, doorway: str = "") -> Plan | None:
    """The plan that is asked for.

    Args:
        floors: of the site.
        plan: its id; if it is empty, the plan on which the doorway is, or the first.
        doorway: the id of a doorway; empty if none is asked for.

    Returns:
        The plan; None if the site has none and none was named.

    Raises:
        NoSuchPlanError: there is no such plan.
    """
    pin = floors.pins.get(doorway)
    if not plan and pin:
        plan = pin.plan
    found = floors.of(plan) if plan else next(iter(floors.plans), None)
    if plan and found is None:
        raise NoSuchPlanError(plan)
    return found


def add_plan(desk: Desk, opened: Opened, name: str, data: bytes) -> str:
    """Add the plan of another floor.

    Args:
        desk: the desk.
        opened: the site.
        name: what it is called.
        data: its picture: JPEG, PNG or WebP.

    Returns:
        Its id.

    Raises:
        Refusal: the name or the picture is not taken, and why.
        NotKeptError: the disk does not take it.
    """
    new = _name_taken(floors_of(desk, opened), "", name)
    plan = desk.library.draw_id()
    said = {"plan": plan, "name": new, "sha256": _picture_taken(desk, data)}
    _keep(desk, opened, "", "plan", said)
    return plan


def name_plan(desk: Desk, opened: Opened, plan: Plan, name: str) -> None:
    """Call a plan something else.

    Raises:
        Refusal: there is no name, it is too long, or another plan has it.
        NotKeptError: the disk does not take it.
    """
    new = _name_taken(floors_of(desk, opened), plan.id, name)
    if new != plan.name:
        _keep(desk, opened, "", "plan_name", {"plan": plan.id, "name": new})


def set_picture(desk: Desk, opened: Opened, plan: Plan | None, data: bytes) -> None:
    """Take a picture for a plan; pins stay where they are.

    What it tells beside its pixels is left out before it is kept.

    Args:
        desk: the desk.
        opened: the site.
        plan: which; None for the first of a site that has none.
        data: JPEG, PNG or WebP.

    Raises:
        Refusal: it is no picture that is taken in, and why.
        NotKeptError: the disk does not take it.
    """
    said = {"plan": plan.id if plan else FIRST, "sha256": _picture_taken(desk, data)}
    _keep(desk, opened, "", "plan", said)


def take_picture_away(desk: Desk, opened: Opened, plan: Plan) -> None:
    """Let a plan have no picture; its pins come back with the next one.

    Without pins nothing is left of the plan.

    Raises:
        NotKeptError: the disk does not take it.
    """
    _keep(desk, opened, "", "plan", {"plan": plan.id, "sha256": None})


def set_pin(desk: Desk, opened: Opened, pin: Pin) -> None:
    """Put the pin of a doorway where it is; from another plan it moves there.

    Raises:
        Refusal: that is not on the plan.
        NotKeptError: the disk does not take it.
    """
    if not (0 <= pin.x <= 1 and 0 <= pin.y <= 1):
        raise _refusal("place")
    x, y = round(pin.x, PLACES), round(pin.y, PLACES)
    _keep(desk, opened, pin.doorway, "pin", {"plan": pin.plan, "x": x, "y": y})


def take_pin(desk: Desk, opened: Opened, doorway: str) -> None:
    """Take the pin of a doorway off its plan.

    Raises:
        NotKeptError: the disk does not take it.
    """
    _keep(desk, opened, doorway, "pin", {"x": None, "y": None})


def take_back(desk: Desk, opened: Opened) -> str:
    """Take back the last step: a pin, a name, a picture or a plan.

    Returns:
        The id of the plan on which that is seen; empty if that plan is gone.

    Raises:
        Refusal: there is nothing to be taken back.
        NotKeptError: the disk does not take it.
    """
    last = floors_of(desk, opened).last
    if last is None:
        raise _refusal("nothing")
    _keep(desk, opened, last.doorway, BACK, {"event": last.event})
    floors = floors_of(desk, opened)
    pin = floors.pins.get(last.doorway)
    seen = pin.plan if pin else last.plan
    return seen if floors.of(seen) else ""


def _name_taken(floors: Floors, plan: str, name: str) -> str:
    """A name as it is kept.

    Args:
        floors: of the site.
        plan: id of the plan that is to have it; empty for a new one.
        name: as it was typed.
    """
    new = visible(" ".join(name.split()))
    if not new:
        raise _refusal("name_none")
    if len(new) > LONGEST:
        raise _refusal("name_long", found=len(new))
    for one in floors.plans:
        other = called(one.name)
        if one.id != plan and other.casefold() == new.casefold():
            raise _refusal("name_taken", name=other)
    return new


def _picture_taken(desk: Desk, data: bytes) -> str:
    """Keep a picture without what it tells beside its pixels; its digest."""
    if not data:
        raise _refusal("none")
    if len(data) > PHOTO_BYTES:
        raise _refusal("size")
    try:
        kept = bare(data)
    except TurnedError as fault:
        raise _refusal("turned") from fault
    except PhotoRefusedError as fault:
        raise _refusal("kind") from fault
    digest = sha256(kept).hexdigest()
    try:
        take_piece(desk, digest, kept)
    except Refusal as fault:
        why = fault.__cause__
        known = why.why if isinstance(why, PhotoRefusedError) else "kind"
        raise _refusal(known if known in ("size", "pixels") else "kind") from fault
    return digest


def _keep(
    desk: Desk, opened: Opened, doorway: str, kind: str, said: Mapping[str, object]
) -> None:
    keep_event(
        desk.library,
        about=ABOUT,
        site=opened.stored.id,
        doorway=doorway,
        kind=kind,
        text=json.dumps(dict(said)),
    )


def _refusal(why: str, **more: str | int) -> Refusal:
    values: dict[str, str | int] = {
        "most": PHOTO_BYTES // 10**6,
        "pixels": PHOTO_PIXELS // 10**6,
        "longest": LONGEST,
    }
    return Refusal([say(Message(f"plan.refused.{why}", {**values, **more}))])
