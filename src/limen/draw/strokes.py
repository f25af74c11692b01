"""Strokes of the small drawings that are no scene: boxes, lines, words."""

from xml.sax.saxutils import escape

from limen.draw.svg import number

At = tuple[float, float]


def box(x: float, y: float, wide: float, high: float, fill: str, edge: str = "") -> str:
    """A filled box.

    Args:
        x: its left side (px).
        y: its upper side (px).
        wide: along (px).
        high: down (px).
        fill: its colour.
        edge: colour of its line; none if empty.
    """
    stroke = f' stroke="{edge}"' if edge else ""
    return (
        f'<rect x="{number(x)}" y="{number(y)}" width="{number(wide)}" '
        f'height="{number(high)}" fill="{fill}"{stroke}/>'
    )


def line(start: At, end: At, ink: str, wide: float, dash: str = "") -> str:
    """A straight line.

    Args:
        start: one end (px).
        end: the other (px).
        ink: its colour.
        wide: its width (px).
        dash: the attribute of its dashes, with a space before it.
    """
    (x1, y1), (x2, y2) = start, end
    return (
        f'<path d="M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}" fill="none" '
        f'stroke="{ink}" stroke-width="{wide}"{dash}/>'
    )


def words(text: str, at: At, anchor: str, size: float, ink: str) -> str:
    """Words, none of them markup.

    Args:
        text: what they say.
        at: where they begin, end or have their middle (px).
        anchor: which of these: start, end or middle.
        size: of the letters (px).
        ink: their colour.
    """
    x, y = at
    return (
        f'<text x="{number(x)}" y="{number(y)}" text-anchor="{anchor}" '
        f'font-size="{size}" fill="{ink}">{escape(text)}</text>'
    )
