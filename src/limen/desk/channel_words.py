"""A plan of channels in sentences, for the command line and for pages."""

from limen.findings import Message
from limen.findings.channels import ChannelPair, ChannelPlan, ChannelUnit
from limen.findings.message import length
from limen.quantity import Show
from limen.words import say

MOST = 60
"""Pairs that are listed; the JSON has them all."""


def headline(plan: ChannelPlan) -> tuple[str, ...]:
    """Whether anything is to be set, how many channels are needed, how surely."""
    if not plan.units:
        return (say(Message("channels.no_units")),)
    told = [] if plan.changes else [_nothing(plan)]
    if plan.pairs:
        told += [_used(plan), _surely(plan)]
    if plan.radars:
        told.append(say(Message("channels.radars")))
    return tuple(told)


def _nothing(plan: ChannelPlan) -> str:
    if not plan.pairs:
        return say(Message("channels.alone"))
    return say(Message("channels.nothing_left" if plan.sharing else "channels.nothing"))


def _used(plan: ChannelPlan) -> str:
    if len(plan.together) > 1:
        said = {"count": len(plan.together), "used": plan.used}
        return say(Message("channels.needed", said))
    key = "channels.used_one" if plan.used == 1 else "channels.used"
    return say(Message(key, {"used": plan.used}))


def _surely(plan: ChannelPlan) -> str:
    if plan.exact or not plan.harm:
        return say(Message("channels.exact"))
    share = 100 * (plan.harm - plan.least_harm) / plan.harm
    percent = Message("channels.share", {"percent": round(share)})
    return say(Message("channels.cut_off", {"percent": percent}))


def set_lines(plan: ChannelPlan) -> tuple[str, ...]:
    """What to set, unit by unit."""
    return tuple(map(set_line, plan.changes))


def set_line(one: ChannelUnit) -> str:
    """What to set on one unit."""
    said: dict[str, str | int] = {
        "fitting": one.fitting,
        "doorway": one.doorway,
        "channel": one.channel or 0,
    }
    if one.was is None:
        return say(Message("channels.set", said))
    return say(Message("channels.set_was", {**said, "was": one.was}))


def unit_lines(plan: ChannelPlan) -> tuple[str, ...]:
    """Every unit and its channel."""
    return tuple(f"{unit_title(one)}: {unit_channel(one)}" for one in plan.units)


def unit_title(one: ChannelUnit) -> str:
    """A unit as it is called where a line begins."""
    return _begun(unit_name(one))


def _begun(words: str) -> str:
    return words[:1].upper() + words[1:]


def unit_name(one: ChannelUnit) -> str:
    """A unit as it is called in a sentence."""
    said = {"fitting": one.fitting, "doorway": one.doorway}
    return say(Message("unit.other", said))


def unit_channel(one: ChannelUnit) -> str:
    """The channel of a unit, and whether it is set anew."""
    if one.channel is None:
        return say(Message("channels.unit_none"))
    said: dict[str, int] = {"channel": one.channel}
    if one.changes and one.was is not None:
        return say(Message("channels.unit_anew", {**said, "was": one.was}))
    if one.changes:
        return say(Message("channels.unit_first", said))
    return say(Message("channels.fixed" if one.fixed else "channels.stays", said))


def left_lines(plan: ChannelPlan, system: Show = Show.METRIC) -> tuple[str, ...]:
    """What shares a channel in the plan, why, and what keeps it apart.

    Pairs of which nobody can tell come last.
    """
    order = ("meets", "may", "not known")
    left = sorted(plan.sharing, key=lambda one: order.index(one.how))
    told = [
        f"{pair_line(plan, one, system)} {say(one.remedy, system=system)}"
        for one in left[:MOST]
        if one.remedy
    ]
    return (*told, *more(len(left)))


def more(count: int) -> tuple[str, ...]:
    """That there are more pairs than are listed."""
    over = count - MOST
    return (say(Message("channels.more", {"count": over})),) if over > 0 else ()


def pair_lines(plan: ChannelPlan, system: Show = Show.METRIC) -> tuple[str, ...]:
    """Every pair that may reach each other, why, and on which channels."""
    return tuple(pair_line(plan, one, system) for one in plan.pairs)


def pair_line(plan: ChannelPlan, pair: ChannelPair, system: Show) -> str:
    """One pair: who, how surely, why, on which channels."""
    one, two = plan.units[pair.one], plan.units[pair.two]
    names = {"one": unit_name(one), "two": unit_name(two)}
    who = say(Message("channels.pair", names))
    how = say(Message(f"channels.how.{pair.how}"))
    told = [f"{_begun(who)}: {how}.", say(pair.because, system=system)]
    if pair.how == "meets" and pair.room is not None:
        said = {"distance": length(-pair.room)}
        told.append(say(Message("channels.overlap", said), system=system))
    if None in (one.channel, two.channel):
        told.append(say(Message("channels.pair_none")))
    elif pair.shares:
        told.append(say(Message("channels.pair_shared", {"channel": one.channel or 0})))
    else:
        both = {"one": one.channel or 0, "two": two.channel or 0}
        told.append(say(Message("channels.pair_apart", both)))
    return " ".join(told)
