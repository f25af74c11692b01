"""Where the box goes: the opening from above, each place with its distance from a post.

The outside is at the lower edge, as in every plan.  It is to scale.  Below it stand the
distances, one under another, from the nearer post to the nearest point of the box: what
a tape can touch.  Each bears the number of its test.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import cos, sin
from xml.sax.saxutils import escape
from zlib import crc32

from limen.draw import strokes
from limen.draw.strokes import At
from limen.draw.svg import FONT, number
from limen.draw.themes import PAPER

WIDE = 720.0
SIDE = 44.0  # px of wall beside each post
TOP, LANE, BELOW = 20.0, 21.0, 26.0
LEAST_DEEP = 0.26
"""How far the floor is shown on either side of the leaf line at least (m)."""
LETTERS, BADGE = 12.5, 9.5
LETTER = 7.2  # px that a letter takes at most
ROOM_FOR_TIPS = 20.0  # px
EDGE = 6.0
CLEAR_WIDE, CLEAR_HIGH = 20.0, 15.0  # px between two numbers
CLEAR_ACROSS = 72.0  # px between ends of two distances on one line
HIGHEST = 236.0  # px of floor
MIDWAY = 5e-4
"""So near to the middle it is as far from either post (m)."""


@dataclass(frozen=True, slots=True)
class BoxPlace:
    """One place for the box.

    Attributes:
        name: the number of its test.
        x, y: its middle, from the middle of the opening and of the leaves (m).
        yaw: its turn (rad).
        width, depth: of its footprint (m).
        far: from the nearer post to its nearest point, in the reader's units.
        lying: whether the body lies.
    """

    name: str
    x: float
    y: float
    yaw: float
    width: float
    depth: float
    far: str
    lying: bool = False

    @property
    def corners(self) -> tuple[At, ...]:
        """Of the footprint (m)."""
        c, s = cos(self.yaw), sin(self.yaw)
        w, d = self.width / 2, self.depth / 2
        signs = ((-1, -1), (1, -1), (1, 1), (-1, 1))
        return tuple(
            (self.x + i * w * c - j * d * s, self.y + i * w * s + j * d * c)
            for i, j in signs
        )

    @property
    def midway(self) -> bool:
        """Whether it may be taped from either post."""
        return abs(self.x) < MIDWAY

    def nearest(self, side: float) -> float:
        """Where along the opening its point nearest to a post lies (m).

        Args:
            side: 1 for the right post, seen from outside, -1 for the left one.
        """
        return side * max(side * x for x, _ in self.corners)


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """The opening and what is drawn in it.

    Attributes:
        half: half of the clear width (m).
        leaf: half of the leaves' thickness (m).
        places: for the box.
        says: the drawing in words, for those who do not see it.
        outside, inside, left, right: words at its edges.
    """

    half: float
    leaf: float
    places: tuple[BoxPlace, ...]
    says: str
    outside: str
    inside: str
    left: str
    right: str

    @property
    def scale(self) -> float:
        """Px a metre: as wide as the sheet, where that is not too high."""
        return min((WIDE - 2 * SIDE) / (2 * self.half), HIGHEST / (2 * self.deep))

    @property
    def deep(self) -> float:
        """How far the floor is shown on either side (m)."""
        ys = (abs(y) for one in self.places for _, y in one.corners)
        return max(LEAST_DEEP, *(y + 0.03 for y in ys), 0.0)

    def at(self, point: At) -> At:
        """A place on the floor, on the drawing."""
        x, y = point
        middle = TOP + self.deep * self.scale
        return WIDE / 2 + x * self.scale, middle + y * self.scale


def box_places(floor: Floor) -> str:
    """The drawing, as SVG."""
    bottom = floor.at((0.0, floor.deep))[1]
    lanes = list(_lanes(floor))
    deepest = max((lane for _, _, lane in lanes), default=0)
    high = bottom + BELOW + LANE * deepest + BADGE + EDGE
    parts = [*_opening(floor, bottom)]
    parts += [_box(floor, one) for one in floor.places]
    parts += _names(floor)
    for one, side, lane in lanes:
        parts += _distance(floor, one, side, bottom + BELOW + LANE * (lane - 0.5))
    return _svg(high, floor.says, parts)


def _lanes(floor: Floor) -> Iterator[tuple[BoxPlace, float, int]]:
    """Each place, the post it is taped from, the line its distance stands on.

    Near ones come first; what is midway is taped from where there is more room.
    """
    taken: dict[float, dict[int, float]] = {1.0: {}, -1.0: {}}
    places = sorted(floor.places, key=lambda one: -abs(one.nearest(_side(one))))
    for one in places:
        fewer = 1.0 if len(taken[1.0]) < len(taken[-1.0]) else -1.0
        side = fewer if one.midway else _side(one)
        end = one.nearest(side) * floor.scale
        across = taken[-side]
        lane = max(taken[side], default=0) + 1
        while lane in across and abs(across[lane] - end) < CLEAR_ACROSS:
            lane += 1
        taken[side][lane] = end
        yield one, side, lane


def _side(place: BoxPlace) -> float:
    return 1.0 if place.x > 0 else -1.0


def _opening(floor: Floor, bottom: float) -> Iterator[str]:
    left, right = floor.at((-floor.half, 0))[0], floor.at((floor.half, 0))[0]
    face, back = floor.at((0, floor.leaf))[1], floor.at((0, -floor.leaf))[1]
    yield strokes.box(0, TOP, WIDE, floor.at((0, 0))[1] - TOP, PAPER["inside"])
    for x in (0.0, right):
        yield strokes.box(
            x, back - 10, left, face - back + 20, PAPER["wall"], PAPER["line"]
        )
    chain = ' stroke-dasharray="14 3 2 3"'
    for y in (face, back):
        yield strokes.line((left, y), (right, y), PAPER["line"], 1.1, chain)
    for x in (left, right):
        yield strokes.line((x, TOP), (x, bottom + 4), PAPER["line"], 0.8, _DASH)
    yield _words(floor.inside, EDGE, TOP + 14, "start")
    yield _words(floor.outside, EDGE, bottom - 6, "start")
    yield _words(floor.left, left + 4, TOP - 6, "start")
    yield _words(floor.right, right - 4, TOP - 6, "end")


def _box(floor: Floor, one: BoxPlace) -> str:
    points = [floor.at(corner) for corner in one.corners]
    path = "L".join(f"{number(x)} {number(y)}" for x, y in points)
    dash = ' stroke-dasharray="7 3"' if one.lying else ""
    return (
        f'<path d="M{path}z" fill="none" stroke="{PAPER["ink"]}" '
        f'stroke-width="2"{dash} stroke-linejoin="round"/>'
    )


def _names(floor: Floor) -> Iterator[str]:
    """The number in each box, moved aside where another one stands."""
    taken: list[At] = []
    for one in floor.places:
        x, y = floor.at((one.x, one.y))
        tries = [(x + dx, y + dy) for dy in (0, -17, 17) for dx in (0, 24, -24)]
        free = (at for at in tries if all(_apart(at, other) for other in taken))
        at = next(free, (x, y))
        taken.append(at)
        yield (
            f'<text x="{number(at[0])}" y="{number(at[1] + 4.4)}" text-anchor="middle" '
            f'font-size="{LETTERS}" font-weight="700" fill="{PAPER["ink"]}" '
            f'stroke="#FFFFFF" stroke-width="3" paint-order="stroke">{escape(one.name)}'
            f"</text>"
        )


def _apart(one: At, other: At) -> bool:
    return abs(one[0] - other[0]) > CLEAR_WIDE or abs(one[1] - other[1]) > CLEAR_HIGH


def _distance(floor: Floor, one: BoxPlace, side: float, y: float) -> Iterator[str]:
    """From the post to the nearest point of the box; the number at the box's end."""
    near = one.nearest(side)
    post, end = (floor.at((at, 0))[0] for at in (side * floor.half, near))
    away = side if (end - post) * side > 0 else -side  # from the post to the box
    corner = max(one.corners, key=lambda at: (round(side * at[0], 6), at[1]))
    yield strokes.line(floor.at(corner), (end, y), PAPER["line"], 0.8, _DASH)
    yield strokes.line((post, y - 5), (post, y + 5), PAPER["ink"], 1.2)
    yield strokes.line((post, y), (end, y), PAPER["ink"], 1.2)
    if abs(post - end) > 2 * EDGE:
        yield _tip((post, y), -away)
        yield _tip((end, y), away)
    yield _far(one, post, end, away, y)
    yield _badge(one.name, end + away * _wide(one.name), y)


