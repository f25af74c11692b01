"""Which units of a site may reach each other, doorway by doorway.

Doorways are put into one frame as far as the file says how they stand: facing one
another, or beside one another in a wall.  Units of doorways that it puts into no
common frame may reach each other unless walls part them; they never surely do not.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations
from math import hypot, inf, isfinite
from typing import Literal

import numpy as np

from limen.findings import Lack, Message
from limen.findings.message import length
from limen.model.doorway import Beside, Doorway, Facing
from limen.model.fitting import Fitting
from limen.physics.channels import First, Units, least, part_of, parts
from limen.physics.plan import sign
from limen.questions.asking import once
from limen.questions.lights import Light, apart, light_of, moved_apart
from limen.questions.settled import UnitFacts, settle

How = Literal["meets", "may", "not known"]
Name = tuple[str, str]
"""Ids of a doorway and of a unit there."""
IN_LINE = 0.05  # m, doorways in one wall stand in line as closely as this
MEETS, MAY, WITHIN, UNKNOWN, ONE_SPACE = 2_000, 1_000, 900, 100, 110
"""What it costs that a pair shares a channel; see `harm`."""


@dataclass(frozen=True, slots=True)
class Seat:
    """A unit that sends light, where its doorway stands.

    Attributes:
        name: its doorway and its id.
        fitting: as described.
        light: its light on the floor, in the frame of its group.
        group: number of the frame.
        space: the space that it hangs in; None if nobody named it.
    """

    name: Name
    fitting: Fitting
    light: Light
    group: int
    space: str | None

    @property
    def channel(self) -> int | None:
        """What is set."""
        return self.fitting.settings.channel

    @property
    def choices(self) -> tuple[int, ...]:
        """The channels that it can be set to; the one that is set if it must stay."""
        settings, presence = self.fitting.settings, self.fitting.unit
        count = presence.presence.channels if presence and presence.presence else None
        if settings.channel is not None and (settings.channel_fixed or count is None):
            return (settings.channel,)
        return tuple(range(1, (count or 0) + 1))


@dataclass(frozen=True, slots=True)
class Pair:
    """Two units that may reach each other.

    Attributes:
        one, two: places in the list of seats, the lower first.
        how: whether their light meets as described, may meet within what is left
            open, or nobody can tell.
        because: why.
        room: how far their light is apart (m), negative where it overlaps; None if
            that is not known.
        least: the same at the least.
        lacking: what would settle it.
    """

    one: int
    two: int
    how: How
    because: Message
    room: float | None = None
    least: float | None = None
    lacking: tuple[Lack, ...] = ()


@dataclass(frozen=True, slots=True)
class Layout:
    """How the doorways of a site stand to each other.

    Attributes:
        seats: units that send light, in the order of the file.
        pairs: those that may reach each other.
        places: of every doorway its group, x, y in the group's frame, and how far it
            may be off along x and y (m).
        radars: units without light, which no channel keeps apart: not counted.
    """

    seats: tuple[Seat, ...]
    pairs: tuple[Pair, ...]
    places: Mapping[str, "Place"]
    radars: tuple[Name, ...] = ()


@dataclass(frozen=True, slots=True)
class Place:
    """Where a doorway stands in the frame of its group (m)."""

    group: int
    at: tuple[float, float] = (0.0, 0.0)
    off: tuple[float, float] = (0.0, 0.0)
    lacking: tuple[Lack, ...] = field(default_factory=tuple[Lack, ...])


def layout(doorways: Sequence[Doorway]) -> Layout:
    """Where all units stand and which of them may reach each other.

    Light on the floor, aiming and tapes included, decides for doorways in one frame,
    whatever glass stands between; walls decide for spaces of different names; for
    all others nothing is known.

    Args:
        doorways: of one site, sheets hung on their fittings.

    Source:
        Geometry of the light on the floor, as for `presence.neighbours`.  Left out:
        light thrown back by glass, a polished floor or a wall.
    """
    places = placed(doorways)
    seats: list[Seat] = []
    radars: list[Name] = []
    for door in doorways:
        seats += _seats(door, places[door.id])
        radars += (
            (door.id, one.id)
            for one in door.fitting
            if one.unit and one.unit.motion and not one.unit.presence
        )
    found = tuple(_pairs(places, seats))
    return Layout(tuple(seats), found, places, tuple(radars))


def units_of(found: Layout, first: First = "changes", only: str | None = None) -> Units:
    """The units of a layout, to share channels out among.

    Args:
        found: the layout.
        first: what counts first among the ways of least harm.
        only: a doorway; the units of all others stay as they are set.
    """
    return Units(
        tuple(
            seat.choices if only in (None, seat.name[0]) else _as_set(seat)
            for seat in found.seats
        ),
        tuple(seat.channel for seat in found.seats),
        {(pair.one, pair.two): harm(pair) for pair in found.pairs},
        first,
    )


def _as_set(seat: Seat) -> tuple[int, ...]:
    return () if seat.channel is None else (seat.channel,)


def harm(pair: Pair) -> int:
    """What it costs that a pair shares a channel.

    Light that meets: 2000 and its overlap in millimetres, at most 999.  Light that
    may meet within what is left open: 1000, or less the further it is apart, down to
    101.  Nobody can tell: 100, ten more in one space.  So one pair that surely meets
    outweighs one that may.  A choice of ours, no source.
    """
    match pair.how:
        case "meets":
            return MEETS + min(999, round(-1000 * (pair.room or 0.0)))
        case "may":
            off = pair.room if pair.room is not None and isfinite(pair.room) else 0.0
            return MAY - min(WITHIN - 1, round(1000 * max(off, 0.0)))
        case "not known":
            one_space = pair.because.key == "channels.because.one_space"
            return ONE_SPACE if one_space else UNKNOWN


def chain(doorways: Sequence[Doorway], door: str) -> tuple[Doorway, ...]:
    """The doorways whose place to one doorway is known, by however many steps."""
    places = placed(doorways)
    group = places[door].group
    return tuple(one for one in doorways if places[one.id].group == group)


def shared_in_chain(
    doorways: Sequence[Doorway], door: str, *, only_here: bool = False
) -> Mapping[Name, int | None]:
    """The channels of a doorway and of all that it is chained to, by unit.

    The same whichever doorway of the chain asks: what each is told fits together,
    and is what the plan of the whole site says.

    Args:
        doorways: of the site.
        door: the doorway that asks.
        only_here: whether the units of all other doorways stay as they are set.

    Returns:
        The units that may reach another and have channels; None in a group so large
        that this search cannot tell which way is best.
    """
    found = layout(chain(doorways, door))
    units = units_of(found, only=door if only_here else None)
    told: dict[Name, int | None] = {}
    for members in parts(units):
        best = least(part_of(units, members))
        if len(members) == 1:
            continue
        for member, channel in zip(members, best.channels, strict=True):
            if channel is not None:
                told[found.seats[member].name] = channel if best.exact else None
    return told


def to_part(found: Layout, pair: Pair) -> tuple[float, float]:
    """How far one's light has to be moved until it surely meets the other's not.

    Args:
        found: the layout.
        pair: one of its pairs.

    Returns:
        Metres along and across the doors, each by itself; inf where that is not known.
    """
    one, two = found.seats[pair.one], found.seats[pair.two]
    if one.group != two.group or one.light.lacks or two.light.lacks:
        return inf, inf
    return moved_apart(one.light, _loose(found.places, one, two))


def _loose(places: Mapping[str, Place], one: Seat, two: Seat) -> Light:
    """The second's light, off by all that is open between the two."""
    off, own = _between(places, one, two), two.light.off
    return replace(two.light, off=(own[0] + off[0], own[1] + off[1]))


