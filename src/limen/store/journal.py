"""A journal: lines that are added and never changed, each checked by itself.

A line is a digest, a key and what is kept under it.  Whoever writes may be killed at
any moment: what was handed over is on the disk, and a line that was cut is none.
"""

import os
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import BinaryIO

_DIGEST = 32
"""Letters of SHA-256 before each line: against cuts and slips, not against malice."""


class JournalHeldError(Exception):
    """Another run writes into this journal."""


@dataclass(frozen=True, slots=True)
class Journal:
    """A journal that is open.

    Attributes:
        path: its file.
        file: the file, open to read and to add.
        places: by key, where its last line begins and how long it is.
        broken: lines that were passed over because their digest was another.
    """

    path: Path
    file: BinaryIO
    places: dict[str, tuple[int, int]] = field(
        default_factory=dict[str, tuple[int, int]]
    )
    broken: list[int] = field(default_factory=list[int])

    def __contains__(self, key: str) -> bool:
        """Whether something is kept under a key."""
        return key in self.places

    def add(self, kept: Iterable[tuple[str, str]]) -> None:
        """Add lines; when this returns they are on the disk.

        Args:
            kept: keys without blanks, and one line of text for each.
        """
        at = self.file.seek(0, os.SEEK_END)
        for key, said in kept:
            line = _line(key, said)
            self.file.write(line)
            self.places[key] = (at, len(line))
            at += len(line)
        self.file.flush()
        os.fsync(self.file.fileno())

    def said(self, key: str) -> str:
        """What is kept under a key.

        Raises:
            KeyError: nothing is.
        """
        at, length = self.places[key]
        self.file.seek(at)
        found = _read(self.file.read(length))
        if found is None or found[0] != key:
            raise KeyError(key)
        return found[1]

    def close(self) -> None:
        """Give the file back."""
        self.file.close()


def open_journal(path: Path) -> Journal:
    """Open a journal, or begin one; a line that was cut at its end is taken off.

    Args:
        path: its file.

    Raises:
        JournalHeldError: another run writes into it.
        OSError: it cannot be read or written.
    """
    file = path.open("a+b")
    try:
        _hold(file)
        journal = Journal(path, file)
        end = _index(journal)
        file.truncate(end)
    except BaseException:
        file.close()
        raise
    return journal


def keep_only(journal: Journal, keys: Iterable[str]) -> None:
    """Close a journal, and leave nothing in it but what is kept under these keys.

    Args:
        journal: open; it is closed whatever happens.
        keys: those that stay, each of them kept there.
    """
    fresh = journal.path.with_suffix(".new")
    fresh.unlink(missing_ok=True)
    try:
        made = open_journal(fresh)
        try:
            made.add((key, journal.said(key)) for key in keys)
        finally:
            made.close()
    finally:
        journal.close()
    fresh.replace(journal.path)


def _index(journal: Journal) -> int:
    """Find every line; returns where the last whole one ends."""
    at = end = 0
    for line in _lines(journal.file):
        found = _read(line)
        if found is not None:
            journal.places[found[0]] = (at, len(line))
        elif line.endswith(b"\n"):
            journal.broken.append(at)
        at += len(line)
        if line.endswith(b"\n"):
            end = at
    return end


def _lines(file: BinaryIO) -> Iterator[bytes]:
    file.seek(0)
    yield from file


def _line(key: str, said: str) -> bytes:
    body = f"{key} {said}\n".encode()
    return _digest(body) + b" " + body


def _read(line: bytes) -> tuple[str, str] | None:
    """Key and text of a line; None if it is not whole."""
    digest, _, body = line.partition(b" ")
    if not body.endswith(b"\n") or digest != _digest(body):
        return None
    key, _, said = body.decode("utf-8").rstrip("\n").partition(" ")
    return key, said


def _digest(body: bytes) -> bytes:
    return sha256(body).hexdigest()[:_DIGEST].encode()


def _hold(file: BinaryIO) -> None:
    """Keep others out for as long as the file is open, where the system can."""
    try:
        import fcntl
    except ImportError:
        return
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        raise JournalHeldError(file.name) from None
