"""A scene on a sheet of a given width: scale, and where its parts come to lie."""

from dataclasses import dataclass, replace
from typing import Literal

from limen.draw.boxes import Rect, Segment
from limen.draw.placing import Anchor
from limen.draw.scene import Frame, Point, Scene

NARROW = 600.0  # px: below this a sheet gets the narrow drawing
MARGIN = 20.0
WHOLE = 0.44  # share of the width for the whole where a part is enlarged beside it
TALLEST_PAIR = 0.56
TALLEST = {False: 0.72, True: 1.5}  # height of what is drawn, in sheet widths

Rule = Literal["dimension", "extension", "leader", "scale"]


@dataclass(frozen=True, slots=True)
class Fit:
    """How metres become pixels.

    Attributes:
        width: of this part of the sheet (px).
        narrow: whether it is the narrow drawing.
        size: type size (px).
        scale: px a metre.
        frame: what is shown (m).
        left, top: the frame's upper left corner on the sheet (px).
    """

    width: float
    narrow: bool
    size: float
    scale: float
    frame: Frame
    left: float
    top: float

    def x(self, u: float) -> float:
        """Px from the sheet's left edge."""
        return self.left + (u - self.frame.left) * self.scale

    def y(self, v: float) -> float:
        """Px from the sheet's upper edge."""
        return self.top + (self.frame.top - v) * self.scale

    def at(self, point: Point) -> tuple[float, float]:
        """A point of the drawing plane on the sheet."""
        return self.x(point[0]), self.y(point[1])


@dataclass(frozen=True, slots=True)
class Text:
    """Words that have found their place.

    Attributes:
        lines: the words.
        box: the room they have.
        anchor: how they are set in it.
        size: type size (px).
        quiet: whether they are written in the fainter ink.
        bold: whether they are what the drawing is about.
        backed: whether the paper is laid under them.
    """

    lines: tuple[str, ...]
    box: Rect
    anchor: Anchor
    size: float
    quiet: bool = False
    bold: bool = False
    backed: bool = False


@dataclass(frozen=True, slots=True)
class Stroke:
    """A thin line that belongs to words: a dimension, a leader, the scale bar.

    Attributes:
        rule: what it is.
        line: from where to where.
        heads: which of its ends bear an arrow: at the start, at the end.
    """

    rule: Rule
    line: Segment
    heads: tuple[bool, bool] = (False, False)


@dataclass(frozen=True, slots=True)
class Panel:
    """One part of the sheet: the scene at one scale, cut off at ``drawn``."""

    fit: Fit
    drawn: Rect


@dataclass(frozen=True, slots=True)
class Sheet:
    """A scene laid out.

    Attributes:
        scene: what is drawn.
        width, height: of the sheet (px).
        size: type size (px).
        panels: the drawing, and beside it perhaps a part of it enlarged.
        texts: all words, placed.
        strokes: dimension lines, leaders and the scale bar.
        left_out: words for which there was no room, or which a narrow sheet omits.
    """

    scene: Scene
    width: float
    height: float
    size: float
    panels: tuple[Panel, ...]
    texts: tuple[Text, ...]
    strokes: tuple[Stroke, ...]
    left_out: tuple[str, ...] = ()


def fits_of(scene: Scene, width: float) -> tuple[Fit, ...]:
    """Scale and frame of each panel of a sheet of this width (px).

    A wide sheet shows a scene that asks for it twice: whole, and beside it what
    the narrow sheet shows, enlarged, with the floor at one level.
    """
    narrow = width < NARROW
    if narrow or not scene.enlarged:
        frame = scene.close if narrow else scene.frame
        return (_fit(frame, width, width, TALLEST[narrow] * width, narrow=narrow),)
    whole = _fit(scene.frame, WHOLE * width, width, TALLEST_PAIR * width, narrow=False)
    room = width - whole.width
    level = whole.y(0.0) - whole.top
    wide = scene.close.right - scene.close.left
    scale = min(room / wide, level / scene.close.top)
    frame = _filled(scene.close, room / scale)
    top = whole.y(0.0) - frame.top * scale
    return whole, replace(
        whole, width=room, scale=scale, frame=frame, left=whole.width, top=top
    )


def _fit(
    frame: Frame, room: float, sheet: float, high_at_most: float, *, narrow: bool
) -> Fit:
    """The frame, widened to fill its room where the height is what limits."""
    wide, high = frame.right - frame.left, frame.top - frame.bottom
    scale = min(room / wide, high_at_most / high)
    frame = _filled(frame, room / scale)
    return Fit(room, narrow, type_size(sheet), scale, frame, 0.0, MARGIN)


def _filled(frame: Frame, wide: float) -> Frame:
    beside = (wide - (frame.right - frame.left)) / 2
    return frame._replace(left=frame.left - beside, right=frame.right + beside)


def type_size(width: float) -> float:
    """Type size for a sheet (px): 13.5 on a telephone, 18 at 1400 px."""
    if width < NARROW:
        return 13.5
    return min(18.0, max(15.0, width * 18.0 / 1400.0))
