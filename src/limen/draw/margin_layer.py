"""The margin map as a layer over the plan: bands by pattern, few contour lines.

Bands differ in pattern, not only in ink, so that the layer survives a print in black
and white: the less room, the denser.  A contour line runs along the edges of pieces;
it says "from here on at least this much was shown", never more.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import groupby
from xml.sax.saxutils import escape

from limen.draw.boxes import Rect
from limen.draw.sheet import Fit, Panel, Sheet
from limen.draw.svg import number
from limen.findings import Verdict
from limen.findings.margin_map import MarginMap, Spot

SIZE = 13.0  # px, of the labels
LEAST_LABELLED = 34.0  # px of a straight piece of contour that can carry a label
HALF_SIGN = 7.0  # px
LETTER = 0.55  # width of a letter over its size
SHARES = {1: 0.62, 2: 0.45, 3: 0.78}
Cell = tuple[int, int]


class Band(StrEnum):
    """How much room there is, in steps that can be told apart."""

    MISSED = "missed"
    NOT_SHOWN = "not-shown"
    NONE_MEASURED = "reached"
    LEAST = "room-0"
    SOME = "room-1"
    MORE = "room-2"


@dataclass(frozen=True, slots=True)
class Levels:
    """Where contour lines run.

    Attributes:
        rooms: the room to spare at the second and third line (m), rising.
        words: what is written at them.
        limit: what is written where the body begins to be missed.
        worst: what is written at the place with least room.
    """

    rooms: tuple[float, float]
    words: tuple[str, str]
    limit: str
    worst: str


@dataclass(frozen=True, slots=True)
class Layer:
    """The layer, and how a page finds a piece in it.

    Attributes:
        svg: to be laid over the drawing, of the same size.
        origin: where the first piece's corner lies (px of the sheet).
        step: from one piece to the next along, and across (px); negative where the
            drawing runs the other way.
    """

    svg: str
    origin: tuple[float, float]
    step: tuple[float, float]


def band_of(spot: Spot, levels: Levels) -> Band | None:
    """In which band a piece lies; None where nobody can stand."""
    match spot.verdict:
        case Verdict.NOT_ASKED:
            return None
        case Verdict.FAILS:
            return Band.MISSED
        case Verdict.NOT_SHOWN:
            return Band.NOT_SHOWN
        case Verdict.HOLDS:
            return _by_room(spot.least, levels)


def _by_room(least: float | None, levels: Levels) -> Band:
    if least is None:
        return Band.NONE_MEASURED
    if least < levels.rooms[0]:
        return Band.LEAST
    return Band.SOME if least < levels.rooms[1] else Band.MORE


def margin_layer(
    found: MarginMap, sheet: Sheet, levels: Levels, *, turned: bool = False
) -> Layer:
    """Lay a margin map over a plan.

    Args:
        found: the map.
        sheet: the plan, laid out.
        levels: where contour lines run.
        turned: whether the plan is drawn for someone who stands inside.
    """
    grid = _Grid(found, sheet.panels[0], -1.0 if turned else 1.0)
    width, height = number(sheet.width), number(sheet.height)
    parts = "\n".join(_parts(grid, levels))
    return Layer(
        f'<svg xmlns="http://www.w3.org/2000/svg" class="margin-layer" '
        f'viewBox="0 0 {width} {height}" aria-hidden="true" focusable="false">'
        f"{parts}</svg>",
        grid.corner(0, 0),
        grid.step,
    )


@dataclass(frozen=True, slots=True)
class _Grid:
    """A map's pieces on the sheet."""

    found: MarginMap
    panel: Panel
    way: float

    @property
    def fit(self) -> Fit:
        return self.panel.fit

    @property
    def step(self) -> tuple[float, float]:
        wide, deep = self.found.size
        return self.way * wide * self.fit.scale, self.way * deep * self.fit.scale

    def corner(self, column: int, row: int) -> tuple[float, float]:
        """The corner of a piece nearest to the left and inside."""
        wide, deep = self.found.size
        x = self.found.zone[0] + column * wide
        y = self.found.zone[2] + row * deep
        return self.fit.at((self.way * x, -self.way * y))

    def rect(self, column: int, row: int, run: int = 1) -> str:
        """A run of pieces as a closed path."""
        x, y = self.corner(column, row)
        wide, deep = run * self.step[0], self.step[1]
        return (
            f"M{number(x)} {number(y)}h{number(wide)}v{number(deep)}h{number(-wide)}Z"
        )


