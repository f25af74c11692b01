"""Seeded random beams, walls and bodies with no doorway around them.

What a doorway never has and a proof must bear all the same: beams that are points or
lie on each other, long beams, square and very slim bodies, zones that are a line, units
without beams enough, walls that overlap or leave no room.
"""

import numpy as np

from oracles.doorways import Box, Floats, Plan


def random_scatter(seed: int) -> Plan:
    """The plan with this number: the same for ever."""
    rng = np.random.default_rng([20240711, seed])
    w = float(rng.uniform(0.15, 0.7))
    d = w if rng.random() < 0.2 else float(w * rng.uniform(0.1, 1.0))
    half = rng.uniform(0.05, 0.4, 2)
    if rng.random() < 0.15:
        half[int(rng.integers(2))] = 0.0
    segments = _beams(rng, half, w, d)
    units = int(rng.integers(1, 4))
    most = 3 if rng.random() < 0.4 else 1
    return Plan(
        segments=segments,
        group=rng.integers(0, units, len(segments)),
        needed=rng.integers(1, most + 1, units),
        body=(w, d),
        zone=(-float(half[0]), float(half[0]), -float(half[1]), float(half[1])),
        must_meet=_box(rng, half) if rng.random() < 0.4 else (-9.0, 9.0, -9.0, 9.0),
        blocked=tuple(_box(rng, half) for _ in range(int(rng.integers(0, 4)))),
    )


def _beams(rng: np.random.Generator, half: Floats, w: float, d: float) -> Floats:
    """A lattice that nearly suffices or chance places; points, short and long beams."""
    room = half + w
    if rng.random() < 0.6:
        pitch = d * float(rng.uniform(0.5, 1.05))
        axes = [np.arange(-r, r + pitch, pitch) for r in room]
        grid = np.stack(np.meshgrid(axes[0], axes[1]), -1).reshape(-1, 2)
        middle = grid[rng.permutation(len(grid))[:400]]
        middle = middle + rng.normal(0.0, 0.02 * d, middle.shape)
    else:
        middle = rng.uniform(-room, room, (int(rng.integers(1, 120)), 2))
    size = float(rng.choice([0.0, 0.02, 0.1, 1.0]))
    lean = rng.normal(0.0, 1.0, middle.shape) * size * rng.random((len(middle), 1))
    return np.hstack([middle - lean / 2, middle + lean / 2])


def _box(rng: np.random.Generator, half: Floats) -> Box:
    x, y = rng.uniform(-half - 0.2, half + 0.2)
    a, b = rng.uniform(0.01, 0.3, 2)
    return float(x - a), float(x + a), float(y - b), float(y + b)
