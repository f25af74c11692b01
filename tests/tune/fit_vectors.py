"""Readings that the desk and the job card must understand alike.

`python tests/tune/fit_vectors.py` writes tests/shared/fits.json, a few of them; a test
makes a thousand afresh.  Each is a unit of the demo that hangs a little otherwise, read
as at the door: some rows not told, some readings wrong.
"""

import json
import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from math import radians
from pathlib import Path
from typing import Any

import numpy as np

from limen import load_site
from limen.desk.card_pack_fit import fit_of
from limen.model.doorway import Doorway
from limen.model.readings import UnitRead
from limen.physics.readings.expecting import (
    ALONG,
    HEIGHT,
    Taken,
    expected,
    row_slopes,
)
from limen.questions.settled import settle
from limen.tune.fitting_given import KINDS, Given, given
from limen.tune.fitting_unit import Result, shown_by

FILE = Path(__file__).parents[1] / "shared" / "fits.json"
SEED, FEW = 20261126, 24
NOISE = {
    "row line": 0.003,
    "row end": 0.005,
    "spot centre": 0.003,
    "box edge in": 0.004,
}
OFF, OPEN, WRONG = radians(1.2), 0.5, 0.2
"""Beyond the plan (rad); how often a row is not told, in one set of ten; how often one
reading is wrong."""
TIED: tuple[tuple[str, str, str], ...] = (
    (
        "main",
        "inside",
        "line left 709 88, line right 546 92, end left -268, end right -335, "
        "end left -264",
    ),
    (
        "main",
        "outside",
        "line left 95 87, line right 686 89, end left -258, end right -347, "
        "spot left 300 88",
    ),
)
"""Readings of which nobody said the row: they fit in several ways."""
LEFT_OPEN = (
    "vestibule",
    "inside",
    "line left 49 18, line right 297 201, end left -152, end right -165",
)
"""Readings at odds, by which the width of the rows could be anything."""
MISREAD = (0.05, 0.12)


@dataclass(frozen=True)
class Vector:
    """Readings of one unit, and what the desk makes of them."""

    door: str
    fitting: str
    readings: list[dict[str, Any]]
    told: dict[str, Any]


@cache
def doors() -> tuple[Doorway, ...]:
    """The doorways of the demo as corrected, main one first."""
    path = files("limen").joinpath("demo", "alder-quay-corrected.toml")
    return load_site(str(path)).doorway


def units() -> list[tuple[Doorway, str]]:
    """Every unit that throws rows."""
    return [
        (door, one.id)
        for door in doors()
        for one in door.fitting
        if one.unit is not None and one.unit.presence is not None
    ]


def fits() -> dict[str, Any]:
    """What the card is given of each doorway."""
    return {door.id: fit_of(door, settle(door)) for door in doors()}


def vectors(seed: int, count: int) -> Iterator[Vector]:
    """So many of them.

    Args:
        seed: equal seeds, equal vectors.
        count: how many.
    """
    rng = np.random.default_rng(seed)
    every = units()
    for number in range(count):
        door, fitting = every[number % len(every)]
        open_ = OPEN if number % 10 == 9 else 0.0
        yield _vector(rng, door, fitting, open_)


def of_shared() -> Iterator[Vector]:
    """Those that are kept for the card's own test."""
    yield from vectors(SEED, FEW)
    yield from (typed(*one) for one in TIED)


def typed(door: str, fitting: str, short: str) -> Vector:
    """Readings written in short: kind, post or end, from the post, out (mm)."""
    doorway = next(one for one in doors() if one.id == door)
    readings = [_typed(one.split()) for one in short.split(", ")]
    result = shown_by(_given(doorway, fitting, readings))
    return Vector(door, fitting, readings, _told(result))


def _typed(parts: Sequence[str]) -> dict[str, Any]:
    kind, side, far, *out = parts
    name = next(name for name, short in KINDS.items() if short == kind)
    read: dict[str, Any] = {"kind": name, f"from_{side}": f"{far} mm"}
    if kind == "end":
        return {**read, "end": side}
    return {**read, "out": f"{out[0]} mm"}


def _vector(
    rng: np.random.Generator, door: Doorway, fitting: str, open_: float
) -> Vector:
    readings = _read(rng, door, _given(door, fitting, ()))
    for one in readings:
        if rng.random() < open_:
            one.pop("row", None)
    result = shown_by(_given(door, fitting, readings))
    return Vector(door.id, fitting, readings, _told(result))


