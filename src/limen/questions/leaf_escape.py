"""A door on an escape route: how soon it is open, without power, in every mode."""

from dataclasses import dataclass
from math import ceil

from limen.findings import Finding, Message, Remedy, Verdict, Witness
from limen.findings.message import length
from limen.model.doorway import Doorway
from limen.physics.leaf import Opening, opening_of
from limen.physics.leaf_speed import Missing, Span
from limen.quantity import Dimension, Outcome, Quantity, at_least, at_most
from limen.questions.asking import Asked, compared, graded, margin_of
from limen.questions.leaf_lacks import (
    Figures,
    Said,
    lacking,
    metres_a_second,
    newtons,
    seconds,
    unset,
    weak,
)

ESCAPE = {"share": Dimension.RATIO, "time": Dimension.TIME}
MODES = {"share": Dimension.RATIO}
POWER = {"hand_force": Dimension.FORCE, "hand_instead": Dimension.FORCE}
NOISE = 1e-6  # mm
TIMED_SHARE = 0.8
"""The share of the clear width to which ``motion.time_to_most`` is timed."""


@dataclass(frozen=True, slots=True)
class Timed:
    """When most of the width is free after the signal.

    Attributes:
        time: measured, or computed with its bounds (s).
        figures: what it rests on, by key.
        quickest: the opening at the quick end of every figure, if it was computed.
    """

    time: Quantity
    figures: Figures
    quickest: Opening | None = None


def escape_opening(asked: Asked) -> tuple[Finding, ...]:
    """Is enough of the clear width free soon enough, for people who escape?

    From the signal, the door closed and at rest: the time to ``share`` of the clear
    width, measured, else computed from delay, speed and acceleration or the
    stopwatch, with the bounds of all figures.

    Args:
        asked: limits ``share`` of the clear width and ``time`` (s).

    Returns:
        One finding.  Margin in s.

    Source:
        The rulebook's figures; kinematics.  Left out: the time until the signal,
        and whether the leaves would be found by a crowd.
    """
    lacks = unset(asked, *ESCAPE)
    if lacks:
        because = Message("escape_opening.no_figure")
        return (asked.answer(Verdict.NOT_SHOWN, because, lacking=lacks),)
    share = asked.rule.limit("share").value
    timed = _timed(asked.doorway, share)
    if isinstance(timed, tuple):
        because = Message("escape_opening.unknown")
        measured = ("motion.time_to_most",) if _is_timed_share(share) else timed
        lacks = lacking(measured)
        return (asked.answer(Verdict.NOT_SHOWN, because, lacking=lacks),)
    return (_in_time(asked, share, timed),)


def _in_time(asked: Asked, share: float, timed: Timed) -> Finding:
    limit = asked.rule.limit("time")
    comparison = at_most(timed.time, limit)
    closer = "motion.time_to_most" if _is_timed_share(share) else "motion.opening_time"
    feeble = weak(asked, timed.figures, *ESCAPE)
    told = compared(comparison, feeble if comparison.capped else closer)
    width = share * asked.doorway.clear_width.value
    said: Said = {
        "least": seconds(timed.time.low),
        "most": seconds(timed.time.high),
        "limit": seconds(limit.value),
        "width": length(width),
    }
    fails = told.verdict is Verdict.FAILS
    return asked.answer(
        told.verdict,
        Message(f"escape_opening.{told.verdict.key}", said),
        margin=margin_of(comparison, Dimension.TIME),
        needed=Message("escape_opening.needed", said),
        remedy=_quicker(asked.doorway, width, limit) if fails else None,
        witness=_not_yet_open(timed, limit.value) if fails else None,
        lacking=told.lacking,
        to_confirm=told.to_confirm,
    )


def _is_timed_share(share: float) -> bool:
    return abs(share - TIMED_SHARE) < 1e-9  # noqa: PLR2004  # noise of a percentage


def _timed(doorway: Doorway, share: float) -> Timed | Missing:
    """When a share of the clear width is free: measured, else computed."""
    measured = doorway.motion.time_to_most
    computed = _computed(doorway, share)
    if measured is None or not _is_timed_share(share):
        return computed
    timed = Timed(measured, (("motion.time_to_most", measured),))
    if isinstance(computed, tuple) or measured.high >= computed.time.low:
        return timed
    grades = (measured.grade, computed.time.grade)
    either = Span(measured.low, computed.time.high, grades)
    return Timed(either.bounded, (*timed.figures, *computed.figures))


def _computed(doorway: Doorway, share: float) -> Timed | Missing:
    """When a share of the clear width is free, by the bounds of all figures."""
    clear = doorway.clear_width
    slow = opening_of(doorway, width=clear.high, from_closed=True)
    quick = opening_of(doorway, width=clear.low, latest=False, from_closed=True)
    if isinstance(slow, tuple) or isinstance(quick, tuple):
        return slow if isinstance(slow, tuple) else ("motion.opening_time",)
    early, late = quick.time_to(share * clear.low), slow.time_to(share * clear.high)
    span = Span(early, late, (*slow.grades, clear.grade))
    return Timed(span.bounded, _opening_figures(doorway), quick)


