"""Within which values of one setting all that depends on it holds."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.quantity import Quantity

ROWS = (
    "presence.threshold",
    "presence.leaf_path",
    "presence.side_screen",
    "site.obstacles",
    "presence.self_view",
    "presence.neighbours",
)
FIELD = ("approach.minimum_zone", "approach.slow_walker", "approach.opens_in_time")
BEARS: Mapping[str, tuple[str, ...]] = {
    "settings.tilt": ROWS,
    "settings.roll": ROWS,
    "settings.yaw": ROWS,
    "settings.fan": ROWS,
    "settings.rows_on": ROWS,
    "settings.channel": ("presence.neighbours",),
    "settings.hold": ("presence.hold_time",),
    "settings.radar_tilt": FIELD,
    "settings.radar_yaw": FIELD,
    "settings.reach": FIELD,
    "read.first_row": ROWS,
    "lens.along": (*ROWS, *FIELD, "mounting.position"),
    "lens.from_leaf": (*ROWS, *FIELD, "mounting.position"),
    "lens.height": ("mounting.height", *ROWS, *FIELD, "presence.contrast"),
}
"""By setting, the questions whose answers it bears upon."""

Value = Quantity | str | int | tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Scale:
    """The values that a setting can take, one step after the other.

    Attributes:
        fitting: id of the unit.
        setting: ``settings.tilt`` and the like, one of `BEARS`.
        values: rising.
        now: number of the value nearest to the one that is set.
    """

    fitting: str
    setting: str
    values: tuple[Value, ...]
    now: int


@dataclass(frozen=True, slots=True)
class Standing:
    """How the questions stand at one value.

    Attributes:
        fails: those that fail.
        open: those that are not shown.
    """

    fails: frozenset[str] = frozenset()
    open: frozenset[str] = frozenset()

    @property
    def holds(self) -> bool:
        """Whether all of them hold."""
        return not self.fails and not self.open


@dataclass(frozen=True, slots=True)
class Range:
    """What was found on one scale.

    Attributes:
        scale: the values.
        ends: numbers of the first and the last value with which all holds; None if
            there was none among those tried.
        open: where none holds though none need fail: what is not shown.
        besides: questions that stand the same at every value, and do not hold: they
            are not of this setting's making and are left out.
        weight: of the questions that were asked: ``must``; ``should`` where no must
            depends on the setting; empty where nothing does.
        good: of a choice among a few, the numbers of all values with which all holds.
        floor: where the first row lands at the ends, from the leaf face (m), nearest
            first, where the setting aims it.
        stride: of a slider, how many steps lie at the most between two values that
            were tried, from end to end, or over the scale where there is no end; 1
            says that every step was.  The ends themselves are found to one step.
    """

    scale: Scale
    ends: tuple[int, int] | None
    open: tuple[str, ...] = ()
    besides: tuple[str, ...] = ()
    weight: str = "must"
    good: tuple[int, ...] = ()
    floor: tuple[float, float] | None = None
    stride: int = 1

    @property
    def least(self) -> Value | None:
        """The first value with which all holds."""
        return self.scale.values[self.ends[0]] if self.ends else None

    @property
    def most(self) -> Value | None:
        """The last value with which all holds."""
        return self.scale.values[self.ends[1]] if self.ends else None


def with_value(doorway: Doorway, scale: Scale, number: int) -> Doorway:
    """The doorway with one value of the scale set, the ± of the old one kept.

    Args:
        doorway: as it stands.
        scale: the setting and its values.
        number: of the value.
    """
    fittings = tuple(
        _with(one, scale.setting, scale.values[number])
        if one.id == scale.fitting
        else one
        for one in doorway.fitting
    )
    return doorway.model_copy(update={"fitting": fittings})


def _with(fitting: Fitting, setting: str, value: Value) -> Fitting:
    part, _, name = setting.partition(".")
    table = getattr(fitting, part)
    old = getattr(table, name)
    if isinstance(value, Quantity) and isinstance(old, Quantity):
        value = replace(old, value=value.value)
    changed = table.model_copy(update={name: value})
    return fitting.model_copy(update={part: changed})


def stride_of(tried: Collection[int], ends: tuple[int, int] | None) -> int:
    """How many steps lie at the most between two values tried, one after the other.

    Args:
        tried: numbers of the values.
        ends: between which; None for all of them.
    """
    least, most = ends or (min(tried, default=0), max(tried, default=0))
    within = sorted({one for one in tried if least <= one <= most})
    return max((b - a for a, b in pairwise(within)), default=1)


def tried_first(count: int, now: int, most: int) -> tuple[int, ...]:
    """Numbers of the values tried first: evenly over the scale, and about the present.

    Args:
        count: values on the scale.
        now: the present one.
        most: how many, those about the present not counted.
    """
    spread = range(count) if count <= most else _spread(count, most)
    near = (now + step for step in (-1, 0, 1))
    return tuple(sorted({*spread, *(one for one in near if 0 <= one < count)}))


def _spread(count: int, most: int) -> Iterator[int]:
    return (round(one * (count - 1) / (most - 1)) for one in range(most))


def search(
    stands: Callable[[int], Standing], tried: Sequence[int], now: int
) -> tuple[tuple[int, int] | None, frozenset[str]]:
    """The run of values about the present one, or nearest to it, with which all holds.

    Args:
        stands: how the questions stand at the value of a number.
        tried: numbers of values, rising; the ends of the run are then sought step by
            step between one that holds and its neighbour that does not.
        now: number of the present value.

    Returns:
        Ends of the run, None if no value tried holds; and what is not shown where
        nothing fails, if so.
    """
    found = {number: stands(number) for number in tried}
    runs = [*_runs(tried, found)]
    if not runs:
        spared = [one for one in found.values() if not one.fails]
        open_yet = frozenset[str]().union(*(one.open for one in spared))
        return None, open_yet
    first, last = min(runs, key=lambda run: _far(run, now))
    before = max((one for one in tried if one < first), default=None)
    after = min((one for one in tried if one > last), default=None)
    low = first if before is None else _edge(stands, first, before)
    high = last if after is None else _edge(stands, last, after)
    return (low, high), frozenset()


def _runs(
    tried: Sequence[int], found: Mapping[int, Standing]
) -> Iterator[tuple[int, int]]:
    start: int | None = None
    last = 0
    for number in tried:
        if found[number].holds:
            start = number if start is None else start
            last = number
        elif start is not None:
            yield start, last
            start = None
    if start is not None:
        yield start, last


def _far(run: tuple[int, int], now: int) -> int:
    first, last = run
    return max(first - now, now - last, 0)


def _edge(stands: Callable[[int], Standing], good: int, bad: int) -> int:
    """The last number that holds on the way from one that does to one that does not."""
    while abs(good - bad) > 1:
        middle = (good + bad) // 2
        if stands(middle).holds:
            good = middle
        else:
            bad = middle
    return good
