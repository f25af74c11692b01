"""What the page of channels shows."""

from dataclasses import dataclass
from importlib.metadata import version

from limen.desk.channel_words import (
    MOST,
    headline,
    more,
    pair_line,
    set_lines,
    unit_channel,
    unit_title,
)
from limen.draw.channels import draw_channels
from limen.exchange.channels import channels
from limen.findings import Message
from limen.findings.channels import ChannelPair, ChannelPlan
from limen.quantity import Show
from limen.words import say

WIDE, NARROW = 860.0, 360.0
"""px for which the drawings of the page are laid out."""


@dataclass(frozen=True, slots=True)
class Left:
    """A pair that is left on one channel: why, what to do, what would settle it."""

    says: str
    to_do: str
    settle: tuple[str, ...]
    verdict: str


@dataclass(frozen=True, slots=True)
class Shown:
    """All that the page says.

    Attributes:
        headline: whether anything is to be set, how many channels are needed.
        to_set: what to set, unit by unit.
        left, unknown: pairs on one channel: that may meet; of which nobody can tell.
        units: every unit and its channel.
        pairs: the other pairs that may reach each other.
        more: that the lists are cut short.
        wide, narrow: the drawing for a wide and a narrow page.
    """

    headline: tuple[str, ...]
    to_set: tuple[str, ...]
    left: tuple[Left, ...]
    unknown: tuple[Left, ...]
    units: tuple[tuple[str, str], ...]
    pairs: tuple[str, ...]
    more: tuple[str, ...]
    wide: str
    narrow: str


def shown(plan: ChannelPlan, system: Show) -> Shown:
    """The page of a plan."""
    left = tuple(one for one in plan.sharing if one.how != "not known")
    unknown = tuple(one for one in plan.sharing if one.how == "not known")
    apart = tuple(one for one in plan.pairs if not one.shares)
    return Shown(
        headline(plan),
        set_lines(plan),
        tuple(_left(plan, one, system) for one in left[:MOST]),
        tuple(_left(plan, one, system) for one in unknown[:MOST]),
        tuple((unit_title(one), unit_channel(one)) for one in plan.units),
        tuple(pair_line(plan, one, system) for one in apart[:MOST]),
        more(max(len(some) for some in (left, unknown, apart))),
        draw_channels(plan, WIDE) if plan.units else "",
        draw_channels(plan, NARROW) if plan.units else "",
    )


def _left(plan: ChannelPlan, one: ChannelPair, system: Show) -> Left:
    verdict = "fails" if one.how == "meets" else "not shown"
    to_do = say(one.remedy, system=system) if one.remedy else ""
    settle = tuple(
        say(Message("channels.to_settle", {"what": lack.message, "key": lack.key}))
        for lack in one.lacking
    )
    return Left(pair_line(plan, one, system), to_do, settle, verdict)


def drawing(plan: ChannelPlan) -> str:
    """The drawing as a file."""
    return draw_channels(plan, WIDE)


def as_values(plan: ChannelPlan, system: Show) -> dict[str, object]:
    """The plan for programs."""
    return channels(plan, version=version("limen"), system=system)
