"""Strokes of the daily check's pictures: few, thick enough for a bad printer."""

from collections.abc import Iterator, Mapping

from limen.draw.svg import number
from limen.draw.themes import PLAIN

WIDE, HIGH = 160.0, 104.0
"""Of every picture (px)."""
Inks = Mapping[str, str]
At = tuple[float, float]

ON_PAPER: Inks = {
    name: PLAIN[name] for name in ("ink", "quiet", "wall", "inside", "paper", "fails")
} | {"glass": "#F1F1F1"}
"""One ink, for any printer."""
ON_SCREEN: Inks = {
    "ink": "var(--ink)",
    "quiet": "var(--quiet)",
    "wall": "var(--wall)",
    "inside": "var(--inside)",
    "paper": "var(--paper)",
    "fails": "var(--fails)",
    "glass": "var(--inside)",
}
"""The page's own inks, light or dark."""


def box(
    x: float,
    y: float,
    wide: float,
    high: float,
    fill: str,
    edge: str = "",
    stroke: float = 1.0,
    *,
    radius: float = 0.0,
) -> str:
    """A filled box; with an edge if it has an ink."""
    rim = f' stroke="{edge}" stroke-width="{stroke:g}"' if edge else ""
    soft = f' rx="{radius:g}"' if radius else ""
    return (
        f'<rect x="{number(x)}" y="{number(y)}" width="{number(wide)}" '
        f'height="{number(high)}"{soft} fill="{fill}"{rim}/>'
    )


def circle(
    at: At, radius: float, fill: str, edge: str = "", stroke: float = 1.0
) -> str:
    """A filled circle; with an edge if it has an ink."""
    rim = f' stroke="{edge}" stroke-width="{stroke:g}"' if edge else ""
    x, y = at
    return (
        f'<circle cx="{number(x)}" cy="{number(y)}" r="{radius:g}" fill="{fill}"{rim}/>'
    )


def line(start: At, end: At, ink: str, wide: float, dash: str = "") -> str:
    """A straight line with round ends."""
    (x1, y1), (x2, y2) = start, end
    way = f"M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}"
    return path(way, ink, wide, dash=dash)


def path(way: str, ink: str, wide: float, fill: str = "none", *, dash: str = "") -> str:
    """Any line, filled if it has a fill."""
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<path d="{way}" fill="{fill}" stroke="{ink}" stroke-width="{wide:g}" '
        f'stroke-linecap="round" stroke-linejoin="round"{dashes}/>'
    )


def arrow(start: At, way: At, far: float, ink: str, wide: float = 2.4) -> str:
    """An arrow of a length into a direction."""
    (x, y), (dx, dy) = start, way
    tip = (x + dx * far, y + dy * far)
    back = 4.0 + wide
    # The barbs lie to either side of the shaft.
    one = (tip[0] - dx * back - dy * back * 0.7, tip[1] - dy * back + dx * back * 0.7)
    other = (tip[0] - dx * back + dy * back * 0.7, tip[1] - dy * back - dx * back * 0.7)
    barbs = "L".join(f"{number(a)} {number(b)}" for a, b in (one, tip, other))
    return line(start, tip, ink, wide) + path(f"M{barbs}", ink, wide)


def cross(at: At, size: float, inks: Inks) -> str:
    """Crossed out; the paper shines through at its edges, so that it is seen on ink."""
    (x, y), half = at, size
    way = (
        f"M{number(x - half)} {number(y - half)}L{number(x + half)} {number(y + half)}"
        f"M{number(x - half)} {number(y + half)}L{number(x + half)} {number(y - half)}"
    )
    return path(way, inks["paper"], 7.5) + path(way, inks["fails"], 4.0)


def person(
    at: At, tall: float, ink: str, *, walks: bool = False, hand: At | None = None
) -> Iterator[str]:
    """Somebody, as a few thick strokes.

    Args:
        at: between their feet (px).
        tall: how tall (px).
        ink: their colour.
        walks: whether one foot is before the other.
        hand: where a hand is that holds something.
    """
    x, y = at
    hip, neck = y - tall * 0.46, y - tall * 0.80
    apart = tall * (0.13 if walks else 0.07)
    yield circle((x, y - tall * 0.91), tall * 0.085, ink)
    yield line((x, hip - tall * 0.02), (x, neck + tall * 0.06), ink, tall * 0.16)
    for side in (-1, 1):
        yield line(
            (x + side * tall * 0.035, hip), (x + side * apart, y - 2), ink, tall * 0.075
        )
    arms: tuple[At, ...] = (
        (hand,)
        if hand
        else ((x - tall * 0.14, y - tall * 0.46), (x + tall * 0.14, y - tall * 0.46))
    )
    for end in arms:
        yield line((x, neck + tall * 0.05), end, ink, tall * 0.055)
