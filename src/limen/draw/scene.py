"""A drawing before it has a size: shapes, dimensions and labels in metres.

A point is (u, v): u to the right on the sheet, v up.  In the plan u is x and v is
-y of the doorway's frame: who reads it stands outside, at the lower edge.  In the
front u is x and v is z.  In the section u is -y and v is z: the eye looks along -x.
Nothing here knows pixels, ink or a file format.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal, NamedTuple

from limen.draw.parts import Part

Point = tuple[float, float]
View = Literal["plan", "front", "section"]
Side = Literal["right", "left", "above", "below"]


class Frame(NamedTuple):
    """A piece of the drawing plane, m."""

    left: float
    right: float
    bottom: float
    top: float

    def over(self, points: Iterable[Point], room: float = 0.0) -> "Frame":
        """The frame grown to hold the points with some room around them (m)."""
        grown = self
        for u, v in points:
            grown = Frame(
                min(grown.left, u - room),
                max(grown.right, u + room),
                min(grown.bottom, v - room),
                max(grown.top, v + room),
            )
        return grown

    def holds(self, point: Point, slack: float = 1e-9) -> bool:
        """Whether the point is in the frame."""
        u, v = point
        across = self.left - slack <= u <= self.right + slack
        return across and self.bottom - slack <= v <= self.top + slack


@dataclass(frozen=True, slots=True)
class Area:
    """A closed area."""

    part: Part
    corners: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Line:
    """A line through points."""

    part: Part
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Dots:
    """Discs of one radius (m) about their middles; radius 0 is a mere point."""

    part: Part
    middles: tuple[Point, ...]
    radius: float


@dataclass(frozen=True, slots=True)
class Sign:
    """A mark of fixed size on the sheet at a point."""

    part: Part
    at: Point


Shape = Area | Line | Dots | Sign


@dataclass(frozen=True, slots=True)
class Span:
    """A dimension: a distance along u or v between two points.

    Attributes:
        along: the axis along which it is measured.
        start, end: what it is measured between.
        value: the distance (m); ``text`` says it in the reader's units.
        side: where its line stands.
        base: the coordinate across from which lanes are counted (m).
        lane: the first, second … line away from ``base``.
        importance: 1 must be read, 2 should, 3 only where there is room.
        narrow: what it says on a narrow sheet, if that is shorter.
    """

    along: Literal["u", "v"]
    start: Point
    end: Point
    value: float
    text: str
    side: Side
    base: float
    lane: int = 0
    importance: int = 1
    narrow: str | None = None


@dataclass(frozen=True, slots=True)
class Label:
    """Words that belong to a point.

    Attributes:
        text: what it says; a line break starts a new line.
        narrow: what it says on a narrow sheet; None leaves it out there.
        at: the point it belongs to.
        prefer: the side on which it reads best.
        importance: 1 must be read, 2 should, 3 only where there is room.
        quiet: whether it is written in the fainter ink.
    """

    text: str
    at: Point
    narrow: str | None = None
    prefer: Side = "right"
    importance: int = 2
    quiet: bool = False


@dataclass(frozen=True, slots=True)
class Content:
    """Shapes in the order in which they are drawn, dimensions and labels."""

    shapes: tuple[Shape, ...] = ()
    spans: tuple[Span, ...] = ()
    labels: tuple[Label, ...] = ()

    def __add__(self, other: "Content") -> "Content":
        return Content(
            self.shapes + other.shapes,
            self.spans + other.spans,
            self.labels + other.labels,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """One drawing of one doorway.

    Attributes:
        view: which drawing it is.
        title, description: the drawing in words, for those who do not see it.
        language: of all its words.
        content: what is drawn.
        frame: what a wide sheet shows.
        close: what a narrow sheet shows.
        corners: words in the upper left, upper right and lower left corner.
        inside: the part of the plane that is the inside, tinted; None if none is.
        note: how the drawing is to be read, below it.
        scale: length and words of the scale bar.
        enlarged: whether a wide sheet shows ``close`` beside ``frame``, larger.
    """

    view: View
    title: str
    description: str
    language: str
    content: Content
    frame: Frame
    close: Frame
    corners: tuple[str, str, str]
    inside: Frame | None
    note: str
    scale: tuple[float, str]
    enlarged: bool = False


def on_page(floor: Content) -> Content:
    """What lies on the floor as the page shows it, outside at the lower edge.

    Args:
        floor: points are (x, y) of the doorway's frame; sides are those of the page
            already.

    Returns:
        The same with points (x, -y).  The frame is left-handed, so this is how the
        floor looks from above; unturned it would be its mirror image.
    """
    return Content(
        tuple(_shape_on_page(shape) for shape in floor.shapes),
        tuple(_span_on_page(span) for span in floor.spans),
        tuple(replace(label, at=_turned(label.at)) for label in floor.labels),
    )


def _shape_on_page(shape: Shape) -> Shape:
    match shape:
        case Area():
            return replace(shape, corners=tuple(map(_turned, shape.corners)))
        case Line():
            return replace(shape, points=tuple(map(_turned, shape.points)))
        case Dots():
            return replace(shape, middles=tuple(map(_turned, shape.middles)))
        case Sign():
            return replace(shape, at=_turned(shape.at))


def _span_on_page(span: Span) -> Span:
    """The lanes of a dimension along x are counted across, along y."""
    base = -span.base if span.along == "u" else span.base
    start, end = _turned(span.start), _turned(span.end)
    return replace(span, start=start, end=end, base=base)


def _turned(point: Point) -> Point:
    x, y = point
    return x, -y


def points_of(shape: Shape) -> tuple[Point, ...]:
    """The points that a shape is made of."""
    match shape:
        case Area():
            return shape.corners
        case Line():
            return shape.points
        case Dots():
            return shape.middles
        case Sign():
            return (shape.at,)
