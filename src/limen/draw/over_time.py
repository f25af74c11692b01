"""A value over the years: marks with their ±, its limits, and where it is heading.

What is told by colour is told by the mark and in words as well.  Marks of one run are
joined; between two runs somebody set it, and the line is broken.  Values are written
at the first and the last mark; all of them stand in the table beside the picture.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from typing import Literal
from xml.sax.saxutils import escape, quoteattr
from zlib import crc32

from limen.draw.boxes import Rect
from limen.draw.choices_scale import Axis, Scale, scaled
from limen.draw.lettering import LINE, width_of
from limen.draw.sheet import NARROW
from limen.draw.strokes import At, box, line, words
from limen.draw.svg import FONT, number
from limen.draw.themes import PAPER

Mark = Literal["holds", "fails", "not shown", "found", "left"]
YEAR = 365.25  # days
HIGH = {False: 240.0, True: 250.0}  # px
SIZE = {False: 14.0, True: 16.6}  # px; a phone shows the narrow one a little smaller
TICKS = {False: 5, True: 4}
RIM = 8.0
TICK = 5.0
HALF = 5.0  # px, of a mark
CAP = 3.0  # px, of the ends of a ±
AHEAD = 1.0
"""How far beyond the marks the way on is drawn at most, in spans of theirs."""
LEAST_AHEAD = 365  # days
CHAIN = ' stroke-dasharray="9 3 2 3"'
DASH = ' stroke-dasharray="5 4"'


@dataclass(frozen=True, slots=True)
class Dot:
    """A value on a day.

    Attributes:
        day: the day.
        value: what it was.
        mark: by which mark it is drawn.
        u: half-width of the interval in which it lies; None where it is not known.
        anew: whether it may have been set just before.
        label: what stands beside it; may be empty.
    """

    day: date
    value: float
    mark: Mark
    u: float | None = None
    anew: bool = False
    label: str = ""


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit: its value and what stands at it."""

    value: float
    label: str


@dataclass(frozen=True, slots=True)
class Heading:
    """Where a value is heading.

    Attributes:
        since: the line at the first mark: day and value.
        upto: the line at its end.
        soonest, latest: between which days it would be at its limit; None where it
            is heading for none.
        limit: that limit.
    """

    since: tuple[date, float]
    upto: tuple[date, float]
    soonest: date | None = None
    latest: date | None = None
    limit: float = 0.0


@dataclass(frozen=True, slots=True)
class OverTime:
    """What is drawn.

    Attributes:
        title, description: the picture in words.
        name: what stands at the axis, with its unit.
        dots: the values, the earliest first; at least one.
        limits: the limits.
        heading: where it is heading; None where nothing is shown of that.
        unit: of what is written at the axis, in the value's own unit.
        say: writes a value.
        binary: whether the unit is divided by halves, as inches are.
        language: of the words.
    """

    title: str
    description: str
    name: str
    dots: tuple[Dot, ...]
    limits: tuple[Limit, ...]
    heading: Heading | None
    unit: float
    say: Callable[[float], str]
    binary: bool
    language: str


@dataclass(frozen=True, slots=True)
class _Plot:
    of: OverTime
    width: float
    area: Rect
    y: Scale
    first: date
    last: date
    size: float

    def at(self, day: date, value: float) -> At:
        """Where a value on a day lies (px)."""
        return self.x(day), self.y.at(value)

    def x(self, day: date) -> float:
        """Where a day lies (px), no further than the plot."""
        share = (day - self.first).days / (self.last - self.first).days
        return self.area.left + min(share, 1.0) * (self.area.right - self.area.left)


def draw_over_time(of: OverTime, width: float) -> str:
    """Draw a value over the years, as SVG.

    Args:
        of: what is drawn.
        width: of the sheet (px); below 600 it is the narrow picture.
    """
    plot = _laid_out(of, width)
    high = HIGH[width < NARROW]
    key = f"t{crc32(f'{of.title}{of.description}{width}'.encode()):08x}"
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" '
            f'class="limen-drawing over-time" width="{number(width)}" '
            f'height="{number(high)}" viewBox="0 0 {number(width)} {number(high)}" '
            f'role="img" aria-labelledby="{key}-title {key}-desc" '
            f"xml:lang={quoteattr(of.language)} font-family={quoteattr(FONT)}>",
            f'<title id="{key}-title">{escape(of.title)}</title>',
            f'<desc id="{key}-desc">{escape(of.description)}</desc>',
            box(0.0, 0.0, width, high, PAPER["paper"]),
            *_body(plot),
            "</svg>",
        )
    )


