"""Axis-parallel boxes on the floor, in the doorway's frame."""

from typing import NamedTuple


class Box(NamedTuple):
    """A closed box on the floor.

    x goes from ``left`` to ``right``, y from ``near`` to ``far`` (m).
    """

    left: float
    right: float
    near: float
    far: float

    def grown(self, by_x: float, by_y: float) -> "Box":
        """The box with its sides moved out by ``by_x`` and ``by_y`` (m)."""
        return Box(
            self.left - by_x, self.right + by_x, self.near - by_y, self.far + by_y
        )

    def turned(self) -> "Box":
        """The box turned by half a turn about the origin."""
        return Box(-self.right, -self.left, -self.far, -self.near)

    def corners(self) -> tuple[tuple[float, float], ...]:
        """Its four corners, turning from x towards y."""
        return (
            (self.left, self.near),
            (self.right, self.near),
            (self.right, self.far),
            (self.left, self.far),
        )
