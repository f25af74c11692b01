"""What a study depends on, as a key under which it is kept."""

import json
from functools import cache
from hashlib import sha256
from importlib.metadata import version
from pathlib import Path
from typing import Any

import limen
from limen.model.doorway import Doorway

State = tuple[tuple[str, int, int], ...]


def sheets_state(folder: Path) -> State:
    """Which sheets a folder holds, and weather beside it; when each was written."""
    weather = folder.parent / "weather"
    if not folder.is_dir() and not weather.is_dir():
        return ()
    listed = [*sorted(folder.glob("*.toml")), *sorted(weather.glob("*.*"))]
    return tuple(
        (one.name, (now := one.stat()).st_mtime_ns, now.st_size) for one in listed
    )


def lasting(sheets: Path, values: object) -> str:
    """A digest of what findings rest on beside text and day: sheets, figures, limen.

    Args:
        sheets: the folder of the user's own sheets.
        values: the firm's own figures.
    """
    told = [sheets_state(sheets), version("limen"), _limen(), repr(values)]
    return sha256(json.dumps(told).encode()).hexdigest()


@cache
def _limen() -> int:
    """When any part of limen was last written: rules and questions may have changed."""
    here = Path(limen.__file__).parent
    kinds = (".py", ".toml")
    return max(one.stat().st_mtime_ns for one in here.rglob("*") if one.suffix in kinds)


def doorway_key(raw: dict[str, Any], door: Doorway, sheets: State) -> str:
    """A digest of everything in a site file that a doorway's findings rest on.

    Args:
        raw: the file as TOML gives it.
        door: the doorway.
        sheets: the user's own sheets.
    """
    every = [one for form in ("doorway", "short") for one in raw.get(form, [])]
    met = _chained(every, door.id)
    written = [one for one in every if one.get("id") in met]
    said = json.dumps([door.id, written, sheets], sort_keys=True, default=str)
    return sha256(said.encode()).hexdigest()


def _chained(doors: list[dict[str, Any]], start: str) -> set[str]:
    """The doorways that are told to face or stand beside one another, from one on."""
    told: dict[str, set[str]] = {}
    for door in doors:
        here = door.get("id", "")
        for other in (*door.get("facing", ()), *door.get("beside", ())):
            told.setdefault(here, set()).add(other["doorway"])
            told.setdefault(other["doorway"], set()).add(here)
    found, todo = {start}, [start]
    while todo:
        fresh = told.get(todo.pop(), set()) - found
        found |= fresh
        todo += fresh
    return found