def _opening_figures(doorway: Doorway) -> Figures:
    motion = doorway.motion
    return (
        ("motion.start_delay", motion.start_delay),
        ("motion.opening_speed", motion.opening_speed),
        ("motion.opening_acceleration", motion.opening_acceleration),
        ("motion.opening_time", motion.opening_time),
        *(("motion.opening_runs", run) for run in motion.opening_runs),
        ("clear_width", doorway.clear_width),
    )


def _quicker(doorway: Doorway, width: float, limit: Quantity) -> Remedy:
    """The mean speed that a leaf needs from the signal on, to whole cm/s upward."""
    way = width / (1 if doorway.leaves.hand else 2)
    mean = ceil(100 * way / limit.low) / 100
    said: Said = {
        "width": length(width),
        "time": seconds(limit.value),
        "speed": metres_a_second(mean),
    }
    return Remedy(Message("remedy.escape_opening", said))


def _not_yet_open(timed: Timed, time: float) -> Witness:
    """How wide it is by then, were every figure at its quick end."""
    if timed.quickest is None:
        return Witness("state")
    left, right = timed.quickest.free(time)
    return Witness("state", gap=float(right - left))


def power_loss(asked: Asked) -> tuple[Finding, ...]:
    """Does the door let people out when the power goes?

    On an escape route the leaves open by themselves, which somebody has tried, or
    swing out when pushed; where the rulebook accepts it, they open by hand with
    little force.  Everywhere: the force that opens a leaf by hand.

    Args:
        asked: limits ``hand_force`` and ``hand_instead`` (N): the force by hand, and
            the force by hand that an escape route may rely on; where the rulebook
            has them.

    Returns:
        One finding *by hand*; on an escape route one *by itself* too.  Margin in N.

    Source:
        The rulebook's figures; what was seen and measured.
    """
    by_hand = _by_hand(asked)
    return (
        (_by_itself(asked), by_hand) if asked.doorway.use.escape_route else (by_hand,)
    )


def _by_itself(asked: Asked) -> Finding:
    loss, breaks_out = asked.doorway.power_loss, asked.doorway.use.breaks_out
    if breaks_out:
        return _way_out(asked, Outcome.HOLDS, "breaks_out")
    if loss is None:
        return _way_out(asked, Outcome.NOT_SHOWN, "unknown", "power_loss.does")
    if loss.does == "opens":
        later = (
            asked.on is not None and loss.tried is not None and loss.tried > asked.on
        )
        if loss.tried is None or later:
            return _way_out(asked, Outcome.NOT_SHOWN, "untried", "power_loss.tried")
        if loss.by == "nothing":
            return _way_out(asked, Outcome.NOT_SHOWN, "by_nothing", "power_loss.by")
        return _way_out(asked, Outcome.HOLDS, "opens")
    if breaks_out is None:
        return _way_out(asked, Outcome.NOT_SHOWN, "no_break_out", "use.breaks_out")
    if not asked.rule.has("hand_instead"):
        return _way_out(asked, Outcome.FAILS, "stays")
    return _forced(asked, "by itself", "hand_instead")


def _way_out(asked: Asked, outcome: Outcome, why: str, *keys: str) -> Finding:
    told = graded(outcome, asked.limits_graded(), weak(asked, ()))
    fails = outcome is Outcome.FAILS
    return asked.answer(
        told.verdict,
        Message(f"power_loss.{why}"),
        case="by itself",
        remedy=Remedy(Message("remedy.power_loss.opens")) if fails else None,
        witness=Witness("state") if fails else None,
        lacking=(*lacking(keys), *told.lacking),
        to_confirm=told.to_confirm,
    )


def _by_hand(asked: Asked) -> Finding:
    return _forced(asked, "by hand", "hand_force")


def _forced(asked: Asked, case: str, limit_name: str) -> Finding:
    """The force that opens a leaf by hand against one of the rule's figures."""
    loss = asked.doorway.power_loss
    force = loss.hand_force if loss else None
    where = "power_loss.hand_force"
    needed = [] if force else [where] if loss else ["power_loss.does", where]
    lacks = (*lacking(needed), *unset(asked, limit_name))
    if force is None or lacks:
        because = Message("power_loss.hand_unknown")
        return asked.answer(Verdict.NOT_SHOWN, because, case=case, lacking=lacks)
    limit = asked.rule.limit(limit_name)
    comparison = at_most(force, limit)
    feeble = weak(asked, ((where, force),), limit_name)
    told = compared(comparison, feeble if comparison.capped else where)
    said: Said = {"force": newtons(force.value), "limit": newtons(limit.value)}
    fails = told.verdict is Verdict.FAILS
    return asked.answer(
        told.verdict,
        Message(f"power_loss.hand.{told.verdict.key}", said),
        case=case,
        margin=margin_of(comparison, Dimension.FORCE),
        needed=Message("power_loss.needed", said),
        remedy=Remedy(Message("remedy.power_loss.hand", said)) if fails else None,
        lacking=told.lacking,
        to_confirm=told.to_confirm,
    )


