"""The voltage that is left at a unit at the end of a long lead."""

from collections.abc import Callable
from dataclasses import dataclass

from limen.findings import Assumed, Finding, Lack, Measure, Message, Remedy, Verdict
from limen.findings.message import length
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.sheet import Supply
from limen.model.wiring import Cable
from limen.physics.cable import (
    at_current,
    at_power,
    core_of,
    loop_of,
    span_of_area,
    span_of_gauge,
    warmed,
)
from limen.quantity import (
    Dimension,
    Grade,
    Outcome,
    Quantity,
    at_least,
    at_most,
    least,
)
from limen.questions.asking import Asked, compared, lack, margin_of, too_weak

HOTTEST = Quantity(273.15 + 60.0, grade=Grade.PRACTICE)
"""How hot a lead gets where nobody said: under a header in the sun."""
COLDEST = 273.15 - 20.0
"""The coldest at which anybody measures a loop (K): colder copper resists less."""
ROOM = 273.15 + 20.0
"""The temperature at which a loop is taken to have been measured (K)."""


@dataclass(frozen=True, slots=True)
class Lead:
    """A lead's resistance out and back, by its bounds (ohm), and what it rests on."""

    low: float
    high: float
    grades: tuple[Grade, ...]
    assumed: tuple[Assumed, ...]


def voltage(asked: Asked) -> tuple[Finding, ...]:
    """Does enough voltage reach the unit at the end of a long lead?

    V = Vs - R I for a unit that draws a current; the upper root of
    V² - Vs V + P R = 0 for one that draws a power.  R is that of the lead out and
    back: as measured, else 2 L R′ from the size of its core, between pure copper of
    that size and the worst kind that is listed; warmed by (234.5 + ϑ)/254.5.  Where
    both area and gauge are stated, the core may be either.  A loop that resists less
    than pure copper of that size and length is not believed.

    Args:
        asked: limit ``short_lead`` (m): shorter leads are not asked.

    Returns:
        One finding for each unit.  Margin: voltage to spare (V).

    Source:
        IEC 60228 for the cores, the wire gauge's own law; Ohm's law.  Left out:
        terminals and joints, other units on the same lead, what a unit draws while
        it starts.
    """
    return tuple(_voltage(asked, fitting) for fitting in asked.doorway.fitting)


def _voltage(asked: Asked, fitting: Fitting) -> Finding:
    cable = fitting.cable
    where = f"fitting[{fitting.id}].cable"
    if cable is None:
        missing = lack("lack.wiring.cable", f"{where}.length", {"fitting": fitting.id})
        return _unknown(asked, fitting, "voltage.no_lead", missing)
    short = at_most(cable.length, asked.rule.limit("short_lead"))
    said = {"length": length(cable.length.value)}
    if short.outcome is Outcome.HOLDS:
        because = Message("voltage.short", said)
        return asked.answer(Verdict.NOT_ASKED, because, fitting=fitting.id)
    lead = _lead(asked.doorway, cable, where)
    if isinstance(lead, Lack):
        why = "lead_unknown" if cable.loop is None else "lead_differs"
        return _unknown(asked, fitting, f"voltage.{why}", lead)
    return _at_the_unit(asked, fitting, cable, lead)


def _unknown(asked: Asked, fitting: Fitting, key: str, *lacking: Lack) -> Finding:
    because = Message(key)
    return asked.answer(Verdict.NOT_SHOWN, because, fitting=fitting.id, lacking=lacking)


def _at_the_unit(asked: Asked, fitting: Fitting, cable: Cable, lead: Lead) -> Finding:
    supply = asked.doorway.operator.supply
    needs = fitting.unit.supply if fitting.unit else Supply()
    draws = drawn(needs)
    lacking = _lacking(fitting, supply, needs)
    if supply is None or needs.least is None or not draws or lacking:
        return _unknown(asked, fitting, "voltage.unknown", *lacking)
    each = [_ends(load, supply, lead, amount) for load, amount in draws]
    ends = min(low for low, _ in each), min(high for _, high in each)
    drawing = (amount.grade for _, amount in draws)
    grades = (supply.grade, *drawing, cable.length.grade, *lead.grades)
    found = _between(*ends, least(*grades, *asked.limits_graded("short_lead")))
    comparison = at_least(found, needs.least)
    told = compared(comparison, _weak(asked, fitting, cable))
    said = {
        "length": length(cable.length.value),
        "supply": Measure(supply.value, Dimension.VOLTAGE),
        "low": Measure(ends[0], Dimension.VOLTAGE),
        "high": Measure(ends[1], Dimension.VOLTAGE),
        "least": Measure(needs.least.value, Dimension.VOLTAGE),
    }
    starved = told.verdict is Verdict.FAILS and ends[1] <= 0
    key = "voltage.starved" if starved else f"voltage.{told.verdict.key}"
    values = {"fitting": fitting.id, "least": said["least"]}
    remedy = Remedy(Message("remedy.wiring.lead", values))
    return asked.answer(
        told.verdict,
        Message(key, said),
        fitting=fitting.id,
        margin=margin_of(comparison, Dimension.VOLTAGE),
        needed=Message("voltage.needed", {"least": said["least"]}),
        remedy=remedy if told.verdict is Verdict.FAILS else None,
        lacking=told.lacking,
        to_confirm=told.to_confirm,
        assumed=lead.assumed,
    )


