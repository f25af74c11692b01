"""What the operator's supply gives, against what the units need."""

from limen.findings import Finding, Lack, Measure, Message, Remedy, Verdict
from limen.model.fitting import Fitting
from limen.model.sheet import Supply
from limen.quantity import (
    Comparison,
    Dimension,
    Outcome,
    Quantity,
    at_least,
    at_most,
    least,
)
from limen.questions.asking import (
    Asked,
    Verdictful,
    compared,
    lack,
    margin_of,
    standing,
    too_weak,
)

CURRENT, VOLTAGE = "current", "voltage"
TERMINALS = "operator.supply"


def supply(asked: Asked) -> tuple[Finding, ...]:
    """Does the operator's supply suit every unit, and suffice for all together?

    The supply lies between a unit's least and most voltage; the currents of all
    units together are at most what the operator can give.  A unit whose manual
    gives a power draws most at its least voltage: I = P/V.

    Args:
        asked: no limits; ``operator.supply``, ``operator.current``,
            ``sheet.supply``.

    Returns:
        One finding for each unit, case "voltage", margin in V; one for the doorway,
        case "current", margin in A.

    Source:
        The manuals; a comparison.  Left out: locks and other loads on the same
        supply, the voltage with nothing drawn, alternating voltage.
    """
    fittings = asked.doorway.fitting
    if not fittings:
        return ()
    return (*(_voltage(asked, fitting) for fitting in fittings), _current(asked))


# Voltage -----------------------------------------------------------------------


def _voltage(asked: Asked, fitting: Fitting) -> Finding:
    given = asked.doorway.operator.supply
    needs = fitting.unit.supply if fitting.unit else Supply()
    ends = _range(given, needs)
    lacking = _voltage_lacks(fitting, given, needs)
    worst = min(ends, key=standing, default=None)
    if worst is None or (lacking and worst.outcome is not Outcome.FAILS):
        because = Message("supply.voltage_unknown")
        return asked.answer(
            Verdict.NOT_SHOWN,
            because,
            fitting=fitting.id,
            case=VOLTAGE,
            lacking=lacking,
        )
    figures = (
        (TERMINALS, given),
        ("sheet.supply.least", needs.least),
        ("sheet.supply.most", needs.most),
    )
    told = compared(worst, too_weak(figures) or TERMINALS)
    return _told_voltage(asked, fitting, worst, told)


def _range(given: Quantity | None, needs: Supply) -> tuple[Comparison, ...]:
    """The supply against each end of the range that is known."""
    if given is None:
        return ()
    low = () if needs.least is None else (at_least(given, needs.least),)
    high = () if needs.most is None else (at_most(given, needs.most),)
    return (*low, *high)


def _voltage_lacks(
    fitting: Fitting, given: Quantity | None, needs: Supply
) -> tuple[Lack, ...]:
    if fitting.unit is None:
        return (
            lack("lack.sheet", f"fitting[{fitting.id}].sheet", {"fitting": fitting.id}),
        )
    said = {"fitting": fitting.id}
    found: list[Lack] = []
    if given is None:
        found.append(lack("lack.wiring.supply", TERMINALS))
    if needs.least is None:
        found.append(lack("lack.wiring.least_voltage", "sheet.supply.least", said))
    if needs.most is None:
        found.append(lack("lack.wiring.most_voltage", "sheet.supply.most", said))
    return tuple(found)


def _told_voltage(
    asked: Asked, fitting: Fitting, worst: Comparison, told: Verdictful
) -> Finding:
    needs = fitting.unit.supply if fitting.unit else Supply()
    said = {
        "fitting": fitting.id,
        "given": _volts(asked.doorway.operator.supply),
        "least": _volts(needs.least),
        "most": _volts(needs.most),
    }
    fails = told.verdict is Verdict.FAILS
    end = _broken_end(asked.doorway.operator.supply, needs) if fails else ""
    why = end or told.verdict.key
    return asked.answer(
        told.verdict,
        Message(f"supply.voltage.{why}", said),
        fitting=fitting.id,
        case=VOLTAGE,
        margin=margin_of(worst, Dimension.VOLTAGE),
        remedy=Remedy(Message(f"remedy.wiring.supply.{end}", said)) if fails else None,
        lacking=told.lacking,
        to_confirm=told.to_confirm,
    )


