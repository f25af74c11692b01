"""Where bundles of walks lie in a field: never further out than any of them."""

from math import pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limen.physics.in_time_field import Field, Lines, noticed, stretches

seeds = st.integers(0, 2**32 - 1)


def jagged(rng: np.random.Generator) -> Field:
    """A field of any shape that some point of it sees whole."""
    count = int(rng.integers(5, 60))
    turns = np.arange(count) * 2 * pi / count
    reach = rng.uniform(0.3, 3.0, count)
    middle = np.array([rng.uniform(-1, 1), rng.uniform(0.5, 2.5)])
    corners = middle + reach[:, None] * np.stack([np.cos(turns), np.sin(turns)], 1)
    lens = rng.uniform(-0.5, 0.5), rng.uniform(0.0, 0.4), rng.uniform(0.5, 2.0)
    return Field(corners, lens, rng.uniform(0.0, 0.3), rng.uniform(0.0, 0.3))


def bundles(rng: np.random.Generator, count: int) -> Lines:
    return Lines(
        rng.uniform(-1.3, 1.3, count),
        rng.uniform(-0.5, 0.5, count),
        10 ** rng.uniform(-4, -0.8, count),
        10 ** rng.uniform(-4, -1, count),
    )


def of(
    field: Field, lines: Lines, slow: float, fast: float, start: float
) -> np.ndarray:
    least, most = (np.full(len(lines.heading), v) for v in (slow, fast))
    return noticed(field, stretches(field, lines), least, most, start)


@settings(max_examples=60)
@given(seeds, st.floats(0.4, 2.0), st.floats(0.0, 0.5), st.floats(1.0, 6.0))
def test_a_bundle_is_noticed_no_sooner_than_any_walk_in_it(
    seed: int, slow: float, more: float, start: float
) -> None:
    rng = np.random.default_rng(seed)
    field, lines = jagged(rng), bundles(rng, 40)
    together = of(field, lines, slow, slow + more, start)
    for _ in range(10):
        one, two, three = (rng.uniform(-1, 1, 40) for _ in range(3))
        alone = Lines(
            lines.heading + one * lines.turn,
            lines.target + two * lines.shift,
            np.zeros(40),
            np.zeros(40),
        )
        speed = slow + more * (three + 1) / 2
        least = noticed(field, stretches(field, alone), speed, speed, start)
        assert (together <= least + 1e-9).all()


@settings(max_examples=40)
@given(seeds, st.floats(0.4, 2.0))
def test_a_walk_is_noticed_where_looking_step_by_step_finds_it(
    seed: int, speed: float
) -> None:
    rng = np.random.default_rng(seed)
    field = jagged(rng)
    lines = bundles(rng, 10).middles()
    found = of(field, lines, speed, speed, np.inf)
    for heading, target, way in zip(lines.heading, lines.target, found, strict=True):
        by_steps = _looked(field, heading, target, speed)
        close = by_steps == way == -np.inf or abs(by_steps - way) < 0.01
        # A stretch that is just as long as the response may be seen either way.
        assert close or _just_as_long(field, (heading, target), speed, way, by_steps)


def _looked(field: Field, heading: float, target: float, speed: float) -> float:
    step = 0.002
    left = np.arange(8.0, -8.0, -step)
    seen = _inside(field, target + left * np.sin(heading), left * np.cos(heading))
    seen &= _closing(field, heading, target, left) * speed >= field.least_speed
    edges = np.flatnonzero(np.diff(np.concatenate([[0], seen, [0]])))
    for first, last in zip(edges[::2], edges[1::2], strict=True):
        if (last - first) * step >= speed * field.response:
            return float(left[first])
    return -np.inf


def _closing(
    field: Field, heading: float, target: float, left: np.ndarray
) -> np.ndarray:
    x, y, rise = field.lens
    dx, dy = target + left * np.sin(heading) - x, left * np.cos(heading) - y
    far = np.sqrt(dx**2 + dy**2 + rise**2)
    return (dx * np.sin(heading) + dy * np.cos(heading)) / far


def _inside(field: Field, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """By how often a ray to the right crosses the edge."""
    found = np.zeros(len(x), dtype=bool)
    for (ax, ay), (bx, by) in zip(
        field.corners, np.roll(field.corners, -1, axis=0), strict=True
    ):
        across = (ay > y) != (by > y)
        with np.errstate(divide="ignore", invalid="ignore"):
            at = ax + (y - ay) * (bx - ax) / (by - ay)
        found ^= across & (x < at)
    return found


def _just_as_long(
    field: Field, line: tuple[float, float], speed: float, *ways: float
) -> bool:
    """Whether some stretch on a walk is within two steps of the response's length."""
    heading, target = (np.array([each]) for each in line)
    inside = stretches(field, Lines(heading, target, np.zeros(1), np.zeros(1)))
    steep = field.least_speed / speed
    below = inside.abreast + steep / np.sqrt(1 - steep**2) * inside.off
    length = inside.top - np.maximum(inside.bottom, below[:, None])
    near = np.abs(length - speed * field.response) < 0.006
    return bool(near.any()) and len(ways) > 0


def test_whoever_never_comes_into_the_field_is_never_noticed() -> None:
    square = np.array([(-1.0, 1.0), (1.0, 1.0), (1.0, 2.0), (-1.0, 2.0)])
    field = Field(square, (0.0, 0.0, 1.0), 0.0, 0.0)
    beside = Lines(np.zeros(1), np.full(1, 1.5), np.zeros(1), np.zeros(1))
    assert of(field, beside, 1.0, 1.0, np.inf)[0] == -np.inf


@pytest.mark.parametrize("start", [1.9, 1.2])
def test_whoever_starts_within_the_field_is_noticed_from_there(start: float) -> None:
    square = np.array([(-1.0, 1.0), (1.0, 1.0), (1.0, 2.0), (-1.0, 2.0)])
    field = Field(square, (0.0, 0.0, 1.0), 0.0, 0.1)
    straight = Lines(np.zeros(1), np.zeros(1), np.zeros(1), np.zeros(1))
    assert of(field, straight, 1.0, 1.0, start)[0] == pytest.approx(start)
