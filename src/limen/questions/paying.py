"""What heat and cold cost: paid for, in money, and in carbon dioxide."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from typing import Literal

from limen.findings import Lack
from limen.geometry.turns import Array
from limen.model.air import Air, Rate, rate_of
from limen.model.doorway import Doorway
from limen.quantity import Grade, Quantity, least
from limen.questions.asking import lack
from limen.questions.ledger import Ledger, spread
from limen.questions.reckoning import Reckoned

Kind = Literal["heat", "cold"]


@dataclass(frozen=True, slots=True)
class Cost:
    """Heat or cold of a year, and what it costs.

    Attributes:
        kind: heat or cold.
        let_out: through the openings (J).
        idle: of that, through openings for people who only pass (J).
        paid: what is paid for to make it good (J); None if not known.
        money: what that costs; None if no price was stated.
        currency: of the money.
        emitted: carbon dioxide (kg); None if nobody said.
    """

    kind: Kind
    let_out: Quantity
    idle: Quantity
    paid: Quantity | None = None
    money: Quantity | None = None
    currency: str = ""
    emitted: Quantity | None = None


def costs_of(doorway: Doorway, reckoned: Reckoned) -> tuple[Cost, ...]:
    """What a year's openings cost: heat, and cold where the building is cooled.

    Args:
        doorway: its ``air`` says what heat costs.
        reckoned: its openings.
    """
    ledger, grade = reckoned.ledger, reckoned.grade
    return tuple(
        _cost(doorway.air, kind, *_of(ledger, kind), grade) for kind in kinds(reckoned)
    )


def saved(doorway: Doorway, before: Reckoned, after: Reckoned) -> tuple[Cost, ...]:
    """What a change saves in a year: what both doors share cancels.

    The difference is taken at each corner of what is not known, so that doubt about
    the weather's air, the people or the vestibule counts once and not twice.

    Args:
        doorway: its ``air`` says what heat costs.
        before: its openings as it is.
        after: its openings with something changed.
    """
    grade = least(before.grade, after.grade)
    made: list[Cost] = []
    for kind in kinds(before):
        was, is_now = _of(before.ledger, kind), _of(after.ledger, kind)
        gone = [one - other for one, other in zip(was, is_now, strict=True)]
        made.append(_cost(doorway.air, kind, gone[0], gone[1], grade))
    return tuple(made)


def fewer(before: Reckoned, after: Reckoned) -> Quantity:
    """Needless openings a day that a change saves: a count."""
    grade = least(before.grade, after.grade)
    return spread(before.ledger.needless - after.ledger.needless, grade)


def kinds(reckoned: Reckoned) -> tuple[Kind, ...]:
    """Heat, and cold where that is counted."""
    return ("heat", "cold") if reckoned.cooled else ("heat",)


def money_lacks(doorway: Doorway, *, cooled: bool) -> Iterator[Lack]:
    """What is missing to say what it costs."""
    air = doorway.air
    wanted = ["heated_by", "heat_price", "heat_emits"]
    wanted += ["cooled_by", "cold_price", "cold_emits"] if cooled else []
    for key in wanted:
        if getattr(air, key) is None:
            yield lack(f"flows.lack.{key}", f"air.{key}")


def _of(ledger: Ledger, kind: Kind) -> tuple[Array, Array]:
    """(32,) J let out, and of that for people who only pass."""
    if kind == "heat":
        return ledger.heating, ledger.idle_heating
    return ledger.cooling, ledger.idle_cooling


def _cost(air: Air, kind: Kind, all_: Array, idle: Array, grade: Grade) -> Cost:
    let_out, idle_out = spread(all_, grade), spread(idle, grade)
    gives = air.heated_by if kind == "heat" else air.cooled_by
    if gives is None or gives.low <= 0.0:
        return Cost(kind, let_out, idle_out)
    paid = _divided(let_out, gives)
    price = _rate(air.heat_price if kind == "heat" else air.cold_price)
    emits = _rate(air.heat_emits if kind == "heat" else air.cold_emits)
    return Cost(
        kind,
        let_out,
        idle_out,
        paid,
        _times(paid, price.each) if price else None,
        price.unit if price else "",
        _times(paid, emits.each) if emits else None,
    )


def _rate(text: str | None) -> Rate | None:
    return None if text is None else rate_of(text)


def _times(one: Quantity, other: Quantity) -> Quantity:
    """The product of two figures, by the ends of both."""
    ends = [a * b for a, b in product((one.low, one.high), (other.low, other.high))]
    return _between(ends, least(one.grade, other.grade))


def _divided(one: Quantity, other: Quantity) -> Quantity:
    """The quotient of two figures, by the ends of both; the other is more than 0."""
    ends = [a / b for a, b in product((one.low, one.high), (other.low, other.high))]
    return _between(ends, least(one.grade, other.grade))


def _between(ends: list[float], grade: Grade) -> Quantity:
    low, high = min(ends), max(ends)
    return Quantity((low + high) / 2, (high - low) / 2, grade)
