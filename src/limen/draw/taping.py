"""Small drawings of what is to be taped at one unit: from above and from the side.

The unit's own side is at the lower edge, so that whoever stands before the unit sees
the drawing as they stand.  Along the opening it is to scale; out from the leaf it is
not, as a few centimetres would not be seen.  Each measure bears a mark: a letter what
is taped of the lens, a number what is read of its rows.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal
from xml.sax.saxutils import escape
from zlib import crc32

from limen.draw import strokes
from limen.draw.strokes import At
from limen.draw.svg import FONT, number
from limen.draw.themes import PAPER
from limen.findings import Message
from limen.words import say

Kind = Literal["row line", "row end", "spot centre"]
Post = Literal["left", "right"]

WIDE, MIDDLE, HALF = 400.0, 200.0, 124.0
FACE, DEEP = 62.0, 12.0
LENS, FIRST, BETWEEN = 80.0, 146.0, 34.0
LANE, BELOW = 27.0, 30.0
MOST_ROWS = 3
BADGE, LETTERS, WORDS = 12.0, 15.0, 14.0
ROOM_FOR_TIPS = 16.0
SHORT = 34.0  # px: a measure that has no room for its mark
SIDE_WIDE, SIDE_HIGH = 230.0, 222.0
GROUND = 186.0


@dataclass(frozen=True, slots=True)
class Mark:
    """One reading that is asked for.

    Attributes:
        name: what it is called in the drawing and beside its fields.
        kind: what is found.
        along: about where, from the middle, positive to the right seen from
            outside (m).
        row: from 1.
        post: the post from which it is taped, seen from outside.
    """

    name: str
    kind: Kind
    along: float
    row: int
    post: Post


@dataclass(frozen=True, slots=True, kw_only=True)
class Taping:
    """What the drawings of one unit show.

    Attributes:
        inside: whether it hangs inside.
        half: half of the clear width (m).
        meet: whether two leaves meet in the middle.
        lens: of the unit, from the middle of the opening (m).
        rows: left and right end of each row, from the middle (m).
        marks: what is asked for.
        says: the drawing in words, for those who do not see it.
    """

    inside: bool
    half: float
    meet: bool
    lens: float
    rows: tuple[tuple[float, float], ...]
    marks: tuple[Mark, ...]
    says: str

    def u(self, along: float) -> float:
        """Where a place along the opening stands on the drawing (px)."""
        return MIDDLE + (-1 if self.inside else 1) * along * HALF / self._reach

    @property
    def _reach(self) -> float:
        return max(self.half, *(abs(end) for row in self.rows for end in row), 0.1)


def from_above(taping: Taping) -> str:
    """The unit's rows from above, with what is taped on the floor, as SVG."""
    rows = taping.rows[:MOST_ROWS]
    lanes = dict(_lanes(taping))
    deep = _row_at(len(rows)) + BELOW + LANE * max(lanes.values(), default=0)
    parts = [
        *_opening(taping, deep),
        *_rows(taping, rows),
        *_unit(taping),
        *(part for mark in taping.marks for part in _marked(taping, mark, lanes)),
    ]
    return _svg(WIDE, deep + 22, taping.says, parts)


def from_the_side(taping: Taping) -> str:
    """Lens and first row from the side, with what is taped of them, as SVG."""
    first = next((m.name for m in taping.marks if m.kind == "row line"), "")
    parts = [*_wall_cut(), *_lens_taped(), *(_first_row(first) if first else ())]
    says = say(Message("readings_page.drawn.side"))
    return _svg(SIDE_WIDE, SIDE_HIGH, says, parts)


# From above ----------------------------------------------------------------------


def _opening(taping: Taping, deep: float) -> Iterator[str]:
    """The closed leaves between their posts, and where one stands."""
    left, right = sorted((taping.u(-taping.half), taping.u(taping.half)))
    back = FACE - DEEP
    yield _box(0, back - 8, left, DEEP + 16, "wall")
    yield _box(right, back - 8, WIDE - right, DEEP + 16, "wall")
    yield _box(left, back, right - left, DEEP, "inside", "line")
    if taping.meet:
        yield _line((MIDDLE, back), (MIDDLE, FACE), "line", 1.5)
    for post in ("left", "right"):
        first = (post == "left") is not taping.inside
        x, away = (3.0, "start") if first else (WIDE - 3, "end")
        yield _words(_said(f"{post}_post"), x, back - 14, away)
    yield _words(_said("inside" if taping.inside else "outside"), 4, deep + 16, "start")
    yield _line((left, FACE), (right, FACE), "ink", 2.0)


