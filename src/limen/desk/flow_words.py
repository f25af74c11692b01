"""Figures of flows in words and as plain values: ranges, never a bare middle."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import floor, log10
from typing import TYPE_CHECKING

from limen.desk.flows import Flows, Instead, Saving
from limen.findings import Measure, Message
from limen.model.air import KWH
from limen.quantity import Dimension, Quantity, Show
from limen.words import (
    numbered,
    reading,
    said_assumed,
    said_where,
    say,
    say_measure,
)

if TYPE_CHECKING:
    from limen.questions.paying import Cost

DIGITS = 2
"""Figures that carry meaning where the ends of a range lie apart."""
Json = dict[str, object]


@dataclass(frozen=True, slots=True)
class Row:
    """A figure in words: what it is, and between what it lies."""

    name: str
    value: str


def between(low: str, high: str) -> str:
    """A range in words; one figure where both ends read alike."""
    if low == high:
        return low
    return say(Message("flows_shown.between", {"low": low, "high": high}))


def count(value: Quantity) -> str:
    """A count between its ends, no finer than is known."""
    return between(_number(value.low), _number(value.high))


def percent(least: float, most: float) -> str:
    """A share between its ends."""
    return between(*(_share(end) for end in (least, most)))


def seconds(value: Quantity) -> str:
    """A time between its ends."""
    low, high = (Measure(_rounded(t), Dimension.TIME) for t in _ends(value))
    return between(say_measure(low), say_measure(high))


def heat(value: Quantity) -> str:
    """Heat of a year between its ends, in kilowatt-hours."""
    return f"{between(*(_number(end / KWH) for end in _ends(value)))} kWh"


def money(value: Quantity, currency: str) -> str:
    """Money between its ends."""
    return f"{count(value)} {currency}"


def mass(value: Quantity) -> str:
    """Carbon dioxide between its ends."""
    return f"{count(value)} kg"


def said_instead(instead: Instead, system: Show = Show.METRIC) -> str:
    """What was set otherwise, in words."""
    dimensions = {
        "hold_open": Dimension.TIME,
        "reach": Dimension.RATIO,
        "radar_tilt": Dimension.ANGLE,
    }
    shown = Measure(instead.value.value, dimensions[instead.what])
    values = {"value": say_measure(shown, system)}
    if instead.fitting:
        values["fitting"] = instead.fitting
    return say(Message(f"flows_shown.instead.{instead.what}", values))


def rows_of(found: Flows) -> list[Row]:
    """The figures of a doorway, one after another."""
    rows: list[Row] = []
    if found.through is not None:
        people = Quantity(found.through.a_day, found.through.a_day * found.through.u)
        rows.append(_row("through", count(people)))
    for path in found.paths or ():
        share = percent(path.least, path.most)
        said = {"path": path.passing.name, "share": share}
        told = say(Message("flows_shown.path", said))
        rows.append(Row(told, _a_day(count(path.a_day))))
    if found.needless is not None:
        rows.append(_row("needless", _a_day(count(found.needless))))
    return [*rows, *_openings(found), *_costs(found.costs), *_wind(found)]


def saved_rows(saved: Saving) -> list[Row]:
    """What a change saves, one figure after another."""
    costs = _costs(saved.costs, apart=False)
    return [_row("fewer", _a_day(count(saved.fewer))), *costs]


def said_later(saved: Saving) -> list[str]:
    """What becomes of opening in time, in words; that nothing does is said too."""
    if not saved.looked:
        return []
    if not saved.later:
        return [say(Message("flows_shown.still_in_time"))]
    return [
        say(
            Message(
                "flows_shown.in_time",
                {
                    "case": said_where(one.now),
                    "was": Message(f"verdict.{one.was}"),
                    "now": Message(f"verdict.{one.now.verdict}"),
                    "because": one.now.because,
                },
            )
        )
        for one in saved.later
    ]


def _openings(found: Flows) -> list[Row]:
    from limen.questions.ledger import spread

    if found.reckoned is None:
        return []
    ledger, grade = found.reckoned.ledger, found.reckoned.grade
    when = found.reckoned.counted.when
    whole = (when.last - when.first) * 3600.0
    share = spread(ledger.open_for / whole, grade)
    return [
        _row("openings", _a_day(count(spread(ledger.cycles, grade)))),
        _row("period", seconds(spread(ledger.period, grade))),
        _row("open_share", percent(share.low, min(share.high, 1.0))),
    ]


def _costs(costs: "Iterable[Cost]", *, apart: bool = True) -> list[Row]:
    rows: list[Row] = []
    for cost in costs:
        rows.append(_row(cost.kind, heat(cost.let_out)))
        if apart and cost.idle.high > 0:
            rows.append(_row(f"{cost.kind}_idle", heat(cost.idle)))
        if cost.money is not None:
            rows.append(_row(f"{cost.kind}_money", money(cost.money, cost.currency)))
        if cost.emitted is not None:
            rows.append(_row(f"{cost.kind}_emitted", mass(cost.emitted)))
    return rows


def _wind(found: Flows) -> list[Row]:
    """What is not counted: what the year's mean wind alone could press through."""
    from limen.desk.flows import pressed_through

    if not found.heated:
        return []
    speed, flow = pressed_through(found.doorway)
    shown = say_measure(Measure(round(speed, 1), Dimension.SPEED))
    said = say(Message("flows_shown.wind", {"speed": shown}))
    most = numbered(f"{_rounded(flow):g}", reading())
    return [Row(said, say(Message("flows_shown.up_to", {"flow": most})))]


