"""How fast a closing leaf may go, from what was set or timed."""

from collections.abc import Iterable
from dataclasses import dataclass

from limen.model.doorway import Doorway
from limen.model.movement import Motion
from limen.quantity import Grade, Quantity, least

Missing = tuple[str, ...]
"""Keys of the file that would settle it."""


@dataclass(frozen=True, slots=True)
class Span:
    """A value known to lie between two, SI, with the grades it rests on."""

    low: float
    high: float
    grades: tuple[Grade, ...]

    @property
    def bounded(self) -> Quantity:
        """The same as a value with its uncertainty, of the weakest grade."""
        middle = (self.low + self.high) / 2
        return Quantity(middle, (self.high - self.low) / 2, least(*self.grades))


def spread(once: Quantity | None, runs: Iterable[Quantity]) -> Span | None:
    """Least and greatest of a stopwatch's figures: one, or several runs.

    Returns:
        The span (s); None where nothing was timed.
    """
    given = [*([once] if once is not None else []), *runs]
    if not given:
        return None
    return Span(
        min(q.low for q in given),
        max(q.high for q in given),
        tuple(q.grade for q in given),
    )


def stroke_of(doorway: Doorway) -> Span:
    """The way of the leading leaf from open to closed (m).

    As stated; else the clear width's share: all of it for a single leaf, half of it
    for two.  A way shorter than that share frees no such width: at the most it is
    then the share.
    """
    travel = doorway.leaves.travel
    clear, share = doorway.clear_width, 1 if doorway.leaves.hand else 2
    by_width = Span(clear.low / share, clear.high / share, (clear.grade,))
    if travel is None:
        return by_width
    if travel.high >= by_width.low:
        return Span(travel.low, travel.high, (travel.grade,))
    return Span(travel.low, by_width.high, (travel.grade, clear.grade))


def closing_speeds(doorway: Doorway) -> Span | Missing:
    """The top speed of a closing leaf.

    As set; else from the stopwatch: a leaf that takes T for its way L from rest to
    rest has a top speed from L/T, never gaining or losing speed slowly, to 2L/T,
    the triangle.  A slow zone z crept at w leaves L - z for the time before it,
    which is T less z/w to 2z/w (it stops within the zone).  Where the
    stopwatch, its figures as stated, shows a quicker leaf than was set, from the
    least to the most of both, however wide the ± that would let them meet; where it
    shows a slower one, as set.

    Args:
        doorway: its ``motion``, ``leaves.travel`` and ``clear_width``.

    Returns:
        The span (m/s); or the keys that are missing.

    Source:
        Derived; kinematics of trapezoids.
    """
    motion, set_to = doorway.motion, doorway.motion.closing_speed
    timed = spread(motion.closing_time, motion.closing_runs)
    if set_to is not None and set_to.high <= 0.0:
        return ("motion.closing_speed",)
    if timed is None:
        found = ("motion.closing_time",)
    else:
        found = _from_stopwatch(motion, timed, stroke_of(doorway))
    if set_to is None:
        return found
    entered = Span(set_to.low, set_to.high, (set_to.grade,))
    if not speed_contradicted(doorway):
        return entered
    return _both(entered, found) if isinstance(found, Span) else found


def speed_contradicted(doorway: Doorway) -> bool:
    """Whether the stopwatch shows a quicker closing leaf than was entered.

    By the figures as stated: were their ± to count, a looser figure would make what
    contradicts it agree, and the door be believed.
    """
    motion, set_to = doorway.motion, doorway.motion.closing_speed
    once, runs = motion.closing_time, motion.closing_runs
    timed = spread(once and _bare(once), (_bare(run) for run in runs))
    if set_to is None or timed is None:
        return False
    shown = _from_stopwatch(_as_stated(motion), timed, _stroke_as_stated(doorway))
    return isinstance(shown, Span) and set_to.value < shown.low


def _bare(figure: Quantity) -> Quantity:
    return Quantity(figure.value, 0.0, figure.grade)


def _as_stated(motion: Motion) -> Motion:
    keys = ("slow_zone", "slow_speed")
    given = {key: getattr(motion, key) for key in keys}
    return motion.model_copy(update={k: q and _bare(q) for k, q in given.items()})


def _stroke_as_stated(doorway: Doorway) -> Span:
    travel, leaves = doorway.leaves.travel, doorway.leaves
    bare = leaves.model_copy(update={"travel": travel and _bare(travel)})
    clear = _bare(doorway.clear_width)
    return stroke_of(doorway.model_copy(update={"leaves": bare, "clear_width": clear}))


def _both(entered: Span, timed: Span) -> Span:
    """From the least to the most of what was entered and what was timed."""
    low, high = min(entered.low, timed.low), max(entered.high, timed.high)
    return Span(low, high, (*entered.grades, *timed.grades))


def _from_stopwatch(motion: Motion, timed: Span, stroke: Span) -> Span | Missing:
    zone, slow = motion.slow_zone, motion.slow_speed
    if zone is None:
        return ("motion.slow_zone",)
    grades = (*timed.grades, *stroke.grades, zone.grade)
    if zone.high <= 0.0:
        if timed.low <= 0.0:
            return ("motion.closing_speed",)
        return Span(stroke.low / timed.high, 2 * stroke.high / timed.low, grades)
    if slow is None:
        return ("motion.slow_speed",)
    if slow.low <= 0.0:
        return ("motion.closing_speed",)
    shortest = timed.low - 2 * zone.high / slow.low
    longest = timed.high - zone.low / slow.high
    if shortest <= 0.0:
        return ("motion.closing_speed",)
    fastest = 2 * (stroke.high - zone.low) / shortest
    slowest = (stroke.low - zone.high) / longest
    return Span(slowest, fastest, (*grades, slow.grade))
