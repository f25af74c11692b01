"""Finding room for words: near their point, over nothing that matters.

Words are placed one after the other, the most important first.  Words, dimension
lines and the body keep others out altogether; other things on the drawing cost
something.  Of all places tried the cheapest is taken; where the place is not near,
a thin line leads to it.  There is no chance in it: equal drawings are equal.
"""

from dataclasses import dataclass, replace
from math import hypot, inf
from typing import Literal, NamedTuple

from limen.draw.boxes import Rect, Segment, crossed_by_any, meets_any
from limen.draw.scene import Side

Anchor = Literal["start", "middle", "end"]

REACH = (
    7.0,
    10.0,
    13.0,
    16.0,
    19.0,
    22.0,
    27.0,
    34.0,
    42.0,
    50.0,
    72.0,
    100.0,
    140.0,
    190.0,
    250.0,
    330.0,
)
NEAR = 50.0  # px: words mostly find a place within that reach
LED_FROM = 16.0  # px: from this distance on a line leads to the words
LEADER = 10.0  # what such a line costs, px
CROSSING = 25.0
RIM = 6.0
ASKEW = 0.6  # from here on words are set flush with the side near their point
SLANT = 0.75  # of the reach, where words stand beyond a corner
GRID = 22.0
RANK = 12.0
DEAR = 70.0  # px: dearer than that, figures look for a place further away
APART = 3.5  # px that words keep from other words
CLEAR = 1.5  # px that words keep from lines


class Turn(NamedTuple):
    """A direction from the point to its words, and what taking it costs (px)."""

    i: float
    j: float
    cost: float


_ACROSS = ((1.0, 0.0), (1.0, -1.0), (1.0, 1.0))
_ALONG = (0.0, -0.08, 0.08, -0.15, 0.15, -0.4, 0.4, -0.8, 0.8)
_GROUPS: dict[Side, tuple[tuple[float, float], ...]] = {
    "right": _ACROSS,
    "left": tuple((-i, j) for i, j in _ACROSS),
    "above": tuple((i, -1.0) for i in _ALONG),
    "below": tuple((i, 1.0) for i in _ALONG),
}
_ORDER: dict[Side, tuple[Side, ...]] = {
    "right": ("right", "above", "below", "left"),
    "left": ("left", "above", "below", "right"),
    "above": ("above", "right", "left", "below"),
    "below": ("below", "right", "left", "above"),
}
_NEXT_GROUP = 9.0
_NEXT_TURN = 1.5


def _turns(prefer: Side) -> tuple[Turn, ...]:
    return tuple(
        Turn(i, j, _NEXT_GROUP * group + _NEXT_TURN * rank * (5 if abs(i) == 1 else 1))
        for group, side in enumerate(_ORDER[prefer])
        for rank, (i, j) in enumerate(_GROUPS[side])
    )


_TURNS: dict[Side, tuple[Turn, ...]] = {side: _turns(side) for side in _ORDER}


@dataclass(frozen=True, slots=True)
class Place:
    """Where words stand: their box, how they are set, and the line to their point."""

    box: Rect
    anchor: Anchor
    leader: Segment | None = None


@dataclass(frozen=True, slots=True)
class Room:
    """What is on the sheet already.

    Attributes:
        sheet: where words may stand.
        boxes: what no words may touch.
        lines: likewise; leaders may cross them at a cost.
        costs: other things and what it costs to stand on them (px).
        paths: likewise for lines.
    """

    sheet: Rect
    boxes: tuple[Rect, ...] = ()
    lines: tuple[Segment, ...] = ()
    costs: tuple[tuple[Rect, float], ...] = ()
    paths: tuple[tuple[Segment, float], ...] = ()

    def free(self, box: Rect) -> bool:
        """Whether words may stand there."""
        if not box.within(self.sheet):
            return False
        # Asked some thousand times a drawing: nothing is made that need not be.
        if meets_any(box.grown(APART), self.boxes):
            return False
        return not (self.lines and crossed_by_any(box.grown(CLEAR), self.lines))

    def cost(self, box: Rect) -> float:
        """What it costs to stand there."""
        left, top, right, bottom = box
        cost = 0.0
        for (other_left, other_top, other_right, other_bottom), dear in self.costs:
            across = left < other_right and other_left < right
            if across and top < other_bottom and other_top < bottom:
                cost += dear
        for line, dear in self.paths:
            if line.near(box) and line.meets(box):
                cost += dear
        return cost

    def around(self, part: Rect) -> "Room":
        """The room as words find it that stay within a part of the sheet."""
        return Room(
            self.sheet,
            tuple(box for box in self.boxes if box.meets(part)),
            tuple(line for line in self.lines if line.near(part)),
            tuple(one for one in self.costs if one[0].meets(part)),
            tuple(one for one in self.paths if one[0].near(part)),
        )

    def taken(self, place: Place) -> "Room":
        """The room that is left once words stand there."""
        lines = self.lines if place.leader is None else (*self.lines, place.leader)
        return replace(self, boxes=(*self.boxes, place.box), lines=lines)


