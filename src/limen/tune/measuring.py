"""By what settings are held against each other: room, lateness, needless openings."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from limen.findings import Finding, Lack, Margin, Study, Verdict
from limen.model.people import Side
from limen.quantity import Dimension
from limen.questions.approach_field import has_motion, passed_by
from limen.questions.asking import Asked, once
from limen.questions.in_time_given import Given, given
from limen.questions.ranges import FIELD, ROWS
from limen.rules.rule import Weight
from limen.tune.in_time import share_late

SIDES: tuple[Side, ...] = ("outside", "inside")
COVERED = ("presence.threshold", "presence.leaf_path")
LIGHT = "presence.self_view"
POSITION = "mounting.position"
CHANNELS = "presence.neighbours"
OBSTACLES = "site.obstacles"
BESIDES = tuple(name for name in ROWS if name not in (*COVERED, LIGHT))
"""Questions of the rows that all units answer together, but for the proof."""
BORNE = (*ROWS, POSITION, *FIELD)
"""Every question that a setting bears upon."""
NEAR_CLOSED = "near closed"
RANK = {Verdict.HOLDS: 0, Verdict.NOT_ASKED: 0, Verdict.NOT_SHOWN: 1, Verdict.FAILS: 2}


@dataclass(frozen=True, slots=True, order=True)
class Standing:
    """How many questions do not hold, worst first; fewer is better.

    Attributes:
        must_fails, must_open: of those that must hold.
        fails, open: of those that should.
    """

    must_fails: int = 0
    must_open: int = 0
    fails: int = 0
    open: int = 0

    def __add__(self, other: "Standing") -> "Standing":
        """Both together."""
        return Standing(
            self.must_fails + other.must_fails,
            self.must_open + other.must_open,
            self.fails + other.fails,
            self.open + other.open,
        )


def standing(findings: Iterable[Finding]) -> Standing:
    """How many findings fail or are not shown, by weight; advice is not counted."""
    counts = {
        (weight, rank): 0 for weight in (Weight.MUST, Weight.SHOULD) for rank in (1, 2)
    }
    for one in findings:
        key = one.weight, RANK[one.verdict]
        if key in counts:
            counts[key] += 1
    return Standing(
        counts[Weight.MUST, 2],
        counts[Weight.MUST, 1],
        counts[Weight.SHOULD, 2],
        counts[Weight.SHOULD, 1],
    )


def borne(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Those whose answer depends on a setting that is tried here."""
    return tuple(f for f in findings if f.question in BORNE and f.case != NEAR_CLOSED)


def least_room(findings: Iterable[Finding]) -> Margin | None:
    """The least room of the proofs and of the light, as far as room is known."""
    rooms = [
        one.margin
        for one in findings
        if one.question in (*COVERED, LIGHT)
        and one.weight is not Weight.ADVICE
        and one.margin is not None
        and one.margin.dimension is Dimension.LENGTH
        and one.case != NEAR_CLOSED
    ]
    return min(rooms, key=lambda room: room.least, default=None)


def binding(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings that have the least room."""
    every = tuple(findings)
    least = least_room(every)
    if least is None:
        return ()
    tied = [f for f in every if f.margin == least and f.question in (*COVERED, LIGHT)]
    return tuple(tied[:1])


def worse(before: Study, after: Study) -> bool:
    """Whether settings spoil something: see `spoilt`."""
    return spoilt({one.key: one for one in before.findings}, after.findings)


def spoilt(
    before: Mapping[tuple[str, str | None, str | None], Finding],
    after: Iterable[Finding],
) -> bool:
    """Whether settings make a must worse, or let what fails be merely not shown.

    A must is worse by its verdict or, where it goes on failing, by its room.

    Args:
        before: findings as it was set, by their keys.
        after: findings with the settings.
    """
    return any(
        _worse(before[one.key], one)
        for one in after
        if one.key in before and one.weight is not Weight.ADVICE
    )


def lost(
    before: Mapping[tuple[str, str | None, str | None], Finding],
    after: Iterable[Finding],
) -> int:
    """How many that should hold, and did, do so no longer."""
    return sum(
        RANK[one.verdict] > RANK[before[one.key].verdict] == 0
        for one in after
        if one.key in before and one.weight is not Weight.ADVICE
    )


def _worse(was: Finding, now: Finding) -> bool:
    hidden = (was.verdict, now.verdict) == (Verdict.FAILS, Verdict.NOT_SHOWN)
    if hidden or now.weight is not Weight.MUST:
        return hidden
    if RANK[now.verdict] > RANK[was.verdict]:
        return True
    both = was.margin, now.margin
    if RANK[now.verdict] < 2 or None in both:  # noqa: PLR2004 - fails
        return False
    lost = (was.margin.value - now.margin.value) if was.margin and now.margin else 0.0
    slack = sum(one.u for one in both if one)
    return lost > slack


# Late ---------------------------------------------------------------------------


def late_of(asked: Asked | None) -> dict[Side, float | None]:
    """Share of people for whom the door opens late, by side, at its greater end.

    Sides from which nobody comes are left out; None where it cannot be known.

    Args:
        asked: the question whether the door opens in time; None if nobody asks it.
    """
    if asked is None or not has_motion(asked.doorway):
        return {}
    sides: list[Side] = [s for s in SIDES if not passed_by(asked.doorway, s)]
    return {side: late_at(asked, side) for side in sides}


def late_at(asked: Asked, side: Side) -> float | None:
    """The same for one side: of the group that fares worst."""
    one = given(asked, side, None)
    return share_late(asked, one) if isinstance(one, Given) else None


def together(shares: Mapping[Side, float | None]) -> float | None:
    """Both sides together: as many come out as go in."""
    known = [share for share in shares.values() if share is not None]
    if not known or len(known) < len(shares):
        return None
    return sum(known) / len(known)


def late_lacks(asked: Asked) -> tuple[Lack, ...]:
    """What keeps late openings from being known."""
    found: list[Lack] = []
    for side in SIDES:
        one = () if passed_by(asked.doorway, side) else given(asked, side, None)
        found += one if isinstance(one, tuple) else ()
    return once(found)
