"""Ink and pattern for every part: our palette, on paper, on slate, in plain black."""

from collections.abc import Mapping
from dataclasses import dataclass

from limen.draw.parts import Part

CHAIN = (14.0, 3.0, 2.0, 3.0)
LONG = (13.0, 4.0)
DASHED = (7.0, 5.0)
FINE = (4.0, 4.0)
DOTTED = (1.5, 4.0)

PAPER: Mapping[str, str] = {
    "paper": "#FBFAF6",
    "inside": "#F2EFE6",
    "ink": "#1D2226",
    "quiet": "#56616A",
    "line": "#4A5560",
    "wall": "#D9D5CA",
    "approach": "#E69F00",
    "presence": "#0072B2",
    "fails": "#D55E00",
    "holds": "#009E73",
    "not shown": "#CC79A7",
    "passing": "#56B4E9",
}
"""Ink on warm white."""

SLATE: Mapping[str, str] = {
    "paper": "#20262B",
    "inside": "#282F35",
    "ink": "#F1EFE8",
    "quiet": "#B3BBC1",
    "line": "#AEB8C0",
    "wall": "#434C54",
    "approach": "#F0B429",
    "presence": "#4FA8E0",
    "fails": "#FF8A3C",
    "holds": "#2CC295",
    "not shown": "#E39AC3",
    "passing": "#9AD3F5",
}
"""Chalk on slate."""

PLAIN: Mapping[str, str] = {
    "paper": "#FFFFFF",
    "inside": "#F4F4F4",
    "ink": "#000000",
    "quiet": "#444444",
    "line": "#333333",
    "wall": "#DCDCDC",
    "approach": "#000000",
    "presence": "#000000",
    "fails": "#000000",
    "holds": "#000000",
    "not shown": "#000000",
    "passing": "#000000",
}
"""One ink, for those who print without colour."""

THEMES: Mapping[str, Mapping[str, str]] = {
    "paper": PAPER,
    "slate": SLATE,
    "plain": PLAIN,
}


@dataclass(frozen=True, slots=True)
class Style:
    """How a part is drawn.

    Attributes:
        stroke: name of the ink of its line; None for no line.
        wide: the line's width (px at a wide sheet).
        dash: dashes and gaps (px); none is a full line.
        fill: name of the ink that fills it; None leaves it open.
        veil: how dense the fill is, 0 to 1.
        pattern: "hatch" or "dots" over the fill.
        weight: what it costs words to stand on it (px); inf keeps them off.
    """

    stroke: str | None = None
    wide: float = 1.0
    dash: tuple[float, ...] = ()
    fill: str | None = None
    veil: float = 1.0
    pattern: str | None = None
    weight: float = 0.0


KEEP_OFF = float("inf")

STYLES: Mapping[Part, Style] = {
    Part.GROUND: Style("line", 1.5, weight=60.0),
    Part.WALL: Style("line", 1.0, fill="wall", weight=2.0),
    Part.POCKET: Style("line", 0.75, fill="paper", weight=4.0),
    Part.HEADER: Style("line", 0.75, FINE, weight=7.0),
    Part.OPENING: Style("line", 1.5, weight=4.0),
    Part.LEAF: Style("paper", 1.0, fill="line", weight=60.0),
    Part.LEAF_BEHIND: Style("line", 1.0, fill="line", veil=0.10, weight=2.0),
    Part.LEAF_PATH: Style("line", 0.9, CHAIN, weight=40.0),
    Part.HOUSING_OUTSIDE: Style("ink", 1.5, fill="paper", weight=60.0),
    Part.HOUSING_INSIDE: Style("ink", 1.5, fill="ink", weight=60.0),
    Part.LENS: Style("ink", 1.25, fill="paper"),
    Part.LIGHT: Style(None, fill="presence", veil=0.16, weight=20.0),
    Part.SPOT: Style(None, fill="presence"),
    Part.ROW: Style("presence", 0.6, weight=60.0),
    Part.ROW_END: Style("presence", 1.5, weight=20.0),
    Part.BEAM: Style("presence", 1.0, weight=14.0),
    Part.BEAM_INSIDE: Style("presence", 0.9, DASHED, weight=14.0),
    Part.BEAM_LOW: Style("presence", 1.2, DOTTED, weight=14.0),
    Part.DEAD: Style("quiet", 0.9, DOTTED, fill="paper", weight=30.0),
    Part.BARRIER: Style("presence", 1.2, weight=14.0),
    Part.LOWEST: Style("quiet", 0.75, FINE, weight=16.0),
    Part.BODY_FAILS: Style("fails", 3.0, fill="fails", veil=0.14, weight=KEEP_OFF),
    Part.BODY_NOT_SHOWN: Style(
        "not shown", 3.0, fill="not shown", veil=0.14, weight=KEEP_OFF
    ),
    Part.BODY_HOLDS: Style("holds", 3.0, fill="holds", veil=0.10, weight=KEEP_OFF),
    Part.SIGN_FAILS: Style("fails", 3.0),
    Part.SIGN_NOT_SHOWN: Style("not shown", 2.0, fill="paper"),
    Part.SIGN_HOLDS: Style(None, fill="holds", weight=30.0),
    Part.TARGET: Style("holds", 1.5, weight=60.0),
    Part.WINDOW: Style(None, fill="holds", veil=0.30),
    Part.APPROACH: Style("approach", 1.5, pattern="hatch", weight=6.0),
    Part.PRESENCE: Style("presence", 0.75, pattern="dots", weight=3.0),
    Part.PINCH: Style("fails", 2.5),
    Part.THING: Style("ink", 1.25, fill="wall", weight=40.0),
    Part.NEIGHBOUR: Style("presence", 0.9, DASHED, fill="paper", weight=60.0),
    Part.FIELD: Style("approach", 2.0, LONG, fill="approach", veil=0.10, weight=6.0),
    Part.WALK: Style("ink", 1.75, DOTTED, weight=22.0),
    Part.LATE: Style("fails", 4.5, weight=60.0),
    Part.PASSER: Style("passing", 2.5, DASHED, weight=22.0),
}
"""One style a part.  What differs in meaning differs in pattern, mark or dash."""
