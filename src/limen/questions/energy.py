"""How much heat and cold leave through the doorway's openings in a year?"""

from limen.findings import Finding, Measure, Message, Verdict
from limen.quantity import Dimension, Quantity
from limen.questions.asking import Asked
from limen.questions.indoors import within
from limen.questions.ledger import spread
from limen.questions.owners_limit import held_to
from limen.questions.reckoning import Reckoned, reckon


def energy(asked: Asked) -> tuple[Finding, ...]:
    """How much heat and cold leave through the doorway's openings in a year?

    The door is open for 1 - exp(-λ τ) of each hour, λ the people who open it then, τ
    how long one of them keeps it open.  Each hour of the weather of a year moves so
    much air through an open doorway, and with it heat.

    It is a figure, and asked only where the owner set a limit; then it *holds* if
    even the most is no more, *fails* if even the least is more.

    Args:
        asked: the doorway's ``traffic``, ``motion`` and ``air``.

    Returns:
        One finding.  Margin: heat and cold to spare a year (J).

    Source:
        The method page "Air and passers-by".  Left out: wind, the pressure of the
        building, and heat kept in walls.
    """
    doorway = asked.doorway
    limit = doorway.air.most_heat
    if limit is None and doorway.air.weather is None and doorway.air.hung is None:
        return (asked.answer(Verdict.NOT_ASKED, Message("flows.no_weather")),)
    if within(doorway):
        return (asked.answer(Verdict.NOT_ASKED, Message("flows.within")),)
    reckoned = reckon(doorway, asked.settled.plan)
    if isinstance(reckoned, tuple):
        because = Message("flows.energy_unknown")
        return (asked.answer(Verdict.NOT_SHOWN, because, lacking=reckoned),)
    return (_heat(asked, reckoned, limit),)


def _heat(asked: Asked, reckoned: Reckoned, limit: Quantity | None) -> Finding:
    ledger, rests = reckoned.ledger, reckoned.taken
    both = spread(ledger.heating + ledger.cooling, reckoned.grade)
    said = {"low": _energy(both.low), "high": _energy(both.high)}
    told = {"found": Message("flows.heat", said), "assumed": rests.assumed}
    if limit is None:
        because = Message("flows.no_limit_heat", said)
        return asked.answer(Verdict.NOT_ASKED, because, **told)
    return held_to(
        asked,
        both,
        limit,
        rests.weak or "air",
        name="energy",
        dimension=Dimension.ENERGY,
        said={**said, "limit": _energy(limit.value)},
        told=told,
    )


def _energy(joules: float) -> Measure:
    return Measure(max(joules, 0.0), Dimension.ENERGY)