# Laid out --------------------------------------------------------------------------


def _laid_out(of: OverTime, width: float) -> _Plot:
    narrow = width < NARROW
    size, high = SIZE[narrow], HIGH[narrow]
    top, low = 2.4 * LINE * size, high - 1.8 * LINE * size
    values = list(_values(of))
    axis = Axis(of.name, "more", of.unit, of.say, of.binary)
    y = scaled(axis, values, (low, top), most=TICKS[narrow], aside=0.0)
    left = max(width_of(of.say(one), size) for one in y.ticks) + TICK + RIM
    last_label = width_of(of.dots[-1].label, size) / 2
    area = Rect(left + 2 * HALF, top, width - max(RIM, last_label), low)
    first, last = of.dots[0].day, _end(of)
    return _Plot(of, width, area, y, first, max(last, first + timedelta(1)), size)


def _values(of: OverTime) -> Iterator[float]:
    for one in of.dots:
        yield one.value - (one.u or 0.0)
        yield one.value + (one.u or 0.0)
    yield from (one.value for one in of.limits)


def _end(of: OverTime) -> date:
    """The last day that is drawn: of the marks, or a good way on."""
    first, last = of.dots[0].day, of.dots[-1].day
    if of.heading is None or of.heading.soonest is None:
        return last
    ahead = max(AHEAD * (last - first).days, LEAST_AHEAD)
    latest = of.heading.latest or of.heading.soonest
    return max(last, min(latest, last + timedelta(ahead)))


# Drawn -----------------------------------------------------------------------------


def _body(plot: _Plot) -> Iterator[str]:
    yield '<g aria-hidden="true">'
    yield from _across(plot)
    yield from _up(plot)
    for one in plot.of.limits:
        yield from _limit(plot, one)
    if plot.of.heading is not None:
        yield from _heading(plot, plot.of.heading)
    yield from _joined(plot)
    for one in plot.of.dots:
        yield from _dot(plot, one)
    yield from _labels(plot)
    yield "</g>"


def _across(plot: _Plot) -> Iterator[str]:
    area, under = plot.area, plot.area.bottom + TICK + plot.size
    ink = PAPER["line"]
    yield line((area.left, area.bottom), (area.right, area.bottom), ink, 1.2)
    ends = [plot.x(one) for one in (plot.first, plot.last)]
    for day, label in _days(plot):
        x = plot.x(day)
        yield line((x, area.bottom), (x, area.bottom + TICK), ink, 1.0)
        half = width_of(label, plot.size) / 2
        at = min(max(x, ends[0] - TICK + half), plot.width - 2 - half)
        yield words(label, (at, under), "middle", plot.size, PAPER["quiet"])


def _days(plot: _Plot) -> list[tuple[date, str]]:
    """The days that are written: the turn of years, else both ends."""
    years = range(plot.first.year + 1, plot.last.year + 1)
    every = 1 + int(len(years) * 4.2 * plot.size / (plot.area.right - plot.area.left))
    turns = [date(one, 1, 1) for one in years if (one - years.start) % every == 0]
    if len(turns) > 1:
        return [(one, str(one.year)) for one in turns]
    days = dict.fromkeys((plot.of.dots[0].day, plot.last))
    return [(one, one.isoformat()) for one in days]


def _up(plot: _Plot) -> Iterator[str]:
    area, start = plot.area, plot.area.left - 2 * HALF
    for tick in plot.y.ticks:
        y = plot.y.at(tick)
        yield line((start, y), (area.right, y), PAPER["wall"], 0.8)
        at = (start - TICK, y + 0.35 * plot.size)
        yield words(plot.of.say(tick), at, "end", plot.size, PAPER["quiet"])
    yield words(plot.of.name, (2.0, plot.size), "start", plot.size, PAPER["ink"])


def _limit(plot: _Plot, one: Limit) -> Iterator[str]:
    """A limit with its words on the side on which it is passed, where there is room."""
    area, y = plot.area, plot.y.at(one.value)
    start = area.left - 2 * HALF
    yield line((start, y), (area.right, y), PAPER["fails"], 1.8, DASH)
    lowest = one.value <= min(each.value for each in plot.of.limits)
    room = area.bottom - y > LINE * plot.size
    below = lowest and room
    at = (area.right, y + 0.95 * plot.size + 2.0 if below else y - 6.0)
    yield _over(one.label, at, "end", plot.size, PAPER["ink"])


