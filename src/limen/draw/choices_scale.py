"""Where a measure's values lie along an axis, and which of them are written at it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil, floor, log10
from typing import Literal

DECIMAL = (1.0, 2.0, 5.0, 10.0)
BINARY = (1 / 16, 1 / 8, 1 / 4, 1 / 2)
"""Steps below an inch, as a tape has them."""
FROM_ZERO = 0.6
"""Of the greatest value: where the least is below, the axis begins at nought."""
HAIR = 1e-9
MIDDLE = 0.4  # of the room for what is not known, from the edge


@dataclass(frozen=True, slots=True)
class Axis:
    """A measure by which choices are told apart.

    Attributes:
        name: what stands at the axis.
        better: whether less of it is better, or more.
        unit: of what is written, in the measure's own unit (a millimetre in m).
        say: writes a value at the axis.
        binary: whether the unit is divided by halves, as inches are.
    """

    name: str
    better: Literal["less", "more"]
    unit: float
    say: Callable[[float], str]
    binary: bool = False


@dataclass(frozen=True, slots=True)
class Scale:
    """How the values of a measure become places on the sheet.

    Attributes:
        low, high: values at the two ends.
        start, end: where those lie (px).
        ticks: values that are written.
        aside: where a value lies that is not known (px); None where each is known.
    """

    low: float
    high: float
    start: float
    end: float
    ticks: tuple[float, ...]
    aside: float | None = None

    def at(self, value: float | None) -> float:
        """Where a value lies (px).

        Raises:
            ValueError: a value is not known, and the scale has no place for it.
        """
        if value is None:
            if self.aside is None:
                raise ValueError(value)
            return self.aside
        share = (value - self.low) / (self.high - self.low)
        return self.start + share * (self.end - self.start)


def scaled(
    axis: Axis,
    values: Sequence[float | None],
    span: tuple[float, float],
    *,
    most: int,
    aside: float,
) -> Scale:
    """Lay an axis out.

    What is not known is put beyond the worse end, never among the better values.

    Args:
        axis: the measure.
        values: of all choices; at least one is known.
        span: where the axis begins and ends (px), values rising from the first.
        most: how many values may be written.
        aside: the room that is kept for values that are not known (px).
    """
    known = [one for one in values if one is not None]
    low, high, step = _ends(min(known), max(known), axis, most)
    count = round((high - low) / step)
    ticks = tuple(low + n * step for n in range(count + 1))
    start, end = span
    if len(known) == len(values):
        return Scale(low, high, start, end, ticks)
    way = 1.0 if end > start else -1.0
    far = way * aside
    if axis.better == "less":
        return Scale(low, high, start, end - far, ticks, end - far * MIDDLE)
    return Scale(low, high, start + far, end, ticks, start + far * MIDDLE)


def _ends(
    least: float, greatest: float, axis: Axis, most: int
) -> tuple[float, float, float]:
    """Both ends of an axis and its step, on values that read well."""
    if 0.0 <= least <= FROM_ZERO * greatest:
        least = 0.0
    span = (greatest - least) / axis.unit
    step = _step(span / most if span > HAIR else 1.0, axis.binary) * axis.unit
    low = floor(least / step + HAIR) * step
    high = ceil(greatest / step - HAIR) * step
    if high - low < step / 2:
        low, high = low - step, high + step
    return low, high, step


def _step(least: float, binary: bool) -> float:  # noqa: FBT001 - read aloud it is plain
    """The least step that reads well and is no smaller."""
    if binary:
        for one in BINARY:
            if one >= least - HAIR:
                return one
    power = 10.0 ** floor(log10(least))
    steps = (power * one for one in DECIMAL)
    return next(one for one in steps if one >= least * (1 - HAIR))
