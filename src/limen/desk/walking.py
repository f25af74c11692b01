"""A walk to the door played in true time: what happens when, and where people are."""

from dataclasses import dataclass
from math import floor
from typing import TYPE_CHECKING, Literal

from limen.desk.library import Desk, Opened, book_of
from limen.findings import Finding, Measure, Message
from limen.findings.message import length
from limen.quantity import Dimension

if TYPE_CHECKING:
    from limen.questions.in_time_played import Played

Mark = Literal["starts", "enters", "told", "moves", "arrives", "enough"]
HUNDREDTHS = 100.0


@dataclass(frozen=True, slots=True)
class Instant:
    """Something that happens on a walk.

    Attributes:
        mark: what.
        at: when, from the beginning of the walk (s).
        place: x, y of the walker then (m).
        says: what happens, as a sentence.
        brief: the same in a word or two, for a drawing, with a gap ``at`` for the
            time; None where it says nothing there.
    """

    mark: Mark
    at: float
    place: tuple[float, float]
    says: Message
    brief: Message | None


@dataclass(frozen=True, slots=True)
class Walking:
    """A walk, and what happens on it.

    Attributes:
        played: the walk as the verdict walked it.
        ends: when there is nothing more to see (s).
        instants: in the order of time.
    """

    played: "Played"
    ends: float
    instants: tuple[Instant, ...]


def has_walk(finding: Finding | None) -> bool:
    """Whether a finding shows a walk that can be played."""
    witness = finding.witness if finding else None
    return witness is not None and witness.kind == "walk"


def walking(
    desk: Desk, opened: Opened, doorway_id: str, finding: Finding
) -> Walking | None:
    """The walk that a finding of a doorway shows, instant by instant.

    Args:
        desk: the desk.
        opened: the site.
        doorway_id: one of its doorways.
        finding: of its study.

    Returns:
        The walk; None if the finding shows none.

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
    """
    from limen.study.playing import walk_of

    door = opened.doorway(doorway_id)
    if not has_walk(finding):
        return None
    book = book_of(desk, opened.site, door)
    played = walk_of(door, book, finding, on=desk.day())
    return told_of(played) if played else None


def told_of(played: "Played") -> Walking:
    """What happens on a walk."""
    slow = played.shows is not None
    found = [
        _instant(played, "starts", 0.0),
        _instant(played, "enters", played.entered, slow=slow),
        _instant(played, "told", played.told),
        _instant(played, "moves", played.moves),
        _instant(played, "arrives", played.arrives, slow=slow),
        _instant(played, "enough", played.enough),
    ]
    there = sorted((one for one in found if one), key=lambda one: one.at)
    ends = max(played.arrives, played.enough or 0.0)
    return Walking(played, ends, tuple(one for one in there if one.at <= ends))


def place_at(played: "Played", instant: float) -> tuple[float, float]:
    """Where the walker is at an instant: x, y (m); waiting there after arrival."""
    share = min(instant / played.arrives, 1.0)
    (ax, ay), (bx, by) = played.start, played.stop
    return ax + share * (bx - ax), ay + share * (by - ay)


def _instant(
    played: "Played", mark: Mark, at: float | None, *, slow: bool = False
) -> Instant | None:
    if at is None:
        return None
    key, said = _said(played, mark, slow=slow)
    silent = mark in ("enters", "moves", "enough")
    brief = None if silent else Message(f"walk.brief.{key}", said)
    place = place_at(played, at)
    return Instant(mark, at, place, Message(f"walk.says.{key}", said), brief)


def _said(
    played: "Played", mark: Mark, *, slow: bool
) -> tuple[str, dict[str, str | int | Measure | Message]]:
    """The last part of the sentence's key, and what fills its gaps."""
    match mark:
        case "starts":
            return mark, {"out": length(abs(played.start[1] - played.face))}
        case "enters":
            return ("enters_slowly", _shown(played)) if slow else (mark, {})
        case "arrives" if slow:
            return "passed", {}
        case "arrives" if played.told is None:
            return "unnoticed", {}
        case "arrives":
            said = {"free": played.free, "needs": played.needs, "lacks": played.lacks}
            return mark, {name: length(metres) for name, metres in said.items()}
        case "enough":
            late = (played.enough or 0.0) - played.arrives
            down = floor(late * HUNDREDTHS) / HUNDREDTHS
            return mark, {"late": Measure(down, Dimension.TIME)}
        case "told" | "moves":
            return mark, {}


def _shown(played: "Played") -> dict[str, str | int | Measure | Message]:
    shows, least = played.shows or (0.0, 0.0)
    return {
        "shows": Measure(shows, Dimension.SPEED),
        "least": Measure(least, Dimension.SPEED),
    }