def _given(door: Doorway, fitting: str, readings: Sequence[Mapping[str, Any]]) -> Given:
    one = next(one for one in door.fitting if one.id == fitting)
    assert one.unit is not None
    read = UnitRead.model_validate_json(
        json.dumps({"fitting": fitting, "reading": list(readings)})
    )
    return given(door, settle(door), one, one.unit, read)


def _read(rng: np.random.Generator, door: Doorway, plan: Given) -> list[dict[str, Any]]:
    """What is read at the door of a unit that hangs a little otherwise."""
    known = plan.known[0]
    pose = known.begin()
    pose[:3] += rng.uniform(-OFF, OFF, 3)
    pose[3:6] += rng.uniform(-0.004, 0.004, 3)
    kinds = ["row line", "row line", "row end", "row end"]
    more = rng.integers(-2, 4)
    extra = [*NOISE][: 4 if known.curtain.low is not None else 3]
    kinds = kinds[: 4 + min(more, 0)]
    kinds += [str(rng.choice(extra)) for _ in range(max(more, 0))]
    half = door.clear_width.value / 2
    made = [_one(rng, plan, pose, kind, n, half) for n, kind in enumerate(kinds)]
    if rng.random() < WRONG:
        _misread(rng, made[int(rng.integers(len(made)))], half)
    return made


def _one(
    rng: np.random.Generator,
    plan: Given,
    pose: Any,
    kind: str,
    number: int,
    half: float,
) -> dict[str, Any]:
    curtain = plan.known[0].curtain
    row = int(rng.choice(curtain.rows_on))
    end = ("left", "right")[number % 2]
    at = pose[ALONG] + pose[HEIGHT] * row_slopes(curtain, pose, row)[:, 0]
    near = float(at.min() if end == "left" else at.max())
    x = float(pose[ALONG] + (near - pose[ALONG]) * rng.uniform(0.2, 0.8))
    spot = int(rng.integers(len(curtain.fans[row])))
    short = KINDS[kind]
    box = 0.3 if short == "in" else 0.0
    last = 0 if end == "left" else -1
    which = last if short == "end" else spot
    ask = Taken(number, short, x, 0.0, 0.0, 0.0, row, which, box)
    found = [float(v) for v in expected(curtain, pose, [ask])]
    found = [v + float(rng.normal(0, NOISE[kind] / 2)) for v in found]
    along = found[0] if short in ("spot", "end") else x
    read: dict[str, Any] = {"kind": kind, **_from(along, half)}
    if short != "end":
        read["out"] = _mm(plan.way * found[-1] - plan.face)
    if short == "end":
        read["end"] = end
    if short == "in":
        read["height"] = "300 mm"
    else:
        read["row"] = row + 1
    return read


def _from(along: float, half: float) -> dict[str, str]:
    if along > 0:
        return {"from_right": _mm(half - along)}
    return {"from_left": _mm(along + half)}


def _misread(rng: np.random.Generator, one: dict[str, Any], half: float) -> None:
    del half
    by = float(rng.uniform(*MISREAD)) * (1 if rng.random() < 0.5 else -1)
    key = "out" if "out" in one else next(k for k in one if k.startswith("from"))
    was = float(one[key].removesuffix(" mm")) / 1000
    one[key] = _mm(max(was + by, 0.001) if key == "out" else was + by)


def _mm(metres: float) -> str:
    return f"{round(metres * 1000)} mm"


def _told(result: Result) -> dict[str, Any]:
    pinned = result.pinned
    pose = None
    if pinned is not None:
        pose = [float(v) for v in pinned.explained.hanging.pose]
    if result.missing:
        outcome = "too few"
    elif result.at_odds:
        outcome = "at odds"
    else:
        outcome = "tied" if result.ways else "fitted"
    return {"outcome": outcome, "pose": pose, "wrong": list(result.wrong)}


def written(found: Sequence[Vector]) -> dict[str, Any]:
    """As the card's own test reads them."""
    return {
        "fits": fits(),
        "vectors": [
            {
                "door": one.door,
                "fitting": one.fitting,
                "readings": one.readings,
                "told": one.told,
            }
            for one in found
        ],
    }


if __name__ == "__main__":
    FILE.write_text(
        json.dumps(written(list(of_shared())), ensure_ascii=False) + "\n",
        "utf-8",
    )
    sys.stdout.write(f"{FILE}\n")
