"""When a door is to be checked again, counted from what was done to it."""

from calendar import monthrange
from datetime import date, timedelta

from limen.findings import Finding, Lack, Margin, Message, Verdict
from limen.model.keeping import Kept
from limen.quantity import Dimension, Outcome, Quantity, least
from limen.questions.asking import Asked, graded, lack
from limen.questions.wiring_ends import (
    Reply,
    answered,
    fails,
    holds,
    not_asked,
    unknown,
)

INTERVAL, DAILY = "interval", "daily"
CHECKED = "kept.checked"
AFTER = "since the last check"
DAY = timedelta(days=1)


def due(asked: Asked) -> tuple[Finding, ...]:
    """Is the door checked as often as it has to be, and after what befell it?

    A check is due ``interval`` calendar months after the last one, on the same day
    of the month or on its last day; sooner where the maker's manual says so.  A
    change or a fault after the last check makes one due at once.

    Args:
        asked: limit ``interval`` (calendar months), the doorway's ``kept``, and the
            day for which it is asked.

    Returns:
        Two findings: the regular check, with the days that are left as margin (s);
        and case "since the last check".

    Source:
        The rulebook's figure; the calendar.  Left out: the owner's daily check, and
        whether whoever checked was competent.
    """
    return _regular(asked), answered(asked, _since(asked), fitting=None, case=AFTER)


def after_months(day: date, months: int) -> date:
    """The same day so many months later, or that month's last (a design rule)."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


def _regular(asked: Asked) -> Finding:
    kept, on = asked.doorway.kept, asked.on
    if on is None:
        return asked.answer(Verdict.NOT_ASKED, Message("keeping.no_day"))
    missing = tuple(_missing(asked))
    if kept.checked is None or missing:
        because = Message(f"keeping.{_unknown(kept.checked, on)}")
        return asked.answer(Verdict.NOT_SHOWN, because, lacking=missing)
    interval = _interval(asked)
    ends = after_months(kept.checked, int(interval.low))
    left = (ends - on).days
    outcome = Outcome.HOLDS if left >= 0 else Outcome.FAILS
    grades = (interval.grade, *asked.limits_graded())
    told = graded(outcome, grades, asked.figure(INTERVAL))
    said = {"day": ends.isoformat(), "checked": kept.checked.isoformat()}
    reply = _reply(outcome, said)
    return asked.answer(
        told.verdict,
        reply.because,
        margin=Margin(left * DAY.total_seconds(), 0.0, Dimension.TIME),
        remedy=reply.remedy if told.verdict is Verdict.FAILS else None,
        lacking=told.lacking,
        to_confirm=told.to_confirm,
    )


def _reply(outcome: Outcome, said: dict[str, str]) -> Reply:
    if outcome is Outcome.FAILS:
        return fails(Message("keeping.overdue", said), Message("remedy.keeping.check"))
    return holds(Message("keeping.in_time", said))


def _dated(asked: Asked) -> list[Lack]:
    """The day of the last check, where it is not known or lies ahead."""
    checked, on = asked.doorway.kept.checked, asked.on
    if checked is None:
        return [lack("lack.keeping.checked", CHECKED)]
    ahead = on is not None and checked > on
    return [lack("lack.keeping.not_yet", CHECKED)] if ahead else []


def _missing(asked: Asked) -> list[Lack]:
    """What the day of the next check hangs on."""
    kept, lacks = asked.doorway.kept, _dated(asked)
    if kept.every is None and not asked.rule.has(INTERVAL):
        figure = asked.figure(INTERVAL)
        lacks.append(lack("lack.keeping.interval", figure))
    return lacks


def _unknown(checked: date | None, on: date) -> str:
    """Why no day can be named."""
    if checked is None:
        return "unknown"
    return "not_yet" if checked > on else "no_interval"


def _interval(asked: Asked) -> Quantity:
    """The shorter of the rulebook's interval and the manual's."""
    own = asked.doorway.kept.every
    rule = asked.rule.limit(INTERVAL) if asked.rule.has(INTERVAL) else own
    if own is None or rule is None:
        return own or asked.rule.limit(INTERVAL)
    shorter = min(own, rule, key=lambda one: one.low)
    return Quantity(shorter.value, shorter.u, least(own.grade, rule.grade))


def _since(asked: Asked) -> Reply:
    """What befell the door after its last check."""
    kept = asked.doorway.kept
    befell = _befell(kept)
    if not befell:
        return not_asked(Message("keeping.nothing"))
    key, day = max(befell, key=lambda one: one[1])
    said = {"day": day.isoformat()}
    lacks = _dated(asked)
    if kept.checked is None or lacks:
        because = Message(f"keeping.{'not_yet' if kept.checked else 'unknown'}")
        return unknown(because, *lacks)
    if kept.checked >= day:
        return holds(Message(f"keeping.{key}_checked", said))
    return fails(Message(f"keeping.{key}", said), Message("remedy.keeping.check"))


def _befell(kept: Kept) -> list[tuple[str, date]]:
    days = (("changed", kept.changed), ("fault", kept.fault))
    return [(key, day) for key, day in days if day is not None]
