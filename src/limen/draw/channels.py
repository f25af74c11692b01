"""The doors of a site with the channel of each unit, by number and by pattern.

A scheme, not to scale: doorways whose places are known stand in order, those outside
below; the others stand by themselves.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import hypot
from xml.sax.saxutils import escape, quoteattr

from limen.draw.lettering import width_of
from limen.draw.svg import FONT, number
from limen.draw.themes import PAPER
from limen.findings import Message
from limen.findings.channels import ChannelPlan, ChannelUnit, DoorwayPlace
from limen.words import reading, say

CELL, ROW, EDGE, NOTE = 168.0, 186.0, 12.0, 18.0
BOX = (62.0, 34.0)
LEAF, LEAVES = 8.0, 64.0
NAME = 13.5
SAME = 0.75
"""Metres within which doorways stand in one column or row of the scheme."""
PATTERNS = 8
"""Patterns that are told apart; the number tells the rest."""

Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class _Scheme:
    """Where everything stands on the sheet (px)."""

    width: float
    height: float
    doors: Mapping[str, Spot]
    units: Mapping[int, Spot]


def draw_channels(plan: ChannelPlan, width: float = 1000.0) -> str:
    """The plan as SVG, self-contained, in the reader's language.

    Args:
        plan: the channels of a site.
        width: of the sheet (px).
    """
    scheme = _scheme(plan, width)
    title = say(Message("channels.picture.title", {"site": plan.site}))
    told = say(Message("channels.picture.key"))
    key = f"channels-{number(width)}"
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" '
            f'class="limen-drawing" width="{number(width)}" '
            f'height="{number(scheme.height)}" '
            f'viewBox="0 0 {number(width)} {number(scheme.height)}" role="img" '
            f'aria-labelledby="{key}-title {key}-desc" '
            f"xml:lang={quoteattr(reading())} font-family={quoteattr(FONT)}>",
            f'<title id="{key}-title">{escape(title)}</title>',
            f'<desc id="{key}-desc">{escape(told)}</desc>',
            *_patterns(key),
            f'<rect width="{number(width)}" height="{number(scheme.height)}" '
            f'fill="{PAPER["paper"]}"/>',
            *_doors(plan, scheme),
            *_lines(plan, scheme),
            *_names(plan, scheme),
            *_units(plan, scheme, key),
            "</svg>",
            "",
        )
    )


# Where it stands -----------------------------------------------------------------


def _scheme(plan: ChannelPlan, width: float) -> _Scheme:
    across = max(1, int((width - 2 * EDGE) // CELL))
    cells = _cells(plan.places, across)
    rows = 1 + max((row for _, row in cells.values()), default=0)
    doors = {
        door: (EDGE + (column + 0.5) * CELL, EDGE + (row + 0.5) * ROW)
        for door, (column, row) in cells.items()
    }
    return _Scheme(width, 2 * EDGE + rows * ROW, doors, _places(plan, doors))


def _cells(places: tuple[DoorwayPlace, ...], across: int) -> dict[str, tuple[int, int]]:
    """Column and row of every doorway; groups one below the other, loners in lines."""
    groups: dict[int, list[DoorwayPlace]] = {}
    for place in places:
        groups.setdefault(place.group, []).append(place)
    cells: dict[str, tuple[int, int]] = {}
    below = 0
    for members in groups.values():
        if len(members) == 1:
            continue
        xs = _ranks([one.at[0] for one in members])
        ys = _ranks([one.at[1] for one in members])
        tall = 1 + max(ys)
        for one, x, y in zip(members, xs, ys, strict=True):
            fold, column = divmod(x, across)
            cells[one.doorway] = column, below + fold * tall + y
        below = 1 + max(row for _, row in cells.values())
    loners = [some[0] for some in groups.values() if len(some) == 1]
    for place, one in enumerate(loners):
        row, column = divmod(place, across)
        cells[one.doorway] = column, below + row
    return cells


def _ranks(values: list[float]) -> list[int]:
    """The rank of each value; values that nearly agree share one."""
    steps: list[float] = []
    for one in sorted(values):
        if not steps or one - steps[-1] > SAME:
            steps.append(one)
    return [max(n for n, step in enumerate(steps) if step <= one) for one in values]


def _places(plan: ChannelPlan, doors: Mapping[str, Spot]) -> dict[int, Spot]:
    """Units of one side stand side by side, outside below the leaf."""
    sides: dict[tuple[str, str], list[int]] = {}
    for place, unit in enumerate(plan.units):
        sides.setdefault((unit.doorway, unit.side), []).append(place)
    found: dict[int, Spot] = {}
    for (door, side), members in sides.items():
        x, y = doors[door]
        down = 34.0 if side == "outside" else -34.0
        step = min(BOX[0] + 6, (CELL - BOX[0]) / max(1, len(members) - 1))
        start = x - step * (len(members) - 1) / 2
        for place, unit in enumerate(members):
            found[unit] = (start + place * step, y + down)
    return found


# Strokes -------------------------------------------------------------------------


def _patterns(key: str) -> Iterator[str]:
    """One pattern a channel: they differ in grey and to any eye."""
    ink = f'stroke="{PAPER["line"]}" stroke-width="1.3" fill="none"'
    dot = f'fill="{PAPER["line"]}"'
    marks = (
        "",
        f'<path d="M0 8L8 0" {ink}/>',
        f'<circle cx="4" cy="4" r="1.6" {dot}/>',
        f'<path d="M0 4H8" {ink}/>',
        f'<path d="M4 0V8" {ink}/>',
        f'<path d="M0 0L8 8" {ink}/>',
        f'<path d="M0 4H8M4 0V8" {ink}/>',
        f'<path d="M0 0L8 8M0 8L8 0" {ink}/>',
    )
    yield "<defs>"
    for place, mark in enumerate(marks, start=1):
        yield (
            f'<pattern id="{key}-{place}" width="8" height="8" '
            f'patternUnits="userSpaceOnUse"><rect width="8" height="8" '
            f'fill="{PAPER["paper"]}"/>{mark}</pattern>'
        )
    yield "</defs>"


def _doors(plan: ChannelPlan, scheme: _Scheme) -> Iterator[str]:
    for place in plan.places:
        x, y = scheme.doors[place.doorway]
        yield (
            f'<rect x="{number(x - LEAVES)}" y="{number(y - LEAF / 2)}" '
            f'width="{number(2 * LEAVES)}" height="{number(LEAF)}" '
            f'fill="{PAPER["line"]}"/>'
        )


def _names(plan: ChannelPlan, scheme: _Scheme) -> Iterator[str]:
    """The doorways' names, to the left: lines lean to the right.

    Each stands on paper of its own where a line passes all the same.
    """
    for place in plan.places:
        x, y = scheme.doors[place.doorway]
        left, said = x - LEAVES, _short(place.doorway)
        yield (
            f'<rect x="{number(left - 3)}" y="{number(y + 56)}" '
            f'width="{number(width_of(said, NAME) + 6)}" height="18" '
            f'fill="{PAPER["paper"]}"/>'
        )
        yield _text(left, y + 70, said, NAME, PAPER["ink"], "start")


def _short(name: str, most: int = 20) -> str:
    return name if len(name) <= most else f"{name[: most - 1]}…"


def _lines(plan: ChannelPlan, scheme: _Scheme) -> Iterator[str]:
    for pair in plan.pairs:
        if pair.how == "not known":
            continue
        one, two = sorted(
            (scheme.units[pair.one], scheme.units[pair.two]),
            key=lambda at: (-at[1], at[0]),
        )
        ink = PAPER["fails"] if pair.shares else PAPER["presence"]
        dash = ' stroke-dasharray="7 5"' if pair.how == "may" else ""
        wide = 3.0 if pair.shares else 2.0
        yield (
            f'<path d="{_bent(one, two)}" stroke="{ink}" '
            f'stroke-width="{number(wide)}" fill="none"{dash}/>'
        )
        if pair.shares:
            yield _cross(*_middle(one, two), ink)


def _bend(one: Spot, two: Spot) -> Spot:
    """The point that a line leans to, aside so that no unit is crossed.

    From the lower end to the upper one it is to the right.
    """
    (ax, ay), (bx, by) = one, two
    far = hypot(bx - ax, by - ay) or 1.0
    lean = min(46.0, far / 3)
    return (ax + bx) / 2 - (by - ay) / far * lean, (ay + by) / 2 + (
        bx - ax
    ) / far * lean


def _bent(one: Spot, two: Spot) -> str:
    bend = _bend(one, two)
    a, b, c = (f"{number(x)} {number(y)}" for x, y in (one, bend, two))
    return f"M{a}Q{b} {c}"


def _middle(one: Spot, two: Spot) -> Spot:
    bend = _bend(one, two)
    x, y = ((a + 2 * m + b) / 4 for a, m, b in zip(one, bend, two, strict=True))
    return x, y


def _cross(x: float, y: float, ink: str) -> str:
    r = 7.0
    return (
        f'<path d="M{number(x - r)} {number(y - r)}L{number(x + r)} {number(y + r)}'
        f'M{number(x - r)} {number(y + r)}L{number(x + r)} {number(y - r)}" '
        f'stroke="{ink}" stroke-width="3" fill="none"/>'
    )


def _units(plan: ChannelPlan, scheme: _Scheme, key: str) -> Iterator[str]:
    for place, unit in enumerate(plan.units):
        x, y = scheme.units[place]
        left, top = x - BOX[0] / 2, y - BOX[1] / 2
        fill = f"url(#{key}-{_pattern(unit)})" if unit.channel else PAPER["wall"]
        wide = 3.5 if unit.changes else 1.2
        yield (
            f'<rect x="{number(left)}" y="{number(top)}" width="{number(BOX[0])}" '
            f'height="{number(BOX[1])}" fill="{fill}" stroke="{PAPER["ink"]}" '
            f'stroke-width="{number(wide)}"/>'
        )
        said = _said(unit)
        half = 5.2 * len(said) + 5
        yield (
            f'<rect x="{number(x - half)}" y="{number(y - 11)}" '
            f'width="{number(2 * half)}" height="22" rx="4" fill="{PAPER["paper"]}"/>'
        )
        yield _text(x, y + 6, said, 17, PAPER["ink"], heavy=True)


def _said(unit: ChannelUnit) -> str:
    """The channel; where it is set anew, from which."""
    if unit.channel is None:
        return "–"
    if unit.changes and unit.was is not None:
        return f"{unit.was}→{unit.channel}"
    return str(unit.channel)


def _pattern(unit: ChannelUnit) -> int:
    return ((unit.channel or 1) - 1) % PATTERNS + 1


def _text(
    x: float,
    y: float,
    words: str,
    size: float,
    ink: str,
    anchor: str = "middle",
    *,
    heavy: bool = False,
) -> str:
    weight = ' font-weight="700"' if heavy else ""
    return (
        f'<text x="{number(x)}" y="{number(y)}" font-size="{number(size)}" '
        f'text-anchor="{anchor}" fill="{ink}"{weight}>{escape(words)}</text>'
    )
