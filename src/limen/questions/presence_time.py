"""How quickly a body is answered, and for how long a still one stays found."""

from collections.abc import Iterator
from math import floor

from limen.findings import Finding, Lack, Measure, Message, Remedy, Verdict, Witness
from limen.findings.message import length
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.physics.leaf_speed import closing_speeds
from limen.quantity import (
    Dimension,
    Outcome,
    Quantity,
    at_least,
    at_most,
    least,
)
from limen.questions.asking import Asked, compared, lack, margin_of, too_weak
from limen.questions.leaf_lacks import closer_speed

REACTS = "operator.reacts_in"
LEARNS = "sheet.presence.learns_after"


def response(asked: Asked) -> tuple[Finding, ...]:
    """Does presence answer before the leaf has come far?

    Until the operator acts, a leaf at full closing speed v covers v (t₁ + t₂), t₁
    from the covered beam to the output, t₂ from there until the operator acts.

    Args:
        asked: limit ``leaf_covers`` (m); the sheet's ``response``,
            ``operator.reacts_in`` (or ``motion.reversal_delay``), and what tells
            the closing speed.

    Returns:
        One finding for each presence unit and light barrier.  Margin in m.

    Source:
        Engineering check; a product.  Left out: the way of the leaf while it brakes,
        which `leaf.stops_in_time` counts.
    """
    return tuple(
        _answered(asked, fitting)
        for fitting in asked.doorway.fitting
        if fitting.unit is None
        or fitting.unit.presence is not None
        or fitting.unit.barrier is not None
    )


def _answered(asked: Asked, fitting: Fitting) -> Finding:
    key, unit = unit_response(fitting)
    reacts = _reaction(asked.doorway)
    speeds = closing_speeds(asked.doorway)
    lacking = _response_lacks(fitting, key, unit, reacts, speeds)
    if unit is None or reacts is None or isinstance(speeds, tuple):
        because = Message("response.unknown")
        return asked.answer(
            Verdict.NOT_SHOWN, because, fitting=fitting.id, lacking=lacking
        )
    low = speeds.low * (unit.low + reacts.low)
    high = speeds.high * (unit.high + reacts.high)
    grades = (unit.grade, reacts.grade, *speeds.grades, *asked.limits_graded())
    covered = Quantity((low + high) / 2, (high - low) / 2, least(*grades))
    limit = asked.rule.limit("leaf_covers")
    comparison = at_most(covered, limit)
    weak = _weak(asked, key, unit)
    told = compared(comparison, weak or closer_speed(asked.doorway))
    said = {
        "low": length(low),
        "high": length(high),
        "time": Measure(unit.high + reacts.high, Dimension.TIME),
        "limit": length(limit.value),
    }
    return asked.answer(
        told.verdict,
        Message(f"response.{told.verdict.key}", said),
        fitting=fitting.id,
        margin=margin_of(comparison, Dimension.LENGTH),
        remedy=_slower(asked, unit, reacts, told.verdict),
        witness=_covers(low) if told.verdict is Verdict.FAILS else None,
        lacking=told.lacking,
        to_confirm=told.to_confirm,
    )


def _weak(asked: Asked, key: str, unit: Quantity) -> tuple[Lack, ...]:
    """Figures of a weak grade among those the way rests on."""
    motion, operator = asked.doorway.motion, asked.doorway.operator
    figures = (
        (key, unit),
        (REACTS, operator.reacts_in),
        ("motion.reversal_delay", motion.reversal_delay),
        ("motion.closing_speed", motion.closing_speed),
        ("motion.closing_time", motion.closing_time),
        ("motion.slow_zone", motion.slow_zone),
        ("motion.slow_speed", motion.slow_speed),
    )
    return (*too_weak(figures), *asked.weak_limits("leaf_covers"))


def _covers(way: float) -> Witness:
    """A leaf at full speed, and the way it surely comes before anything happens."""
    return Witness("state", printed={"covers": way})


def _slower(
    asked: Asked, unit: Quantity, reacts: Quantity, verdict: Verdict
) -> Remedy | None:
    """The closing speed at which the leaf covers no more than the limit."""
    if verdict is not Verdict.FAILS:
        return None
    limit = asked.rule.limit("leaf_covers")
    speed = floor(1000 * limit.low / (unit.high + reacts.high)) / 1000
    said = {"speed": Measure(speed, Dimension.SPEED), "limit": length(limit.value)}
    return Remedy(Message("remedy.timing.response", said))


def unit_response(fitting: Fitting) -> tuple[str, Quantity | None]:
    """The sheet's figure for the slower sense that guards, with its key.

    None if it gives none for one of its senses.
    """
    senses = tuple(_senses(fitting))
    silent = (sense for sense in senses if sense[1] is None)
    slowest = max(senses, key=lambda sense: sense[1].high if sense[1] else 0.0)
    return next(silent, slowest)


