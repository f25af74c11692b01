"""Sealed files checked: unchanged or not, by whom, and whether one lacks."""

import re
import zlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal, cast

from limen.desk.key_files import key_folder
from limen.desk.keys import Trusted, trusted
from limen.desk.refusal import Refusal, refusing
from limen.desk.seal_looks import looks_sealed
from limen.findings import Message
from limen.record import Verified, digest_of, verify_bytes
from limen.record.chain import ChainCircularError, chained
from limen.record.paper import is_paper
from limen.record.verifying import LARGEST
from limen.words import say

State = Literal["unchanged", "unknown", "withdrawn", "changed", "unusable"]

ENDINGS = frozenset({".json", ".pdf"})
"""Of the files of a folder that are checked."""

_STREAM = re.compile(rb"/Type\s*/EmbeddedFile\b.{0,600}?stream\r?\n", re.DOTALL)
_MOST_INSIDE = 20_000_000
_MOST_STREAMS = 200
_RECORD = b'{"record":'

Table = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Checked:
    """A file and what its check found.

    Attributes:
        path: the file.
        state: ``unchanged`` and signed by a firm that is known here; ``unknown`` firm;
            ``withdrawn`` device; ``changed``; ``unusable``: no sealed file at all.
        found: what the check found; None where the file cannot be read.
        record: what the record says; of a PDF what the record inside says, if that
            is unchanged too.
        carried: digest of the record inside a PDF; empty if there is none.
        why: why it cannot be read, in words.
    """

    path: Path
    state: State
    found: Verified | None = None
    record: Table | None = None
    carried: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True)
class Hanging:
    """How the records of a doorway that were checked hang together.

    Attributes:
        site, doorway: of what.
        count: how many there are.
        last: digests of those that no other one names.
        missing: digests that are named and not there.
        circular: whether they name each other in a ring.
    """

    site: str
    doorway: str
    count: int
    last: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    circular: bool = False


@dataclass(frozen=True, slots=True)
class Checks:
    """All files that were asked for.

    Attributes:
        files: each with what was found.
        chains: how the records of each doorway hang together.
        whole: whether a folder was asked for, where nothing may lack.
    """

    files: tuple[Checked, ...]
    chains: tuple[Hanging, ...]
    whole: bool

    @property
    def worst(self) -> Literal[0, 1, 2]:
        """0 all unchanged and by somebody known; 1 not so; 2 only unusable ones.

        A record that lacks in a folder counts as not so.
        """
        states = {one.state for one in self.files}
        lacking = self.whole and any(one.missing for one in self.chains)
        circular = any(one.circular for one in self.chains)
        if states & {"changed", "unknown", "withdrawn"} or lacking or circular:
            return 1
        return 2 if "unusable" in states or not states else 0


def verify(paths: Iterable[Path], trusted: Trusted) -> Checks:
    """Check files, or all of a folder.

    Args:
        paths: files and folders.
        trusted: whom the check knows.

    Raises:
        Refusal: a folder cannot be listed, or holds nothing to check.
    """
    asked = tuple(paths)
    files = [each for one in asked for each in _files(one)]
    found = tuple(checked(one, trusted) for one in dict.fromkeys(files))
    folders = any(one.is_dir() for one in asked)
    return Checks(found, tuple(_chains(found)), folders)


def known_to_user(more: tuple[Path, ...] = ()) -> Trusted:
    """Whom this user's folder of keys knows, and further files.

    Args:
        more: files that firms handed out, public keys or withdrawals.

    Raises:
        Refusal: a file is neither, or something cannot be read.
    """
    try:
        folder = key_folder()
    except Refusal:
        folder = None  # nothing says where a user's data belongs: nobody is known
    return trusted(folder, more)


def as_table(checks: Checks) -> dict[str, object]:
    """What was found, for programs."""
    return {
        "schema": 1,
        "files": [_file_table(one) for one in checks.files],
        "chains": [
            {
                "site": one.site,
                "doorway": one.doorway,
                "records": one.count,
                "last": list(one.last),
                "missing": list(one.missing),
                "circular": one.circular,
            }
            for one in checks.chains
        ],
    }


