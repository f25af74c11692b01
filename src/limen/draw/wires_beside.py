"""The wide terminal plan: boxes of units beside the operator's."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from limen.draw.lettering import LINE, width_of
from limen.draw.wires_picture import Drawn, WirePicture, nowhere
from limen.draw.wires_strokes import (
    ROUND,
    Spot,
    box,
    chain,
    knot,
    lines_of,
    marked,
    numbered,
    paragraph,
    rule,
    wire,
)
from limen.findings import Message
from limen.findings.wires import WireShown
from limen.words import say, visible
from limen.words.wiring import short_feed, short_output, short_supply, short_terminal

SIZE, SMALL = 15.0, 13.0
EDGE = 26.0
"""px at the left, where the supply runs."""
SHARE = 0.345
"""Of the width for each column of boxes."""
LANE = 9.0
"""px from one upright piece of a wire to the next, at the least."""
STUB = 118.0
"""px that words at an output without an end may be wide."""
PAD, BETWEEN, TOP = 9.0, 18.0, 8.0
ENTRY = 26.0
"""px from one wire's end at a terminal to the next."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a box: bold words, then quiet ones, and how high it is (px)."""

    bold: tuple[str, ...]
    quiet: tuple[str, ...]
    least: float = 0.0

    @property
    def high(self) -> float:
        """px, with room above and below."""
        words = LINE * (SIZE * len(self.bold) + SMALL * len(self.quiet))
        return max(words + 2 * PAD, self.least)


@dataclass(frozen=True, slots=True)
class Column:
    """A column of boxes.

    Attributes:
        left, right: its sides (px).
    """

    left: float
    right: float

    def row(self, bold: str, *quiet: str, least: float = 0.0) -> Row:
        """Words broken so that they keep to the column."""
        room = self.right - self.left - 2 * PAD
        below = [line for one in quiet for line in lines_of(one, SMALL, room)]
        return Row(tuple(lines_of(bold, 1.06 * SIZE, room)), tuple(below), least)


def beside(picture: WirePicture, width: float) -> Drawn:
    """Units to the left, the operator to the right."""
    wide = min(SHARE * (width - EDGE), (width - EDGE - _channel(picture)) / 2)
    units = Column(EDGE, EDGE + wide)
    operator = Column(width - 2 - wide, width - 2)
    strokes: list[str] = []
    starts: dict[int, float] = {}
    taps: list[float] = []
    at = TOP
    for feed in picture.plan.feeds:
        rows, made = _unit(picture, units, feed.fitting.id)
        strokes += _boxed(units, at, rows)
        tops = _tops(at, rows)
        for one, top, row in zip(made, tops[1:], rows[1:], strict=False):
            starts[one.number] = top + row.high / 2
        taps.append(tops[-1] + rows[-1].high / 2)
        at = tops[-1] + rows[-1].high + BETWEEN
    low = at - BETWEEN
    rows = _operator(picture, operator)
    strokes += _boxed(operator, TOP, rows)
    tops = _tops(TOP, rows)
    ends = _entries(picture, starts, tops[1:-1], rows[1:-1])
    supply = tops[-1] + rows[-1].high
    bottom = max(low, supply) + 22.0
    strokes += _supply(taps, (operator.left + operator.right) / 2, supply, bottom)
    strokes += _wires(picture, units, operator, starts, ends)
    return bottom + 8.0, strokes


# Boxes -------------------------------------------------------------------------


def _unit(
    picture: WirePicture, column: Column, fitting: str
) -> tuple[list[Row], tuple[WireShown, ...]]:
    feed = next(one for one in picture.plan.feeds if one.fitting.id == fitting)
    wires, unit = picture.plan.of(fitting), feed.fitting
    named = picture.named(unit)
    sheet = unit.unit.name if unit.unit else unit.sheet
    rows = [column.row(named, visible(sheet))]
    for one in wires:
        word = say(Message(f"output.{one.signal}"), language=picture.spoken)
        more = short_output(one, language=picture.spoken)
        rows.append(column.row(word, more, least=52.0))
    fed = short_feed(feed, picture.system, language=picture.spoken)
    rows.append(column.row(picture.word("supply"), *fed))
    return rows, wires


def _operator(picture: WirePicture, column: Column) -> list[Row]:
    rows = [column.row(picture.word("operator"))]
    for place, one in enumerate(picture.plan.terminals):
        many = sum(wire.terminal == place for wire in picture.plan.wires)
        said = short_terminal(one, language=picture.spoken)
        if not many:
            said = (*said, picture.word("none_ends"))
        least = max(52.0, many * ENTRY + 10.0)
        rows.append(column.row(visible(one.name), *said, least=least))
    gives = short_supply(
        picture.doorway.operator, picture.system, language=picture.spoken
    )
    rows.append(column.row(picture.word("supply"), gives))
    return rows


def _tops(at: float, rows: Sequence[Row]) -> list[float]:
    tops: list[float] = []
    for row in rows:
        tops.append(at)
        at += row.high
    return tops


def _boxed(column: Column, at: float, rows: Sequence[Row]) -> Iterator[str]:
    bottom = at + sum(row.high for row in rows)
    yield box(column.left, at, column.right, bottom, heavy=True)
    for index, (row, top) in enumerate(zip(rows, _tops(at, rows), strict=True)):
        if index:
            yield rule(column.left + 1, top, column.right - 1, top)
        words = LINE * (SIZE * len(row.bold) + SMALL * len(row.quiet))
        high = top + (row.high - words) / 2
        left = column.left + PAD
        yield from paragraph((left, high), row.bold, SIZE, bold=True)
        below = high + LINE * SIZE * len(row.bold)
        yield from paragraph((left, below), row.quiet, SMALL, ink="quiet")


