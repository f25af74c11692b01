"""Call-out files in: what is known of a door that misbehaves, and what was answered."""

import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from limen.keep.causes import NEITHER, UNKNOWN, Causes
from limen.keep.tracing import STRUCK, SYMPTOM
from limen.model.called_out import CalledOut
from limen.store.explaining import key_text
from limen.store.faults import Fault, FileFaults, printable
from limen.store.reading import read_document, read_text
from limen.store.syntax import read_toml
from limen.store.tomllines import Path as KeyPath
from limen.store.tomllines import locate


@dataclass(frozen=True, slots=True)
class CallFile:
    """A call-out file as it was read.

    Attributes:
        path: the file.
        called: what it says.
    """

    path: Path
    called: CalledOut

    @property
    def site(self) -> Path | None:
        """The site file that it names, from where the call-out file lies."""
        named = self.called.site
        return None if named is None else self.path.parent / named


def read_call(path: str | os.PathLike[str], causes: Causes) -> CallFile:
    """Read a call-out file.

    Args:
        path: the file.
        causes: whose questions it answers.

    Raises:
        FileFaults: everything that is wrong with it.
    """
    name, text = os.fspath(path), read_text(path)
    called = read_document(text, CalledOut, name=name)
    faults = list(_faults(called, causes, text))
    if faults:
        raise FileFaults(name, faults)
    return CallFile(Path(path), called)


def _faults(called: CalledOut, causes: Causes, text: str) -> Iterator[Fault]:
    data, lines = read_toml(text).data, locate(text)
    if called.doorway is not None and called.site is None:
        yield _fault(
            ("doorway",), called.doorway, "no site is named", 'site = "…"', data, lines
        )
    for question, answer in called.answers.items():
        asking = causes.by_id.get(question)
        accepted = [*asking.usual, UNKNOWN, NEITHER] if asking else [*causes.by_id]
        if question == SYMPTOM:
            accepted.append(STRUCK)
        if asking is not None and answer in accepted:
            continue
        why = "there is no such question" if asking is None else "no such answer"
        path: KeyPath = ("answers", question)
        yield _fault(path, answer, why, ", ".join(accepted), data, lines)


def _fault(
    path: KeyPath,
    found: str,
    why: str,
    accepted: str,
    data: object,
    lines: Mapping[KeyPath, int],
) -> Fault:
    said = f'"{printable(found)}"'
    return Fault(key_text(path, data), lines.get(path), said, why, accepted)
