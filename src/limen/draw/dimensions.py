"""Dimension lines: where they run, and where their figures may stand."""

from dataclasses import dataclass

from limen.draw.boxes import Rect, Segment
from limen.draw.lettering import extent_of
from limen.draw.placing import Anchor, Place
from limen.draw.scene import Span
from limen.draw.sheet import Fit, Stroke

SHORT = 20.0  # px: below this the arrows stand outside
STUB = 16.0
OVER = 5.0
GAP = 3.0
BOLD = 1.06


@dataclass(frozen=True, slots=True)
class Measured:
    """A dimension on the sheet: its lines, and places for its figure."""

    span: Span
    strokes: tuple[Stroke, ...]
    places: tuple[Place, ...]

    @property
    def lines(self) -> tuple[Segment, ...]:
        """All its lines."""
        return tuple(stroke.line for stroke in self.strokes)


def words_of(span: Span, fit: Fit) -> str:
    """What a dimension says on this sheet."""
    return span.narrow if fit.narrow and span.narrow is not None else span.text


def shown(span: Span, fit: Fit) -> bool:
    """Whether both ends of a dimension are on the sheet."""
    axis = 0 if span.along == "u" else 1
    low, high = fit.frame[2 * axis], fit.frame[2 * axis + 1]
    return all(low - 1e-9 <= end[axis] <= high + 1e-9 for end in (span.start, span.end))


def measured(span: Span, fit: Fit) -> Measured:
    """Lay out one dimension."""
    first, step = 1.3 * fit.size, 1.9 * fit.size
    away = first + span.lane * step
    if span.along == "u":
        out = 1.0 if span.side == "below" else -1.0
        level = fit.y(span.base) + out * away
        return _level(span, fit, level, out)
    out = 1.0 if span.side == "right" else -1.0
    upright = fit.x(span.base) + out * away
    return _upright(span, fit, upright, out)


def _level(span: Span, fit: Fit, y: float, out: float) -> Measured:
    points = sorted((fit.at(span.start), fit.at(span.end)))
    (ax, ay), (bx, by) = points
    strokes = (
        *_line(Segment(ax, y, bx, y)),
        _extension(Segment(ax, ay + out * GAP, ax, y + out * OVER)),
        _extension(Segment(bx, by + out * GAP, bx, y + out * OVER)),
    )
    wide, high = extent_of(words_of(span, fit), fit.size)
    wide *= BOLD
    middle, beyond = (ax + bx) / 2, _beyond(bx - ax)
    upper = Rect(middle - wide / 2, y - 2 - high, middle + wide / 2, y - 2)
    fits = wide + 8 <= bx - ax
    under = y + 2 if fits else y + OVER + 1
    lower = Rect(middle - wide / 2, under, middle + wide / 2, under + high)
    sides = (
        _place(Rect(bx + beyond, y - high / 2, bx + beyond + wide, y + high / 2)),
        _place(
            Rect(ax - beyond - wide, y - high / 2, ax - beyond, y + high / 2), "end"
        ),
    )
    over = (_place(upper, "middle"), _place(lower, "middle"))
    return Measured(span, strokes, over + sides if fits else sides + over[1:])


def _upright(span: Span, fit: Fit, x: float, out: float) -> Measured:
    points = sorted((fit.at(span.start), fit.at(span.end)), key=lambda p: p[1])
    (ax, ay), (bx, by) = points
    strokes = (
        *_line(Segment(x, ay, x, by)),
        _extension(Segment(ax + out * GAP, ay, x + out * OVER, ay)),
        _extension(Segment(bx + out * GAP, by, x + out * OVER, by)),
    )
    wide, high = extent_of(words_of(span, fit), fit.size)
    wide *= BOLD
    mid, beyond = (ay + by) / 2, _beyond(by - ay)
    right = Rect(x + 6, mid - high / 2, x + 6 + wide, mid + high / 2)
    left = Rect(x - 6 - wide, mid - high / 2, x - 6, mid + high / 2)
    both = (_place(right), _place(left, "end"))
    ends = tuple(
        _place(Rect(start, top, start + wide, top + high), "middle")
        for start in (x - wide / 2, x - 0.1 * wide, x - 0.9 * wide)
        for top in (ay - beyond - high, by + beyond)
    )
    return Measured(span, strokes, (both if out > 0 else both[::-1]) + ends)


def _beyond(length: float) -> float:
    return STUB + 5 if length < SHORT else OVER + 4


def _place(box: Rect, anchor: Anchor = "start") -> Place:
    return Place(box, anchor)


def _extension(line: Segment) -> Stroke:
    return Stroke("extension", line)


def _line(line: Segment) -> tuple[Stroke, ...]:
    """The line with its arrows: inside where there is room, else from outside."""
    ax, ay, bx, by = line
    length = abs(bx - ax) + abs(by - ay)
    if length >= SHORT:
        return (Stroke("dimension", line, (True, True)),)
    i, j = (STUB, 0.0) if ay == by else (0.0, STUB)
    return (
        Stroke("dimension", line),
        Stroke("dimension", Segment(ax - i, ay - j, ax, ay), (False, True)),
        Stroke("dimension", Segment(bx, by, bx + i, by + j), (True, False)),
    )
