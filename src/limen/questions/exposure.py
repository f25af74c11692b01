"""Weather at the unit: what it bears against what it is exposed to."""

from dataclasses import replace

from limen.findings import Finding, Lack, Measure, Message
from limen.model.fitting import Fitting
from limen.model.sheet import Environment
from limen.model.surroundings import Exposure, Weather
from limen.quantity import Comparison, Dimension, Outcome, Quantity, at_least, at_most
from limen.questions.asking import Asked, lack, too_weak
from limen.questions.wiring_ends import (
    Reply,
    answered,
    fails,
    holds,
    not_asked,
    unknown,
    worst,
)
from limen.rules.rule import Weight

SPLASHED = 4
"""Second numeral from which a housing bears water splashed from any side.

IEC 60529, from memory.
"""
ENDS = ("coldest", "hottest")
DRY: Weather = "indoors"


def exposure(asked: Asked) -> tuple[Finding, ...]:
    """Does each unit bear the weather where it hangs?

    In the open a unit must be meant for it, its housing tight against splashed
    water or under a rain cover, its cable looped so that water drips off before the
    entry; wherever it is not indoors, the coldest and hottest it meets must lie
    within what its manual allows.

    Args:
        asked: no limits; ``exposure``, ``sheet.environment``, ``covered``,
            ``cable.drip_loop``, ``settings.steadiness``.

    Returns:
        Two findings for each unit: case "weather", and, where it is windy, case
        "steadiness", which is advice.

    Source:
        The manuals; IEC 60529 for the housing, from memory; drip loop and
        steadiness are common practice, no source.
    """
    return tuple(
        finding
        for fitting in asked.doorway.fitting
        for finding in (_weather(asked, fitting), _steadiness(asked, fitting))
    )


def _weather(asked: Asked, fitting: Fitting) -> Finding:
    reply = worst(_replies(asked.doorway.exposure, fitting))
    return answered(asked, reply, fitting=fitting.id, case="weather")


def _replies(around: Exposure, fitting: Fitting) -> tuple[Reply, ...]:
    weather = around.outside if fitting.side == "outside" else around.inside
    said = {"fitting": fitting.id}
    if weather is None:
        missing = lack("lack.weather.weather", f"exposure.{fitting.side}", said)
        return (unknown(Message("exposure.unknown"), missing),)
    if weather == DRY and (around.outside, around.inside) != (DRY, DRY):
        return (holds(Message("exposure.indoors")),)
    if fitting.unit is None:
        missing = lack(
            "lack.sheet", f"fitting[{fitting.id}].sheet", {"fitting": fitting.id}
        )
        return (unknown(Message("exposure.unknown"), missing),)
    bears = fitting.unit.environment
    heat = _warmth(around, bears)
    if weather == DRY:
        return (holds(Message("exposure.indoors")), *_told(around, heat))
    if weather == "sheltered":
        return (holds(Message("exposure.sheltered")), *heat)
    return (_meant(bears, fitting), _tight(bears, fitting), _drips(fitting), *heat)


def _told(around: Exposure, heat: tuple[Reply, ...]) -> tuple[Reply, ...]:
    """Indoors all round, the cold and warmth that somebody has stated."""
    stated = (around.coldest, around.hottest)
    each = zip(stated, heat[:2], strict=True)
    return (*(reply for met, reply in each if met is not None), *heat[2:])


def _meant(bears: Environment, fitting: Fitting) -> Reply:
    """Whether the manual lets it hang in the open."""
    said = {"fitting": fitting.id}
    if bears.outdoors is None:
        missing = lack("lack.weather.outdoors", "sheet.environment.outdoors", said)
        return unknown(Message("exposure.unknown"), missing)
    if not bears.outdoors:
        return fails(
            Message("exposure.not_outdoors"), Message("remedy.exposure.shelter", said)
        )
    return holds(Message("exposure.open"))


def _tight(bears: Environment, fitting: Fitting) -> Reply:
    """Whether housing or cover keeps splashed water out."""
    said = {"fitting": fitting.id}
    if fitting.covered:
        return holds(Message("exposure.open"))
    if bears.sealing is None:
        missing = lack("lack.weather.sealing", "sheet.environment.sealing", said)
        return unknown(Message("exposure.unknown"), missing)
    water = bears.sealing[3]
    if water == "X":
        missing = lack("lack.weather.water", "sheet.environment.sealing", said)
        return unknown(Message("exposure.unknown"), missing)
    if int(water) >= SPLASHED:
        return holds(Message("exposure.open"), practice=True)
    if fitting.covered is None:
        missing = lack("lack.weather.covered", f"fitting[{fitting.id}].covered", said)
        return unknown(Message("exposure.unknown"), missing)
    sealed = {"sealing": bears.sealing}
    return fails(
        Message("exposure.not_tight", sealed), Message("remedy.exposure.cover", said)
    )


