"""Answers of the two-minute survey: as typed, judged one by one, and kept.

An answer is a text.  It is judged by the reader of site files itself, so that the
survey accepts what a file may hold and nothing else.
"""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from os import PathLike, fspath
from pathlib import Path
from typing import cast

import tomlkit

from limen.quantity import Grade
from limen.store.editing import digest, save
from limen.store.faults import Fault, FileFaults, printable
from limen.store.reading import read_document, read_text
from limen.store.short import HANDS, NOT_KNOWN, SIDES, Written
from limen.store.syntax import read_toml

Answers = Mapping[str, str]
"""What was typed, by the key of the question; `UNKNOWN` where it is not known."""

UNKNOWN = "-"
DOOR_ID = "main"
LONGEST_NAME = 200

SITE_KEYS = ("site", "rulebook")
DOOR_KEYS = (
    "door",
    "commissioned",
    "edition",
    "leaves",
    "clear_width",
    "lens_height",
    *(f"{what}_{side}" for side in SIDES for what in ("unit", "plumb")),
    "opening_runs",
    "closing_runs",
    *(f"behind_{hand}" for hand in HANDS),
    "escape_route",
    "many_frail_or_small",
)
"""Keys of the answers, in the order in which they stand in the file."""

_NAMES = {"site": "name", "door": "name"}
"""Answers whose key in the file is another one."""

_WORDS: Mapping[str, Mapping[str, object]] = {
    "yes_no": {"y": True, "yes": True, "n": False, "no": False},
    "leaves": {
        "2": "bi-parting",
        "two": "bi-parting",
        "left": "single left",
        "l": "single left",
        "right": "single right",
        "r": "single right",
    },
}
_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_BETWEEN = re.compile(r";|,(?=\s)|\s+and\s+")


# From what was typed to what stands in a file ---------------------------------------


def value_of(key: str, typed: str) -> object:
    """What stands in the file for an answer; None where it is not known.

    Args:
        key: of the answer.
        typed: the answer, not empty.
    """
    if typed == UNKNOWN:
        return NOT_KNOWN if key.startswith("unit_") else None
    return _READERS.get(key, str)(typed)


def _yes_or_no(typed: str) -> object:
    return _WORDS["yes_no"].get(typed.lower(), typed)


def _leaves(typed: str) -> object:
    return _WORDS["leaves"].get(typed.lower(), typed)


def _runs(typed: str) -> object:
    """Several figures; the last one's unit counts for bare ones before it."""
    parts = [part.strip() for part in _BETWEEN.split(typed) if part.strip()]
    if len(parts) == 1:
        parts = _spaced(parts[0])
    last = parts[-1] if parts else ""
    unit = _NUMBER.sub("", last, count=1).strip()
    return [f"{part} {unit}" if _NUMBER.fullmatch(part) else part for part in parts]


def _spaced(typed: str) -> list[str]:
    """`2.5 2.6 2.4 s`: three figures before one unit."""
    *numbers, unit = typed.split()
    if len(numbers) > 1 and all(_NUMBER.fullmatch(one) for one in numbers):
        return [f"{one} {unit}" for one in numbers]
    return [typed]


def _behind(typed: str) -> object:
    """`220 mm, 80 mm`: clearance and depth; either may be not known."""
    parts = [part.strip() for part in _BETWEEN.split(typed) if part.strip()]
    pairs = zip(("clearance", "depth"), parts, strict=False)
    return {key: part for key, part in pairs if part != UNKNOWN}


def _day(typed: str) -> object:
    """The day as TOML has it, without quotes; else the text, to be refused."""
    is_day = re.fullmatch(r"\d{4}-\d\d-\d\d", typed)
    found = read_toml(f"day = {typed}\n") if is_day else None
    data = found.data if found is not None and not found.faults else None
    return typed if data is None else data["day"]


_READERS: Mapping[str, Callable[[str], object]] = {
    "commissioned": _day,
    "leaves": _leaves,
    "opening_runs": _runs,
    "closing_runs": _runs,
    "behind_left": _behind,
    "behind_right": _behind,
    "escape_route": _yes_or_no,
    "many_frail_or_small": _yes_or_no,
}


