"""Seeded random coverage questions, and lattices of vertical beams."""

from typing import Any

import numpy as np

from limen.physics.coverage import Problem

Arguments = tuple[np.ndarray, tuple[float, ...], tuple[float, float], dict[str, Any]]


def lattice(pitch: float, reach: float = 1.0) -> np.ndarray:
    """Vertical beams on a square lattice of floor spots, one of them at the origin."""
    steps = np.arange(-int(reach / pitch) - 1, int(reach / pitch) + 2) * pitch
    x, y = (each.ravel() for each in np.meshgrid(steps, steps))
    return np.column_stack([x, y, x, y])


def row(pitch: float, reach: float = 1.0) -> np.ndarray:
    """Vertical beams on the x axis, one of them at the origin."""
    x = np.arange(-int(reach / pitch) - 1, int(reach / pitch) + 2) * pitch
    return np.column_stack([x, 0 * x, x, 0 * x])


def doorway(seed: int, *, errors: bool = False, small: bool = False) -> Arguments:
    """Two units over a leaf path, each a fan of rows: the arguments of `prove`."""
    rng = np.random.default_rng(seed)
    width = rng.uniform(0.4, 0.8) if small else rng.uniform(0.9, 3.0)
    rows, spots = (
        rng.integers(1, 5),
        rng.integers(4, 12) if small else rng.integers(8, 41),
    )
    lens, first, step = (
        rng.uniform(2.0, 3.0),
        rng.uniform(0.04, 0.12),
        rng.uniform(0.05, 0.25),
    )
    fan, low = width / 2 + rng.uniform(-0.05, 0.3), rng.uniform(0.0, 0.03)
    top, body = [(0.7, (0.3, 0.2)), (0.2, (0.7, 0.3)), (0.3, (0.7, 0.2))][
        rng.integers(3)
    ]
    x, y = (
        a.ravel() for a in np.meshgrid(np.linspace(-fan, fan, spots), np.arange(rows))
    )
    y = first + y * step
    one = np.column_stack(
        [
            x * (1 - low / lens),
            y * (1 - low / lens),
            x * (1 - top / lens),
            y * (1 - top / lens),
        ]
    )
    segments = np.vstack([one, -one])
    reach = float(np.hypot(*body)) / 2
    options: dict[str, Any] = {
        "group": np.repeat([0, 1], len(one)),
        "needed": int(rng.integers(1, 3)),
        "must_meet": (-width / 2, width / 2, -0.025, 0.025),
    }
    if rng.random() < 0.5:
        options["blocked"] = [
            (-width / 2 - 1, -width / 2, -0.1, 0.1),
            (width / 2, width / 2 + 1, -0.1, 0.1),
        ]
    if errors:
        options["tolerance"] = rng.uniform(0, 0.004, (len(segments), 2))
        options["common"] = rng.uniform(0.005, 0.01, (2, 2))
    zone = (-width / 2, width / 2, -0.025 - reach, 0.025 + reach)
    return segments, zone, body, options


def problem(seed: int, *, errors: bool = False, small: bool = False) -> Problem:
    segments, zone, body, options = doorway(seed, errors=errors, small=small)
    return Problem.build(segments, zone, body, **options)


def poses(
    asked: Problem, count: int, rng: np.random.Generator
) -> list[tuple[float, float, float]]:
    """Random poses in the zone, not all of them admissible or asked."""
    low, high = asked.zone[0::2], asked.zone[1::2]
    places = rng.uniform(low, high, (count, 2))
    turns = rng.uniform(-np.pi, np.pi, count)
    return [
        (float(x), float(y), float(a)) for (x, y), a in zip(places, turns, strict=True)
    ]
