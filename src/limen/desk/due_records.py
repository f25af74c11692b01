"""Sealed records beside site files: what they say of checks, changes and faults."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

from limen.findings import Message
from limen.words import say

if TYPE_CHECKING:
    from limen.desk.verifying import Checked
    from limen.keep.folding import Doubt, Known, Said
    from limen.keep.witnessed import Witness
    from limen.model.keeping import Kept

SHORT = 8
"""Digits by which a record without a number is called."""


@dataclass(frozen=True, slots=True)
class Records:
    """What records say, by site and doorway.

    Attributes:
        told: by name of the site and id of the doorway.
        refused: those that were not used, each with its reason, in words.
    """

    told: "Mapping[tuple[str, str], tuple[Witness, ...]]" = field(
        default_factory=dict[Any, Any]
    )
    refused: tuple[str, ...] = ()

    def known(self, site: str, doorway: str, kept: "Kept", on: date) -> "Known":
        """What a file and its records come to on a day."""
        return folded_with(kept, on, self.told.get((site, doorway), ()))


def folded_with(kept: "Kept", on: date, told: "Sequence[Witness]") -> "Known":
    """What a site file and witnesses come to on a day."""
    from limen.keep.folding import folded

    said: list[Said] = [each for one in told for each in one.said]
    doubts: list[Doubt] = [each for one in told for each in one.doubts]
    return folded(kept, on, said, doubts)


def read_records(paths: Sequence[Path], trust: Sequence[Path] = ()) -> Records:
    """Records from folders and files, each verified before it counts.

    Args:
        paths: folders, or the records.
        trust: files that firms handed out, so that their seals are known.

    Raises:
        Refusal: a folder cannot be listed or holds nothing, or a firm's file is none.
    """
    if not paths:
        return Records()
    from limen.desk.verifying import known_to_user, verify

    told: dict[tuple[str, str], list[Witness]] = {}
    refused, met = list[str](), set[str]()
    for one in verify(paths, known_to_user(tuple(trust))).files:
        digest = one.carried or (one.found.digest if one.found else "")
        if one.state == "unchanged" and digest in met:
            continue  # the same record, as JSON and inside its paper
        found = _witness(one, digest)
        if isinstance(found, str):
            why = Message(f"due.record.{found}")
            values = {"file": one.path.name, "why": why}
            refused.append(say(Message("due.record.not_used", values)))
        elif one.record is not None:
            met.add(digest)
            place = str(one.record.get("site")), str(one.record.get("doorway"))
            told.setdefault(place, []).append(found)
    return Records({at: tuple(each) for at, each in told.items()}, tuple(refused))


def witness_of(
    record: Mapping[str, Any],
    source: Message,
    *,
    sealed: bool = True,
    off: Collection[str] = (),
) -> "Witness":
    """What a record says of a door.

    Args:
        record: what was sealed, or as much of it as a visit gives.
        source: what it is called.
        sealed: whether it was.
        off: ids of defects that were called off since.

    Raises:
        KeyError, TypeError, ValueError: it is no record.
    """
    from limen.keep.witnessed import witnessed

    tests = cast("Sequence[Mapping[str, Any]]", record["tests"])
    return witnessed(record["visit"], tests, source, sealed=sealed, off=off)


def source_of(number: object, digest: str) -> Message:
    """What a record is called: its number, or the beginning of its digest."""
    if isinstance(number, int):
        return Message("due.source.record", {"number": number})
    return Message("due.source.unnumbered", {"digest": digest[:SHORT]})


def _witness(one: "Checked", digest: str) -> "Witness | str":
    """What a file says, or why it is not used."""
    if one.state != "unchanged":
        return one.state
    record = one.record
    if record is None or record.get("kind") != "record":
        return "unusable"
    try:
        return witness_of(record, source_of(record.get("number"), digest))
    except (KeyError, TypeError, ValueError, AttributeError):
        return "unusable"
