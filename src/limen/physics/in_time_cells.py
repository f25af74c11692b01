"""Cells of walks, and all of them that no speed changes.

A *bundle* is a range of headings and of targets, a *cell* a bundle on a range of
places on its way through the door.  Where a bundle lies in the fields, and by when
its cells need how much free, is the same at any speed: it is reckoned once and
kept.  Each bundle has two *samples*, walks of its middle heading that fit: the one
furthest to either hand.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from limen.physics.in_time import Approach, Array, Bools
from limen.physics.in_time_edges import Edges, free_at_latest, free_at_soonest
from limen.physics.in_time_field import Lines, Stretches, stretches

FIRST = (12, 1, 1)  # cells at the beginning: headings, targets, places
SMALLEST = 1e-5  # rad, m: walks that close are one walk
PLAY = 1e-9  # m by which a walk that just fits may be too wide
PARTS = 4  # of a cell
AWAY = np.arange(1.0 - PARTS, PARTS, 2.0)  # middles of the parts, in their halves
TURNS = 1.2  # m: what a turn adds to a bound, as a shift of so much a radian would
LINE = np.array([0, 1, 1, 2, 2])
"""Of each row of a cell's needs: the whole bundle, or which of its samples."""

Ints = NDArray[np.intp]
Free = Callable[[Array, Array, Array], Array]


@dataclass(frozen=True, slots=True)
class Bundles:
    """(n,) bundles of walks.

    Attributes:
        lines: the bundles; targets from which no walk fits are left out.
        samples: (2, n) targets of the samples (m).
        fit: (n,) whether a walk of the middle heading fits.
        inside: where they lie in each field: (3, n, k), of the whole bundle and of
            its samples.
    """

    lines: Lines
    samples: Array
    fit: Bools
    inside: tuple[Stretches, ...]


@dataclass(frozen=True, slots=True)
class Cells:
    """(n,) cells, and what they need.

    Attributes:
        of: which bundle.
        y, deep: middle and half of the range of places (m).
        need: (5, n) time after the signal by which enough is free (s): the latest
            for any walk and place of the cell; then the soonest at the near and the
            far end of either sample.  -inf where a sample does not fit.
        left: (5, n) way left then (m), at most for the first.
        cap: the latest for either sample at any place of the cell (s).
    """

    of: Ints
    y: Array
    deep: Array
    need: Array
    left: Array
    cap: Array


@dataclass(frozen=True, slots=True)
class Cover:
    """Cells that together hold every walk that fits, at every place."""

    bundles: Bundles
    cells: Cells

    def __len__(self) -> int:
        return len(self.cells.of)


def first_cover(approach: Approach) -> Cover:
    """A coarse cover.

    Args:
        approach: what decides.
    """
    heading, turn = _parts(approach.headings, FIRST[0])
    target, shift = _parts(approach.targets, FIRST[1])
    one, two = (each.ravel() for each in np.meshgrid(heading, target, indexing="ij"))
    lines = Lines(one, two, np.full_like(one, turn), np.full_like(two, shift))
    bundles = _bundles(approach, _that_fit(approach, lines)[1])
    y, deep = _parts((-approach.walker.ahead, approach.walker.ahead), FIRST[2])
    of, places = (
        np.repeat(np.arange(len(bundles.fit)), len(y)),
        np.tile(y, len(bundles.fit)),
    )
    cells = _cells(approach, bundles, of, places, np.full_like(places, deep))
    return Cover(bundles, cells)


def refined(approach: Approach, cover: Cover, chosen: Bools, deep: Bools) -> Cover:
    """The same with the chosen cells in parts.

    Args:
        approach: what decides.
        cover: the cells.
        chosen: (n,) which are parted.
        deep: (n,) of those, which across their places; the others across heading
            or target.

    Returns:
        The cover; bundles stay, though no cell of them may be left.
    """
    cells, bundles = cover.cells, cover.bundles
    of, y, half = _deeper(cells, chosen & deep)
    if (chosen & ~deep).any():
        more, aside = _narrower(approach, cover, chosen & ~deep)
        bundles = _both(bundles, more)
        of = np.concatenate([of, aside[0]])
        y, half = np.concatenate([y, aside[1]]), np.concatenate([half, aside[2]])
    made = _cells(approach, bundles, of, y, half)
    return Cover(bundles, _joined(cells, ~chosen, made))