def _heading(plot: _Plot, one: Heading) -> Iterator[str]:
    yield line(
        plot.at(*one.since), plot.at(*_within(plot, one)), PAPER["ink"], 1.4, CHAIN
    )
    if one.soonest is None or one.soonest > plot.last:
        return
    y = plot.y.at(one.limit)
    ends = plot.x(max(one.soonest, plot.first)), plot.x(one.latest or plot.last)
    yield line((ends[0], y), (ends[1], y), PAPER["fails"], 5.0)


def _within(plot: _Plot, one: Heading) -> tuple[date, float]:
    """The end of the way on, within the plot."""
    (start, low), (end, high) = one.since, one.upto
    if end <= plot.last or end == start:
        return one.upto
    share = (plot.last - start).days / (end - start).days
    return plot.last, low + share * (high - low)


def _joined(plot: _Plot) -> Iterator[str]:
    for before, after in pairwise(plot.of.dots):
        if not after.anew:
            ends = plot.at(before.day, before.value), plot.at(after.day, after.value)
            yield line(*ends, PAPER["line"], 1.2)


def _dot(plot: _Plot, one: Dot) -> Iterator[str]:
    x, y = plot.at(one.day, one.value)
    if one.u:
        low, high = (plot.y.at(one.value + way * one.u) for way in (-1, 1))
        yield line((x, low), (x, high), PAPER["line"], 1.2)
        for end in (low, high):
            yield line((x - CAP, end), (x + CAP, end), PAPER["line"], 1.2)
    yield _mark(one.mark, x, y)


def _mark(mark: Mark, x: float, y: float) -> str:
    """The mark of a verdict; of a reading a ring as found, a disc as left."""
    ink, paper = PAPER["ink"], PAPER["paper"]
    a, b, c, d = (number(one) for one in (x - HALF, x + HALF, y - HALF, y + HALF))
    match mark:
        case "holds":
            return box(x - HALF, y - HALF, 2 * HALF, 2 * HALF, PAPER["holds"], paper)
        case "fails":
            stroke = PAPER["fails"]
            return (
                f'<path d="M{a} {c}L{b} {d}M{a} {d}L{b} {c}" fill="none" '
                f'stroke="{stroke}" stroke-width="3" stroke-linecap="round"/>'
            )
        case "not shown":
            square = box(
                x - HALF, y - HALF, 2 * HALF, 2 * HALF, paper, PAPER["not shown"]
            )
            return square + words("?", (x, y + 4.2), "middle", 11.0, ink)
        case "found":
            return _disc(x, y, paper, ink)
        case "left":
            return _disc(x, y, ink, paper)


def _disc(x: float, y: float, fill: str, edge: str) -> str:
    return (
        f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(HALF)}" '
        f'fill="{fill}" stroke="{edge}" stroke-width="1.6"/>'
    )


def _labels(plot: _Plot) -> Iterator[str]:
    """What stands beside the first and the last mark, above or below their ±."""
    dots: Sequence[Dot] = plot.of.dots
    ends = [dots[0]] if len(dots) == 1 else [dots[0], dots[-1]]
    for one in ends:
        x, y = plot.at(one.day, one.value)
        reach = abs(plot.y.at(one.value + (one.u or 0.0)) - y)
        up = y - max(reach, HALF) - 5.0
        down = y + max(reach, HALF) + plot.size
        below = up - plot.size < LINE * plot.size + 2.0
        at = (x, down if below else up)
        anchor = "start" if one is dots[0] else "middle"
        yield _over(one.label, at, anchor, plot.size, PAPER["ink"])


def _over(text: str, at: At, anchor: str, size: float, ink: str) -> str:
    """Words under which a line may run: on paper of their own."""
    x, y = (number(one) for one in at)
    return (
        f'<text x="{x}" y="{y}" text-anchor="{anchor}" font-size="{size}" '
        f'fill="{ink}" stroke="{PAPER["paper"]}" stroke-width="3" '
        f'stroke-linejoin="round" paint-order="stroke">{escape(text)}</text>'
    )
