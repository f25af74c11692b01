"""What was done at a door, back from a card that has no line to the desk: as a file."""

import json
from base64 import b64decode
from binascii import Error as NotBase64
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, cast

from limen.desk.library import Desk
from limen.desk.refusal import Refusal, refusing
from limen.desk.visits_intake import MOST_EVENTS, take_in
from limen.desk.visits_photos import take_piece
from limen.findings import Message
from limen.words import say

MARK = "limen_visit"
VERSION = 1
MOST_BYTES = 400_000_000
"""Of a file: a long visit with its photos."""


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What became of a file.

    Attributes:
        new: events kept that were not before.
        again: events that were kept already.
        clashes: events refused, and kept beside their visit to be shown.
        photos: photos that are there now.
        bad: what cannot be used, in words.
        doors: site and doorway of what is kept, each once.
    """

    new: int = 0
    again: int = 0
    clashes: int = 0
    photos: int = 0
    bad: tuple[str, ...] = field(default=())
    doors: tuple[tuple[str, str], ...] = field(default=())


def take_in_file(desk: Desk, path: Path) -> TakenIn:
    """Keep the events and photos of a file that a card saved.

    The same file may be taken in again: what is known is left as it is.

    Args:
        desk: the desk.
        path: the file.

    Raises:
        Refusal: it cannot be read, or is no such file; nothing is kept.
        NotKeptError: the disk takes nothing.
    """
    with refusing():
        if path.stat().st_size > MOST_BYTES:
            raise _no_card(str(path))
        read = path.read_bytes()
    return take_in_text(desk, read, str(path))


def take_in_text(desk: Desk, read: bytes, name: str) -> TakenIn:
    """The same of a file's bytes.

    Args:
        desk: the desk.
        read: the bytes.
        name: what the file is called.
    """
    said = _said(read, name)
    done = TakenIn(doors=_doors(said["events"]))
    for start, batch in _batches(said["events"]):
        done = _after(done, desk, batch, start)
        if done.bad:
            break
    return _with_photos(done, desk, said["photos"])


def _said(read: bytes, name: str) -> dict[str, list[Any]]:
    try:
        table: object = json.loads(read)
    except (ValueError, RecursionError):
        raise _no_card(name) from None
    if not isinstance(table, dict):
        raise _no_card(name)
    said = cast("Mapping[str, object]", table)
    events, photos = said.get("events"), said.get("photos", [])
    known = said.get(MARK) == VERSION and said.get(MARK) is not True
    if not (known and isinstance(events, list) and isinstance(photos, list)):
        raise _no_card(name)
    return {"events": cast("list[Any]", events), "photos": cast("list[Any]", photos)}


def _batches(events: Sequence[Any]) -> Iterator[tuple[int, Sequence[Any]]]:
    for start in range(0, len(events), MOST_EVENTS):
        yield start, events[start : start + MOST_EVENTS]


def _after(done: TakenIn, desk: Desk, batch: Sequence[Any], start: int) -> TakenIn:
    took = take_in(desk, json.dumps({"events": batch}).encode())
    bad = done.bad
    if took.bad is not None:
        values = {
            "number": start + took.bad.place + 1,
            "why": " ".join(took.bad.lines),
        }
        bad = (*bad, say(Message("card_file.taken_in.bad", values)))
    return replace(
        done,
        new=done.new + took.new,
        again=done.again + took.again,
        clashes=done.clashes + len(took.clashes),
        bad=bad,
    )


def _with_photos(done: TakenIn, desk: Desk, photos: Sequence[Any]) -> TakenIn:
    bad, kept = list(done.bad), 0
    for one in photos:
        try:
            sha256, data = _photo(one)
            kept += take_piece(desk, sha256, data).whole
        except Refusal as why:
            values = {"why": " ".join(why.lines)}
            bad.append(say(Message("card_file.taken_in.photo", values)))
    return replace(done, photos=kept, bad=tuple(bad))


def _doors(events: Sequence[Any]) -> tuple[tuple[str, str], ...]:
    """Of what doorways a file tells, as far as it can be read."""
    tables = [cast("Mapping[str, object]", e) for e in events if isinstance(e, dict)]
    named = [(one.get("site"), one.get("doorway")) for one in tables]
    return tuple(
        dict.fromkeys(
            (site, door)
            for site, door in named
            if isinstance(site, str) and isinstance(door, str)
        )
    )


def _photo(one: object) -> tuple[str, bytes]:
    table = cast("Mapping[str, object]", one if isinstance(one, dict) else {})
    sha256, file = table.get("sha256"), table.get("file")
    if isinstance(sha256, str) and isinstance(file, str):
        try:
            return sha256, b64decode(file, validate=True)
        except NotBase64:
            pass
    raise Refusal([say(Message("card_file.refused.photo"))])


def _no_card(name: str) -> Refusal:
    return Refusal([say(Message("card_file.refused.no_card", {"file": name}))])