def _parts(span: tuple[float, float], wanted: int) -> tuple[Array, float]:
    """Middles of parts of a span, and half of what each is long."""
    low, high = span
    count = wanted if high > low else 1
    half = (high - low) / count / 2
    return low + half * (2.0 * np.arange(count, dtype=np.float64) + 1.0), half


# Bundles --------------------------------------------------------------------------


def _that_fit(approach: Approach, lines: Lines) -> tuple[Bools, Lines]:
    """Which bundles have walks that fit, and those without targets that never do."""
    flattest = np.maximum(np.abs(lines.heading) - lines.turn, 0.0)
    least, most = _room(approach, flattest)
    low = np.maximum(lines.target - lines.shift, least - PLAY)
    high = np.minimum(lines.target + lines.shift, most + PLAY)
    kept = low <= high
    low, high = low[kept], high[kept]
    target, shift = (low + high) / 2, (high - low) / 2
    return kept, Lines(lines.heading[kept], target, lines.turn[kept], shift)


def _room(approach: Approach, heading: Array) -> tuple[Array, Array]:
    """Least and greatest target at which a walk of so steep a heading fits (m)."""
    left, right = approach.edges.full
    sway = approach.walker.ahead * np.abs(np.tan(heading)) + approach.walker.aside
    return left + sway, right - sway


def _bundles(approach: Approach, lines: Lines) -> Bundles:
    least, most = _room(approach, lines.heading)
    low = np.maximum(lines.target - lines.shift, least)
    high = np.minimum(lines.target + lines.shift, most)
    fit = low <= high + PLAY
    samples = np.where(fit, np.stack([low, high]), lines.target)
    none = np.zeros((2, len(lines.heading)))
    three = Lines(
        np.tile(lines.heading, 3),
        np.concatenate([lines.target, *samples]),
        np.concatenate([lines.turn, *none]),
        np.concatenate([lines.shift, *none]),
    )
    shape = 3, len(lines.heading)
    inside = tuple(_shaped(stretches(f, three), shape) for f in approach.fields)
    return Bundles(lines, samples, fit, inside)


def _shaped(one: Stretches, shape: tuple[int, int]) -> Stretches:
    return Stretches(
        one.top.reshape(*shape, one.top.shape[1]),
        one.bottom.reshape(*shape, one.bottom.shape[1]),
        one.abreast.reshape(shape),
        one.off.reshape(shape),
    )


# Cells ----------------------------------------------------------------------------


def _cells(
    approach: Approach, bundles: Bundles, of: Ints, y: Array, deep: Array
) -> Cells:
    lines, aside = bundles.lines, approach.walker.aside
    heading, turn = lines.heading[of], lines.turn[of]
    target, shift = lines.target[of], lines.shift[of]
    ends = np.stack([y - deep, y + deep])
    sways = np.concatenate([np.tan(heading + i * turn) * ends for i in (-1, 1)])
    most, least = target + shift + sways.max(axis=0), target - shift + sways.min(axis=0)
    whole = _by(free_at_latest, approach.edges, most + aside, aside - least)
    x = bundles.samples[:, None, of] + np.tan(heading) * ends
    soon = _by(free_at_soonest, approach.edges, x + aside, aside - x)
    soon = np.where(bundles.fit[of], soon, -np.inf)
    late = _by(
        free_at_latest, approach.edges, x.max(axis=1) + aside, aside - x.min(axis=1)
    )
    way = ends / np.cos(heading)
    return Cells(
        of,
        y,
        deep,
        np.concatenate([whole[None], soon.reshape(4, -1)]),
        np.concatenate([_way_at_most(heading, turn, ends[1])[None], way, way]),
        late.max(axis=0),
    )


def _by(free: Free, edges: Edges, right: Array, left: Array) -> Array:
    """When it is free so far to both hands, of walks that fit."""
    return np.maximum(
        free(edges.times, edges.right, np.minimum(right, edges.right[-1])),
        free(edges.times, edges.left, np.minimum(left, edges.left[-1])),
    )