def _file_table(one: Checked) -> dict[str, object]:
    found, record = one.found, one.record or {}
    signer = found.signer if found else None
    return {
        "file": str(one.path),
        "state": one.state,
        "unchanged": bool(found and found.unchanged),
        "where": found.where if found else "",
        "why": one.why,
        "digest": found.digest if found else "",
        "carried": one.carried,
        "signer": signer
        and {
            "device": signer.device,
            "firm": signer.firm,
            "key": signer.key,
            "firm_key": signer.firm_key,
            "known": signer.known,
            "withdrawn": signer.withdrawn and signer.withdrawn.isoformat(),
        },
        **{key: record.get(key) for key in ("site", "doorway", "number", "claimed")},
    }


def check_bytes(data: bytes, trusted: Trusted) -> tuple[Verified, State]:
    """Whether bytes are what was sealed, and by whom.  Never raises."""
    found = verify_bytes(data, firms=trusted.firms, withdrawn=trusted.withdrawn)
    if not found.unchanged or found.signer is None:
        unusable = found.where == "size" or not looks_sealed(data)
        return found, "unusable" if unusable else "changed"
    if found.signer.withdrawn:
        return found, "withdrawn"
    return found, "unchanged" if found.signer.known else "unknown"


def _files(path: Path) -> list[Path]:
    if not path.is_dir():
        return [path]
    with refusing():
        found = sorted(one for one in path.iterdir() if one.suffix.lower() in ENDINGS)
    if not found:
        raise Refusal([say(Message("record.verify.empty", {"folder": str(path)}))])
    return found


def checked(path: Path, trusted: Trusted) -> Checked:
    """Check one file, a sealed text or a sealed PDF; what is unusable says why.

    Args:
        path: the file.
        trusted: whom the check knows.
    """
    try:
        with refusing(), path.open("rb") as file:
            data = file.read(LARGEST + 1)
    except Refusal as refusal:
        return Checked(path, "unusable", why=" ".join(refusal.lines))
    found, state = check_bytes(data, trusted)
    record: Table | None = found.record
    carried = ""
    if found.unchanged and is_paper(data):
        inside = record_inside(data)
        if inside is not None:
            carried, record = digest_of(inside), verify_bytes(inside).record
    return Checked(path, state, found, record, carried)


# Inside a PDF --------------------------------------------------------------------


def record_inside(paper: bytes) -> bytes | None:
    """The sealed record that travels inside a PDF, as it was sealed; None if none does.

    Args:
        paper: a PDF whose own seal was checked.
    """
    for data in _embedded(paper):
        if data.startswith(_RECORD) and verify_bytes(data).unchanged:
            return data
    return None


def _embedded(paper: bytes) -> Iterator[bytes]:
    """What files travel inside, unpacked."""
    for count, found in enumerate(_STREAM.finditer(paper)):
        if count >= _MOST_STREAMS:
            return
        rest = paper[found.end() : found.end() + _MOST_INSIDE]
        if b"/FlateDecode" not in found[0]:
            yield rest[: rest.find(b"endstream")].rstrip(b"\r\n")
            continue
        try:
            yield zlib.decompressobj().decompress(rest, _MOST_INSIDE)
        except zlib.error:
            continue


# Hanging together ----------------------------------------------------------------


def _chains(checked: Sequence[Checked]) -> Iterator[Hanging]:
    """The records of each doorway; what is changed is none."""
    by_door: dict[tuple[str, str], dict[str, tuple[str, ...]]] = {}
    for one in checked:
        if one.record is None or one.record.get("kind") != "record":
            continue
        door = str(one.record.get("site", "")), str(one.record.get("doorway", ""))
        digest = one.carried or (one.found.digest if one.found else "")
        by_door.setdefault(door, {})[digest] = _parents(one.record)
    for (site, doorway), parents in by_door.items():
        yield _hanging(site, doorway, parents)


def _parents(record: Table) -> tuple[str, ...]:
    named = record.get("parents", ())
    listed = cast("list[object]", named) if isinstance(named, list) else []
    return tuple(one for one in listed if isinstance(one, str))


def _hanging(
    site: str, doorway: str, parents: Mapping[str, tuple[str, ...]]
) -> Hanging:
    try:
        chain = chained(parents)
    except ChainCircularError:
        return Hanging(site, doorway, len(parents), circular=True)
    return Hanging(site, doorway, len(parents), chain.heads, chain.missing)
