"""Discs and their words kept apart: each as near as can be to where it belongs."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import cos, hypot, pi, sin

from limen.draw.boxes import Rect

APART = 3.0  # px that discs and words keep from one another
STEP = 6.0  # px from one ring of places to the next
RINGS, TURNS = 26, 16
BESIDE = 5.0  # px from a disc to its words
SPOT = 2.0  # px, half of the dot where a disc belongs
LED_FROM = 3.0  # px: from this distance on a line leads to where it belongs


@dataclass(frozen=True, slots=True)
class Wanted:
    """A disc that looks for its place.

    Attributes:
        at: where it belongs (px).
        radius: of the disc (px).
        words: width and height of the words beside it (px).
    """

    at: tuple[float, float]
    radius: float
    words: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Placed:
    """A disc that has found its place.

    Attributes:
        at: where it belongs (px).
        middle: where it stands (px).
        radius: of the disc (px).
        words: the box of its words.
        led: whether a line leads to where it belongs.
    """

    at: tuple[float, float]
    middle: tuple[float, float]
    radius: float
    words: Rect
    led: bool


def placed(
    wanted: Sequence[Wanted], sheet: Rect, taken: Sequence[Rect] = ()
) -> tuple[Placed, ...]:
    """Find a place for each disc, the first ones the nearest.

    Args:
        wanted: the discs.
        sheet: where discs and words may stand.
        taken: what must be kept free of both.
    """
    found: list[Placed] = []
    boxes = list(taken)
    for one in wanted:
        # Where another belongs stays in sight, unless it belongs in this very place.
        kept = [_spot(other.at) for other in wanted if not _alike(other.at, one.at)]
        place = _place(one, sheet, [*boxes, *kept])
        found.append(place)
        boxes += [_disc(place.middle, one.radius), place.words]
    return tuple(found)


def _spot(at: tuple[float, float]) -> Rect:
    return Rect(*at, *at).grown(SPOT)


def _alike(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return hypot(one[0] - other[0], one[1] - other[1]) <= 2 * SPOT


def _place(one: Wanted, sheet: Rect, taken: Sequence[Rect]) -> Placed:
    for middle in _middles(one.at):
        disc = _disc(middle, one.radius)
        if not _free(disc, sheet, taken):
            continue
        for words in _words(one, middle):
            if _free(words, sheet, taken):
                far = hypot(middle[0] - one.at[0], middle[1] - one.at[1])
                return Placed(one.at, middle, one.radius, words, far > LED_FROM)
    return Placed(one.at, one.at, one.radius, next(_words(one, one.at)), led=False)


def _middles(at: tuple[float, float]) -> Iterator[tuple[float, float]]:
    """Where a disc may stand, the nearest first."""
    yield at
    for ring in range(1, RINGS):
        for turn in range(TURNS):
            angle = 2 * pi * turn / TURNS
            far = ring * STEP
            yield at[0] + far * cos(angle), at[1] - far * sin(angle)


def _words(one: Wanted, middle: tuple[float, float]) -> Iterator[Rect]:
    """To the right of the disc, to the left, above, below."""
    (x, y), (wide, high) = middle, one.words
    far = one.radius + BESIDE
    yield Rect(x + far, y - high / 2, x + far + wide, y + high / 2)
    yield Rect(x - far - wide, y - high / 2, x - far, y + high / 2)
    top, bottom = y - far - high, y + far
    yield Rect(x - wide / 2, top, x + wide / 2, top + high)
    yield Rect(x - wide / 2, bottom, x + wide / 2, bottom + high)


def _disc(middle: tuple[float, float], radius: float) -> Rect:
    return Rect(*middle, *middle).grown(radius)


def _free(box: Rect, sheet: Rect, taken: Sequence[Rect]) -> bool:
    if not box.within(sheet):
        return False
    grown = box.grown(APART)
    return not any(grown.meets(other) for other in taken)
