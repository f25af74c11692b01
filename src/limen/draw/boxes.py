"""Boxes and lines on the sheet, in pixels: x to the right, y down."""

from collections.abc import Iterable
from typing import NamedTuple


class Rect(NamedTuple):
    """A rectangle on the sheet, px."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def middle(self) -> tuple[float, float]:
        """Its middle."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def grown(self, by: float) -> "Rect":
        """The rectangle with its sides moved out (px)."""
        return Rect(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def meets(self, other: "Rect") -> bool:
        """Whether the two share more than an edge."""
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom

    def within(self, other: "Rect") -> bool:
        """Whether it lies in the other."""
        across = other.left <= self.left and self.right <= other.right
        return across and other.top <= self.top and self.bottom <= other.bottom

    def nearest(self, x: float, y: float) -> tuple[float, float]:
        """Its point nearest to (x, y)."""
        return (
            min(max(x, self.left), self.right),
            min(max(y, self.top), self.bottom),
        )


def meets_any(box: Rect, others: Iterable[Rect]) -> bool:
    """Whether a box shares more than an edge with any of the others."""
    left, top, right, bottom = box
    for other_left, other_top, other_right, other_bottom in others:
        across = left < other_right and other_left < right
        if across and top < other_bottom and other_top < bottom:
            return True
    return False


class Segment(NamedTuple):
    """A straight line on the sheet, px."""

    ax: float
    ay: float
    bx: float
    by: float

    def near(self, box: Rect) -> bool:
        """Whether it may meet the box: quicker to ask, and never a wrong no."""
        ax, ay, bx, by = self
        left, top, right, bottom = box
        if (ax < left and bx < left) or (ax > right and bx > right):
            return False
        return not ((ay < top and by < top) or (ay > bottom and by > bottom))

    def meets(self, box: Rect) -> bool:
        """Whether some of it lies within the box."""
        enter, leave = 0.0, 1.0
        dx, dy = self.bx - self.ax, self.by - self.ay
        sides = (
            (-dx, self.ax - box.left),
            (dx, box.right - self.ax),
            (-dy, self.ay - box.top),
            (dy, box.bottom - self.ay),
        )
        for slope, room in sides:
            if slope == 0.0:
                if room <= 0.0:
                    return False
            elif slope < 0.0:
                enter = max(enter, room / slope)
            else:
                leave = min(leave, room / slope)
        return enter < leave

    def crosses(self, other: "Segment") -> bool:
        """Whether the two properly cross."""
        return (
            _turn(self, other.ax, other.ay) * _turn(self, other.bx, other.by) < 0
            and _turn(other, self.ax, self.ay) * _turn(other, self.bx, self.by) < 0
        )


def _turn(line: Segment, x: float, y: float) -> float:
    return (line.bx - line.ax) * (y - line.ay) - (line.by - line.ay) * (x - line.ax)


def crossed_by_any(box: Rect, lines: Iterable[Segment]) -> bool:
    """Whether some of any of the lines lies within the box."""
    return any(line.near(box) and line.meets(box) for line in lines)
