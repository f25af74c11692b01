"""The channels of a site: what each unit takes, which pairs may reach each other."""

from dataclasses import dataclass

from limen.findings.finding import Lack
from limen.findings.message import Message


@dataclass(frozen=True, slots=True)
class ChannelUnit:
    """One unit and its channel.

    Attributes:
        doorway, fitting: ids.
        side: on which side of the doorway it hangs.
        was: the channel that is set; None if nobody said.
        channel: the channel to set; None where the unit has none.
        choices: the channels it can be set to.
        fixed: whether the file says that it must stay.
    """

    doorway: str
    fitting: str
    side: str
    was: int | None
    channel: int | None
    choices: tuple[int, ...]
    fixed: bool

    @property
    def changes(self) -> bool:
        """Whether it is to be set anew."""
        return self.channel is not None and self.channel != self.was


@dataclass(frozen=True, slots=True)
class ChannelPair:
    """Two units that may reach each other.

    Attributes:
        one, two: places in the list of units.
        how: ``meets``, ``may`` or ``not known``.
        because: why.
        room: how far their light is apart (m), negative where it overlaps.
        shares: whether both have one channel in the plan.
        shared: whether they have one, or an unknown one, as they are set.
        to_part: how far the light of one has to be moved, along or across the doors,
            until it surely does not meet that of the other (m); None if they do not
            share, or if it is not known.
        remedy: what else keeps them apart, where they share; None where they do not.
        lacking: what would settle it.
    """

    one: int
    two: int
    how: str
    because: Message
    room: float | None
    shares: bool
    shared: bool
    to_part: float | None
    remedy: Message | None
    lacking: tuple[Lack, ...]


@dataclass(frozen=True, slots=True)
class DoorwayPlace:
    """Where a doorway stands in the frame of its group (m), and how wide it is."""

    doorway: str
    name: str
    group: int
    at: tuple[float, float]
    width: float


@dataclass(frozen=True, slots=True)
class ChannelPlan:
    """The channels of a site.

    Attributes:
        site: its name.
        units: in the order of the file.
        pairs: those that may reach each other.
        places: of the doorways.
        radars: units without rows, which no channel keeps apart, by doorway and id.
        together: units that all may reach each other: as many channels are needed.
        used: how many channels the plan uses.
        exact: whether no way is better; else the search was cut off.
        harm, least_harm: cost of what shares a channel, and the least that it can be.
    """

    site: str
    units: tuple[ChannelUnit, ...]
    pairs: tuple[ChannelPair, ...]
    places: tuple[DoorwayPlace, ...]
    radars: tuple[tuple[str, str], ...]
    together: tuple[int, ...]
    used: int
    exact: bool
    harm: int
    least_harm: int

    @property
    def changes(self) -> tuple[ChannelUnit, ...]:
        """The units to set anew."""
        return tuple(one for one in self.units if one.changes)

    @property
    def sharing(self) -> tuple[ChannelPair, ...]:
        """The pairs that the plan leaves on one channel."""
        return tuple(pair for pair in self.pairs if pair.shares)
