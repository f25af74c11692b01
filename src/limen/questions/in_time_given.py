"""Who walks to the door, from where, what notices them, and how the door opens.

Everything is settled twice: *surely*, by the worse end of every figure, to show that
nobody is late; and, where that fails, *maybe*, by the better end, to show that
somebody is even so.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf

import numpy as np

from limen.findings import Lack, Measure, Message
from limen.model.people import Approach as From
from limen.model.people import Side
from limen.physics.in_time import Approach, steepest
from limen.physics.in_time_edges import edges_of
from limen.physics.in_time_field import Array, Bools, Field, Senses, field_of
from limen.physics.leaf import Opening, opening_of
from limen.physics.plan import sign
from limen.physics.radar import Radar
from limen.physics.walking import Group, Walker
from limen.quantity import Dimension, Quantity
from limen.questions.approach_field import FieldFacts, fields_of
from limen.questions.approach_taken import Taken, assumed, stated
from limen.questions.asking import Asked, lack, once, too_weak
from limen.questions.leaf_lacks import lacking, opening_figures

GROUPS = ("adults", "older", "schoolchildren", "wheelchair")
"""Groups of people whose speeds a rulebook carries: mean ± one standard deviation."""
BODY = (
    "body_width",
    "body_depth",
    "side_clearance",
    "stand_off",
    "noticed_at",
    "aside",
)
QUICK = 0.95  # share of a group that is to be served, where no speed is named
LIMITS: dict[str, Dimension] = {
    **dict.fromkeys(BODY, Dimension.LENGTH),
    "heading": Dimension.ANGLE,
    "fastest": Dimension.SPEED,
    **dict.fromkeys(GROUPS, Dimension.SPEED),
}


@dataclass(frozen=True, slots=True)
class Together:
    """One radar as its figures leave it: it has a place if all, or any, have it.

    Attributes:
        radars: the same unit at each corner of what its place leaves open.
        every: whether all of them must have a place, or any.
    """

    radars: tuple[Radar, ...]
    every: bool

    @property
    def lens(self) -> tuple[float, float, float]:
        """As stated; of the greatest height, from which least is seen of a speed."""
        x, y, _ = self.radars[0].lens
        return x, y, max(radar.lens[2] for radar in self.radars)

    @property
    def least_speed(self) -> float:
        """Slowest motion along the line of sight (m/s)."""
        return self.radars[0].least_speed

    @property
    def response(self) -> float:
        """From motion to output (s)."""
        return self.radars[0].response

    def contains(self, point: Array) -> Bools:
        """Whether points (n, 3) lie within the contour."""
        return self._of([radar.contains(point) for radar in self.radars])

    def detects(self, point: Array, velocity: Array) -> Bools:
        """Whether motion (n, 3) at points (n, 3) is detected."""
        return self._of([radar.detects(point, velocity) for radar in self.radars])

    def _of(self, each: list[Bools]) -> Bools:
        met = np.logical_and if self.every else np.logical_or
        return np.asarray(met.reduce(each), dtype=np.bool_)


@dataclass(frozen=True, slots=True)
class Given:
    """One side of a doorway at one width, settled.

    Attributes:
        side: of the doorway.
        width: to which the door opens (m); None for the clear width.
        surely: what decides, by the worse end of every figure.
        fields: of the units that are known.
        fastest: the speed up to which nobody may find the door late.
        taken: what it rests on.
        height: at which a body is noticed (m).
        face: how far the leaf face lies from the mid-plane (m).
    """

    side: Side
    width: float | None
    surely: Approach
    fields: tuple[FieldFacts, ...]
    fastest: Quantity
    taken: Taken
    height: float
    face: float

    @property
    def out(self) -> float:
        """+1 outside, -1 inside."""
        return sign(self.side)


@dataclass(frozen=True, slots=True)
class Maybe:
    """The same by the better end of every figure.

    Attributes:
        approach: what decides.
        radars: what may notice.
    """

    approach: Approach
    radars: tuple[Senses, ...]


def given(
    asked: Asked, side: Side, width: float | None, like: Given | None = None
) -> Given | tuple[Lack, ...]:
    """Settle one side at the clear width, or a reduced one; or say what is missing.

    Args:
        asked: limits ``LIMITS``.
        side: from which people come.
        width: to which the door opens (m); None for the clear width.
        like: the same side at another width: its fields are the same.
    """
    doorway, plan = asked.doorway, asked.settled.plan
    fields = like.fields if like else fields_of(doorway, plan, side)
    known = tuple(one for one in fields if one.inners)
    surely = doorway.clear_width.low if width is None else width
    opening = opening_of(doorway, width=surely)
    speed = _fastest(asked)
    missing = tuple(_missing(fields, opening, speed, side))
    if missing or isinstance(opening, tuple) or isinstance(speed, Lack):
        return once(missing)
    fastest, quick = speed
    height, way = asked.rule.limit("noticed_at").value, way_of(asked, side)
    drawn = like.surely.fields if like else _inner_fields(known, side, height)
    return Given(
        side,
        width,
        _approach(asked, opening, drawn, side),
        known,
        fastest,
        _rests(asked, known, opening) + quick + _come_from(asked, way, side),
        height,
        plan.side(side).face,
    )


def maybe(asked: Asked, one: Given) -> Maybe | None:
    """One side by the better end of every figure; None if the opening has none."""
    width = asked.doorway.clear_width.high if one.width is None else one.width
    opening = opening_of(asked.doorway, width=width, latest=False)
    if isinstance(opening, tuple):
        return None
    outers = tuple(Together(each.outers, every=False) for each in one.fields)
    fields = _fields(outers, one.out, one.height)
    return Maybe(_better(asked, opening, fields, one.side), outers)


def at_width(asked: Asked, one: Given, width: float) -> Approach | None:
    """What surely decides, were the door to open to another width (m)."""
    opening = opening_of(asked.doorway, width=width)
    if isinstance(opening, tuple):
        return None
    return _approach(asked, opening, one.surely.fields, one.side)


def way_of(asked: Asked, side: Side) -> From | None:
    """From where people come to a side, as stated."""
    return next((way for way in asked.doorway.approach if way.side == side), None)


def _missing(
    fields: tuple[FieldFacts, ...],
    opening: Opening | tuple[str, ...],
    speed: tuple[Quantity, Taken] | Lack,
    side: Side,
) -> Iterator[Lack]:
    if not any(one.inners for one in fields):
        yield from (one for field in fields for one in field.lacks)
    if not fields:
        where = Message(f"side.{side}")
        yield Lack(Message("in_time.lack.unit", {"side": where}), "fitting")
    if isinstance(opening, tuple):
        yield from lacking(opening)
    if isinstance(speed, Lack):
        yield speed


def _walker(asked: Asked) -> Walker:
    width, depth, beside, off = (asked.rule.limit(n).high for n in BODY[:4])
    return Walker(width / 2 + beside, depth / 2 + off)


def _inner_fields(
    known: tuple[FieldFacts, ...], side: Side, height: float
) -> tuple[Field, ...]:
    inners = tuple(Together(one.inners, every=True) for one in known)
    return _fields(inners, sign(side), height)


def _fields(
    radars: tuple[Together, ...], out: float, height: float
) -> tuple[Field, ...]:
    """The fields that reach before the door at this height."""
    found = (field_of(radar, out, height) for radar in radars)
    return tuple(field for field in found if field is not None)


# From where, and how quickly -----------------------------------------------------


def _approach(
    asked: Asked, opening: Opening, fields: tuple[Field, ...], side: Side
) -> Approach:
    """Every heading that may be, from as near as it may be."""
    way, most = way_of(asked, side), asked.rule.limit("heading").high
    headings = (way.from_left.high, way.from_right.high) if way else (most, most)
    start = way.starts.low if way and way.starts else None
    return _made(asked, opening, fields, (headings, start), side)


def _better(
    asked: Asked, opening: Opening, fields: tuple[Field, ...], side: Side
) -> Approach:
    """Only the headings that are sure to be; straight ahead where nothing is."""
    way = way_of(asked, side)
    headings = (way.from_left.low, way.from_right.low) if way else (0.0, 0.0)
    start = way.starts.high if way and way.starts else None
    return _made(asked, opening, fields, (headings, start), side)


def _made(
    asked: Asked,
    opening: Opening,
    fields: tuple[Field, ...],
    whence: tuple[tuple[float, float], float | None],
    side: Side,
) -> Approach:
    """In the frame of the side, headings as far as a straight walk fits."""
    edges, walker = edges_of(opening, sign(side)), _walker(asked)
    headings, start = whence
    fit = steepest(edges, walker) or 0.0
    left, right = (min(heading, fit) for heading in headings)
    low, high = (left, right) if side == "outside" else (right, left)
    middle, aside = sum(edges.full) / 2, asked.rule.limit("aside").high
    face = asked.settled.plan.side(side).face
    return Approach(
        edges,
        fields,
        walker,
        (-low, high),
        (middle - aside, middle + aside),
        inf if start is None else start + face,
    )


def groups_of(asked: Asked) -> tuple[tuple[str, Group], ...]:
    """The groups named, as far as the rulebook has their speeds; else adults."""
    named = asked.doorway.use.groups or ("adults",)
    return tuple((name, _group(asked, name)) for name in named if _has(asked, name))


def _has(asked: Asked, name: str) -> bool:
    return name in GROUPS and asked.rule.has(name)


def _group(asked: Asked, name: str) -> Group:
    speeds = asked.rule.limit(name)
    return Group(speeds.value, speeds.u)


def _fastest(asked: Asked) -> tuple[Quantity, Taken] | Lack:
    """The speed up to which nobody may be late: stated, of a group, or taken."""
    use = asked.doorway.use
    if use.fastest is not None and use.fastest.high <= 0.0:
        return lack("in_time.lack.fastest", "use.fastest")
    if use.fastest is not None:
        return use.fastest, stated(("use.fastest", use.fastest))
    unknown = [name for name in use.groups if not _has(asked, name)]
    if unknown:
        return lack("in_time.lack.group", "use.fastest", {"group": unknown[0]})
    if not use.groups:
        speed = asked.rule.limit("fastest")
        return speed, _taken(speed, Message("in_time.assumed.fastest"))
    quick = [(_group(asked, name).quantile(QUICK), name) for name in use.groups]
    value, name = max(quick)
    speed = Quantity(value, 0.0, asked.rule.limit(name).grade)
    why = Message("in_time.assumed.group", {"group": Message(f"in_time.group.{name}")})
    return speed, _taken(speed, why)


def _taken(speed: Quantity, why: Message) -> Taken:
    shown = Measure(speed.value, Dimension.SPEED)
    settled_by = lack("in_time.lack.fastest", "use.fastest")
    return assumed("use.fastest", why, shown, speed.grade, settled_by)


def _come_from(asked: Asked, way: From | None, side: Side) -> Taken:
    """What the headings rest on."""
    key = f"approach[{side}]"
    if way is None:
        heading = asked.rule.limit("heading")
        shown = Measure(heading.value, Dimension.ANGLE)
        why = Message("in_time.assumed.heading", {"side": Message(f"side.{side}")})
        return assumed(key, why, shown, heading.grade, from_where(side))
    return stated(
        (f"{key}.from_left", way.from_left),
        (f"{key}.from_right", way.from_right),
        (f"{key}.starts", way.starts),
    )


def from_where(side: Side) -> Lack:
    """From where people come to a side, where nobody said it."""
    where = {"side": Message(f"side.{side}")}
    return Lack(Message("in_time.lack.approach", where), f"approach[{side}]")


# What it rests on ----------------------------------------------------------------


def _rests(asked: Asked, known: tuple[FieldFacts, ...], opening: Opening) -> Taken:
    figures = opening_figures(asked.doorway)
    grades = (*asked.limits_graded(*BODY), *opening.grades, *asked.settled.grades)
    weak = too_weak((*figures, *asked.settled.figures))
    rests = Taken(grades, weak=(*asked.weak_limits(*BODY), *weak))
    for one in known:
        rests += one.taken + one.motion
    return rests
