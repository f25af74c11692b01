"""A terminal plan: units to the left, the operator to the right, wires between them."""

from collections.abc import Iterator
from xml.sax.saxutils import escape, quoteattr
from zlib import crc32

from limen.draw.svg import FONT, number
from limen.draw.themes import PAPER
from limen.draw.wires_beside import beside
from limen.draw.wires_picture import WirePicture
from limen.draw.wires_stacked import stacked
from limen.findings import Message
from limen.words import say
from limen.words.wiring import said_ends, said_wire

__all__ = ["WirePicture", "described", "draw_wires", "height_of"]

NARROW = 600.0
"""px: below this the plan is stacked."""


def draw_wires(picture: WirePicture, width: float) -> str:
    """Draw a terminal plan as SVG, in the inks of the light paper.

    Args:
        picture: what is drawn.
        width: of the sheet (px); below 600 the plan is stacked, wire by wire.

    Returns:
        The SVG; title and description tell each wire with both its ends.
    """
    made = stacked if width < NARROW else beside
    height, strokes = made(picture, width)
    title = picture.word("title", name=picture.doorway.name)
    told = described(picture)
    key = f"w{crc32(f'{title}{told}{width}'.encode()):08x}"
    wide, high = number(width), number(height)
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" '
            f'class="limen-drawing wires" width="{wide}" height="{high}" '
            f'viewBox="0 0 {wide} {high}" role="img" '
            f'aria-labelledby="{key}-title {key}-desc" '
            f"xml:lang={quoteattr(picture.spoken)} font-family={quoteattr(FONT)}>",
            f'<title id="{key}-title">{escape(title)}</title>',
            f'<desc id="{key}-desc">{escape(told)}</desc>',
            f'<rect x="0" y="0" width="{wide}" height="{high}" '
            f'fill="{PAPER["paper"]}"/>',
            *strokes,
            "</svg>",
        )
    )


def height_of(svg: str) -> float:
    """How high a drawing of ours is (px)."""
    return float(svg.partition(' height="')[2].partition('"')[0])


def described(picture: WirePicture) -> str:
    """Every wire with both its ends, in sentences."""
    return " ".join(_sentences(picture))


def _sentences(picture: WirePicture) -> Iterator[str]:
    for wire in picture.plan.wires:
        yield said_wire(picture.plan, wire, language=picture.spoken)
        if wire.verdict is not None:
            yield say(
                Message(
                    "desk_wiring.picture.verdict",
                    {"verdict": Message(f"verdict.{wire.verdict}")},
                ),
                language=picture.spoken,
            )
        yield from said_ends(picture.plan, wire, language=picture.spoken)
