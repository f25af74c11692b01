"""The channels of a site: the layout, the sharing out, what is left to screen."""

from collections.abc import Sequence
from math import isfinite

from limen.findings import Message
from limen.findings.channels import (
    ChannelPair,
    ChannelPlan,
    ChannelUnit,
    DoorwayPlace,
)
from limen.findings.message import length
from limen.model.doorway import Doorway
from limen.model.site import Site
from limen.physics.channels import Allotment, First, clique
from limen.questions.channels import Layout, Pair, Seat, layout, to_part, units_of
from limen.tune.channels_exact import Told, allotted


def channel_plan(
    site: Site, *, first: First = "changes", told: Told | None = None
) -> ChannelPlan:
    """Which channel each unit of a site takes.

    The least harm first; then the fewest units to set anew and the fewest channels,
    or the other way round.

    Args:
        site: sheets hung on its fittings.
        first: what counts first among the ways of least harm.
        told: how far it is.
    """
    found = layout(site.doorway)
    units = units_of(found, first)
    shared = allotted(units, told)
    return ChannelPlan(
        site.name,
        tuple(map(_unit, found.seats, shared.channels)),
        tuple(_pair(found, shared, pair) for pair in found.pairs),
        tuple(_place(found, door) for door in site.doorway),
        found.radars,
        clique(units),
        shared.used(),
        shared.exact,
        shared.harm,
        shared.least_harm,
    )


def _unit(seat: Seat, channel: int | None) -> ChannelUnit:
    door, fitting = seat.name
    fixed = seat.fitting.settings.channel_fixed
    side = seat.fitting.side
    return ChannelUnit(door, fitting, side, seat.channel, channel, seat.choices, fixed)


def _place(found: Layout, door: Doorway) -> DoorwayPlace:
    place = found.places[door.id]
    return DoorwayPlace(
        door.id, door.name, place.group, place.at, door.clear_width.value
    )


def _pair(found: Layout, shared: Allotment, pair: Pair) -> ChannelPair:
    planned = _one_channel(shared.channels[pair.one], shared.channels[pair.two])
    one, two = found.seats[pair.one], found.seats[pair.two]
    way, by = _nearer(found, pair) if planned else ("along", None)
    return ChannelPair(
        pair.one,
        pair.two,
        pair.how,
        pair.because,
        pair.room,
        planned,
        _one_channel(one.channel, two.channel),
        by,
        _remedy(pair, (one, two), way, by) if planned else None,
        pair.lacking,
    )


def _one_channel(one: int | None, two: int | None) -> bool:
    return one is None or two is None or one == two


def _remedy(pair: Pair, seats: Sequence[Seat], way: str, by: float | None) -> Message:
    """What keeps a pair apart where no channel does."""
    one, two = (
        Message("unit.other", {"fitting": seat.name[1], "doorway": seat.name[0]})
        for seat in seats
    )
    said = {"one": one, "two": two}
    if pair.how == "not known" and seats[0].name[0] != seats[1].name[0]:
        doors = {"one": seats[0].name[0], "two": seats[1].name[0]}
        return Message("channels.remedy.tape", doors)
    if by is None:
        return Message("channels.remedy.screen", said)
    # a hair more than touching, in whole millimetres
    return Message(f"channels.remedy.{way}", {**said, "by": length(by + 0.001)})


def _nearer(found: Layout, pair: Pair) -> tuple[str, float | None]:
    """Along or across the doors, whichever parts their light sooner (m)."""
    along, across = to_part(found, pair)
    way, by = ("along", along) if along < across else ("across", across)
    return way, by if isfinite(by) else None
