"""What can be drawn, in the doorway's frame (m, rad).  No physics, no ink."""

from dataclasses import dataclass
from enum import StrEnum


class Role(StrEnum):
    """What a figure is; the drawing chooses ink and pattern by it."""

    WITNESS = "witness"
    LEAF_PATH = "leaf path"
    ZONE = "zone"
    TARGET = "target line"
    WINDOW = "window"
    LIGHT = "light"
    PINCH = "pinch"
    THING = "thing"
    NEIGHBOUR = "neighbour"
    FIELD = "field"
    WALK = "walk"
    LATE = "late"


@dataclass(frozen=True, slots=True)
class Pose:
    """The test body standing or lying somewhere.

    Attributes:
        x, y: its centre on the floor.
        yaw: how it is turned, from x towards y.
        width, depth: its footprint along and across its own axis.
        height: its height as it stands or lies.
        face: "upright", "on its face" or "on its edge".
    """

    role: Role
    x: float
    y: float
    yaw: float
    width: float
    depth: float
    height: float
    face: str


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed area on the floor: corners (x, y)."""

    role: Role
    corners: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line on the floor through points (x, y)."""

    role: Role
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Spots:
    """Spots on the floor: middles (x, y) and the radius of their light."""

    role: Role
    middles: tuple[tuple[float, float], ...]
    radius: float


@dataclass(frozen=True, slots=True)
class Mark:
    """A point worth seeing, (x, y, z)."""

    role: Role
    at: tuple[float, float, float]


Figure = Pose | Polygon | Stroke | Spots | Mark
