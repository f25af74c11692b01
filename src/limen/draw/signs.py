"""Marks of fixed size: cross, question, square, row end, lens."""

from collections.abc import Iterator, Mapping

from limen.draw.parts import Part
from limen.draw.themes import STYLES


def sign_marks(
    part: Part, x: float, y: float, inks: Mapping[str, str], *, narrow: bool
) -> Iterator[str]:
    """The SVG of one mark at (x, y) in px."""
    style = STYLES[part]
    stroke = inks[style.stroke] if style.stroke else "none"
    fill = inks[style.fill] if style.fill else "none"
    big = 8.0 if narrow else 11.0
    if part is Part.SIGN_FAILS or part is Part.PINCH:
        yield _cross(x, y, big if part is Part.SIGN_FAILS else big * 0.6, stroke)
    elif part is Part.SIGN_NOT_SHOWN:
        yield _square(x, y, big, f'fill="{fill}" stroke="{stroke}" stroke-width="2"')
        yield (
            f'<text x="{x:.2f}" y="{y + 0.62 * big:.2f}" font-size="{1.7 * big:.1f}" '
            f'font-weight="bold" text-anchor="middle" fill="{inks["ink"]}">?</text>'
        )
    elif part is Part.SIGN_HOLDS:
        yield _square(x, y, big * 0.4, f'fill="{fill}"')
    elif part is Part.ROW_END:
        high = big * 0.65
        yield (
            f'<path d="M{x:.2f} {y - high:.2f}V{y + high:.2f}" fill="none" '
            f'stroke="{stroke}" stroke-width="{style.wide}"/>'
        )
    else:
        yield (
            f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{big * 0.32:.2f}" fill="{fill}" '
            f'stroke="{stroke}" stroke-width="{style.wide}"/>'
        )


def _cross(x: float, y: float, half: float, ink: str) -> str:
    a, b, c, d = x - half, x + half, y - half, y + half
    return (
        f'<path d="M{a:.2f} {c:.2f}L{b:.2f} {d:.2f}M{a:.2f} {d:.2f}L{b:.2f} {c:.2f}" '
        f'fill="none" stroke="{ink}" stroke-width="3" stroke-linecap="round"/>'
    )


def _square(x: float, y: float, half: float, more: str) -> str:
    return (
        f'<rect x="{x - half:.2f}" y="{y - half:.2f}" width="{2 * half:.2f}" '
        f'height="{2 * half:.2f}" {more}/>'
    )
