"""Pictures of the owner's daily check: small, in few lines, of the door's own shape.

The door is drawn with its own proportions, leaves and side screens, seen from outside;
from above the outside is at the lower edge.  Whoever is drawn stands aside of the
leaves; only one who walks through as always, the door open, is on their way.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import hypot
from xml.sax.saxutils import escape
from zlib import crc32

from limen.draw.daily_strokes import (
    HIGH,
    WIDE,
    Inks,
    arrow,
    box,
    circle,
    cross,
    line,
    path,
    person,
)
from limen.model.doorway import Doorway
from limen.model.people import Side

FLOOR = 97.0
"""Where the floor lies in a picture seen from the front (px)."""
MIDDLE = WIDE / 2
MOST_HIGH, MOST_WIDE = 78.0, 150.0
"""Room of the clear height, and of opening and open leaves together (px)."""
TALL = 1.7
"""How tall people are drawn (m)."""
EYE = (1.4, 1.6)
"""Where marks at the height of an eye are drawn (m)."""
HAND = 0.95
"""How high a hand that holds a stick is (m)."""
BEAMS = (0.3, 0.9)
"""Heights of the beams of a light barrier that is drawn (m)."""
BOX_WIDE, BOX_HIGH = 0.45, 0.7
LEAST = 8.0
"""A look shorter than this is not drawn (px)."""
MOST_DRAWN = 2.4
"""How wide and high a door is drawn at most (m)."""
PAST = 4.0  # px of a screen or wall beyond the open leaf


@dataclass(frozen=True, slots=True)
class Shape:
    """What is drawn of a door.

    Attributes:
        wide, high: of the clear opening (m).
        opens: the sides to which leaves open: left, right or both.
        screens: the sides with a screen beside the opening.
        units: how many units hang outside; one at most is drawn.
        escape: the side from which people escape.
    """

    wide: float
    high: float
    opens: tuple[str, ...] = ("left", "right")
    screens: tuple[str, ...] = ("left", "right")
    units: int = 1
    escape: Side = "inside"

    @property
    def leaf(self) -> float:
        """Width of one leaf (m)."""
        return self.wide / len(self.opens)

    @property
    def scale(self) -> float:
        """Px a metre."""
        across = self.wide + self.leaf * len(self.opens)
        return min(MOST_HIGH / self.high, MOST_WIDE / across)

    @property
    def left(self) -> float:
        """Where the left post stands (px): the whole door is in the middle."""
        across = self.wide + self.leaf * len(self.opens)
        start = MIDDLE - across * self.scale / 2
        return start + (self.leaf * self.scale if "left" in self.opens else 0.0)

    @property
    def right(self) -> float:
        """Where the right post stands (px)."""
        return self.left + self.wide * self.scale

    @property
    def top(self) -> float:
        """Where the header begins (px)."""
        return FLOOR - self.high * self.scale

    def up(self, metres: float) -> float:
        """A height above the floor, in the picture (px)."""
        return FLOOR - metres * self.scale

    def aside(self) -> tuple[float, float]:
        """Where somebody stands aside, and which way they look: 1 is to the right.

        Where no leaf opens, if there is such a side; else well before the screen.
        """
        if "left" not in self.opens:
            return self.left - 16.0, 1.0
        if "right" not in self.opens:
            return self.right + 16.0, -1.0
        return self.left - max(self.leaf * self.scale * 0.62, 14.0), 1.0


def shape_of(door: Doorway) -> Shape:
    """What is drawn of a doorway.

    Larger doors are drawn smaller than they are, so that people in them can be seen.

    Args:
        door: as it is kept.
    """
    hand = door.leaves.hand
    sides = {one.side for one in door.side_space}
    escape: Sequence[Side] = door.use.escape_from or ("inside",)
    return Shape(
        min(door.clear_width.value, MOST_DRAWN),
        min(door.clear_height.value, MOST_DRAWN),
        (hand,) if hand else ("left", "right"),
        tuple(side for side in ("left", "right") if side in sides),
        sum(one.side == "outside" for one in door.fitting),
        escape[0],
    )


def picture(name: str, shape: Shape, says: str, inks: Inks) -> str:
    """The picture of a step, as SVG.

    Args:
        name: key of the step.
        shape: of the door.
        says: the picture in words, for those who do not see it.
        inks: colour of ink, quiet, wall, inside, paper and fails.

    Raises:
        KeyError: there is no picture of such a step.
    """
    drawn = "".join(PICTURES[name](shape, inks))
    key = f"d{crc32(f'{name}{says}'.encode()):08x}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE:g} {HIGH:g}" '
        f'role="img" aria-labelledby="{key}"><title id="{key}">{escape(says)}</title>'
        f"{drawn}</svg>"
    )


# The door from the front -----------------------------------------------------------


def _front(shape: Shape, inks: Inks, opened: float) -> Iterator[str]:
    """Floor, header, what stands beside the opening, and the leaves.

    Args:
        shape: of the door.
        inks: colours.
        opened: how far, from 0 to 1.
    """
    yield line((2, FLOOR), (WIDE - 2, FLOOR), inks["ink"], 1.6)
    yield from _beside(shape, inks)
    way = opened * shape.leaf * shape.scale
    for side in shape.opens:
        yield _leaf(shape, inks, side, way)
    yield from _header(shape, inks)


def _beside(shape: Shape, inks: Inks) -> Iterator[str]:
    """Screens are glass with a line at mid-height, walls are grey."""
    high = FLOOR - shape.top
    for side, start, end in _spaces(shape):
        fill = inks["paper"] if side in shape.screens else inks["wall"]
        yield box(start, shape.top, end - start, high, fill, inks["quiet"], 0.8)


def _spaces(shape: Shape) -> Iterator[tuple[str, float, float]]:
    """What stands at either end of the opening: which, from where to where (px)."""
    wide = shape.leaf * shape.scale + PAST
    for side, post, way in (("left", shape.left, -1.0), ("right", shape.right, 1.0)):
        room = wide if side in shape.opens else min(wide, 26.0)
        end = min(max(post + way * room, 3.0), WIDE - 3.0)
        yield side, min(post, end), max(post, end)


def _leaf(shape: Shape, inks: Inks, side: str, way: float) -> str:
    """A leaf, moved by so much from closed (px)."""
    wide = shape.leaf * shape.scale
    start = shape.left - way if side == "left" else shape.right - wide + way
    return box(
        start, shape.top, wide, FLOOR - shape.top, inks["glass"], inks["ink"], 1.6
    )


def _header(shape: Shape, inks: Inks) -> Iterator[str]:
    starts = [start for _, start, _ in _spaces(shape)]
    ends = [end for *_, end in _spaces(shape)]
    yield box(
        min(starts),
        shape.top - 7,
        max(ends) - min(starts),
        7,
        inks["wall"],
        inks["ink"],
    )
    if shape.units:
        middle = (shape.left + shape.right) / 2
        yield box(middle - 8, shape.top - 6, 16, 5, inks["ink"], radius=1.5)


def _clear(shape: Shape, inks: Inks) -> Iterator[str]:
    """A stand beside the door, crossed out; an arrow says where the leaf goes."""
    yield from _front(shape, inks, 0.45)
    side = shape.opens[-1]
    way = 1.0 if side == "right" else -1.0
    post = shape.right if way > 0 else shape.left
    at = min(max(post + way * max(shape.leaf * shape.scale * 0.75, 14), 12), WIDE - 12)
    yield path(
        f"M{at - 7:g} {FLOOR:g}v-34h14v34M{at - 7:g} {FLOOR - 12:g}h14"
        f"M{at - 7:g} {FLOOR - 23:g}h14",
        inks["ink"],
        2.0,
        inks["paper"],
    )
    yield arrow((post - way * 12, shape.top + 16), (way, 0), 18, inks["ink"])
    yield cross((at, FLOOR - 17), 11, inks)


def _glass(shape: Shape, inks: Inks) -> Iterator[str]:
    """Marks at the height of an eye, and a crack crossed out."""
    yield from _front(shape, inks, 0.0)
    low, high = (shape.up(one) for one in EYE)
    number = max(4, round((shape.right - shape.left) / 11))
    step = (shape.right - shape.left) / number
    for one in range(number):
        at = shape.left + (one + 0.5) * step
        yield box(at - step * 0.28, high, step * 0.56, low - high, inks["ink"])
    x, y = shape.right - min(13.0, shape.leaf * shape.scale * 0.5), FLOOR - 24
    yield path(f"M{x:g} {y:g}l-5 8 4 3-6 9", inks["ink"], 1.4)
    yield cross((x - 3, y + 10), 10, inks)


def _screens(shape: Shape, inks: Inks) -> Iterator[str]:
    """The gap beside the leaf, between two arrows."""
    yield from _front(shape, inks, 0.75)
    sides = [side for side in shape.screens if side in shape.opens] or shape.opens
    side = sides[-1]
    way = 1.0 if side == "right" else -1.0
    post = shape.right if way > 0 else shape.left
    y = (shape.top + FLOOR) / 2
    yield line((post, shape.top), (post, FLOOR), inks["ink"], 3.2)
    yield arrow((post - way * 24, y), (way, 0), 18, inks["ink"])
    end = post + way * min(24.0, shape.leaf * shape.scale * 0.8)
    yield arrow((end, y), (-way, 0), abs(end - post) - 6, inks["ink"])


def _units(_shape: Shape, inks: Inks) -> Iterator[str]:
    """The unit above the opening, large; an eye looks up from the floor."""
    yield box(12, 8, 136, 16, inks["wall"], inks["ink"])
    yield box(50, 24, 60, 22, inks["paper"], inks["ink"], 2.2, radius=4)
    yield box(58, 36, 44, 7, inks["glass"], inks["ink"], 1.2, radius=2)
    for end in (56, 80, 104):
        yield line((80 + (end - 80) * 0.5, 47), (end, 66), inks["quiet"], 1.2, "3 3")
    yield from _eye((80, 84), inks)


def _eye(at: tuple[float, float], inks: Inks) -> Iterator[str]:
    x, y = at
    yield path(
        f"M{x - 17:g} {y:g}q17 -17 34 0q-17 17 -34 0z", inks["ink"], 2.2, inks["paper"]
    )
    yield circle(at, 5.5, inks["ink"])


def _watch(shape: Shape, inks: Inks) -> Iterator[str]:
    """One walks through the open door, another stands aside and watches."""
    yield from _front(shape, inks, 1.0)
    middle = (shape.left + shape.right) / 2
    yield from person((middle, FLOOR - 1), _tall(shape), inks["quiet"], walks=True)
    at, way = shape.aside()
    yield from person((at, FLOOR + 1), _tall(shape), inks["ink"])
    eye = FLOOR - _tall(shape) * 0.9
    start, end = at + way * 9, middle - way * 9
    if abs(end - start) > LEAST:
        yield line((start, eye), (end, eye), inks["ink"], 1.2, "2 3")


def _tall(shape: Shape) -> float:
    return min(TALL * shape.scale, 74.0)


def _box(shape: Shape, inks: Inks) -> Iterator[str]:
    """A box in the middle of the open door, pushed with a stick from aside."""
    yield from _front(shape, inks, 1.0)
    middle = (shape.left + shape.right) / 2
    wide = max(BOX_WIDE * shape.scale, 13.0)
    high = max(BOX_HIGH * shape.scale, 19.0)
    start = middle - wide / 2
    yield from _stick(shape, inks, (middle, FLOOR - high * 0.5), wide / 2)
    yield box(start, FLOOR - high, wide, high, inks["paper"], inks["ink"], 2.2)
    yield line((middle, FLOOR - high), (middle, FLOOR - high * 0.7), inks["ink"], 2.6)


def _stick(
    shape: Shape, inks: Inks, to: tuple[float, float], short: float
) -> Iterator[str]:
    """Somebody aside with a stick that ends so much short of a place."""
    at, way = shape.aside()
    tall = _tall(shape)
    hand = (at + way * tall * 0.2, FLOOR - tall * 0.5)
    yield from person((at, FLOOR + 1), tall, inks["ink"], hand=hand)
    yield line(hand, (to[0] - way * short, to[1]), inks["ink"], 2.0)


def _beam(shape: Shape, inks: Inks) -> Iterator[str]:
    """Level beams across the open door, a stick held into the lower one."""
    yield from _front(shape, inks, 1.0)
    for height in BEAMS:
        y = shape.up(height)
        yield line((shape.left, y), (shape.right, y), inks["ink"], 1.4, "1.5 3.5")
        for post in (shape.left, shape.right):
            yield circle((post, y), 2.4, inks["ink"])
    middle = shape.left + (shape.right - shape.left) * 0.4
    yield from _stick(shape, inks, (middle, shape.up(BEAMS[0])), 0.0)


def _close(shape: Shape, inks: Inks) -> Iterator[str]:
    """Leaves on their way to closed, nobody near."""
    yield from _front(shape, inks, 0.55)
    y = (shape.top + FLOOR) / 2
    for side in shape.opens:
        way = 1.0 if side == "left" else -1.0
        post = shape.left if way > 0 else shape.right
        edge = post + way * 0.45 * shape.leaf * shape.scale
        yield arrow((edge - way * 13, y), (way, 0), 18, inks["ink"])


# Other pictures --------------------------------------------------------------------


def _floor(_shape: Shape, inks: Inks) -> Iterator[str]:
    """The foot of the leaf with its rail: a mat before it, and one that lies on it."""
    for start, lies in ((4.0, False), (86.0, True)):
        rail = start + 50
        yield box(rail - 6, 6, 12, 64, inks["glass"], inks["ink"], 2.0)
        yield box(rail - 2, 70, 4, 20, inks["ink"])
        yield path(
            f"M{start:g} 88H{rail - 9:g}v7h18v-7H{start + 70:g}", inks["ink"], 2.0
        )
        if lies:
            yield path(f"M{start + 2:g} 83H{rail - 20:g}q8 -9 20 -3", inks["ink"], 5.0)
            yield cross((start + 20, 50), 13, inks)
        else:
            yield line((start + 2, 84.5), (rail - 15, 84.5), inks["ink"], 5.0)


def _mode(_shape: Shape, inks: Inks) -> Iterator[str]:
    """A switch with five places; its pointer stands on the two-way arrow."""
    yield box(40, 8, 80, 90, inks["paper"], inks["ink"], 2.0, radius=6)
    yield circle((80, 60), 22, inks["wall"], inks["ink"], 2.0)
    for x, y in ((-27, -8), (-17, -24), (17, -24), (27, -8)):
        yield circle((80 + x, 60 + y), 2.2, inks["quiet"])
    yield line((80, 62), (80, 41), inks["ink"], 5.0)
    yield arrow((80, 23), (1, 0), 16, inks["ink"])
    yield arrow((80, 23), (-1, 0), 16, inks["ink"])


def _battery(_shape: Shape, inks: Inks) -> Iterator[str]:
    """A battery, and a lamp that is dark."""
    yield box(20, 40, 64, 36, inks["paper"], inks["ink"], 2.4, radius=3)
    yield box(84, 51, 6, 14, inks["ink"])
    for start in (27, 45, 63):
        yield box(start, 47, 13, 22, inks["ink"])
    yield circle((126, 58), 13, inks["inside"], inks["ink"], 2.4)
    yield line((117, 67), (135, 49), inks["ink"], 2.0)


# From above ------------------------------------------------------------------------

LINE = 52.0
"""Where the leaves stand in a picture from above (px)."""


def _above(shape: Shape, inks: Inks, *, swung: bool = False) -> Iterator[str]:
    """Walls or screens, and the leaves open beside the opening."""
    yield box(0, 0, WIDE, LINE, inks["inside"])
    left, right = _posts(shape)
    for start, end in ((4.0, left), (right, WIDE - 4)):
        yield box(start, LINE - 4, end - start, 8, inks["wall"], inks["ink"], 1.0)
    if swung:
        return
    for side in shape.opens:
        post, way = (left, -1.0) if side == "left" else (right, 1.0)
        end = post + way * (right - left) / len(shape.opens) * 0.8
        yield line((post, LINE + 7), (end, LINE + 7), inks["ink"], 3.4)


def _posts(shape: Shape) -> tuple[float, float]:
    """Where the posts stand, from above (px)."""
    wide = 72.0 if len(shape.opens) > 1 else 50.0
    shift = {"left": 20.0, "right": -20.0}.get("".join(shape.opens), 0.0)
    return MIDDLE - wide / 2 + shift, MIDDLE + wide / 2 + shift


def _walk(shape: Shape, inks: Inks) -> Iterator[str]:
    """Ways straight and from the side, from both sides."""
    yield from _above(shape, inks)
    left, right = _posts(shape)
    middle = (left + right) / 2
    yield from _way((middle, LINE), (middle, 4.0), inks)
    yield from _way((middle, LINE), (middle, HIGH - 4), inks)
    yield from _way((middle - 66, HIGH - 6), (middle - 12, LINE - 4), inks)
    yield from _way((middle + 66, 6.0), (middle + 12, LINE + 4), inks)


def _way(
    start: tuple[float, float], end: tuple[float, float], inks: Inks
) -> Iterator[str]:
    """A dotted way with its tip."""
    far = hypot(end[0] - start[0], end[1] - start[1])
    step = ((end[0] - start[0]) / far, (end[1] - start[1]) / far)
    stop = (end[0] - step[0] * 7, end[1] - step[1] * 7)
    yield line(start, stop, inks["ink"], 2.2, "2 4")
    yield arrow(stop, step, 8, inks["ink"])


def _escape(shape: Shape, inks: Inks) -> Iterator[str]:
    """A broad free way through the open door, out on the side where people escape."""
    yield from _above(shape, inks)
    left, right = _posts(shape)
    middle = (left + right) / 2
    for x in (left + 6, right - 6):
        yield line((x, 6), (x, HIGH - 6), inks["quiet"], 1.2, "4 4")
    down = 1.0 if shape.escape == "inside" else -1.0
    yield arrow((middle, LINE - down * 40), (0, down), 78, inks["ink"], 5.0)


def _break(shape: Shape, inks: Inks) -> Iterator[str]:
    """Leaves that swing out, and the push that does it."""
    yield from _above(shape, inks, swung=True)
    left, right = _posts(shape)
    # People push from where they escape: leaves swing to the other side.
    down = 1.0 if shape.escape == "inside" else -1.0
    leaf = (right - left) / len(shape.opens)
    for side in shape.opens:
        post, way = (left, 1.0) if side == "left" else (right, -1.0)
        end = (post + way * leaf * 0.28, LINE + down * leaf * 0.92)
        yield line((post, LINE), end, inks["ink"], 3.4)
        bow = f"M{post + way * leaf:g} {LINE:g}Q{post + way * leaf * 0.95:g} "
        yield path(
            f"{bow}{LINE + down * leaf * 0.7:g} {end[0]:g} {end[1]:g}",
            inks["quiet"],
            1.2,
            dash="3 3",
        )
    middle = (left + right) / 2
    yield arrow((middle, LINE - down * 38), (0, down), 30, inks["ink"], 4.0)


PICTURES: Mapping[str, Callable[[Shape, Inks], Iterator[str]]] = {
    "clear": _clear,
    "floor": _floor,
    "glass": _glass,
    "screens": _screens,
    "units": _units,
    "walk": _walk,
    "watch": _watch,
    "box": _box,
    "beam": _beam,
    "close": _close,
    "mode": _mode,
    "escape": _escape,
    "break": _break,
    "battery": _battery,
}
"""By step what draws it."""