def _far(one: BoxPlace, post: float, end: float, away: float, y: float) -> str:
    """The distance: on its line, else behind the post, else behind the number."""
    wide = LETTER * len(one.far) + EDGE
    if abs(post - end) > wide + ROOM_FOR_TIPS:
        return _said(one.far, (post + end) / 2, y)
    behind = post - away * EDGE
    if not EDGE < behind - away * wide < WIDE - EDGE or _past(post, away):
        behind, away = end + away * (2 * _wide(one.name) + EDGE), -away
    return _words(one.far, behind, y + 4.4, "end" if away > 0 else "start")


def _past(post: float, away: float) -> bool:
    """Whether a box stands beyond its post, so that behind the post is the opening."""
    return (post - WIDE / 2) * away > 0


_DASH = ' stroke-dasharray="2 3"'


def _said(text: str, x: float, y: float) -> str:
    """Words on a line, the paper laid under them."""
    wide = LETTER * len(text) + EDGE
    under = strokes.box(x - wide / 2, y - 8, wide, 16, "#FFFFFF")
    return under + _words(text, x, y + 4.4, "middle")


def _svg(high: float, says: str, parts: Sequence[str]) -> str:
    key = f"p{crc32(''.join(parts).encode()):08x}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {number(WIDE)} '
        f'{number(high)}" role="img" aria-labelledby="{key}" font-family="{FONT}">'
        f'<title id="{key}">{escape(says)}</title>{"".join(parts)}</svg>'
    )


def _tip(at: At, way: float) -> str:
    x, y = at
    back = number(-7 * way)
    return f'<path d="M{number(x)} {number(y)}l{back} -3v6z" fill="{PAPER["ink"]}"/>'


def _wide(name: str) -> float:
    """Half of a badge's width (px)."""
    return BADGE + 3.2 * (len(name) - 1)


def _badge(name: str, x: float, y: float) -> str:
    wide = _wide(name)
    return (
        f'<rect x="{number(x - wide)}" y="{number(y - BADGE)}" '
        f'width="{number(2 * wide)}" height="{number(2 * BADGE)}" '
        f'rx="{number(BADGE)}" fill="{PAPER["ink"]}"/>'
        f'<text x="{number(x)}" y="{number(y + 4.4)}" text-anchor="middle" '
        f'font-size="{LETTERS}" font-weight="700" fill="#FFFFFF">{escape(name)}</text>'
    )


def _words(text: str, x: float, y: float, anchor: str) -> str:
    return strokes.words(text, (x, y), anchor, LETTERS, PAPER["ink"])