def _weak(asked: Asked, fitting: Fitting, cable: Cable) -> tuple[Lack, ...]:
    """What would settle it: figures of a weak grade, else the loop measured."""
    where, needs = f"fitting[{fitting.id}].cable", Supply()
    if fitting.unit is not None:
        needs = fitting.unit.supply
    figures = (
        ("operator.supply", asked.doorway.operator.supply),
        ("sheet.supply.least", needs.least),
        ("sheet.supply.current", needs.current),
        ("sheet.supply.power", needs.power),
        (f"{where}.length", cable.length),
        (f"{where}.area", cable.area),
        (f"{where}.loop", cable.loop),
        (f"{where}.hottest", cable.hottest or asked.doorway.exposure.hottest),
    )
    return too_weak(figures) or (lack("lack.wiring.loop", f"{where}.loop"),)


# The load ----------------------------------------------------------------------

Load = Callable[[float, float, float], float | None]


def drawn(needs: Supply) -> tuple[tuple[Load, Quantity], ...]:
    """What a unit may draw and the law it follows, by each figure of its sheet."""
    figures = ((at_current, needs.current), (at_power, needs.power))
    return tuple(
        (load, amount)
        for load, amount in figures
        if amount is not None and amount.high > 0.0
    )


def _ends(
    load: Load, supply: Quantity, lead: Lead, amount: Quantity
) -> tuple[float, float]:
    """Least and most voltage at the unit; 0 where it pulls its supply down."""
    worst = load(supply.low, lead.high, amount.high)
    best = load(supply.high, lead.low, amount.low)
    return max(worst or 0.0, 0.0), max(best or 0.0, 0.0)


def _between(low: float, high: float, grade: Grade) -> Quantity:
    return Quantity((low + high) / 2, (high - low) / 2, grade)


def _lacking(
    fitting: Fitting, supply: Quantity | None, needs: Supply
) -> tuple[Lack, ...]:
    """What is not known of supply and unit."""
    if fitting.unit is None:
        return (
            lack("lack.sheet", f"fitting[{fitting.id}].sheet", {"fitting": fitting.id}),
        )
    found: list[Lack] = []
    said = {"fitting": fitting.id}
    if supply is None:
        found.append(lack("lack.wiring.supply", "operator.supply"))
    if needs.least is None:
        found.append(lack("lack.wiring.least_voltage", "sheet.supply.least", said))
    if not drawn(needs):
        found.append(lack("lack.wiring.draws", "sheet.supply.current", said))
    return tuple(found)


# The lead ----------------------------------------------------------------------


def _lead(doorway: Doorway, cable: Cable, where: str) -> Lead | Lack:
    """Resistance of a lead, hot; or what would settle it."""
    hottest, grades, assumed = _hottest(doorway, cable, where)
    span = _per_metre(cable)
    if cable.loop is not None:
        least_of_core = loop_of(cable.length.low, span[0][0]) if span else 0.0
        if cable.loop.high <= 0.0 or cable.loop.high < warmed(least_of_core, COLDEST):
            return lack("lack.wiring.loop_or_core", f"{where}.loop")
        return _measured(cable.loop, hottest, grades, where, assumed)
    if span is None:
        return lack("lack.wiring.loop", f"{where}.loop")
    each, table = span
    low = loop_of(cable.length.low, each[0])
    high = loop_of(cable.length.high, each[1])
    return Lead(
        warmed(low, hottest.low), warmed(high, hottest.high), (*grades, table), assumed
    )


def _hottest(
    doorway: Doorway, cable: Cable, where: str
) -> tuple[Quantity, tuple[Grade, ...], tuple[Assumed, ...]]:
    """How hot the lead gets: as stated; else anything up to the assumed.

    The lead is no cooler than the hottest air at the units.
    """
    stated, air = cable.hottest, doorway.exposure.hottest
    if stated is not None:
        return stated, (stated.grade,), ()
    low, high = (air.low, air.high) if air is not None else (ROOM, ROOM)
    taken = _between(low, max(high, HOTTEST.value), HOTTEST.grade)
    shown = Measure(taken.high, Dimension.TEMPERATURE)
    why = Message("assumed.cable.hottest")
    listed = Assumed(f"{where}.hottest", shown, HOTTEST.grade, why)
    return taken, (HOTTEST.grade,), (listed,)


def _measured(
    loop: Quantity,
    hottest: Quantity,
    grades: tuple[Grade, ...],
    where: str,
    assumed: tuple[Assumed, ...],
) -> Lead:
    """A loop as the meter showed it, taken to have been read at 20 °C."""
    shown = Measure(ROOM, Dimension.TEMPERATURE)
    why = Message("assumed.cable.loop")
    listed = Assumed(f"{where}.loop", shown, Grade.PRACTICE, why)
    low, high = warmed(loop.low, hottest.low), warmed(loop.high, hottest.high)
    rests_on = (loop.grade, Grade.PRACTICE, *grades)
    return Lead(low, high, rests_on, (*assumed, listed))


def _per_metre(cable: Cable) -> tuple[tuple[float, float], Grade] | None:
    """Least and most ohm a metre of the core that is marked, and how well known."""
    gauge = None if cable.awg is None else span_of_gauge(cable.awg)
    if cable.area is None:
        return gauge and (gauge, Grade.MEMORY)
    span, core = span_of_area(cable.area.value), core_of(cable.area.value)
    if span is None or core is None:
        return None
    table = Grade.SEEN if core.standard and gauge is None else Grade.MEMORY
    low, high = zip(span, gauge or span, strict=True)
    return (min(low), max(high)), least(table, cable.area.grade)
