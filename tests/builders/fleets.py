"""Fleets: folders of site files with doorways that all differ."""

import json
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import tomlkit

from builders.doorways import changed
from builders.found import as_found

Table = dict[str, Any]
FOUND = 5
"""One in so many doorways is as found somewhere; the others are as they were built."""
FAULTY = 'name = "Without a width"\n\n[[doorway]]\nid = "main"\nclear_width = 1800\n'
BARE = """
[[doorway]]
id = "{id}"
name = {name}
commissioned = 2018-06-01
clear_width = "{width} mm"
clear_height = "2100 mm"
header = {{ outside = "100 mm", inside = "100 mm" }}
reveal = {{ outside = "0 mm", inside = "0 mm" }}
leaves = {{ kind = "bi-parting", thickness = "40 mm" }}
kept = {{ checked = 2025-01-31 }}
"""


def write_fleet(folder: Path, count: int, *, doors: int = 1, first: int = 0) -> Path:
    """Write doorways into site files, each building in a folder with its own sheets.

    Args:
        folder: where; made if it is not there.
        count: how many doorways.
        doors: of one building.
        first: seed of the first; other seeds are other doorways.
    """
    for number, seed in enumerate(range(first, first + count, doors)):
        last = min(seed + doors, first + count)
        write_site(folder / f"{number // 100:03}", f"site-{number:05}", seed, last)
    return folder


def write_site(folder: Path, name: str, first: int, last: int) -> Path:
    """Write one building with the doorways of these seeds; returns its file."""
    tables: list[Table] = []
    for seed in range(first, last):
        door, sheets = changed(as_found(seed) if seed % FOUND == 0 else as_built(seed))
        for fitting in door["fitting"]:
            fitting["sheet"] = f"unit-{seed}"
        _write(folder / "sheets" / f"unit-{seed}.toml", next(iter(sheets.values())))
        checked = date(2024, 1, 1) + timedelta(days=seed % 1000)
        named = {"id": f"door-{seed}", "name": f"Door {seed}"}
        tables.append({**door, **named, "kept": {"checked": checked}})
    site = folder / f"{name}.toml"
    _write(site, {"name": f"Building {name}", "doorway": tables})
    return site


def write_bare(path: Path, *widths: int, name: str = "Bare") -> Path:
    """Write a building without units, one doorway a width (mm); a study is quick.

    Args:
        path: its file.
        widths: of the doorways.
        name: of the building and of its doorways.
    """
    said = json.dumps(name)
    doors = [
        BARE.format(id=f"door-{number}", name=said, width=width)
        for number, width in enumerate(widths)
    ]
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"name = {said}\n" + "".join(doors), encoding="utf-8")
    return path


def as_built(seed: int) -> Table:
    """A doorway of which most holds, and that no other equals."""
    rng = np.random.default_rng([seed, 78])
    return {
        "clear_width": f"{rng.integers(1500, 2001)} mm",
        "leaves.mass": f"{rng.integers(400, 700) / 10} kg",
        "leaves.sway": f"{rng.integers(0, 4)} mm",
        "motion.closing_time": f"{rng.integers(440, 520) / 100} s",
        "fitting[outside].lens.along": f"{rng.integers(-20, 21)} mm ± 5 mm",
        "fitting[inside].lens.along": f"{rng.integers(-20, 21)} mm ± 5 mm",
    }


def _write(path: Path, table: Table) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(tomlkit.dumps(_plain(table)), encoding="utf-8")


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _plain(one) for key, one in value.items()}
    return [_plain(one) for one in value] if isinstance(value, list | tuple) else value
