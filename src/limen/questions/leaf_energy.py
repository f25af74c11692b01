"""How hard a closing leaf can strike: its energy."""

from dataclasses import dataclass
from math import ceil, floor, sqrt

from limen.findings import Finding, Lack, Message, Remedy, Verdict
from limen.model.doorway import Doorway
from limen.physics.leaf_speed import (
    Missing,
    Span,
    closing_speeds,
    speed_contradicted,
    stroke_of,
)
from limen.physics.leaf_strike import energy_of, mass_of, speed_for
from limen.quantity import Dimension, Quantity, at_most
from limen.questions.asking import Asked, compared, margin_of
from limen.questions.leaf_lacks import (
    Figures,
    Said,
    closer_speed,
    closing_figures,
    joules,
    lacking,
    mass_figures,
    metres_a_second,
    seconds,
    unset,
    weak,
)

ENERGY = {"energy": Dimension.ENERGY}


@dataclass(frozen=True, slots=True)
class Known:
    """The energy of one closing leaf as far as it is known.

    Attributes:
        energy: with its bounds (J).
        rests_on: the figures it rests on, by key.
        closer: what would narrow it: the key of a figure, or what is lacking.
    """

    energy: Quantity
    rests_on: Figures
    closer: str | tuple[Lack, ...]


def closing_energy(asked: Asked) -> tuple[Finding, ...]:
    """With how much energy does a leaf close?

    E = m v²/2 of one leaf at its top speed.  A measured energy wins.  A speed that
    was only timed lies between L/T and 2L/T: it *holds* at the upper, *fails* at the
    lower.

    Args:
        asked: limit ``energy`` (J), where the rulebook has one.

    Returns:
        One finding.  Margin in J.

    Source:
        Mechanics; the rulebook's figure.  Left out: the turning parts of the drive,
        and that the other leaf comes towards it, which does not add to the energy of
        this one.
    """
    known = energy_known(asked.doorway)
    if not isinstance(known, Known):
        because = Message("closing_energy.unknown")
        lacks = (*lacking(known), *unset(asked, *ENERGY))
        return (asked.answer(Verdict.NOT_SHOWN, because, lacking=lacks),)
    if not asked.rule.has("energy"):
        because = Message("closing_energy.no_figure", _said(known.energy))
        lacks = unset(asked, *ENERGY)
        return (asked.answer(Verdict.NOT_SHOWN, because, lacking=lacks),)
    return (_held_against(asked, known),)


def _held_against(asked: Asked, known: Known) -> Finding:
    limit = asked.rule.limit("energy")
    comparison = at_most(known.energy, limit)
    feeble = weak(asked, known.rests_on, *ENERGY)
    told = compared(comparison, feeble if comparison.capped else known.closer)
    said: Said = {**_said(known.energy), "limit": joules(limit.value)}
    fails = told.verdict is Verdict.FAILS
    return asked.answer(
        told.verdict,
        Message(f"closing_energy.{told.verdict.key}", said),
        margin=margin_of(comparison, Dimension.ENERGY),
        needed=Message("closing_energy.needed", {"limit": joules(limit.value)}),
        remedy=slower(asked.doorway, limit.low, known) if fails else None,
        lacking=told.lacking,
        to_confirm=told.to_confirm,
    )


def _said(energy: Quantity) -> Said:
    return {"least": joules(energy.low), "most": joules(energy.high)}


def energy_known(doorway: Doorway) -> Known | Missing:
    """The energy of one closing leaf: measured, else by mass and top speed.

    Args:
        doorway: as described.

    Returns:
        The energy; or the keys of the file that are missing.
    """
    measured = doorway.motion.closing_energy
    if measured is not None and measured.high <= 0.0:
        return ("motion.closing_energy",)
    if measured is not None:
        where = "motion.closing_energy"
        return Known(measured, ((where, measured),), where)
    mass, speed = mass_of(doorway), closing_speeds(doorway)
    if not isinstance(mass, Span) or not isinstance(speed, Span):
        return tuple(
            key for one in (mass, speed) if isinstance(one, tuple) for key in one
        )
    rests_on = (*mass_figures(doorway), *closing_figures(doorway))
    return Known(energy_of(mass, speed).bounded, rests_on, _closer(doorway))


def _closer(doorway: Doorway) -> str | tuple[Lack, ...]:
    """What to measure first: the speed if it was only timed, then the mass."""
    if doorway.motion.closing_speed is None or speed_contradicted(doorway):
        return closer_speed(doorway)
    return "leaves.mass" if doorway.leaves.mass is None else "motion.closing_energy"


def slower(doorway: Doorway, limit: float, known: Known | None = None) -> Remedy:
    """How slowly the leaves must close to keep an energy.

    Args:
        doorway: as described.
        limit: the energy (J).
        known: what is known of it; where it was measured, the speed is changed in
            proportion.

    Returns:
        The stopwatch's figure first, where it can give one.
    """
    if doorway.motion.closing_energy is not None and known is not None:
        share = floor(100 * sqrt(limit / known.energy.high))
        return Remedy(Message("remedy.closing_energy.measured", {"share": share}))
    mass = mass_of(doorway)
    if not isinstance(mass, Span):
        return Remedy(Message("remedy.closing_energy.slower"))
    speed = floor(1000 * speed_for(limit, mass.high)) / 1000
    said = {"speed": metres_a_second(speed)}
    time = _surely_slower(doorway, speed)
    if time is None:
        return Remedy(Message("remedy.closing_energy.speed", said))
    timed = {**said, "time": seconds(time)}
    return Remedy(Message("remedy.closing_energy.timed", timed))


def _surely_slower(doorway: Doorway, speed: float) -> float | None:
    """The stopwatch's time from which no leaf is faster than this, to 0.1 s (s)."""
    zone, slow = doorway.motion.slow_zone, doorway.motion.slow_speed
    way = stroke_of(doorway).high
    if zone is None or speed <= 0.0:
        return None
    if zone.high <= 0.0:
        return ceil(10 * 2 * way / speed) / 10
    if slow is None or slow.low <= 0.0:
        return None
    creeping = 2 * zone.high / slow.low
    return ceil(10 * (2 * (way - zone.low) / speed + creeping)) / 10