def _parts(grid: _Grid, levels: Levels) -> Iterator[str]:
    drawn = grid.panel.drawn
    yield f"<defs>{_clip(drawn)}{''.join(_patterns())}</defs>"
    yield '<g clip-path="url(#margin-clip)">'
    bands = [band_of(spot, levels) for spot in grid.found.spots]
    for band in Band:
        path = "".join(_runs(grid, bands, band))
        if path:
            ink = f'class="band band-{band}" fill="url(#band-{band})"'
            yield f'<path {ink} d="{path}"/>'
    yield from _contours(grid, bands, levels)
    yield "</g>"
    yield from _worst(grid, levels)


def _clip(drawn: Rect) -> str:
    wide, high = drawn.right - drawn.left, drawn.bottom - drawn.top
    return (
        f'<clipPath id="margin-clip"><rect x="{number(drawn.left)}" '
        f'y="{number(drawn.top)}" width="{number(wide)}" height="{number(high)}"/>'
        "</clipPath>"
    )


def _patterns() -> Iterator[str]:
    """One pattern a band: crossed, asking, and the fewer lines the more room."""
    yield _pattern(Band.MISSED, 6, "M0 0 6 6M6 0 0 6")
    yield _pattern(Band.NOT_SHOWN, 12, "M3 3h6v6h-6z")
    yield _pattern(Band.NONE_MEASURED, 10, "M0 5H10")
    yield _pattern(Band.LEAST, 5, "M-1 6 6 -1M-1 1 1 -1M4 6 6 4")
    yield _pattern(Band.SOME, 11, "M-1 12 12 -1M-1 1 1 -1M10 12 12 10")
    yield _pattern(Band.MORE, 18, "M8.500 9h1")


def _pattern(band: Band, size: int, path: str) -> str:
    return (
        f'<pattern id="band-{band}" width="{size}" height="{size}" '
        f'patternUnits="userSpaceOnUse"><path class="band-line band-{band}" '
        f'd="{path}"/></pattern>'
    )


def _runs(grid: _Grid, bands: Sequence[Band | None], band: Band) -> Iterator[str]:
    columns = grid.found.columns
    for row in range(grid.found.rows):
        column = 0
        line = bands[row * columns : (row + 1) * columns]
        for one, group in groupby(line):
            run = len(list(group))
            if one is band:
                yield grid.rect(column, row, run)
            column += run


# Contour lines -----------------------------------------------------------------

ROOMY = {Band.LEAST: 1, Band.NONE_MEASURED: 1, Band.SOME: 2, Band.MORE: 3}


def _contours(
    grid: _Grid, bands: Sequence[Band | None], levels: Levels
) -> Iterator[str]:
    said = (levels.limit, *levels.words)
    for level, words in enumerate(said, 1):
        inside = [None if one is None else ROOMY.get(one, 0) >= level for one in bands]
        lines = [*_along(grid, inside), *_across(grid, inside)]
        if not lines:
            continue
        path = "".join(_straight(grid, line) for line in lines)
        yield f'<path class="contour contour-{level}" d="{path}"/>'
        yield from _label(grid, lines, words, level)


@dataclass(frozen=True, slots=True)
class _Line:
    """A straight piece of contour between two corners of pieces."""

    start: Cell
    end: Cell

    @property
    def long(self) -> int:
        return self.end[0] - self.start[0]