# Where doorways stand ------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Step:
    """From one doorway to another: by how much, how closely, and what is missing."""

    to: str
    by: tuple[float, float]
    off: tuple[float, float]
    lacking: tuple[Lack, ...] = ()

    def back(self, to: str) -> "_Step":
        """The same the other way."""
        return replace(self, to=to, by=(-self.by[0], -self.by[1]))


def placed(doorways: Sequence[Doorway]) -> dict[str, Place]:
    """Every doorway in the frame of its group, by the shortest chain of steps."""
    steps: dict[str, list[_Step]] = {door.id: [] for door in doorways}
    for door in doorways:
        for step in (*map(_facing, door.facing), *map(_beside, door.beside)):
            if step.to not in steps:  # a doorway that is not at hand
                continue
            named = replace(step, lacking=tuple(_of_door(door.id, step.lacking)))
            steps[door.id].append(named)
            steps[step.to].append(named.back(door.id))
    places: dict[str, Place] = {}
    for group, door in enumerate(doorways):
        if door.id in places:
            continue
        places[door.id] = Place(group)
        todo = [door.id]
        for here in todo:  # grows while it is read
            for step in sorted(steps[here], key=lambda one: sum(one.off)):
                if step.to not in places:
                    places[step.to] = _stepped(places[here], step)
                    todo.append(step.to)
    return places