def _row(key: str, value: str) -> Row:
    return Row(say(Message(f"flows_shown.row.{key}")), value)


def _a_day(text: str) -> str:
    return say(Message("flows_shown.a_day", {"count": text}))


def _ends(value: Quantity) -> tuple[float, float]:
    return value.low, value.high


def _share(value: float) -> str:
    return say_measure(Measure(round(value, 2), Dimension.RATIO))


def _rounded(value: float) -> float:
    """To two figures that carry meaning."""
    if abs(value) < 1e-9:  # noqa: PLR2004 - nothing
        return 0.0
    return round(value, DIGITS - 1 - floor(log10(abs(value))))


def _number(value: float) -> str:
    """A count to two figures; a true minus before what is saved by nothing."""
    text = numbered(f"{abs(_rounded(value)):.0f}", reading())
    return f"\N{MINUS SIGN}{text}" if round(_rounded(value)) < 0 else text


# For programs --------------------------------------------------------------------


def as_values(
    site: str,
    found: Sequence[Flows],
    version: str,
    saved: Sequence[Sequence[Saving]] = (),
) -> Json:
    """The flows of doorways as plain values; every figure by its ends.

    Args:
        site: the site's name.
        found: one a doorway.
        version: of limen.
        saved: what changes save, for each doorway; none if not asked.
    """
    each = saved or [()] * len(found)
    return {
        "limen": version,
        "schema": 1,
        "site": site,
        "doorways": [
            _values(one) | {"saved": [saving_as_values(s) for s in by]}
            for one, by in zip(found, each, strict=True)
        ],
    }


def _values(found: Flows) -> Json:
    return {
        "id": found.doorway.id,
        "needless_a_day": _span(found.needless),
        "paths": [
            {
                "name": path.passing.name,
                "side": path.passing.side,
                "people_a_day": path.flow.a_day,
                "share": [path.least, path.most],
                "needless_a_day": _span(path.a_day),
            }
            for path in found.paths or ()
        ],
        "through_a_day": found.through.a_day if found.through else None,
        "openings": _opened(found),
        "a_year": costs_as_values(found.costs),
        "assumed": [say(said_assumed(one)) for one in found.assumed],
        "lacking": [say(one.message) for one in (*found.path_lacks, *found.lacks)],
        "settled_by": [one.key for one in (*found.path_lacks, *found.lacks)],
    }


def _opened(found: Flows) -> Json | None:
    from limen.questions.ledger import spread

    if found.reckoned is None:
        return None
    ledger, grade = found.reckoned.ledger, found.reckoned.grade
    return {
        "a_day": _span(spread(ledger.cycles, grade)),
        "seconds_each": _span(spread(ledger.period, grade)),
        "open_seconds_a_day": _span(spread(ledger.open_for, grade)),
        "open_share_by_hour": ledger.by_hour.T.round(4).tolist(),
    }


def saving_as_values(saved: Saving) -> Json:
    """What a change saves, as plain values."""
    instead = saved.instead
    return {
        "setting": ".".join(part for part in (instead.fitting, instead.what) if part),
        "value": instead.value.value,
        "fewer_needless_a_day": _span(saved.fewer),
        "opens_in_time": [
            {"case": o.case, "was": o.was.value, "now": o.now.verdict.value}
            for o in saved.later
        ],
        "a_year": costs_as_values(saved.costs),
    }


def costs_as_values(costs: "Iterable[Cost]") -> list[Json]:
    """Heat and cold of a year, as plain values."""
    return [
        {
            "kind": cost.kind,
            "let_out_kwh": _span(cost.let_out, KWH),
            "for_people_who_only_pass_kwh": _span(cost.idle, KWH),
            "paid_kwh": _span(cost.paid, KWH),
            "money": _span(cost.money),
            "currency": cost.currency or None,
            "co2_kg": _span(cost.emitted),
            "grade": cost.let_out.grade.value,
        }
        for cost in costs
    ]


def _span(value: Quantity | None, unit: float = 1.0) -> list[float] | None:
    """Both ends of a figure."""
    if value is None:
        return None
    return [round(value.low / unit, 6), round(value.high / unit, 6)]
