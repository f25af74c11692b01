"""How the leaves move, what was measured of it, and what happens without power."""

from datetime import date
from typing import Literal

from pydantic import Field

from limen.model.fields import (
    Acceleration,
    Energy,
    Force,
    Length,
    Name,
    Speed,
    Stated,
    Time,
)


class Motion(Stated):
    """How the leaves move, as set or as timed with the stopwatch."""

    opening_speed: Speed | None = None
    """Top speed of one leaf, opening."""
    closing_speed: Speed | None = None
    """Top speed of one leaf, closing."""
    opening_acceleration: Acceleration | None = None
    """How quickly a leaf gains and loses speed, opening."""
    closing_acceleration: Acceleration | None = None
    """How quickly a leaf gains and loses speed, closing."""
    start_delay: Time | None = None
    """From the signal at the operator to the first movement of a leaf at rest."""
    reversal_delay: Time | None = None
    """From the signal at the operator until a closing leaf begins to brake."""
    braking: Acceleration | None = None
    """How quickly a closing leaf loses speed once it brakes."""
    slow_zone: Length | None = None
    """Last part of one leaf's way to closed, in which it creeps; 0 mm if none."""
    slow_speed: Speed | None = None
    """Speed of one leaf in that last part."""
    opening_time: Time | None = None
    """Stopwatch, from the first movement: closed to fully open."""
    closing_time: Time | None = None
    """Stopwatch: fully open to closed."""
    opening_runs: tuple[Time, ...] = Field(default=(), max_length=9)
    """Stopwatch, several runs, from the first movement: closed to fully open."""
    closing_runs: tuple[Time, ...] = Field(default=(), max_length=9)
    """Stopwatch, several runs: fully open to closed."""
    time_to_most: Time | None = None
    """Stopwatch: from the signal to 80 % of the clear width."""
    hold_open: Time | None = None
    """Stopwatch: how long the door stays open once nobody is near."""
    closing_energy: Energy | None = None
    """Measured: energy of one closing leaf."""


class Impact(Stated):
    """One measurement of the force of a closing leaf, with a calibrated instrument."""

    gap: Length
    """Opening left where the instrument was held."""
    peak: Force
    """Largest force."""
    after: Force | None = None
    """Force 0.75 s after the first touch."""
    rest: Force | None = None
    """Force 5 s after the first touch."""
    instrument: Name
    """The instrument, with its number."""
    calibrated: date
    """The day to which its calibration runs."""
    measured: date
    """The day of the measurement."""


class PowerLoss(Stated):
    """What the door does when the power goes, and whether that was tried."""

    does: Literal["opens", "stays", "closes"]
    """What the leaves do by themselves."""
    by: Literal["battery", "spring or weight", "nothing"] | None = None
    """What moves them then."""
    hand_force: Force | None = None
    """Measured: the force that opens a leaf by hand."""
    tried: date | None = None
    """The day on which the power was last taken away to see it."""


Condition = Literal["in order", "to mend", "not looked at"]


class Mechanics(Stated):
    """What was looked at with the leaves pushed by hand, power off."""

    runs_freely: Condition | None = None
    """Leaves run freely by hand over the whole way."""
    rollers: Condition | None = None
    """Rollers and track."""
    floor_guide: Condition | None = None
    """Floor guide."""
    drive: Condition | None = None
    """Belt, chain or spindle, and its tension."""
    stops: Condition | None = None
    """End stops."""
    lock: Condition | None = None
    """Lock, and that it lets go."""
    glass: Condition | None = None
    """Glass and edges."""
    fixing: Condition | None = None
    """Header, cover and units are fixed firmly."""
