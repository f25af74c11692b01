"""What a field rests on: grades, what was taken though nobody stated it, and why."""

from dataclasses import dataclass

from limen.findings import Assumed, Lack, Measure, Message
from limen.model.fitting import Fitting
from limen.model.radar import Motion
from limen.quantity import Dimension, Grade, Quantity
from limen.questions.asking import lack, too_weak
from limen.questions.settled import ASSUMED

LEAST_SPEED = Quantity(0.1, 0.0, Grade.ESTIMATE)  # m/s, where its filter begins
RESPONSE = Quantity(0.2, 0.1, Grade.ESTIMATE)  # s
STRAIGHT = Quantity(0.0, 0.0, Grade.PRACTICE)


@dataclass(frozen=True, slots=True)
class Taken:
    """What something rests on.

    Attributes:
        grades: of every figure.
        assumed: what was taken though nobody stated it.
        weak: what settles the figures whose grade lets nothing hold.
    """

    grades: tuple[Grade, ...] = ()
    assumed: tuple[Assumed, ...] = ()
    weak: tuple[Lack, ...] = ()

    def __add__(self, other: "Taken") -> "Taken":
        listed = {one.key: one for one in (*self.assumed, *other.assumed)}
        weak = {one.key: one for one in (*self.weak, *other.weak)}
        grades = (*self.grades, *other.grades)
        return Taken(grades, tuple(listed.values()), tuple(weak.values()))


NOTHING = Taken()


def stated(*figures: tuple[str, Quantity | None]) -> Taken:
    """Figures that were stated, each by its key; None is passed over."""
    grades = tuple(figure.grade for _, figure in figures if figure is not None)
    return Taken(grades, weak=too_weak(figures))


def assumed(
    key: str,
    why: Message,
    value: Measure | str,
    grade: Grade,
    settled_by: Lack | None = None,
) -> Taken:
    """A figure that nobody stated.

    Args:
        key: of the file, under which it would stand.
        why: why it was taken.
        value: what was taken.
        grade: how well that is known.
        settled_by: what settles it, if its grade lets nothing hold.
    """
    weak = () if grade.may_hold or settled_by is None else (settled_by,)
    return Taken((grade,), (Assumed(key, value, grade, why),), weak)


def along_of(fitting: Fitting) -> tuple[Quantity, Taken]:
    """Where the lens is along the opening."""
    key = f"fitting[{fitting.id}].lens.along"
    if fitting.lens is not None and fitting.lens.along is not None:
        return fitting.lens.along, stated((key, fitting.lens.along))
    value, dimension = ASSUMED["lens.along"]
    shown, why = Measure(value.value, dimension), Message("assumed.lens.along")
    return value, assumed(key, why, shown, value.grade)


def yaw_of(fitting: Fitting) -> tuple[Quantity, Taken]:
    """How the radar is turned about the upright axis; straight where nobody said."""
    key, yaw = f"fitting[{fitting.id}].settings.radar_yaw", fitting.settings.radar_yaw
    if yaw is not None:
        return yaw, stated((key, yaw))
    shown, why = Measure(0.0, Dimension.ANGLE), Message("approach.assumed.radar_yaw")
    return STRAIGHT, assumed(key, why, shown, STRAIGHT.grade)


def least_speed_of(motion: Motion) -> tuple[Quantity, Taken]:
    """Slowest motion along the line of sight that is detected."""
    key, speed = "sheet.motion.least_speed", motion.least_speed
    if speed is not None:
        return speed, stated((key, speed))
    shown = Measure(LEAST_SPEED.value, Dimension.SPEED)
    why, need = Message("approach.assumed.least_speed"), "approach.lack.least_speed"
    taken = assumed(key, why, shown, LEAST_SPEED.grade, lack(need, key))
    return LEAST_SPEED, taken


def response_of(motion: Motion) -> tuple[Quantity, Taken]:
    """From motion to output."""
    key, response = "sheet.motion.response", motion.response
    if response is not None:
        return response, stated((key, response))
    shown = Measure(RESPONSE.high, Dimension.TIME)
    why, need = Message("approach.assumed.response"), "approach.lack.response"
    taken = assumed(key, why, shown, RESPONSE.grade, lack(need, key))
    return RESPONSE, taken
