# pyright: reportMissingTypeStubs=false, reportUnknownVariableType=false
"""Whether something moves while nobody touches it, and by when it would be at a limit.

What is read at a door in several years is laid on a straight line through time.  Where
somebody set it anew, a new line begins; all of them share one slope, for what moves it
is the same.  A drift is said only where the slope is larger than its own uncertainty.
It is a hint where to look, and never a verdict.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from math import sqrt

YEAR = 365.25  # days
MONTHS = 12
LEAST_DATES = 3
SURE = 0.99
"""How likely the slope lies in what is said of it: of a dozen charts hardly one is to
hint at a drift that is none."""
USUAL = 0.95
"""How likely the points scatter no more than this, if their ± are right."""
EXACT = 1e-6
SPREAD = 1 / sqrt(3)
"""Standard deviation of what lies anywhere within ± 1 with equal chance."""


@dataclass(frozen=True, slots=True)
class Point:
    """What was read on a day.

    Attributes:
        day: the day.
        value: what was read (SI).
        u: half-width of the interval in which it lies (SI); None where nobody
            knows it.
    """

    day: date
    value: float
    u: float | None = None


@dataclass(frozen=True, slots=True)
class Reach:
    """When something would be at a limit if it went on like this.

    Attributes:
        limit: the limit (SI).
        soonest, likely, latest: months from the day for which it was asked; nought
            or less where it may be there already.
    """

    limit: float
    soonest: float
    likely: float
    latest: float


@dataclass(frozen=True, slots=True)
class Drift:
    """What points come to.

    Attributes:
        dates: days on which something was read.
        slope: how fast it moves (SI a year); None where too little is known.
        u: within what the slope is known (SI a year).
        shown: whether it moves faster than that, on three days at least.
        level: where the line is on the day for which it was asked (SI).
        reach: when it would be at its limit; None where it moves towards none.
    """

    dates: int
    slope: float | None = None
    u: float = 0.0
    shown: bool = False
    level: float = 0.0
    reach: Reach | None = None


@dataclass(frozen=True, slots=True)
class _Run:
    """Points between two settings: weight of all, and their middle."""

    weight: float
    year: float
    value: float


@dataclass(frozen=True, slots=True)
class _Fit:
    """Lines with one slope: its square of doubt, that of a level, and how sure."""

    slope: float
    of_slope: float
    of_level: float
    times: float
    last: _Run


def drift(
    runs: Sequence[Sequence[Point]],
    on: date,
    *,
    least: float | None = None,
    most: float | None = None,
) -> Drift:
    """Whether what was read drifts, and by when it would be at its limit.

    Lines of one slope b are laid through the runs by weighted least squares, each
    point with the weight of its ±, taken as evenly likely within it:

        b = Σ w (t - t̄)(y - ȳ) / Σ w (t - t̄)²,    w = 3 / u²,
        U = k √(s² / Σ w (t - t̄)²),

    with the middles t̄, ȳ of each run by itself.  Where the points scatter about their
    lines as their ± lets them (χ² in its usual 95 %), s² is χ²/ν or 1, whichever is
    more, and k is that of the normal distribution; else s² is χ²/ν and k that of
    Student's t with its ν.
    Where the ± of a point is not known, all weigh alike and the scatter alone counts.
    ν is the number of points less one a run, less one for the slope.  The time at
    which a limit is met, with its ends, is Fieller's.

    Args:
        runs: what was read, in runs within which nobody set it.
        on: the day for which it is asked.
        least: the limit below; None if there is none.
        most: the limit above; None if there is none.

    Returns:
        What is known.  Fewer than three days, or no point to spare, show nothing.

    Source:
        Bevington & Robinson, Data Reduction and Error Analysis for the Physical
        Sciences, 3rd ed. 2003, ch. 6 (weighted straight line and the doubt of its
        slope; from memory).  JCGM 100:2008, 4.3.7 (evenly likely within ± u: the
        standard deviation is u/√3).  Birge, The calculation of errors by the method
        of least squares, Phys. Rev. 40 (1932) 207-227 (doubt grows with the scatter
        and never falls below what was stated; from memory).  Fieller, Some problems
        in interval estimation, J. R. Stat. Soc. B 16 (1954) 175-185 (from memory).
        Left out: a movement that is no straight line, and tapes that are wrong every
        time alike.
    """
    days = {one.day for run in runs for one in run}
    fit = _fitted([run for run in runs if run], on)
    if len(days) < LEAST_DATES or fit is None:
        return Drift(len(days))
    u = fit.times * sqrt(fit.of_slope)
    # Nothing that was read at a door is exact: points on a ruler show no doubt.
    shown = EXACT * abs(fit.slope) < u < abs(fit.slope)
    level = fit.last.value - fit.slope * fit.last.year
    limit = most if fit.slope > 0 else least
    reach = _reach(fit, limit) if shown and limit is not None else None
    return Drift(len(days), fit.slope, u, shown, level, reach)


def _fitted(runs: Sequence[Sequence[Point]], on: date) -> _Fit | None:
    """Lines with one slope; None where no point is to spare, or all are of a day."""
    stated = all(one.u for run in runs for one in run)
    weigh = _weight if stated else _alike
    middles = [_middle([(weigh(one), one) for one in run], on) for run in runs]
    offs = [
        (weigh(one), _year(one.day, on) - mid.year, one.value - mid.value)
        for run, mid in zip(runs, middles, strict=True)
        for one in run
    ]
    across = sum(w * t * t for w, t, _ in offs)
    spare = len(offs) - len(runs) - 1
    if spare < 1 or across <= 0.0:
        return None
    slope = sum(w * t * y for w, t, y in offs) / across
    scatter = sum(w * (y - slope * t) ** 2 for w, t, y in offs) / spare
    square, times = _doubt(scatter, spare, stated=stated)
    last = max(middles, key=lambda one: one.year)
    return _Fit(slope, square / across, square / last.weight, times, last)


def _doubt(scatter: float, spare: int, *, stated: bool) -> tuple[float, float]:
    """Square of the scale of doubt, and how many times it is taken."""
    # Imported late: whoever draws nothing does not wait for it.
    from scipy.special import chdtri, ndtri, stdtrit

    upper = (1.0 + SURE) / 2
    if stated and scatter * spare <= chdtri(spare, 1.0 - USUAL):
        return max(1.0, scatter), float(ndtri(upper))
    return scatter, float(stdtrit(spare, upper))


def _reach(fit: _Fit, limit: float) -> Reach:
    """When the line is at a limit, and between what times it may be (Fieller)."""
    slope, off = fit.slope, limit - fit.last.value
    times = fit.times**2
    ahead = slope**2 - times * fit.of_slope
    root = sqrt(times * (fit.of_slope * off**2 + fit.of_level * ahead))
    ends = ((slope * off - root) / ahead, off / slope, (slope * off + root) / ahead)
    soonest, likely, latest = (MONTHS * (fit.last.year + one) for one in sorted(ends))
    return Reach(limit, soonest, likely, latest)


def _middle(run: Sequence[tuple[float, Point]], on: date) -> _Run:
    whole = sum(w for w, _ in run)
    year = sum(w * _year(one.day, on) for w, one in run) / whole
    return _Run(whole, year, sum(w * one.value for w, one in run) / whole)


def _weight(one: Point) -> float:
    """One over the square of its doubt."""
    return 1.0 / (SPREAD * one.u) ** 2 if one.u else 1.0


def _alike(_: Point) -> float:
    return 1.0


def _year(day: date, on: date) -> float:
    return (day - on).days / YEAR


def since_set(
    points: Sequence[tuple[Point, bool]],
) -> Iterator[tuple[Point, ...]]:
    """Points in runs: each one that says so begins a new one.

    Args:
        points: in order; with each, whether somebody set it just before.
    """
    run: list[Point] = []
    for point, anew in points:
        if anew and run:
            yield tuple(run)
            run = []
        run.append(point)
    if run:
        yield tuple(run)