def _along(grid: _Grid, inside: Sequence[bool | None]) -> Iterator[_Line]:
    """Edges that run along the opening, where two rows differ."""
    columns, rows = grid.found.columns, grid.found.rows
    for row in range(1, rows):
        apart = [
            _differ(inside[(row - 1) * columns + i], inside[row * columns + i])
            for i in range(columns)
        ]
        yield from (_Line((a, row), (b, row)) for a, b in _true_runs(apart))


def _across(grid: _Grid, inside: Sequence[bool | None]) -> Iterator[_Line]:
    """Edges that run across the opening, where two columns differ."""
    columns, rows = grid.found.columns, grid.found.rows
    for column in range(1, columns):
        apart = [
            _differ(inside[j * columns + column - 1], inside[j * columns + column])
            for j in range(rows)
        ]
        yield from (_Line((column, a), (column, b)) for a, b in _true_runs(apart))


def _differ(*pair: bool | None) -> bool:
    """Whether a contour runs between two pieces; none runs along a wall."""
    return None not in pair and len({*pair}) > 1


def _true_runs(marks: Sequence[bool]) -> Iterator[tuple[int, int]]:
    at = 0
    for one, group in groupby(marks):
        run = len(list(group))
        if one:
            yield at, at + run
        at += run


def _straight(grid: _Grid, line: _Line) -> str:
    ax, ay = grid.corner(*line.start)
    bx, by = grid.corner(*line.end)
    return f"M{number(ax)} {number(ay)}L{number(bx)} {number(by)}"


def _label(
    grid: _Grid, lines: Sequence[_Line], words: str, level: int
) -> Iterator[str]:
    """The words at the longest straight piece in sight, if it can bear them."""
    drawn = grid.panel.drawn
    seen = [
        (abs(line.long * grid.step[0]), line)
        for line in lines
        if _holds(drawn, grid.corner(*line.start))
        and _holds(drawn, grid.corner(*line.end))
    ]
    long, line = max(seen, key=lambda one: one[0], default=(0.0, None))
    if line is None or long < LEAST_LABELLED:
        return
    (ax, y), (bx, _) = grid.corner(*line.start), grid.corner(*line.end)
    # Labels of several lines that lie close stand side by side, off their lines.
    x = _beside(grid, level, half=len(words) * SIZE * LETTER / 2, ends=(ax, bx))
    below = line.start[1] * 2 > grid.found.rows
    y += SIZE if below == (grid.step[1] > 0) else -SIZE / 3
    yield (
        f'<text class="contour-words" x="{number(x)}" y="{number(y)}" '
        f'font-size="{number(SIZE)}" text-anchor="middle">{escape(words)}</text>'
    )


def _beside(
    grid: _Grid, level: int, *, half: float, ends: tuple[float, float]
) -> float:
    """Where along a line its words stand: each level has its own part of the zone."""
    start = grid.corner(0, 0)[0]
    whole = grid.found.columns * grid.step[0]
    x = start + SHARES[level] * whole
    low, high = min(ends) + half, max(ends) - half
    return min(max(x, low), high) if low <= high else (low + high) / 2


def _holds(drawn: Rect, point: tuple[float, float]) -> bool:
    x, y = point
    return drawn.left <= x <= drawn.right and drawn.top <= y <= drawn.bottom


def _worst(grid: _Grid, levels: Levels) -> Iterator[str]:
    """A ring about the place with least room, and what room that is."""
    worst = grid.found.worst
    if worst is None:
        return
    x, y = grid.corner(*worst)
    x, y = x + grid.step[0] / 2, y + grid.step[1] / 2
    drawn = grid.panel.drawn
    if not _holds(drawn, (x, y)):
        return
    yield f'<circle class="worst" cx="{number(x)}" cy="{number(y)}" r="{HALF_SIGN}"/>'
    end = "end" if x > (drawn.left + drawn.right) / 2 else "start"
    aside = -2 * HALF_SIGN if end == "end" else 2 * HALF_SIGN
    yield (
        f'<text class="worst-words" x="{number(x + aside)}" '
        f'y="{number(y + SIZE / 3)}" font-size="{number(SIZE)}" '
        f'text-anchor="{end}">{escape(levels.worst)}</text>'
    )
