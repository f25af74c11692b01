"""A picture to choose on: each choice a disc, where its measures put it.

Two measures are the axes, a third is the size of the disc and stands beside it in
words.  The disc that is chosen is full, the others are open rings; what is set now is
dashed.  Nothing is told by a hue, so that the picture reads the same on any paper.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import sqrt
from xml.sax.saxutils import escape, quoteattr
from zlib import crc32

from limen.draw.boxes import Rect
from limen.draw.choices_placing import Placed, Wanted, placed
from limen.draw.choices_scale import Axis, Scale, scaled
from limen.draw.lettering import LINE, width_of
from limen.draw.sheet import NARROW
from limen.draw.svg import FONT, number
from limen.draw.themes import PAPER

TARGET = 24.0  # px, half of what a finger needs
RIM = 6.0  # px kept free at the edges
BEYOND = 26.0  # px between the last value and words for what is not known
HIGH = {False: 0.56, True: 0.96}  # of the width
STRIP = {False: 132.0, True: 140.0}  # px, where there is one axis
RADII = {False: (12.0, 24.0), True: (11.0, 19.0)}
SIZE = {False: 15.0, True: 13.5}
TICKS = {False: (7, 5), True: (4, 5)}
TICK = 5.0
WIDER = 1.06  # than words are taken to be, at a magnified page
_OVER = (
    f'stroke="{PAPER["paper"]}" stroke-width="3" stroke-linejoin="round" '
    'paint-order="stroke" aria-hidden="true"'
)
"""Words that a line may run under."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One choice.

    Attributes:
        letter: what it is called in the picture; few letters.
        values: of the measures, in the order of the axes; None is not known.
        share: how large its disc is, 0 to 1; None where no measure says it.
        beside: what stands beside it; may be empty.
        says: all of it in a sentence.
        href: where it leads; empty for what cannot be chosen.
        chosen: whether it is the one that is looked at.
        fails: whether it bears a cross.
    """

    letter: str
    values: tuple[float | None, ...]
    share: float | None
    beside: str
    says: str
    href: str = ""
    chosen: bool = False
    fails: bool = False


@dataclass(frozen=True, slots=True)
class Picture:
    """What is drawn.

    Attributes:
        title, description: the picture in words.
        choices: those that can be chosen, the first one first.
        axes: one or two measures.
        unknown: what is written where values are not known.
        language: of its words.
    """

    title: str
    description: str
    choices: tuple[Choice, ...]
    axes: tuple[Axis, ...]
    unknown: str
    language: str


@dataclass(frozen=True, slots=True)
class _Plot:
    """The picture with its places."""

    picture: Picture
    width: float
    height: float
    area: Rect
    x: Scale
    y: Scale | None
    narrow: bool

    @property
    def size(self) -> float:
        """Type size (px)."""
        return SIZE[self.narrow]


def draw_choices(picture: Picture, width: float) -> str:
    """Draw a picture to choose on, as SVG.

    Args:
        picture: what is drawn.
        width: of the sheet (px); below 600 it is the narrow picture.

    Returns:
        The SVG: discs are links, so that they can be pressed and reached by keys.
    """
    plot = _laid_out(picture, width)
    key = f"c{crc32(f'{picture.title}{picture.description}{width}'.encode()):08x}"
    wide, high = number(plot.width), number(plot.height)
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" '
            f'class="limen-drawing choices" width="{wide}" height="{high}" '
            f'viewBox="0 0 {wide} {high}" role="group" '
            f'aria-labelledby="{key}-title" aria-describedby="{key}-desc" '
            f"xml:lang={quoteattr(picture.language)} font-family={quoteattr(FONT)}>",
            f'<title id="{key}-title">{escape(picture.title)}</title>',
            f'<desc id="{key}-desc">{escape(picture.description)}</desc>',
            *_body(plot),
            "</svg>",
        )
    )


# Laid out -----------------------------------------------------------------------


def _laid_out(picture: Picture, width: float) -> _Plot:
    narrow, two = width < NARROW, len(picture.axes) > 1
    size = SIZE[narrow]
    high = HIGH[narrow] * width if two else STRIP[narrow]
    top = 2 * LINE * size if two else 8.0
    low = high - 2.4 * LINE * size
    across, up = TICKS[narrow]
    y = _scale(picture, 1, (low, top), up, size * 3) if two else None
    left = _left(picture, y, size)
    # Once to know how wide the words at both ends are, once with room for them.
    first = _scale(picture, 0, (left, width), across, 0.0)
    ends = [width_of(picture.axes[0].say(one), size) / 2 for one in first.ticks]
    left, right = max(left, ends[0] + RIM), width - max(ends[-1], RIM) - RIM
    aside = width_of(picture.unknown, size) + BEYOND
    x = _scale(picture, 0, (left, right), across, aside)
    return _Plot(picture, width, high, Rect(left, top, right, low), x, y, narrow)


def _left(picture: Picture, scale: Scale | None, size: float) -> float:
    """Where the plot begins: beside what is written at the axis that goes up (px)."""
    if scale is None:
        return RIM
    said = [picture.axes[1].say(tick) for tick in scale.ticks]
    said += [picture.unknown] if scale.aside is not None else []
    return max(width_of(one, size) for one in said) + TICK + 2 * RIM


def _scale(
    picture: Picture, index: int, span: tuple[float, float], most: int, aside: float
) -> Scale:
    values = [one.values[index] for one in picture.choices]
    return scaled(picture.axes[index], values, span, most=most, aside=aside)


def _placed(plot: _Plot) -> tuple[Placed, ...]:
    """Discs in the plot; words may reach over its rims where the sheet has room."""
    sheet = Rect(plot.area.left + 2, 4.0, plot.width - 3, plot.area.bottom - 4)
    if plot.y is not None:
        sheet = sheet._replace(top=plot.area.top - 6)
    return placed([_wanted(plot, one) for one in plot.picture.choices], sheet)


def _wanted(plot: _Plot, one: Choice) -> Wanted:
    least, most = RADII[plot.narrow]
    share = 0.3 if one.share is None else min(max(one.share, 0.0), 1.0)
    # By area: a disc of twice the size is of twice the room.
    radius = max(least, most * sqrt(share), width_of(one.letter, plot.size) / 2 + 4)
    wide = WIDER * width_of(one.beside, plot.size)
    x = plot.x.at(one.values[0])
    middle = (plot.area.top + plot.area.bottom) / 2
    y = plot.y.at(one.values[1]) if plot.y else middle
    return Wanted((x, y), radius, (wide, LINE * plot.size))


# Drawn --------------------------------------------------------------------------


def _body(plot: _Plot) -> Iterator[str]:
    yield (
        f'<rect x="0" y="0" width="{number(plot.width)}" '
        f'height="{number(plot.height)}" fill="{PAPER["paper"]}"/>'
    )
    yield '<g aria-hidden="true">'
    yield from _along(plot)
    if plot.y is not None:
        yield from _up(plot, plot.y)
    yield "</g>"
    found = list(zip(plot.picture.choices, _placed(plot), strict=True))
    for _, place in found:
        yield from _led(place)
    # What is chosen is drawn last, over the others.
    for one, place in sorted(found, key=lambda pair: pair[0].chosen):
        yield from _disc(plot, one, place)
    for one, place in found:
        yield from _beside(plot, one, place)


def _along(plot: _Plot) -> Iterator[str]:
    axis, scale, area = plot.picture.axes[0], plot.x, plot.area
    yield _line(area.left, area.bottom, area.right, area.bottom, "line", 1.2)
    under = area.bottom + TICK + 0.95 * plot.size
    for tick in scale.ticks:
        x = scale.at(tick)
        yield _line(x, area.bottom, x, area.bottom + TICK, "line", 1.0)
        yield _text(x, under, axis.say(tick), plot.size, "middle", "quiet")
    if scale.aside is not None:
        yield _line(*_rim(scale, area), "quiet", 1.0, dash="4 4")
        said = plot.picture.unknown
        yield _text(scale.aside, under, said, plot.size, "middle", "quiet")
    title = under + LINE * plot.size
    yield _text(area.right, title, axis.name, plot.size, "end", "ink")


def _rim(scale: Scale, area: Rect) -> tuple[float, float, float, float]:
    """The line between what is known and what is not."""
    beyond = scale.end < area.right - 1
    x = scale.end + 6 if beyond else scale.start - 6
    return x, area.top, x, area.bottom


def _up(plot: _Plot, scale: Scale) -> Iterator[str]:
    axis, area = plot.picture.axes[1], plot.area
    yield _line(area.left, area.top, area.left, area.bottom, "line", 1.2)
    for tick in scale.ticks:
        y = scale.at(tick)
        yield _line(area.left, y, area.right, y, "wall", 0.8)
        yield _line(area.left - TICK, y, area.left, y, "line", 1.0)
        said = axis.say(tick)
        at = area.left - TICK - 4
        yield _text(at, y + 0.34 * plot.size, said, plot.size, "end", "quiet")
    if scale.aside is not None:
        y = scale.aside
        yield _text(
            area.left - TICK - 4,
            y + 0.34 * plot.size,
            plot.picture.unknown,
            plot.size,
            "end",
            "quiet",
        )
    yield _text(4.0, 0.95 * plot.size, axis.name, plot.size, "start", "ink")


def _led(place: Placed) -> Iterator[str]:
    """Where a disc belongs that found no room there, and the line to it."""
    if not place.led:
        return
    (ax, ay), (bx, by) = place.at, place.middle
    yield _line(ax, ay, bx, by, "quiet", 1.0)
    ink = PAPER["ink"]
    yield f'<circle cx="{number(ax)}" cy="{number(ay)}" r="2.6" fill="{ink}"/>'


def _disc(plot: _Plot, one: Choice, place: Placed) -> Iterator[str]:
    opened, closed = _link(one)
    x, y = place.middle
    yield opened
    hit = max(TARGET, place.radius)
    if one.href:
        yield _circle(x, y, hit, 'class="choice-hit" fill="none" pointer-events="all"')
    yield _circle(x, y, place.radius, _ink(one))
    inside = "paper" if one.chosen and one.href else "ink"
    level = y + 0.35 * plot.size
    bold = 'font-weight="bold" aria-hidden="true"'
    yield _text(x, level, one.letter, plot.size, "middle", inside, bold)
    if one.fails:
        yield _cross(x + 0.8 * place.radius, y - 0.8 * place.radius)
    yield closed


def _beside(plot: _Plot, one: Choice, place: Placed) -> Iterator[str]:
    """The words beside a disc, which its link says too."""
    if one.beside:
        box = place.words
        base = box.top + 0.8 * LINE * plot.size
        middle = (box.left + box.right) / 2
        yield _text(middle, base, one.beside, plot.size, "middle", "ink", _OVER)


def _link(one: Choice) -> tuple[str, str]:
    said = quoteattr(one.says)
    if not one.href:
        return f'<g role="img" aria-label={said}>', "</g>"
    chosen = ' aria-current="true"' if one.chosen else ""
    name = quoteattr(one.letter)
    return (
        f'<a class="choice" href={quoteattr(one.href)} data-choice={name} '
        f"aria-label={said}{chosen}>",
        "</a>",
    )


def _ink(one: Choice) -> str:
    """Full where it is chosen, dashed where it cannot be, else a ring."""
    ink, paper = PAPER["ink"], PAPER["paper"]
    if not one.href:
        return (
            f'fill="{paper}" stroke="{PAPER["quiet"]}" stroke-width="1.6" '
            'stroke-dasharray="4 3"'
        )
    fill = ink if one.chosen else paper
    return f'class="choice-disc" fill="{fill}" stroke="{ink}" stroke-width="2"'


# Strokes ------------------------------------------------------------------------


def _line(
    ax: float, ay: float, bx: float, by: float, ink: str, wide: float, *, dash: str = ""
) -> str:
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<path d="M{number(ax)} {number(ay)}L{number(bx)} {number(by)}" '
        f'stroke="{PAPER[ink]}" stroke-width="{number(wide)}"{dashed}/>'
    )


def _text(
    x: float, y: float, words: str, size: float, anchor: str, ink: str, more: str = ""
) -> str:
    return (
        f'<text x="{number(x)}" y="{number(y)}" font-size="{number(size)}" '
        f'text-anchor="{anchor}" fill="{PAPER[ink]}" {more}>{escape(words)}</text>'
    ).replace(" >", ">")


def _circle(x: float, y: float, radius: float, more: str) -> str:
    return f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(radius)}" {more}/>'


def _cross(x: float, y: float) -> str:
    a, b, c, d = (number(one) for one in (x - 6, x + 6, y - 6, y + 6))
    return (
        f'<path d="M{a} {c}L{b} {d}M{a} {d}L{b} {c}" fill="none" '
        f'stroke="{PAPER["fails"]}" stroke-width="3" stroke-linecap="round"/>'
    )


def shares(values: Sequence[float | None]) -> tuple[float | None, ...]:
    """How large discs are by a measure: the greatest value is 1, nought and less 0."""
    most = max((one for one in values if one is not None), default=0.0)
    if most <= 0.0:
        return tuple(None if one is None else 0.0 for one in values)
    return tuple(None if one is None else max(one, 0.0) / most for one in values)