def _way_at_most(heading: Array, turn: Array, y: Array) -> Array:
    """The longest way left to places of a cell (m): y/cos heading."""
    steepest = np.abs(heading) + turn
    flattest = np.maximum(np.abs(heading) - turn, 0.0)
    return y / np.cos(np.where(y > 0, steepest, flattest))


# Parting --------------------------------------------------------------------------

Placed = tuple[Ints, Array, Array]


def _deeper(cells: Cells, chosen: Bools) -> Placed:
    """Cells in parts across their places: of which bundle, middle, half of each."""
    half = cells.deep[chosen] / PARTS
    y = cells.y[chosen] + AWAY[:, None] * half
    return np.tile(cells.of[chosen], PARTS), y.ravel(), np.tile(half, PARTS)


def _narrower(
    approach: Approach, cover: Cover, chosen: Bools
) -> tuple[Bundles, Placed]:
    """Bundles in parts, across what adds most to a bound; their cells with them."""
    cells, lines = cover.cells, cover.bundles.lines
    parents, parent = _once(cells.of[chosen], len(lines.heading))
    heading, target = lines.heading[parents], lines.target[parents]
    turn, shift = lines.turn[parents], lines.shift[parents]
    turned = turn * TURNS >= shift
    turn = np.where(turned, turn / PARTS, turn)
    shift = np.where(turned, shift, shift / PARTS)
    parts = Lines(
        (heading + AWAY[:, None] * np.where(turned, turn, 0.0)).ravel(),
        (target + AWAY[:, None] * np.where(turned, 0.0, shift)).ravel(),
        np.tile(turn, PARTS),
        np.tile(shift, PARTS),
    )
    kept, parts = _that_fit(approach, parts)
    of = (len(parents) * np.arange(PARTS)[:, None] + parent).ravel()
    there = kept[of]
    new = (np.cumsum(kept) - 1 + len(cover.bundles.fit))[of][there]
    y, half = (np.tile(each[chosen], PARTS)[there] for each in (cells.y, cells.deep))
    return _bundles(approach, parts), (new, y, half)


def _once(of: Ints, count: int) -> tuple[Ints, Ints]:
    """Each bundle that is named, and which of these each name is."""
    named = np.zeros(count, dtype=np.bool_)
    named[of] = True
    return np.flatnonzero(named), (np.cumsum(named) - 1)[of]


# Put together ---------------------------------------------------------------------


def _joined(cells: Cells, kept: Bools, more: Cells) -> Cells:
    """Some of the cells, and more."""
    return Cells(
        np.concatenate([cells.of[kept], more.of]),
        _end_to_end((cells.y[kept], more.y)),
        _end_to_end((cells.deep[kept], more.deep)),
        _end_to_end((cells.need[:, kept], more.need)),
        _end_to_end((cells.left[:, kept], more.left)),
        _end_to_end((cells.cap[kept], more.cap)),
    )


def _both(one: Bundles, two: Bundles) -> Bundles:
    pairs = zip(one.inside, two.inside, strict=True)
    a, b = one.lines, two.lines
    return Bundles(
        Lines(
            _end_to_end((a.heading, b.heading)),
            _end_to_end((a.target, b.target)),
            _end_to_end((a.turn, b.turn)),
            _end_to_end((a.shift, b.shift)),
        ),
        _end_to_end((one.samples, two.samples)),
        np.concatenate([one.fit, two.fit]),
        tuple(_stretches_of(pair) for pair in pairs),
    )


def _stretches_of(parts: Sequence[Stretches]) -> Stretches:
    """Stretches of more bundles, as many for each as for the one that has most."""
    most = max(one.top.shape[2] for one in parts)
    return Stretches(
        np.concatenate([_filled(one.top, most, -np.inf) for one in parts], axis=1),
        np.concatenate([_filled(one.bottom, most, np.inf) for one in parts], axis=1),
        _end_to_end([one.abreast for one in parts]),
        _end_to_end([one.off for one in parts]),
    )


def _filled(one: Array, most: int, what: float) -> Array:
    """With no stretch in the places that are left."""
    filled = np.full((*one.shape[:2], most), what)
    filled[..., : one.shape[2]] = one
    return filled


def _end_to_end(parts: Sequence[Array]) -> Array:
    return np.concatenate(parts, axis=-1)