def _rows(taping: Taping, rows: Iterable[tuple[float, float]]) -> Iterator[str]:
    for place, (left, right) in enumerate(rows, 1):
        y, start, end = _row_at(place), taping.u(left), taping.u(right)
        size = 2.6 if place == 1 else 1.9
        for step in range(15):
            x = start + (end - start) * step / 14
            yield _spot(x, y, size)
        away, x = ("start", end + 8) if end > start else ("end", end - 8)
        said = say(Message("readings_page.drawn.row", {"row": place}))
        yield _words(said, x, y + 4, away, "quiet")


def _unit(taping: Taping) -> Iterator[str]:
    """The lens, and how far it is from the middle of the opening: C."""
    x = taping.u(taping.lens)
    yield _box(x - 17, FACE + 2, 34, 14, "line")
    yield _eye(x, LENS - 4)
    yield _dashed((MIDDLE, 18), (MIDDLE, FACE - DEEP))
    parts = [_dashed((x, 18), (x, FACE))] if abs(x - MIDDLE) > 1 else []
    if abs(x - MIDDLE) > 1:
        parts += _measure((MIDDLE, 24), (x, 24))
    beside = x + 20 if x >= MIDDLE else x - 20
    yield _group("C", [*parts, _badge("C", beside, 22, letter=True)])


def _marked(taping: Taping, mark: Mark, lanes: dict[str, float]) -> Iterator[str]:
    x, y = taping.u(mark.along), _row_at(mark.row)
    lane = _row_at(len(taping.rows[:MOST_ROWS])) + BELOW + LANE * lanes[mark.name]
    start = taping.u(-taping.half if mark.post == "left" else taping.half)
    parts = [
        _dashed((x, y), (x, lane + 5)),
        _dashed((start, FACE), (start, lane + 5)),
        *_across(start, x, lane, _second(mark)),
    ]
    if mark.kind != "row end":
        parts += _measure((x, FACE), (x, y))
        parts.append(_badge(_first(mark), x, (LENS + y) / 2 + 6))
    if mark.kind == "spot centre":
        parts.append(_ring(x, y))
    yield _group(mark.name, parts)


def _across(start: float, end: float, y: float, name: str) -> list[str]:
    """A measure along the opening; its mark on it, or beside one that is short."""
    middle = (start + end) / 2
    if abs(end - start) < SHORT:
        beside = max(start, end) + 16 if middle < MIDDLE else min(start, end) - 16
        return [*_measure((start, y), (end, y)), _badge(name, beside, y)]
    return [*_measure((start, y), (end, y)), _badge(name, middle, y)]


def _lanes(taping: Taping) -> Iterator[tuple[str, float]]:
    """Which line below the rows each measure along the opening stands on."""
    taken: dict[Post, int] = {}
    for mark in taping.marks:
        lane = taken.get(mark.post, 0)
        taken[mark.post] = lane + 1
        yield mark.name, float(lane)


def _row_at(row: int) -> float:
    return FIRST + BETWEEN * (min(row, MOST_ROWS) - 1)


def _first(mark: Mark) -> str:
    """What the measure out from the leaf face is called."""
    return f"{mark.name}a"


def _second(mark: Mark) -> str:
    """What the measure along the opening is called."""
    return mark.name if mark.kind == "row end" else f"{mark.name}b"


# From the side -------------------------------------------------------------------


def _wall_cut() -> Iterator[str]:
    yield _box(20, 10, 62, 34, "wall")
    yield _box(50, 46, DEEP, GROUND - 46, "inside", "line")
    yield _line((62, 46), (62, GROUND), "ink", 2.0)
    yield _line((8, GROUND), (SIDE_WIDE - 8, GROUND), "line", 1.5)
    yield _box(82, 28, 20, 14, "line")
    yield _eye(94, 44)
    yield _dashed((94, 48), (118, GROUND))
    yield _dashed((94, 48), (150, GROUND))
    yield _spot(118, GROUND, 3.4)
    yield _spot(150, GROUND, 2.6)


def _lens_taped() -> Iterator[str]:
    high = [_dashed((98, 44), (200, 44)), *_measure((192, 44), (192, GROUND))]
    yield _group("A", [*high, _badge("A", 192, 112, letter=True)])
    out = [_dashed((94, 48), (94, 84)), *_measure((62, 76), (94, 76))]
    yield _group("B", [*out, _badge("B", 112, 76, letter=True)])