# Judging ---------------------------------------------------------------------------


def faults_of(key: str, typed: str) -> tuple[Fault, ...]:
    """What the reader of site files has against one answer; empty if nothing.

    Args:
        key: of the answer.
        typed: the answer, not empty.
    """
    if _wrong_count(key, typed):
        why = "two figures are asked for, with a comma and a space between them"
        return (Fault(key, None, typed, why, "", "220 mm, 80 mm"),)
    try:
        text = short_text(_AROUND | _fitting_leaf(key) | {key: typed})
        read_document(text, Written, name=key, context={"grade": Grade.MEASURED})
    except FileFaults as faults:
        return faults.faults
    return ()


def _wrong_count(key: str, typed: str) -> bool:
    parts = [part for part in _BETWEEN.split(typed) if part.strip()]
    return key.startswith("behind_") and typed != UNKNOWN and len(parts) != len(HANDS)


_AROUND = {"site": "A", "door": "A", "leaves": "2", "clear_width": "1800 mm"}
"""Answers without fault, so that only the one judged can be at fault."""


def _fitting_leaf(key: str) -> dict[str, str]:
    hand = next((hand for hand in HANDS if key == f"behind_{hand}"), None)
    return {} if hand is None else {"leaves": hand}


# The file --------------------------------------------------------------------------


def short_text(answers: Answers, begun: Iterable[str] = ()) -> str:
    """The text of a site file with one doorway in short.

    Args:
        answers: as typed; what was not asked is left out.
        begun: comments to begin with, a line each.
    """
    lines = [f"# {line}" for line in begun]
    lines += [line for key in SITE_KEYS for line in _lines(key, answers)]
    lines += ["", "[[short]]", f'id = "{DOOR_ID}"']
    lines += [line for key in DOOR_KEYS for line in _lines(key, answers)]
    return "\n".join(lines) + "\n"


def _lines(key: str, answers: Answers) -> list[str]:
    if key not in answers:
        return []
    name, value = _NAMES.get(key, key), value_of(key, answers[key])
    if value is None:
        return [f"# {name}: not known"]
    return [f"{name} = {_toml(value)}"]


def _toml(value: object) -> str:
    if isinstance(value, dict):
        pairs = cast("Mapping[str, object]", value).items()
        inner = ", ".join(f"{key} = {_toml(one)}" for key, one in pairs)
        return f"{{ {inner} }}" if inner else "{}"
    return tomlkit.item(value).as_string()


# Kept --------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Kept:
    """Answers that lie on the disk until all are given.

    Attributes:
        answers: as typed.
        digest: of the file; None if there is none.
    """

    answers: Answers
    digest: str | None


def part_of(path: str | PathLike[str]) -> Path:
    """Where the answers for a file lie until it can be written."""
    return Path(f"{fspath(path)}.part")


def kept(path: str | PathLike[str]) -> Kept:
    """The answers that were kept for a file.

    Args:
        path: the site file that is to come.

    Raises:
        FileFaults: there are some, and they cannot be read.
    """
    part = part_of(path)
    if not part.exists():
        return Kept({}, None)
    text = read_text(part)
    toml = read_toml(text)
    if toml.data is None or toml.faults:
        raise FileFaults(str(part), toml.faults)
    known = {*SITE_KEYS, *DOOR_KEYS}
    answers = {
        key: typed
        for key, typed in toml.data.items()
        if key in known and isinstance(typed, str) and typed
    }
    return Kept(answers, digest(text))


def keep(path: str | PathLike[str], answers: Answers, before: Kept) -> Kept:
    """Keep the answers so far, whole or not at all.

    Args:
        path: the site file that is to come.
        answers: all so far.
        before: what was kept before.

    Raises:
        ChangedOnDiskError: somebody else has kept other answers meanwhile.
        FileFaults: the folder cannot be written to.
    """
    name = printable(fspath(path), LONGEST_NAME)
    lines = [f"# Answers so far; to go on: limen new --ask {name}"]
    lines += [f"{key} = {_toml(typed)}" for key, typed in answers.items()]
    text = "\n".join(lines) + "\n"
    save(part_of(path), text, expected=before.digest)
    return Kept(dict(answers), digest(text))
