"""Does the door stand open enough before those who walk to it arrive?"""

from collections.abc import Iterator
from math import isfinite

from limen.findings import Figure, Finding, Lack, Margin, Message, Verdict
from limen.model.people import Side
from limen.physics.in_time import Approach
from limen.physics.in_time_worst import Worst, worst
from limen.quantity import Dimension, Outcome
from limen.questions.approach_field import has_motion
from limen.questions.asking import Asked, Verdictful, graded
from limen.questions.clear_width import REDUCED
from limen.questions.in_time_doubt import what_settles
from limen.questions.in_time_given import Given, given, maybe
from limen.questions.in_time_told import (
    COARSE,
    Late,
    late_walk,
    remedy_of,
    said_of,
    served_by,
    shown_field,
    shown_walk,
    witness_of,
)

FINE = 0.01  # s, to which it is known where there is little to spare or lacking
LITTLE = 0.15  # s
SIDES: tuple[Side, ...] = ("outside", "inside")


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
    if not has_motion(asked.doorway) and _sheets_known(asked):
        return (asked.answer(Verdict.NOT_ASKED, Message("in_time.no_motion")),)
    return tuple(_findings(asked))


def _sheets_known(asked: Asked) -> bool:
    return all(fitting.unit is not None for fitting in asked.doorway.fitting)


def _findings(asked: Asked) -> Iterator[Finding]:
    one_way = asked.doorway.use.one_way
    reduced = asked.doorway.reduced_width
    for side in SIDES:
        if one_way not in (None, side):
            said = {"side": Message(f"side.{side}")}
            because = Message("in_time.one_way", said)
            yield asked.answer(Verdict.NOT_ASKED, because, case=side)
            continue
        yield _answer(asked, side, side, None)
        if reduced is not None:
            yield _answer(asked, side, f"{side}, {REDUCED}", reduced.low)


def _answer(asked: Asked, side: Side, case: str, width: float | None) -> Finding:
    one = given(asked, side, width)
    if isinstance(one, tuple):
        because = Message("in_time.unknown", {"side": Message(f"side.{side}")})
        return asked.answer(Verdict.NOT_SHOWN, because, case=case, lacking=one)
    fast = one.fastest.high
    found = bounded(one.surely, fast)
    if found.walk is None:
        return _too_narrow(asked, one, case)
    better = None if found.high <= 0.0 else maybe(asked, one)
    late = late_walk(one, better) if better is not None else None
    if late is not None:
        return _fails(asked, one, case, (found, late))
    doubts = what_settles(asked, one, better) if better is not None else ()
    return _held(asked, one, case, (found, doubts))


def bounded(approach: Approach, speed: float) -> Worst:
    """The worst lateness at a speed; more closely where it is nearly none."""
    found = worst(approach, speed, speed, tolerance=COARSE)
    if found.high < -LITTLE or found.low > LITTLE:
        return found
    return worst(approach, speed, speed, tolerance=FINE)


def _too_narrow(asked: Asked, one: Given, case: str) -> Finding:
    key = "reduced_width" if REDUCED in case else "clear_width"
    because = Message("in_time.narrow", {"side": Message(f"side.{one.side}")})
    missing = Lack(Message("in_time.lack.narrow"), key)
    return asked.answer(Verdict.NOT_SHOWN, because, case=case, lacking=(missing,))


def _fails(asked: Asked, one: Given, case: str, found: tuple[Worst, Late]) -> Finding:
    bounds, late = found
    key = "in_time.fails" if isfinite(late.seconds) else "in_time.unnoticed"
    return asked.answer(
        Verdict.FAILS,
        Message(key, said_of(one, late)),
        case=case,
        margin=_margin(bounds),
        needed=_needed(one),
        found=served_by(asked, one),
        remedy=remedy_of(asked, one, bounds, reduced=REDUCED in case),
        witness=witness_of(one, late),
        assumed=one.taken.assumed,
        figures=(*shown_field(one), *shown_walk(asked, one, late)),
    )


def _held(
    asked: Asked, one: Given, case: str, bounds: tuple[Worst, tuple[Lack, ...]]
) -> Finding:
    """It holds, or it is not known to."""
    found, doubts = bounds
    told = _told(one, found, doubts)
    figures: tuple[Figure, ...] = shown_field(one)
    said = {"side": Message(f"side.{one.side}"), "speed": said_of(one)["speed"]}
    return asked.answer(
        told.verdict,
        Message(f"in_time.{told.verdict.key}", said),
        case=case,
        margin=_margin(found),
        needed=_needed(one),
        found=served_by(asked, one),
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
