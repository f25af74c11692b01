"""Does the door stand open enough before those who walk to it arrive?"""

from collections.abc import Iterator
from math import isfinite

from limen.findings import Figure, Finding, Lack, Margin, Message, Verdict
from limen.model.people import Side
from limen.physics.in_time_worst import Sweep, Worst
from limen.quantity import Dimension, Outcome
from limen.questions.approach_field import has_motion, passed_by
from limen.questions.asking import Asked, Verdictful, graded
from limen.questions.clear_width import REDUCED
from limen.questions.in_time_doubt import what_settles
from limen.questions.in_time_given import Given, given, maybe
from limen.questions.in_time_told import (
    Late,
    Swept,
    late_walk,
    remedy_of,
    said_of,
    served_by,
    shown_field,
    shown_walk,
    witness_of,
)

SIDES: tuple[Side, ...] = ("outside", "inside")
TIMED = Lack(Message("in_time.lack.closer"), "motion.opening_time")


def opens_in_time(asked: Asked) -> tuple[Finding, ...]:
    """Does the door stand open enough before those who walk to it arrive?

    A walker is noticed from the first place on from which the radar's field and
    least speed are met for its response without a break; the operator acts; the
    leaves open from the worst state they may be in.  While the walker's middle is
    nearer than half the body's depth and the stand-off from the leaves, body and
    side clearance must lie within what is free.  Over every heading from which
    people come and every target near the middle the worst lateness at the speed
    to be served is bounded, not sampled.

    It *holds* by the worse end of every figure.  It *fails* with a walk, rounded as
    printed, that is late by the better end of every figure; where nobody said from
    where people come that is straight ahead.

    Args:
        asked: limits ``body_width``, ``body_depth``, ``side_clearance``,
            ``stand_off``, ``noticed_at``, ``aside`` (m), ``heading`` (rad),
            ``fastest`` and the groups' speeds (m/s).

    Returns:
        One finding for each side, and one more for a reduced width.  Margin: time
        to spare (s).

    Source:
        The method page "opens in time".  Left out: who turns, brakes or stops
        before the door; several people at once; doors opened by other means.
    """
    named = bool(asked.doorway.fitting) and _sheets_known(asked)
    if named and not has_motion(asked.doorway):
        return (asked.answer(Verdict.NOT_ASKED, Message("in_time.no_motion")),)
    return tuple(_findings(asked))


def _sheets_known(asked: Asked) -> bool:
    return all(fitting.unit is not None for fitting in asked.doorway.fitting)


def _findings(asked: Asked) -> Iterator[Finding]:
    reduced = asked.doorway.reduced_width
    for side in SIDES:
        if passed_by(asked.doorway, side):
            said = {"side": Message(f"side.{side}")}
            because = Message("in_time.one_way", said)
            yield asked.answer(Verdict.NOT_ASKED, because, case=side)
            continue
        wide = given(asked, side, None)
        yield _answer(asked, wide, side, side)
        if reduced is not None:
            like = wide if isinstance(wide, Given) else None
            narrow = given(asked, side, reduced.low, like)
            yield _answer(asked, narrow, side, f"{side}, {REDUCED}")


def _answer(
    asked: Asked, one: Given | tuple[Lack, ...], side: Side, case: str
) -> Finding:
    if isinstance(one, tuple):
        because = Message("in_time.unknown", {"side": Message(f"side.{side}")})
        return asked.answer(Verdict.NOT_SHOWN, because, case=case, lacking=one)
    fast, sweep = one.fastest.high, Sweep(one.surely)
    found = sweep.worst(fast, fast)
    if found.walk is None:
        return _too_narrow(asked, one, case)
    better = None if found.high <= 0.0 else maybe(asked, one)
    late = late_walk(one, better) if better is not None else None
    if late is not None:
        return _fails(asked, Swept(one, sweep, found), case, late)
    doubts = what_settles(asked, one, better) if better is not None else (TIMED,)
    return _held(asked, Swept(one, sweep, found), case, doubts)


def _too_narrow(asked: Asked, one: Given, case: str) -> Finding:
    key = "reduced_width" if REDUCED in case else "clear_width"
    because = Message("in_time.narrow", {"side": Message(f"side.{one.side}")})
    missing = Lack(Message("in_time.lack.narrow"), key)
    return asked.answer(Verdict.NOT_SHOWN, because, case=case, lacking=(missing,))


def _fails(asked: Asked, swept: Swept, case: str, late: Late) -> Finding:
    one = swept.one
    key = "in_time.fails" if isfinite(late.seconds) else "in_time.unnoticed"
    margin = _margin(swept.found)
    return asked.answer(
        Verdict.FAILS,
        Message(key, said_of(one, late, margin)),
        case=case,
        margin=margin,
        needed=_needed(one),
        found=served_by(asked, swept),
        remedy=remedy_of(asked, swept, reduced=REDUCED in case),
        witness=witness_of(one, late),
        assumed=one.taken.assumed,
        figures=(*shown_field(one), *shown_walk(asked, one, late)),
    )


def _held(asked: Asked, swept: Swept, case: str, doubts: tuple[Lack, ...]) -> Finding:
    """It holds, or it is not known to."""
    one = swept.one
    told = _told(one, swept.found, doubts)
    figures: tuple[Figure, ...] = shown_field(one)
    said = {"side": Message(f"side.{one.side}"), "speed": said_of(one)["speed"]}
    return asked.answer(
        told.verdict,
        Message(f"in_time.{told.verdict.key}", said),
        case=case,
        margin=_margin(swept.found),
        needed=_needed(one),
        found=served_by(asked, swept),
        lacking=told.lacking,
        assumed=one.taken.assumed,
        to_confirm=told.to_confirm,
        figures=figures,
    )


def _told(one: Given, found: Worst, doubts: tuple[Lack, ...]) -> Verdictful:
    if found.high > 0.0:
        return Verdictful(Verdict.NOT_SHOWN, lacking=doubts)
    return graded(Outcome.HOLDS, one.taken.grades, one.taken.weak)


def _needed(one: Given) -> Message:
    return Message("in_time.needed", {"speed": said_of(one)["speed"]})


def _margin(found: Worst) -> Margin | None:
    """Time to spare; none where somebody is never noticed."""
    if not isfinite(found.low) or not isfinite(found.high):
        return None
    middle, half = (found.low + found.high) / 2, (found.high - found.low) / 2
    return Margin(-middle, half, Dimension.TIME)