def _stepped(place: Place, step: _Step) -> Place:
    (x, y), (along, across) = place.at, place.off
    at = (x + step.by[0], y + step.by[1])
    off = (along + step.off[0], across + step.off[1])
    return Place(place.group, at, off, once((*place.lacking, *step.lacking)))


def _facing(facing: Facing) -> _Step:
    shift = facing.shift
    across = sign(facing.side) * facing.distance.value
    if shift is None:
        lack = Lack(Message("lack.shift"), f"facing[{facing.doorway}].shift")
        return _Step(facing.doorway, (0.0, across), (inf, facing.distance.u), (lack,))
    off = (shift.u, facing.distance.u)
    return _Step(facing.doorway, (shift.value, across), off)


def _beside(beside: Beside) -> _Step:
    out = beside.out
    across, closely = (out.value, out.u) if out else (0.0, IN_LINE)
    off = (beside.along.u, closely)
    return _Step(beside.doorway, (beside.along.value, across), off)


def _of_door(door: str, lacks: Sequence[Lack]) -> Iterator[Lack]:
    for one in lacks:
        yield Lack(one.message, f"doorway[{door}].{one.key}")


def _seats(door: Doorway, place: Place) -> Iterator[Seat]:
    spaces = {"outside": door.spaces.outside, "inside": door.spaces.inside}
    for facts in settle(door).units:
        sheet = facts.fitting.unit
        if sheet is not None and sheet.presence is not None:
            yield Seat(
                (door.id, facts.fitting.id),
                facts.fitting,
                _moved(facts, door.id, place),
                place.group,
                spaces[facts.fitting.side],
            )


def _moved(facts: UnitFacts, door: str, place: Place) -> Light:
    """A unit's light in the frame of its group; within its own doorway not moved."""
    light = light_of(facts, f"{door}: ")
    named = tuple(_of_door(door, light.lacks))
    return replace(light, middles=light.middles + np.array(place.at), lacks=named)


# Which may reach which -----------------------------------------------------------


def _pairs(places: Mapping[str, Place], seats: Sequence[Seat]) -> Iterator[Pair]:
    bounds = [_bounds(seat.light) for seat in seats]
    for one, two in combinations(range(len(seats)), 2):
        first, second = seats[one], seats[two]
        if first.group != second.group:
            if not _walls_between(first, second):
                yield _not_placed(one, two, first, second)
            continue
        off = _between(places, first, second)
        if not _surely_far(bounds[one], bounds[two], first, second, off):
            pair = _placed_pair(places, (one, two), first, second, off)
            if pair is not None:
                yield pair


def _between(places: Mapping[str, Place], one: Seat, two: Seat) -> tuple[float, float]:
    """How far two doorways may stand off from each other beyond what is stated (m).

    Each is off by its whole chain from the first of the group: never too little.
    """
    if one.name[0] == two.name[0]:
        return 0.0, 0.0
    first, second = (places[seat.name[0]].off for seat in (one, two))
    return first[0] + second[0], first[1] + second[1]


