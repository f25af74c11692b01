"""The floor plan of a site: a picture, and a pin on it for each doorway.

What is said of it is kept as events that are added and never changed; a step is
taken back by one more event.
"""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from limen.desk.library import Desk
from limen.desk.refusal import Refusal
from limen.desk.visits_photos import take_piece
from limen.findings import Message
from limen.model.visit import PHOTO_BYTES, PHOTO_PIXELS
from limen.store.database.keeping import KeepingRow, events_at, keep_event
from limen.store.database.photos import photo_of
from limen.store.picture_bare import TurnedError, bare
from limen.store.picture_heads import PhotoRefusedError
from limen.words import say

ABOUT = "plan"
KINDS = ("plan", "pin", "plan_back")
PLACES = 4
"""Digits of a place after the point: a tenth of a thousandth of the picture."""


@dataclass(frozen=True, slots=True)
class Pin:
    """Where a doorway is on the plan.

    Attributes:
        doorway: its id.
        x, y: from the left and from the top, as fractions of the picture.
    """

    doorway: str
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
class Floor:
    """The floor plan of a site as it stands.

    Attributes:
        picture: its picture; None if there is none.
        pins: by doorway where it is.
        last: what was said last of it and still counts; None if nothing does.
        of: the doorway that this is said of; empty where it is of the picture.
    """

    picture: Picture | None
    pins: Mapping[str, Pin]
    last: str | None
    of: str


def floor_of(desk: Desk, site_id: str) -> Floor:
    """The floor plan of a site as it stands.

    Raises:
        NoSuchSiteError: there is no such site.
    """
    desk.library.read(site_id)
    return folded(desk, events_at(desk.library, site_id, kinds=KINDS))


def folded(desk: Desk, events: Iterable[KeepingRow]) -> Floor:
    """What is said of a floor plan comes to this.

    Args:
        desk: the desk, which has the pictures.
        events: of one site, in the order in which they came in.
    """
    every = tuple(events)
    gone = {_said(one)["event"] for one in every if one.kind == "plan_back"}
    counts = [one for one in every if one.kind != "plan_back" and one.id not in gone]
    digest: str | None = None
    pins: dict[str, Pin] = {}
    for one in counts:
        said = _said(one)
        if one.kind == "plan":
            digest = said["sha256"]
        elif said["x"] is None:
            pins.pop(one.doorway, None)
        else:
            pins[one.doorway] = Pin(one.doorway, said["x"], said["y"])
    last = counts[-1] if counts else None
    picture = _picture(desk, digest) if digest else None
    return Floor(picture, pins, last and last.id, last.doorway if last else "")


def set_picture(desk: Desk, site_id: str, data: bytes) -> None:
    """Take a picture as the floor plan of a site; pins stay where they are.

    What it tells beside its pixels is left out before it is kept.

    Args:
        desk: the desk.
        site_id: the site.
        data: JPEG, PNG or WebP.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: it is no picture that is taken in, and why.
        NotKeptError: the disk does not take it.
    """
    desk.library.read(site_id)
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
    _keep(desk, site_id, "", "plan", {"sha256": digest})


def take_picture_away(desk: Desk, site_id: str) -> None:
    """Let a site have no floor plan; its pins come back with the next one.

    Raises:
        NoSuchSiteError: there is no such site.
        NotKeptError: the disk does not take it.
    """
    desk.library.read(site_id)
    _keep(desk, site_id, "", "plan", {"sha256": None})


def set_pin(desk: Desk, site_id: str, pin: Pin) -> None:
    """Put the pin of a doorway where it is.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: that is not on the plan.
        NotKeptError: the disk does not take it.
    """
    desk.library.read(site_id)
    if not (0 <= pin.x <= 1 and 0 <= pin.y <= 1):
        raise _refusal("place")
    place = {"x": round(pin.x, PLACES), "y": round(pin.y, PLACES)}
    _keep(desk, site_id, pin.doorway, "pin", place)


def take_pin(desk: Desk, site_id: str, doorway: str) -> None:
    """Take the pin of a doorway off the plan.

    Raises:
        NoSuchSiteError: there is no such site.
        NotKeptError: the disk does not take it.
    """
    desk.library.read(site_id)
    _keep(desk, site_id, doorway, "pin", {"x": None, "y": None})


def take_back(desk: Desk, site_id: str) -> None:
    """Take back the last step: a pin or a picture.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: there is nothing to be taken back.
        NotKeptError: the disk does not take it.
    """
    floor = floor_of(desk, site_id)
    if floor.last is None:
        raise _refusal("nothing")
    _keep(desk, site_id, floor.of, "plan_back", {"event": floor.last})


def _keep(
    desk: Desk, site_id: str, doorway: str, kind: str, said: Mapping[str, object]
) -> None:
    keep_event(
        desk.library,
        about=ABOUT,
        site=site_id,
        doorway=doorway,
        kind=kind,
        text=json.dumps(dict(said)),
    )


def _said(one: KeepingRow) -> dict[str, Any]:
    return json.loads(one.text)


def _picture(desk: Desk, digest: str) -> Picture | None:
    found = photo_of(desk.library, digest)
    return found and Picture(found.sha256, found.width, found.height)


def _refusal(why: str) -> Refusal:
    values = {"most": PHOTO_BYTES // 10**6, "pixels": PHOTO_PIXELS // 10**6}
    return Refusal([say(Message(f"plan.refused.{why}", values))])