def _broken_end(given: Quantity | None, needs: Supply) -> str:
    """Whether the supply that does not suit is too low or too high."""
    low = given and needs.least and at_least(given, needs.least).outcome
    return "low" if low is Outcome.FAILS else "high"


def _volts(stated: Quantity | None) -> Measure | Message:
    if stated is None:
        return Message("supply.not_given")
    return Measure(stated.value, Dimension.VOLTAGE)


# Current -----------------------------------------------------------------------


def _current(asked: Asked) -> Finding:
    """All units together; what is known alone may be too much already."""
    most = asked.doorway.operator.current
    each = [(fitting, draws_at_most(fitting)) for fitting in asked.doorway.fitting]
    known = [amount for _, amount in each if amount is not None]
    lacking = [_draws(fitting) for fitting, amount in each if amount is None]
    if most is None:
        lacking.append(lack("lack.wiring.supply_current", "operator.current"))
    comparison = None if most is None or not known else at_most(_sum(known), most)
    fails = comparison is not None and comparison.outcome is Outcome.FAILS
    if comparison is None or (lacking and not fails):
        return asked.answer(
            Verdict.NOT_SHOWN,
            Message("supply.current_unknown"),
            case=CURRENT,
            lacking=tuple(lacking),
        )
    said = {"all": _amps(_sum(known)), "given": _amps(most)}
    told = compared(comparison, _weak(asked) or "operator.current")
    return asked.answer(
        told.verdict,
        Message(f"supply.current.{told.verdict.key}", said),
        case=CURRENT,
        margin=margin_of(comparison, Dimension.CURRENT),
        remedy=Remedy(Message("remedy.wiring.current", said)) if fails else None,
        lacking=told.lacking,
        to_confirm=told.to_confirm,
    )


def _weak(asked: Asked) -> tuple[Lack, ...]:
    """Figures of a weak grade among what is drawn and given."""
    units = (fitting.unit for fitting in asked.doorway.fitting)
    needs = [unit.supply for unit in units if unit is not None]
    by_power = [one for one in needs if one.current is None]
    return too_weak(
        [
            ("operator.current", asked.doorway.operator.current),
            *(("sheet.supply.current", one.current) for one in needs),
            *(("sheet.supply.power", one.power) for one in by_power),
            *(("sheet.supply.least", one.least) for one in by_power),
        ]
    )


def draws_at_most(fitting: Fitting) -> Quantity | None:
    """Current a unit draws at most (A); None if the sheet does not say."""
    needs = fitting.unit.supply if fitting.unit else Supply()
    if needs.current is not None:
        return needs.current if needs.current.high > 0 else None
    if needs.power is None or needs.power.high <= 0:
        return None
    if needs.least is None or needs.least.low <= 0:
        return None
    grade = least(needs.power.grade, needs.least.grade)
    low = needs.power.low / needs.least.high
    high = needs.power.high / needs.least.low
    return Quantity((low + high) / 2, (high - low) / 2, grade)


def _sum(amounts: list[Quantity]) -> Quantity:
    grade = least(*(amount.grade for amount in amounts))
    together = sum(amount.value for amount in amounts)
    return Quantity(together, sum(amount.u for amount in amounts), grade)


def _amps(amount: Quantity | None) -> Measure | Message:
    if amount is None:
        return Message("supply.not_given")
    return Measure(amount.value, Dimension.CURRENT)


def _draws(fitting: Fitting) -> Lack:
    if fitting.unit is None:
        return lack(
            "lack.sheet", f"fitting[{fitting.id}].sheet", {"fitting": fitting.id}
        )
    return lack("lack.wiring.draws", "sheet.supply.current", {"fitting": fitting.id})
