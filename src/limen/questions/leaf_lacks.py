"""What the motion of a leaf lacks, and which figures of it are too weak."""

from collections.abc import Iterable

from limen.findings import Lack, Measure, Message
from limen.model.doorway import Doorway
from limen.physics.leaf_speed import speed_contradicted
from limen.physics.leaf_strike import FRAME
from limen.quantity import Dimension, Grade, Quantity
from limen.questions.asking import Asked, lack, said_limit, too_weak

Figures = tuple[tuple[str, Quantity | None], ...]
"""Figures by their key in the file."""
Said = dict[str, str | int | Measure | Message]
"""What fills the gaps of a sentence."""


def lacking(keys: Iterable[str]) -> tuple[Lack, ...]:
    """What is missing, by keys of the file, each once."""
    return tuple(lack(f"lack.{key}", key) for key in dict.fromkeys(keys))


def unset(asked: Asked, *limits: str) -> tuple[Lack, ...]:
    """The rule's limits by name that it ships without a figure."""
    return tuple(
        lack(
            "lack.leaf_rule",
            asked.figure(name),
            {"what": said_limit(name)},
        )
        for name in limits
        if not asked.rule.has(name)
    )


def closing_figures(doorway: Doorway) -> Figures:
    """What says how fast a closing leaf is, in the order in which it is taken."""
    motion = doorway.motion
    entered = (("motion.closing_speed", motion.closing_speed),)
    if motion.closing_speed is not None and not speed_contradicted(doorway):
        return entered
    return (
        *entered,
        ("motion.closing_time", motion.closing_time),
        *(("motion.closing_runs", run) for run in motion.closing_runs),
        ("motion.slow_zone", motion.slow_zone),
        ("motion.slow_speed", motion.slow_speed),
        ("leaves.travel", doorway.leaves.travel),
        ("clear_width", doorway.clear_width),
    )


def closer_speed(doorway: Doorway) -> str | tuple[Lack, ...]:
    """What tells the closing speed better: the speed; the stopwatch if that disagrees.

    Where both were stated and disagree, either may be the one that is wrong.
    """
    if not speed_contradicted(doorway):
        return "motion.closing_speed"
    keys = ("motion.closing_time", "motion.closing_speed")
    return tuple(lack("lack.speed_differs", key) for key in keys)


def opening_figures(doorway: Doorway) -> Figures:
    """What says how a door opens, also one that is just closing."""
    motion = doorway.motion
    set_to = ("opening_speed", "opening_acceleration", "opening_time", "time_to_most")
    turned = ("start_delay", "reversal_delay", "braking")
    return (
        *((f"motion.{key}", getattr(motion, key)) for key in (*set_to, *turned)),
        *(("motion.opening_runs", run) for run in motion.opening_runs),
        ("operator.reacts_in", doorway.operator.reacts_in),
        *closing_figures(doorway),
        ("leaves.travel", doorway.leaves.travel),
        ("clear_width", doorway.clear_width),
    )


def mass_figures(doorway: Doorway) -> Figures:
    """What says how heavy a leaf is."""
    leaves = doorway.leaves
    if leaves.mass is not None:
        return (("leaves.mass", leaves.mass),)
    frame = Quantity(FRAME, grade=Grade.ESTIMATE)
    return (("leaves.mass", frame), ("leaves.mass", leaves.glass))


def weak(asked: Asked, figures: Figures, *limits: str) -> tuple[Lack, ...]:
    """What lets nothing hold: weak figures of the doorway and of the rule."""
    return (*too_weak(figures), *asked.weak_limits(*limits))


def joules(energy: float) -> Measure:
    """An energy to be said (J)."""
    return Measure(energy, Dimension.ENERGY)


def metres_a_second(speed: float) -> Measure:
    """A speed to be said (m/s)."""
    return Measure(speed, Dimension.SPEED)


def seconds(time: float) -> Measure:
    """A time to be said (s)."""
    return Measure(time, Dimension.TIME)


def newtons(force: float) -> Measure:
    """A force to be said (N)."""
    return Measure(force, Dimension.FORCE)