# Wires -------------------------------------------------------------------------


def _entries(
    picture: WirePicture,
    starts: dict[int, float],
    tops: Sequence[float],
    rows: Sequence[Row],
) -> dict[int, float]:
    """Where each wire ends at its terminal, in the order in which they come."""
    ends: dict[int, float] = {}
    for place, (top, row) in enumerate(zip(tops, rows, strict=True)):
        mine = [one for one in picture.plan.wires if one.terminal == place]
        mine.sort(key=lambda one: starts[one.number])
        first = _first(top, row, [starts[one.number] for one in mine])
        for index, one in enumerate(mine):
            ends[one.number] = first + index * ENTRY
    return ends


def _first(top: float, row: Row, starts: Sequence[float]) -> float:
    """Where the first wire of a terminal ends: straight ahead, if it is alone."""
    middle = top + row.high / 2
    if len(starts) == 1 and abs(starts[0] - middle) <= row.high / 2 - ROUND - 4.0:
        return starts[0]
    return middle - ENTRY * (len(starts) - 1) / 2


def _lanes(
    starts: dict[int, float], ends: dict[int, float], left: float, right: float
) -> dict[int, float]:
    """Where each wire goes up or down: those that rise first, so that few cross."""
    rising = sorted(
        (one for one in ends if ends[one] < starts[one] - 1), key=starts.__getitem__
    )
    falling = sorted(
        (one for one in ends if ends[one] > starts[one] + 1),
        key=starts.__getitem__,
        reverse=True,
    )
    order = [*rising, *falling]
    step = (right - left) / max(len(order), 1)
    return {one: left + (index + 0.5) * step for index, one in enumerate(order)}


def _wires(
    picture: WirePicture,
    units: Column,
    operator: Column,
    starts: dict[int, float],
    ends: dict[int, float],
) -> Iterator[str]:
    words = [_word(picture, one) for one in picture.plan.wires]
    first = units.right + 2 * ROUND + 34.0 + _told_wide(picture)
    lanes = _lanes(starts, ends, first, operator.left - 2 * ROUND - 14.0)
    for one in picture.plan.wires:
        start = starts[one.number]
        if one.number in ends:
            path = _path(units.right, operator.left, start, ends[one.number])
            if one.number in lanes:
                lane = lanes[one.number]
                path = (path[0], (lane, start), (lane, ends[one.number]), path[-1])
            yield from wire(path, one.signal, proposed=one.way == "proposed")
    for one, word in zip(picture.plan.wires, words, strict=True):
        yield from _told(picture, one, word, units, operator, starts, ends)


def _told_wide(picture: WirePicture) -> float:
    """How wide the words at the beginnings of wires are (px)."""
    words = [_word(picture, one) for one in picture.plan.wires]
    told = max((width_of(one, SMALL) for one in words), default=0.0)
    stubs = [_why_nowhere(picture, one) for one in picture.plan.wires]
    stub = max((width_of(one, SMALL) for one in stubs), default=0.0)
    return max(told, min(stub, STUB) + 12.0) if stub else told


def _channel(picture: WirePicture) -> float:
    """What numbers, words and lanes need between both columns (px)."""
    lanes = LANE * len(picture.plan.wires)
    return 4 * ROUND + 48.0 + _told_wide(picture) + lanes


def _path(left: float, right: float, start: float, end: float) -> tuple[Spot, ...]:
    return (left, start), (right, end)


def _told(
    picture: WirePicture,
    one: WireShown,
    word: str,
    units: Column,
    operator: Column,
    starts: dict[int, float],
    ends: dict[int, float],
) -> Iterator[str]:
    """Number and verdict where a wire begins, its number again where it ends."""
    start, proposed = starts[one.number], one.way == "proposed"
    near = units.right + ROUND + 6.0
    if one.number not in ends:
        yield from _nowhere(picture, one, (units.right, start))
    yield from numbered((near, start), one.number, proposed=proposed)
    if one.verdict is not None and one.number in ends:
        yield from marked((near + ROUND + 16.0, start), one.verdict, word, SMALL)
    if one.number in ends:
        far = (operator.left - ROUND - 6.0, ends[one.number])
        yield from numbered(far, one.number, proposed=proposed)


def _word(picture: WirePicture, one: WireShown) -> str:
    """What stands at a wire: its verdict, or that it is only proposed."""
    if one.way == "proposed":
        return picture.word("proposed")
    if one.verdict is None:
        return ""
    return say(Message(f"verdict.{one.verdict}"), language=picture.spoken)


def _why_nowhere(picture: WirePicture, one: WireShown) -> str:
    """Why a wire ends nowhere; empty if it does not."""
    return picture.word(nowhere(one)) if one.terminal is None else ""


def _nowhere(picture: WirePicture, one: WireShown, at: Spot) -> Iterator[str]:
    """A stub for an output without an end, and why."""
    end = at[0] + 2 * ROUND + 26.0
    yield from wire([at, (end, at[1])], one.signal, proposed=True)
    lines = lines_of(_why_nowhere(picture, one), SMALL, STUB)
    if one.verdict is not None:
        yield from marked((end + 4.0, at[1]), one.verdict, "", SMALL)
    top = at[1] - LINE * SMALL * len(lines) / 2
    yield from paragraph((end + 20.0, top), lines, SMALL)


# Supply ------------------------------------------------------------------------


def _supply(
    taps: Sequence[float], across: float, top: float, bottom: float
) -> Iterator[str]:
    """From the operator below everything, up at the left, into each unit."""
    if not taps:
        return
    bus = EDGE / 2
    yield chain([(across, top), (across, bottom), (bus, bottom), (bus, taps[0])])
    for tap in taps:
        yield chain([(bus, tap), (EDGE, tap)])
        yield knot((bus, tap))