def modes(asked: Asked) -> tuple[Finding, ...]:
    """Does a mode that people can choose lock or narrow an escape route?

    A mode that locks the way out (night; exit only, where people also escape from
    outside inwards) is chosen with a key or code alone.  A reduced mode leaves
    ``share`` of the clear width.

    Args:
        asked: limit ``share``, of the clear width.

    Returns:
        One finding for each such mode; one in all where no mode does.

    Source:
        The rulebook's figures.  Left out: whether the escape signal overrides the
        mode, which only a test shows.
    """
    doorway, found = asked.doorway, list[Finding]()
    if "night" in doorway.modes:
        found.append(_locks(asked, "night"))
    if "exit only" in doorway.modes:
        found.extend(_exit_only(asked))
    if "reduced" in doorway.modes and doorway.reduced_width is not None:
        found.append(_narrows(asked, doorway.reduced_width))
    if found:
        return tuple(found)
    if "modes" not in doorway.model_fields_set:
        because, lacks = Message("modes.unknown"), lacking(("modes",))
        return (asked.answer(Verdict.NOT_SHOWN, because, lacking=lacks),)
    told = graded(Outcome.HOLDS, asked.limits_graded(), weak(asked, ()))
    because = Message("modes.none")
    return (
        asked.answer(
            told.verdict, because, lacking=told.lacking, to_confirm=told.to_confirm
        ),
    )


def _exit_only(asked: Asked) -> tuple[Finding, ...]:
    escape_from = asked.doorway.use.escape_from
    if not escape_from:
        return (_mode(asked, Outcome.NOT_SHOWN, "exit only", ("use.escape_from",)),)
    return (_locks(asked, "exit only"),) if "outside" in escape_from else ()


def _locks(asked: Asked, mode: str) -> Finding:
    match asked.doorway.mode_switch:
        case None:
            return _mode(asked, Outcome.NOT_SHOWN, mode, ("mode_switch",))
        case "free":
            return _mode(asked, Outcome.FAILS, mode)
        case "key or code":
            return _mode(asked, Outcome.HOLDS, mode)


def _mode(
    asked: Asked, outcome: Outcome, mode: str, missing: tuple[str, ...] = ()
) -> Finding:
    told = graded(outcome, asked.limits_graded(), weak(asked, ()))
    said: Said = {"mode": Message(f"modes.mode.{mode.replace(' ', '_')}")}
    fails = outcome is Outcome.FAILS
    return asked.answer(
        told.verdict,
        Message(f"modes.locks.{told.verdict.key}", said),
        case=mode,
        remedy=Remedy(Message("remedy.modes.switch", said)) if fails else None,
        witness=Witness("state") if fails else None,
        lacking=(*lacking(missing), *told.lacking),
        to_confirm=told.to_confirm,
    )


def _narrows(asked: Asked, reduced: Quantity) -> Finding:
    lacks = unset(asked, "share")
    if lacks:
        because = Message("modes.no_figure")
        return asked.answer(Verdict.NOT_SHOWN, because, case="reduced", lacking=lacks)
    share, clear = asked.rule.limit("share"), asked.doorway.clear_width
    wanted = Quantity(share.value * clear.value, share.value * clear.u, share.grade)
    comparison = at_least(reduced, wanted)
    figures = (("reduced_width", reduced), ("clear_width", clear))
    feeble = weak(asked, figures, "share")
    told = compared(comparison, feeble if comparison.capped else "reduced_width")
    said: Said = {"width": length(reduced.value), "limit": length(wanted.value)}
    fails = told.verdict is Verdict.FAILS
    return asked.answer(
        told.verdict,
        Message(f"modes.reduced.{told.verdict.key}", said),
        case="reduced",
        margin=margin_of(comparison, Dimension.LENGTH),
        needed=Message("modes.needed", said),
        remedy=_widen(wanted) if fails else None,
        witness=Witness("state", gap=reduced.value) if fails else None,
        lacking=told.lacking,
        to_confirm=told.to_confirm,
    )


def _widen(wanted: Quantity) -> Remedy:
    """To the whole millimetre that is surely wide enough."""
    width = ceil(1000 * wanted.high - NOISE) / 1000
    return Remedy(Message("remedy.modes.widen", {"limit": length(width)}))
