"""Which channel each unit takes, so that no two that may meet share one."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

from limen.findings import Finding, Verdict
from limen.findings.tuned import Turned
from limen.model.fitting import Fitting
from limen.questions import QUESTIONS
from limen.questions.asking import Asked, Met
from limen.questions.settled import Settled
from limen.tune.measuring import CHANNELS
from limen.tune.scales import channel_turned

MOST = 20_000
"""Ways to share channels out that are looked at."""
AND, OF = " and ", ": "


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two units that may reach each other: unit of this doorway, and the other.

    ``fixed`` is the channel of the other where it is one of another doorway; None
    where nobody stated it.
    """

    one: str
    other: str
    own: bool
    fixed: int | None = None


def shared_out(asked: Asked) -> tuple[Turned, ...]:
    """The least change of channels with which fewest units that meet share one.

    Args:
        asked: whether neighbours disturb each other, rows set as they will be.
    """
    meetings = tuple(_meetings(asked))
    units = [f for f in asked.doorway.fitting if _channels(f)]
    if not meetings or not units:
        return ()
    choices = [_worth_trying(one, meetings) for one in units]
    best: tuple[tuple[int, int, int], tuple[int | None, ...]] | None = None
    for number, picked in enumerate(product(*choices)):
        if number >= MOST:
            break
        key = _key(units, picked, meetings)
        if best is None or key < best[0]:
            best = key, picked
    picked = best[1] if best else ()
    return tuple(
        turned
        for unit, channel in zip(units, picked, strict=True)
        if channel is not None
        for turned in channel_turned(unit, channel)
    )


def _channels(fitting: Fitting) -> int | None:
    presence = fitting.unit.presence if fitting.unit else None
    return presence.channels if presence else None


def _worth_trying(
    fitting: Fitting, meetings: Sequence[Meeting]
) -> tuple[int | None, ...]:
    """What is set, then as many others as could ever be needed."""
    now = fitting.settings.channel
    need = len(meetings) + 1
    others = [n for n in range(1, (_channels(fitting) or 0) + 1) if n != now]
    fixed = {one.fixed for one in meetings}
    free = [n for n in others if n not in fixed][:need]
    return (now, *free)


def _key(
    units: Sequence[Fitting], picked: Sequence[int | None], meetings: Sequence[Meeting]
) -> tuple[int, int, int]:
    """Units that meet on one channel, or an unknown one; changes; sum of numbers."""
    channels = {one.id: channel for one, channel in zip(units, picked, strict=True)}
    shared = 0
    for meeting in meetings:
        one = channels.get(meeting.one)
        other = channels.get(meeting.other) if meeting.own else meeting.fixed
        shared += one is None or other is None or one == other
    changed = sum(
        channel != one.settings.channel
        for one, channel in zip(units, picked, strict=True)
    )
    return shared, changed, sum(channel or 0 for channel in picked)


def _meetings(asked: Asked) -> Iterator[Meeting]:
    """Units that would disturb each other if all were on one channel."""
    own = {f.id: f.settings.channel for f in asked.doorway.fitting}
    others = {
        f"{met.facing.doorway}{OF}{facts.fitting.id}": facts.fitting.settings.channel
        for met in asked.met
        if met.settled
        for facts in met.settled.units
    }
    for finding in _on_one_channel(asked):
        if finding.verdict is Verdict.HOLDS or AND not in (finding.case or ""):
            continue
        one, other = (finding.case or "").split(AND)
        if one in own and (other in own or other in others):
            yield Meeting(one, other, other in own, others.get(other))


def _on_one_channel(asked: Asked) -> tuple[Finding, ...]:
    met = tuple(
        Met(one.facing, _all_alike(one.settled) if one.settled else None)
        for one in asked.met
    )
    settled = _all_alike(asked.settled)
    return QUESTIONS[CHANNELS].ask(replace(asked, settled=settled, met=met))


def _all_alike(settled: Settled) -> Settled:
    """Every unit on the first channel."""
    units = tuple(
        replace(facts, fitting=_first_channel(facts.fitting)) for facts in settled.units
    )
    return replace(settled, units=units)


def _first_channel(fitting: Fitting) -> Fitting:
    settings = fitting.settings.model_copy(update={"channel": 1})
    return fitting.model_copy(update={"settings": settings})
