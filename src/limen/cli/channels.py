"""What `limen channels` prints."""

from importlib.metadata import version
from typing import TYPE_CHECKING

from limen.cli.lines import EMPTY, Ink, Line, wrapped
from limen.cli.paper import paper
from limen.desk.channel_words import (
    headline,
    left_lines,
    pair_lines,
    set_lines,
    unit_lines,
)
from limen.exchange import dumps
from limen.exchange.channels import channels
from limen.findings import Message
from limen.quantity import Show
from limen.words import say

if TYPE_CHECKING:
    from limen.findings.channels import ChannelPlan


def as_json(plan: "ChannelPlan", units: str) -> int:
    """Print the plan as JSON; returns 0: the work is done."""
    values = channels(plan, version=version("limen"), system=Show(units))
    paper().put_text(dumps(values))
    return 0


def as_text(plan: "ChannelPlan", units: str, *, every: bool) -> int:
    """Print what to set, what is left, and every unit; returns 0: the work is done."""
    page, system = paper(), Show(units)
    width = page.width
    lines = wrapped(
        say(Message("channels.title", {"site": plan.site})), width, ink=Ink.STRONG
    )
    for one in headline(plan):
        lines += wrapped(one, width)
    lines += _part("set", set_lines(plan), width, Ink.STRONG)
    lines += _part("left", left_lines(plan, system), width)
    lines += _part("units", unit_lines(plan), width)
    if every:
        lines += _part("pairs", pair_lines(plan, system), width)
    page.put(lines)
    return 0


def _part(
    key: str, said: tuple[str, ...], width: int | None, ink: Ink = Ink.PLAIN
) -> list[Line]:
    """A heading and its lines; nothing where there are none."""
    if not said:
        return []
    told = [EMPTY, *wrapped(say(Message(f"channels.heading.{key}")), width)]
    for one in said:
        told += wrapped(one, width, indent=2, hang=2, ink=ink)
    return told
