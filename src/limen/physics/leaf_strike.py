"""What a closing leaf strikes with, and how far it runs on after a signal."""

from math import inf, sqrt

from limen.model.doorway import Doorway
from limen.physics.leaf_speed import Missing, Span
from limen.quantity import Grade

GLASS = 2500.0
"""Density of float glass (kg/m³): 2.5 kg per m² and mm; EN 572, from memory."""
FRAME = 15.0
"""The most that frame and fittings add to a leaf's glass (kg), an estimate."""
GLASS_GRADES = (Grade.MEMORY, Grade.ESTIMATE)


def energy(mass: float, speed: float) -> float:
    """Energy of a moving leaf, m v²/2.

    Args:
        mass: of one leaf (kg).
        speed: its speed (m/s).

    Returns:
        Energy (J).

    Source:
        Mechanics.  Left out: the turning parts of the drive.
    """
    return mass * speed**2 / 2


def speed_for(limit: float, mass: float) -> float:
    """The speed at which a leaf has an energy, √(2E/m).

    Args:
        limit: the energy (J).
        mass: of one leaf (kg), more than 0.

    Returns:
        Speed (m/s).
    """
    return sqrt(2 * limit / mass)


def run_on(speed: float, response: float, braking: float) -> float:
    """How far a leaf runs on after a signal, v·t + v²/(2b).

    Args:
        speed: its speed (m/s).
        response: from the signal until it brakes (s).
        braking: deceleration (m/s²), more than 0.

    Returns:
        The way until it stands (m).
    """
    return speed * response + speed**2 / (2 * braking)


def strikes_at(speed: float, response: float, braking: float, lead: float) -> float:
    """The speed that is left of a leaf some time after a signal.

    Args:
        speed: its speed at the signal (m/s).
        response: from the signal until it brakes (s).
        braking: deceleration (m/s²).
        lead: time after the signal (s).

    Returns:
        Speed (m/s), 0 once it stands.
    """
    return max(0.0, speed - braking * max(0.0, lead - response))


def glass_mass(thickness: float, width: float, height: float) -> float:
    """Mass of a pane: 2.5 kg per m² and mm of glass.

    Args:
        thickness: of all its glass together (m).
        width: of the pane (m).
        height: of the pane (m).

    Returns:
        Mass (kg).

    Source:
        EN 572, from memory.
    """
    return GLASS * thickness * width * height


def mass_of(doorway: Doorway) -> Span | Missing:
    """The mass of one leaf: as stated, else from its glass and an estimated frame.

    Args:
        doorway: its ``leaves``.

    Returns:
        The span (kg), from the glass alone to the glass and 15 kg where the mass is
        not stated; or the keys that are missing.
    """
    leaves = doorway.leaves
    if leaves.mass is not None and leaves.mass.high <= 0.0:
        return ("leaves.mass",)
    if leaves.mass is not None:
        return Span(leaves.mass.low, leaves.mass.high, (leaves.mass.grade,))
    glass, width, height = leaves.glass, leaves.width, leaves.height
    if glass is None or width is None or height is None:
        return ("leaves.mass",)
    stated = (glass, width, height)
    if min(figure.high for figure in stated) <= 0.0:
        return ("leaves.mass",)
    return Span(
        glass_mass(*(q.low for q in stated)),
        glass_mass(*(q.high for q in stated)) + FRAME,
        (*GLASS_GRADES, *(q.grade for q in stated)),
    )


def energy_of(mass: Span, speed: Span) -> Span:
    """The energy of a closing leaf by the bounds of its mass and top speed.

    Args:
        mass: of one leaf (kg).
        speed: its top speed (m/s).

    Returns:
        The span (J).
    """
    return Span(
        energy(mass.low, speed.low),
        energy(mass.high, speed.high),
        (*mass.grades, *speed.grades),
    )


def with_jerk(stroke: float, speed: float, gain: float, jerk: float) -> float:
    """The time of a way whose speed is gained and lost smoothly, L/v + v/a + a/j.

    Args:
        stroke: the way L (m).
        speed: the speed v that is kept (m/s).
        gain: greatest acceleration a (m/s²).
        jerk: how quickly the acceleration changes, j (m/s³).

    Returns:
        Time from rest to rest (s).

    Raises:
        ValueError: an argument is not positive and finite, or the way or the speed
            is too small to reach ``gain`` and ``speed``.

    Source:
        Kinematics: both phases fully developed, v ≥ a²/j, L ≥ v(v/a + a/j).
    """
    for value in (stroke, speed, gain, jerk):
        if not 0.0 < value < inf:
            raise ValueError(f"more than 0 and finite is needed, not {value}")
    if speed < gain**2 / jerk or stroke < speed * (speed / gain + gain / jerk):
        raise ValueError("the way is too short for its acceleration and speed")
    return stroke / speed + speed / gain + gain / jerk
