"""A sealed record out of a file, as JSON or inside its PDF, for all who take one."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NoReturn

from limen.desk.keys import Trusted
from limen.desk.refusal import Refusal
from limen.desk.verifying import Checked, checked
from limen.findings import Message
from limen.record.verifying import LARGEST
from limen.words import say

MEGABYTE = 1_000_000
NOBODY = Trusted()
"""Whoever sealed it: what is asked here is only whether it is unchanged."""


@dataclass(frozen=True, slots=True)
class SealedRecord:
    """A record that is as it was sealed.

    Attributes:
        table: what it says.
        digest: SHA-256 of the record itself, also where its PDF was read.
    """

    table: Mapping[str, Any]
    digest: str


def read_record(path: Path) -> SealedRecord:
    """The record that a file holds.

    Args:
        path: the record as JSON, or the PDF in which it travels.

    Raises:
        Refusal: the file cannot be read, holds no record, or is not what was sealed.
    """
    found = checked(path, NOBODY)
    if found.why or found.found is None:
        raise Refusal([found.why])
    if not found.found.unchanged:
        why = Message(f"verify.says.{found.found.where}", {"most": LARGEST // MEGABYTE})
        _refuse(found.state, path, why=why)
    record = record_of(found)
    if record is None:
        _refuse("kind" if found.record else "nothing_inside", path)
    return record


def record_of(found: Checked) -> SealedRecord | None:
    """The record of a doorway in a file that was checked; None where it holds none."""
    if found.record is None or found.found is None:
        return None
    if found.record.get("kind") != "record":
        return None
    return SealedRecord(found.record, found.carried or found.found.digest)


def _refuse(key: str, path: Path, /, **more: Message) -> NoReturn:
    values: dict[str, str | Message] = {"file": str(path), **more}
    raise Refusal([say(Message(f"record.read.{key}", dict(values)))])