def _senses(fitting: Fitting) -> Iterator[tuple[str, Quantity | None]]:
    sheet = fitting.unit
    if sheet is None:
        yield f"fitting[{fitting.id}].sheet", None
        return
    if sheet.presence is not None:
        yield "sheet.presence.response", sheet.presence.response
    if sheet.barrier is not None:
        yield "sheet.barrier.response", sheet.barrier.response


def _reaction(doorway: Doorway) -> Quantity | None:
    """From the signal until the operator acts: the later of manual and stopwatch."""
    stated = doorway.operator.reacts_in, doorway.motion.reversal_delay
    known = (one for one in stated if one is not None)
    return max(known, key=lambda one: one.high, default=None)


def _response_lacks(
    fitting: Fitting,
    key: str,
    unit: Quantity | None,
    reacts: Quantity | None,
    speeds: object,
) -> tuple[Lack, ...]:
    found: list[Lack] = []
    if unit is None:
        why = "lack.timing.response" if fitting.unit else "lack.sheet"
        found.append(lack(why, key, {"fitting": fitting.id}))
    if reacts is None:
        found.append(lack("lack.timing.reacts_in", REACTS))
    if isinstance(speeds, tuple):
        found.append(lack("lack.timing.closing_speed", "motion.closing_speed"))
    return tuple(found)


# A body that keeps still -------------------------------------------------------


def hold_time(asked: Asked) -> tuple[Finding, ...]:
    """Is a body that keeps still held for as long as the rulebook asks?

    The time until a still body is learnt into the background, as set on the unit,
    else from its sheet, is held against the rulebook's figure.  Where a setting is
    longer than the sheet's figure, either may be true.  What holds is only a time:
    when it is over, the door closes on whoever lies there.

    Args:
        asked: limit ``hold`` (s), where the rulebook has one.

    Returns:
        One finding for each presence unit.  Margin in seconds.

    Source:
        The setting or the sheet's figure; a comparison, no model.
    """
    return tuple(
        _held(asked, facts.fitting)
        for facts in asked.settled.units
        if facts.fitting.unit is None or facts.fitting.unit.presence is not None
    )


def _held(asked: Asked, fitting: Fitting) -> Finding:
    presence = fitting.unit.presence if fitting.unit else None
    learns = presence.learns_after if presence else None
    stated = fitting.settings.hold
    held = stated or learns
    if held is None:
        missing = lack("lack.learns_after", LEARNS)
        if fitting.unit is None:
            where = f"fitting[{fitting.id}].sheet"
            missing = lack("lack.sheet", where, {"fitting": fitting.id})
        because = Message("hold_time.unknown")
        return asked.answer(
            Verdict.NOT_SHOWN, because, fitting=fitting.id, lacking=(missing,)
        )
    said = {
        "time": Measure(held.value, Dimension.TIME),
        "by": Message("hold_time.by_setting" if stated else "hold_time.by_manual"),
    }
    if not asked.rule.has("hold"):
        missing = lack("lack.hold_rule", asked.figure("hold"))
        because = Message("hold_time.not_shown", said)
        return asked.answer(
            Verdict.NOT_SHOWN, because, fitting=fitting.id, lacking=(missing,)
        )
    return _against(asked, fitting, held, _shorter(stated, learns), said)


def _shorter(stated: Quantity | None, learns: Quantity | None) -> Quantity | None:
    """The sheet's figure, where it may be shorter than what is set."""
    if stated is None or learns is None or learns.low >= stated.low:
        return None
    return learns


def _against(
    asked: Asked,
    fitting: Fitting,
    held: Quantity,
    shorter: Quantity | None,
    said: dict[str, Measure | Message],
) -> Finding:
    """The time against the rule's; a shorter one in the sheet must hold as well."""
    limit = asked.rule.limit("hold")
    comparison = at_least(held, limit)
    key = f"fitting[{fitting.id}].settings.hold" if fitting.settings.hold else LEARNS
    told = compared(comparison, asked.weak((key, held), "hold"))
    verdict, lacking = told.verdict, told.lacking
    because = "too_close" if verdict is Verdict.NOT_SHOWN else verdict.key
    if verdict is Verdict.HOLDS and _too_short(shorter, limit):
        verdict, because = Verdict.NOT_SHOWN, "shorter"
        lacking = (lack("lack.timing.learns_or_set", LEARNS),)
    values = {**said, "limit": Measure(limit.value, Dimension.TIME)}
    remedy = Remedy(Message("remedy.timing.hold", {"limit": values["limit"]}))
    return asked.answer(
        verdict,
        Message(f"hold_time.{because}", values),
        fitting=fitting.id,
        margin=margin_of(comparison, Dimension.TIME),
        remedy=remedy if verdict is Verdict.FAILS else None,
        lacking=lacking,
        to_confirm=told.to_confirm and verdict is Verdict.HOLDS,
    )


def _too_short(shorter: Quantity | None, limit: Quantity) -> bool:
    if shorter is None:
        return False
    return at_least(shorter, limit).outcome is not Outcome.HOLDS
