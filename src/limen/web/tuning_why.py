"""Why settings cannot be better: what binds, and what was proved to lift it."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from limen.findings import Lack, Message, Verdict
from limen.quantity import Show
from limen.web.doorway_lines import Line, line, say

if TYPE_CHECKING:
    from limen.findings.tuned import Tuned


@dataclass(frozen=True, slots=True)
class Why:
    """One question that keeps the settings from being better.

    Attributes:
        verdict: its verdict.
        name: the question, with where.
        because: the reason, and its room.
        lifts: what beyond the settings lifts it.
        lacks: what would settle it.
    """

    verdict: str
    name: str
    because: str
    lifts: tuple[str, ...]
    lacks: tuple[str, ...]

    @property
    def open(self) -> bool:
        """Whether it is not shown, and nothing was proved to help."""
        return self.verdict == Verdict.NOT_SHOWN.value and not self.lifts


_Key = tuple[str, str, str, tuple[str, ...], tuple[str, ...]]


def whys(found: "Tuned", system: Show) -> tuple[Why, ...]:
    """What binds; questions with the same answer for several cases once.

    Args:
        found: what was found at a doorway.
        system: in which lengths are written.
    """
    told: dict[_Key, list[Line]] = {}
    for one in found.why_not_better:
        shown = line(one.finding, system)
        lifts = tuple(say(lift, system=system) for lift in one.lifts)
        lacks = tuple(dict.fromkeys(settling(one.finding.lacking, system)))
        because = _with_room(shown.because, shown.room)
        key = (shown.verdict, shown.name, because, lifts, lacks)
        told.setdefault(key, []).append(shown)
    return tuple(_why(key, lines) for key, lines in told.items())


def _with_room(because: str, room: str) -> str:
    """The reason, and the room unless the reason names it already."""
    named = not room or room.partition(" ")[0] in because
    return because if named else f"{because} {room}."


def _why(key: _Key, lines: Sequence[Line]) -> Why:
    verdict, name, because, lifts, lacks = key
    where = "; ".join(one.where for one in lines if one.where)
    apart = Message("doorway_page.apart", {"name": name, "where": where})
    return Why(verdict, say(apart) if where else name, because, lifts, lacks)


def settling(lacking: Iterable[Lack], system: Show) -> Iterator[str]:
    """What would settle it, one sentence each."""
    for lack in lacking:
        what = {"what": lack.message}
        yield say(Message("desk_tune.choose.lacks", what), system=system)