def _first_row(name: str) -> Iterator[str]:
    parts = [
        _dashed((62, GROUND), (62, GROUND + 18)),
        _dashed((118, GROUND), (118, GROUND + 18)),
        *_measure((62, GROUND + 13), (118, GROUND + 13)),
        _badge(f"{name}a", 138, GROUND + 15),
    ]
    yield _group(name, parts)


# Ink -----------------------------------------------------------------------------


def _svg(wide: float, high: float, says: str, parts: Sequence[str]) -> str:
    key = f"t{crc32(''.join(parts).encode()):08x}{crc32(says.encode()):08x}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="limen-drawing taping" '
        f'viewBox="0 0 {number(wide)} {number(high)}" role="img" '
        f'aria-labelledby="{key}" font-family="{FONT}">'
        f'<title id="{key}">{escape(says)}</title>{"".join(parts)}</svg>'
    )


def _group(mark: str, parts: Sequence[str]) -> str:
    return f'<g class="taping-mark" data-mark="{escape(mark)}">{"".join(parts)}</g>'


def _measure(start: At, end: At) -> list[str]:
    """A line with a tip at both ends."""
    (x1, y1), (x2, y2) = start, end
    ending = _tip if abs(x2 - x1) + abs(y2 - y1) > ROOM_FOR_TIPS else _tick
    return [_line(start, end, "ink", 1.4), ending(start, end), ending(end, start)]


def _tip(at: At, other: At) -> str:
    (x, y), (ox, oy) = at, other
    if y == oy:
        way = 7 if ox > x else -7
        path = f"M{number(x)} {number(y)}l{way}-3v6z"
    else:
        way = 7 if oy > y else -7
        path = f"M{number(x)} {number(y)}l-3 {way}h6z"
    return f'<path d="{path}" fill="{PAPER["ink"]}"/>'


def _tick(at: At, other: At) -> str:
    (x, y), (_, oy) = at, other
    ends = ((x, y - 4), (x, y + 4)) if y == oy else ((x - 4, y), (x + 4, y))
    return _line(*ends, "ink", 1.4)


def _badge(name: str, x: float, y: float, *, letter: bool = False) -> str:
    """A mark: a disc for a reading, a square for the lens."""
    wide = BADGE + 2.5 * (len(name) - 1)
    round_ = 3.0 if letter else BADGE
    return (
        f'<rect x="{number(x - wide)}" y="{number(y - BADGE)}" '
        f'width="{number(2 * wide)}" height="{number(2 * BADGE)}" '
        f'rx="{number(round_)}" '
        f'fill="{PAPER["paper"]}" stroke="{PAPER["ink"]}" stroke-width="1.4"/>'
        f'<text x="{number(x)}" y="{number(y + 5.2)}" text-anchor="middle" '
        f'font-size="{LETTERS}" font-weight="700" fill="{PAPER["ink"]}">'
        f"{escape(name)}</text>"
    )


def _ring(x: float, y: float) -> str:
    return _disc(x, y, 7, f'fill="none" stroke="{PAPER["ink"]}" stroke-width="1.6"')


def _eye(x: float, y: float) -> str:
    return _disc(x, y, 4, f'fill="{PAPER["paper"]}" stroke="{PAPER["ink"]}"')


def _spot(x: float, y: float, radius: float) -> str:
    return _disc(x, y, radius, f'fill="{PAPER["presence"]}"')


def _disc(x: float, y: float, radius: float, more: str) -> str:
    return f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(radius)}" {more}/>'


def _words(text: str, x: float, y: float, anchor: str, ink: str = "ink") -> str:
    return strokes.words(text, (x, y), anchor, WORDS, PAPER[ink])


def _said(key: str) -> str:
    return say(Message(f"readings_page.drawn.{key}"))


def _box(
    x: float, y: float, wide: float, high: float, fill: str, stroke: str = ""
) -> str:
    return strokes.box(x, y, wide, high, PAPER[fill], PAPER[stroke] if stroke else "")


def _line(start: At, end: At, ink: str, wide: float, dash: str = "") -> str:
    return strokes.line(start, end, PAPER[ink], wide, dash)


def _dashed(start: At, end: At) -> str:
    return _line(start, end, "line", 1.0, ' stroke-dasharray="3 3"')
