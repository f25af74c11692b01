"""Cells of walks: however they are parted, every walk that fits lies in one."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from limen.physics.in_time import Approach, fits
from limen.physics.in_time_cells import Cover, first_cover, refined
from limen.physics.in_time_edges import Array
from oracles.walks import a_door
from physics.crossings import approach_of

seeds = st.integers(0, 2**32 - 1)
PLAY = 1e-9  # m, rad


def parted(approach: Approach, rng: np.random.Generator, times: int) -> Cover:
    """A cover, some of its cells parted at random."""
    cover = first_cover(approach)
    for _ in range(times):
        chosen, deep = (rng.random(len(cover)) < p for p in (0.3, 0.5))
        cover = refined(approach, cover, chosen, deep)
    return cover


def some(approach: Approach, rng: np.random.Generator, count: int) -> Array:
    """Walks that fit: heading, target, and a place on the way through each."""
    heading = rng.uniform(*approach.headings, count)
    target = rng.uniform(*approach.targets, count)
    y = rng.uniform(-1.0, 1.0, count) * approach.walker.ahead
    return np.stack([heading, target, y])[:, fits(approach, heading, target)]


@settings(max_examples=15)
@given(seeds, st.integers(0, 4))
def test_every_walk_that_fits_lies_in_a_cell_at_every_place(
    seed: int, times: int
) -> None:
    rng = np.random.default_rng(seed)
    approach = approach_of(a_door(rng))
    cover = parted(approach, rng, times)
    lines, cells = cover.bundles.lines, cover.cells
    heading, target, y = (each[:, None] for each in some(approach, rng, 200))
    of = cells.of
    inside = np.abs(heading - lines.heading[of]) <= lines.turn[of] + PLAY
    inside &= np.abs(target - lines.target[of]) <= lines.shift[of] + PLAY
    inside &= np.abs(y - cells.y) <= cells.deep + PLAY
    assert inside.any(axis=1).all()


@settings(max_examples=15)
@given(seeds)
def test_a_sample_fits_and_is_of_its_bundle(seed: int) -> None:
    rng = np.random.default_rng(seed)
    approach = approach_of(a_door(rng))
    bundles = parted(approach, rng, 3).bundles
    lines = bundles.lines
    for target in bundles.samples:
        fit = fits(approach, lines.heading, target)
        assert fit[bundles.fit].all()
        assert (np.abs(target - lines.target) <= lines.shift + 2 * PLAY).all()


@settings(max_examples=15)
@given(seeds)
def test_no_sample_needs_the_way_free_later_than_its_cell_allows(seed: int) -> None:
    rng = np.random.default_rng(seed)
    approach = approach_of(a_door(rng))
    cells = parted(approach, rng, 3).cells
    assert (cells.need[1:] <= cells.need[0] + PLAY).all()
    assert (cells.left[1:] <= cells.left[0] + PLAY).all()