def place_at(places: tuple[Place, ...], room: Room) -> Place | None:
    """The cheapest free place of a few; the earlier ones are the cheaper."""
    best: tuple[float, Place | None] = (DEAR, None)
    for rank, place in enumerate(places):
        if room.free(place.box):
            cost = RANK * rank + room.cost(place.box)
            best = min(best, (cost, place), key=lambda found: found[0])
    return best[1]


def place_near(
    at: tuple[float, float],
    size: tuple[float, float],
    prefer: Side,
    room: Room,
    at_most: float = inf,
) -> Place | None:
    """The cheapest free place for words around their point.

    Args:
        at: the point, px.
        size: width and height of the words, px.
        prefer: the side on which they read best.
        room: what is on the sheet already.
        at_most: what a place may cost (px); without a bound the whole sheet is
            searched.

    Returns:
        The place; None if the words fit nowhere at that cost.
    """
    best, least = None, at_most
    wide, high = size
    part = Rect(*at, *at).grown(NEAR + max(wide, high) + APART)
    around = room.around(part)
    for reach in REACH:
        if reach >= least:
            break  # whatever stands further away costs more still
        here = around if reach <= NEAR else room
        for turn in _TURNS[prefer]:
            if reach + turn.cost >= least:
                continue
            box = _towards(at, size, turn, reach)
            if not here.free(box):
                continue
            place = Place(box, _anchor(turn.i), _leader(at, box))
            floor = reach + turn.cost + (0.0 if place.leader is None else LEADER)
            cost = _cost(floor, place, here) if floor < least else inf
            if cost < least:
                best, least = place, cost
    if best is None and at_most == inf:
        best = _anywhere(at, size, room) or _anywhere(at, size, room, led=False)
    return best


def _cost(floor: float, place: Place, room: Room) -> float:
    """What a free place costs, its leader counted."""
    cost = floor + room.cost(place.box)
    leader = place.leader
    if leader is None:
        return cost
    if any(leader.meets(_open(box, leader)) for box in room.boxes):
        return inf
    crossed = sum(leader.crosses(line) for line in room.lines)
    return cost + CROSSING * crossed


def _open(box: Rect, leader: Segment) -> Rect:
    """The box as a leader minds it: less its rim if the leader starts there."""
    rim = box.grown(1.0)
    across = rim.left <= leader.ax <= rim.right
    return box.grown(-RIM) if across and rim.top <= leader.ay <= rim.bottom else box


def _towards(
    at: tuple[float, float],
    size: tuple[float, float],
    turn: Turn,
    reach: float,
) -> Rect:
    (x, y), (wide, high), (i, j, _) = at, size, turn
    slant = SLANT if abs(i) == 1.0 and j else 1.0
    left = x + i * reach * slant - (wide / 2) * (1 - i)
    top = y + j * reach * slant - (high / 2) * (1 - j)
    return Rect(left, top, left + wide, top + high)


def _anchor(i: float) -> Anchor:
    if abs(i) < ASKEW:
        return "middle"
    return "start" if i > 0 else "end"


def _leader(at: tuple[float, float], box: Rect) -> Segment | None:
    x, y = box.grown(-1.0).nearest(*at)
    if hypot(x - at[0], y - at[1]) < LED_FROM:
        return None
    return Segment(at[0], at[1], x, y)


def _anywhere(
    at: tuple[float, float], size: tuple[float, float], room: Room, *, led: bool = True
) -> Place | None:
    """The nearest free place on the whole sheet, whatever stands under it."""
    best, least = None, inf
    sheet, (wide, high) = room.sheet, size
    top = sheet.top
    while top + high <= sheet.bottom:
        left = sheet.left
        while left + wide <= sheet.right:
            box = Rect(left, top, left + wide, top + high)
            x, y = box.middle
            far = hypot(x - at[0], y - at[1])
            if far < least and room.free(box):
                place = Place(box, "start", _leader(at, box) if led else None)
                cost = _cost(far, place, room)
                if cost < least:
                    best, least = place, cost
            left += GRID
        top += GRID
    return best