def _drips(fitting: Fitting) -> Reply:
    """Whether water runs along the cable into the unit."""
    said = {"fitting": fitting.id}
    loop = fitting.cable.drip_loop if fitting.cable else None
    if loop is None:
        where = f"fitting[{fitting.id}].cable"
        key = f"{where}.drip_loop" if fitting.cable else where
        return unknown(
            Message("exposure.unknown"), lack("lack.weather.drip_loop", key, said)
        )
    if not loop:
        return fails(Message("exposure.no_loop"), Message("remedy.exposure.loop", said))
    return holds(Message("exposure.open"), practice=True)


# Warmth ------------------------------------------------------------------------


def _warmth(around: Exposure, bears: Environment) -> tuple[Reply, ...]:
    cold = _degree("coldest", around.coldest, bears.coldest)
    hot = _degree("hottest", around.hottest, bears.hottest)
    return cold, hot, *_backwards(around)


def _backwards(around: Exposure) -> tuple[Reply, ...]:
    """A coldest day that is hotter than the hottest."""
    cold, hot = around.coldest, around.hottest
    if cold is None or hot is None or cold.low <= hot.high:
        return ()
    missing = (lack(f"lack.weather.{end}", f"exposure.{end}") for end in ENDS)
    return (unknown(Message("exposure.backwards"), *missing),)


def _degree(end: str, met: Quantity | None, borne: Quantity | None) -> Reply:
    """One end of the temperatures: met at the door, borne by the unit."""
    lacking: list[Lack] = []
    if met is None:
        lacking.append(lack(f"lack.weather.{end}", f"exposure.{end}"))
    if borne is None:
        lacking.append(lack(f"lack.weather.{end}_borne", f"sheet.environment.{end}"))
    if met is None or borne is None:
        return unknown(Message("exposure.unknown"), *lacking)
    compare = at_least if end == "coldest" else at_most
    return _compared(end, compare(met, borne), met, borne)


def _compared(end: str, found: Comparison, met: Quantity, borne: Quantity) -> Reply:
    said = {
        "met": Measure(met.value, Dimension.TEMPERATURE),
        "borne": Measure(borne.value, Dimension.TEMPERATURE),
    }
    match found.outcome:
        case Outcome.HOLDS:
            return holds(Message("exposure.open"), practice=found.to_confirm)
        case Outcome.FAILS:
            return fails(
                Message(f"exposure.{end}", said), Message("remedy.exposure.warmth")
            )
        case Outcome.NOT_SHOWN:
            figures = ((f"exposure.{end}", met), (f"sheet.environment.{end}", borne))
            closer = (lack("lack.closer", f"exposure.{end}"),)
            return unknown(
                Message("exposure.too_close", said), *(too_weak(figures) or closer)
            )


# Wind --------------------------------------------------------------------------


def _steadiness(asked: Asked, fitting: Fitting) -> Finding:
    reply = _wind(asked.doorway.exposure, fitting)
    finding = answered(asked, reply, fitting=fitting.id, case="steadiness")
    return replace(finding, weight=Weight.ADVICE, stricter=True)


def _wind(around: Exposure, fitting: Fitting) -> Reply:
    if fitting.unit is None and around.windy is not False:
        where = f"fitting[{fitting.id}].sheet"
        missing = lack("lack.sheet", where, {"fitting": fitting.id})
        return unknown(Message("exposure.steadiness_unknown"), missing)
    steps = fitting.unit.steadiness if fitting.unit else ()
    if around.windy is False or len(steps) <= 1:
        key = "no_steps" if around.windy is not False else "no_wind"
        return not_asked(Message(f"exposure.{key}"))
    step = fitting.settings.steadiness
    said = {"fitting": fitting.id, "least": steps[0]}
    lacking: list[Lack] = []
    if around.windy is None:
        lacking.append(lack("lack.weather.windy", "exposure.windy"))
    if step not in steps:
        where = f"fitting[{fitting.id}].settings.steadiness"
        lacking.append(lack("lack.weather.steadiness", where, said))
    if lacking:
        return unknown(Message("exposure.steadiness_unknown"), *lacking)
    if step == steps[0]:
        return fails(
            Message("exposure.unsteady", said),
            Message("remedy.exposure.steadier", said),
        )
    return holds(Message("exposure.steady", {"step": step or ""}), practice=True)