Bounds = tuple[float, float, float, float, float]


def _bounds(light: Light) -> Bounds | None:
    """Where a unit's light lies: least and most x and y, the largest spot (m)."""
    if not len(light.middles):
        return None
    low, high = light.middles.min(axis=0), light.middles.max(axis=0)
    x, y, to_x, to_y = (float(n) for n in (*low, *high))
    return x, y, to_x, to_y, float(light.radii.max(initial=0.0))


def _surely_far(
    one: Bounds | None,
    two: Bounds | None,
    first: Seat,
    second: Seat,
    off: tuple[float, float],
) -> bool:
    """Whether light is so far apart that no spot needs to be looked at."""
    if one is None or two is None or first.light.lacks or second.light.lacks:
        return False
    gap = (max(one[0] - two[2], two[0] - one[2]), max(one[1] - two[3], two[1] - one[3]))
    loose = zip(gap, first.light.off, second.light.off, off, strict=True)
    left = [max(g - a - b - c, 0.0) for g, a, b, c in loose]
    return hypot(*left) > one[4] + two[4]


def _walls_between(one: Seat, two: Seat) -> bool:
    return None not in (one.space, two.space) and one.space != two.space


def _not_placed(one: int, two: int, first: Seat, second: Seat) -> Pair:
    door, other = first.name[0], second.name[0]
    known = first.space is not None and first.space == second.space
    key = "one_space" if known else "not_placed"
    told = Message(f"channels.lack.{key}", {"one": door, "two": other})
    lacking = [Lack(told, f"doorway[{door}].beside or facing")]
    for seat in (first, second):
        if seat.space is None:
            said = {"doorway": seat.name[0], "side": Message(f"side.{_side(seat)}")}
            key_ = f"doorway[{seat.name[0]}].spaces.{_side(seat)}"
            lacking.append(Lack(Message("channels.lack.space", said), key_))
    because = Message(f"channels.because.{key}", {"space": first.space or ""})
    return Pair(one, two, "not known", because, lacking=tuple(lacking))


def _side(seat: Seat) -> str:
    return seat.fitting.side


def _placed_pair(
    places: Mapping[str, Place],
    which: tuple[int, int],
    first: Seat,
    second: Seat,
    off: tuple[float, float],
) -> Pair | None:
    """What is known of two units in one frame; None if they surely stay apart."""
    lacks = (*first.light.lacks, *second.light.lacks)
    if lacks:
        because = Message("channels.because.light_unknown")
        return Pair(*which, "not known", because, lacking=once(lacks))
    room, least = apart(first.light, _loose(places, first, second))
    if least > 0:
        return None
    if not isfinite(off[0] + off[1]):
        doors = (first.name[0], second.name[0])
        missing = once([lack for door in doors for lack in places[door].lacking])
        because = Message("channels.because.shift_unknown")
        return Pair(*which, "may", because, None, least, missing)
    if room <= 0:
        return Pair(*which, "meets", _meeting(first, second), room, least)
    said = {"distance": length(room)}
    because = Message("channels.because.close", said)
    closer = _closer(first, second)
    return Pair(*which, "may", because, room, least, closer)


def _meeting(one: Seat, two: Seat) -> Message:
    """Through the leaf, through glass between two doorways, or on one floor."""
    if one.name[0] == two.name[0]:
        back = one.fitting.side != two.fitting.side
        return Message(f"channels.because.{'leaf' if back else 'one_side'}")
    glass = _walls_between(one, two)
    return Message(f"channels.because.{'glass' if glass else 'floor'}")


def _closer(*seats: Seat) -> tuple[Lack, ...]:
    return tuple(
        Lack(
            Message(
                "lack.aim",
                {
                    "unit": Message(
                        "unit.other",
                        {"fitting": seat.name[1], "doorway": seat.name[0]},
                    )
                },
            ),
            f"doorway[{seat.name[0]}].fitting[{seat.name[1]}].aim",
        )
        for seat in seats
    )
