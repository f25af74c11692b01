"""Fitting a beam to the field that a manual draws on the floor.

Two figures of the drawing, depth and width, fix two parameters: the reach ahead
R0 and one of shape.  R0 follows from the far edge in closed form for any shape,
since the contour passes through it; the shape is then searched for the width.
What does not come out as drawn is the residual.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import cos, hypot, radians, sin

import numpy as np

from limen.geometry.turns import Array
from limen.physics.radar import Contour
from limen.physics.radar_beam import Beam, Lobe, PatchBeam

SHAPES = 13  # shapes tried before the width is closed in on
HALVINGS = 14
LINES = 33  # lines across the field on which its width is sought
ACROSS = 65  # places on each of them
FAINT = 1e-3  # a far edge where the beam is weaker than this is none
ANGLES = 1500  # directions in which its far edge is sought
FLAT = radians(88.0)
AHEAD_UNSTATED = (radians(90.0), radians(50.68), radians(25.42))
"""Half-power widths of one, two and four patches half a wavelength apart, each of
field cos θ: what a unit at a door has in the plane that leads away."""


@dataclass(frozen=True, slots=True)
class Reference:
    """The field that a manual draws on the floor (m, rad).

    Attributes:
        depth: from below the lens to its far edge.
        width: at its widest.
        height: of the lens above the floor.
        tilt: of the axis from straight down, away from the door.
    """

    depth: float
    width: float
    height: float
    tilt: float


@dataclass(frozen=True, slots=True)
class Fit:
    """A contour fitted to a reference field.

    Attributes:
        contour: reach ahead and beam.
        residual: the larger of the relative errors of depth and width.
    """

    contour: Contour
    residual: float


@dataclass(frozen=True, slots=True)
class Antenna:
    """An antenna as its manual describes it.

    Attributes:
        columns, rows: patches along the door, and one above the other.
        spacing: from patch to patch, in wavelengths.
    """

    columns: int
    rows: int
    spacing: float


@lru_cache(maxsize=256)
def fits(
    reference: Reference,
    antenna: Antenna | None = None,
    widths: tuple[float, float] | None = None,
) -> tuple[Fit, ...]:
    """Every contour that the manual's figures allow.

    The free parameter of shape is, with an antenna, the exponent of a patch's
    field; with half-power widths, a common factor of both; with neither, the width
    along the door, for each width ahead that one, two or four patches give.

    Args:
        reference: the field as drawn.
        antenna: its patches, if the manual tells them.
        widths: its half-power widths across and ahead (rad), if it gives those.

    Returns:
        Every fit: more than one where the manual tells nothing of the beam, or where
        a narrow lobe that reaches far and a wide one that does not make one field.
    """
    if antenna is not None:
        patches = antenna
        return _fit(reference, lambda q: _patched(patches, q), 0.05, 20.0)
    if widths is not None:
        across, ahead = widths
        return _fit(reference, lambda k: Lobe(k * across, k * ahead), 0.5, 2.0)
    least, most = radians(5.0), radians(180.0)
    found = (_fit(reference, _ahead(w), least, most) for w in AHEAD_UNSTATED)
    return tuple(fit for each in found for fit in each)


def field_size(contour: Contour, height: float, tilt: float) -> tuple[float, float]:
    """Depth and width (m) of a contour's field on the floor.

    Args:
        contour: reach ahead and beam.
        height: of the lens (m).
        tilt: of the axis (rad).

    Returns:
        Depth from below the lens to the far edge straight ahead, and the greatest
        width; zeros where the floor lies beyond the contour.
    """
    from_axis = np.linspace(-tilt, FLAT - tilt, ANGLES)
    down = height / np.cos(from_axis + tilt)
    zero = np.zeros_like(from_axis)
    field = contour.beam.field(zero, np.sin(from_axis), np.cos(from_axis))
    room = contour.ahead * field - down
    inside = np.flatnonzero(room >= 0)
    if not len(inside):
        return 0.0, 0.0
    depth = height * np.tan(_crossing(from_axis + tilt, room, int(inside[-1])))
    return float(depth), _width(contour, height, tilt, float(depth))


def _crossing(angle: Array, room: Array, last: int) -> float:
    """Where the room turns negative after its last place within."""
    if last + 1 >= len(angle):
        return float(angle[-1])
    share = room[last] / (room[last] - room[last + 1])
    return float(angle[last] + share * (angle[last + 1] - angle[last]))


def _width(contour: Contour, height: float, tilt: float, depth: float) -> float:
    """Greatest width of the field, read off lines across it."""
    y = np.linspace(-0.5 * depth, depth, LINES)
    half = _half_widths(contour, height, tilt, y)
    top = int(np.argmax(half))
    step = 1.5 * depth / (LINES - 1)
    closer = np.linspace(float(y[top]) - step, float(y[top]) + step, LINES)
    return 2 * float(np.max(_half_widths(contour, height, tilt, closer)))


def _half_widths(contour: Contour, height: float, tilt: float, y: Array) -> Array:
    """Where each line across the floor leaves the contour, from its middle (m)."""
    x = np.linspace(0.0, contour.ahead, ACROSS)
    lines, steps = np.meshgrid(y, x, indexing="ij")
    flat = _room(contour, height, tilt, steps.ravel(), lines.ravel())
    room = flat.reshape(lines.shape)
    out = np.argmax(room < 0, axis=1)
    row, last = np.arange(len(y)), np.maximum(out - 1, 0)
    at, then = room[row, last], room[row, np.maximum(out, 1)]
    edge = x[last] + (x[1] - x[0]) * at / np.where(at > then, at - then, 1.0)
    return np.where(out > 0, edge, 0.0)


def _room(contour: Contour, height: float, tilt: float, x: Array, y: Array) -> Array:
    """Reach less distance at places on the floor (x, y), y from below the lens."""
    distance = np.sqrt(x**2 + y**2 + height**2)
    ahead = (y * cos(tilt) - height * sin(tilt)) / distance
    axis = (y * sin(tilt) + height * cos(tilt)) / distance
    return contour.ahead * contour.beam.field(x / distance, ahead, axis) - distance


def _patched(antenna: Antenna, exponent: float) -> PatchBeam:
    return PatchBeam(antenna.columns, antenna.rows, antenna.spacing, exponent)


def _ahead(width: float) -> Callable[[float], Beam]:
    return lambda across: Lobe(across, width)


def _fit(
    reference: Reference, shape: Callable[[float], Beam], least: float, most: float
) -> tuple[Fit, ...]:
    """The shapes between ``least`` and ``most`` whose field is as wide as drawn.

    Where none is, the one that comes nearest.
    """
    tried = np.geomspace(least, most, SHAPES)
    short = [_short(reference, shape(float(s))) for s in tried]
    found = [
        _closed_in(reference, shape, a, b, fa)
        for (a, b), (fa, fb) in zip(
            pairwise(tried.tolist()), pairwise(short), strict=True
        )
        if fa * fb <= 0
    ]
    if not found:
        order = np.where(np.isfinite(short), np.abs(short), np.inf)
        found = [float(tried[int(np.argmin(order))])]
    return tuple(_made(reference, shape(one)) for one in found)


def _closed_in(
    reference: Reference,
    shape: Callable[[float], Beam],
    low: float,
    high: float,
    at_low: float,
) -> float:
    """The shape between two whose width is as drawn, by halving."""
    for _ in range(HALVINGS):
        middle = (low * high) ** 0.5
        short = _short(reference, shape(middle))
        low, high = (middle, high) if short * at_low > 0 else (low, middle)
    return (low * high) ** 0.5


def _through_far_edge(reference: Reference, beam: Beam) -> Contour | None:
    """The contour of a beam that passes through the far edge of the field."""
    tilt, far = reference.tilt, hypot(reference.depth, reference.height)
    t = (reference.depth * cos(tilt) - reference.height * sin(tilt)) / far
    c = (reference.depth * sin(tilt) + reference.height * cos(tilt)) / far
    field = float(beam.field(np.zeros(1), np.array([t]), np.array([c]))[0])
    return Contour(far / field, beam) if field > FAINT else None


def _short(reference: Reference, beam: Beam) -> float:
    """By how much the fitted field is narrower than drawn (m)."""
    contour = _through_far_edge(reference, beam)
    if contour is None:
        return float("nan")
    width = _width(contour, reference.height, reference.tilt, reference.depth)
    return reference.width - width


def _made(reference: Reference, beam: Beam) -> Fit:
    contour = _through_far_edge(reference, beam)
    if contour is None:
        return Fit(Contour(0.0, beam), float("inf"))
    depth, width = field_size(contour, reference.height, reference.tilt)
    errors = abs(depth / reference.depth - 1), abs(width / reference.width - 1)
    return Fit(contour, max(errors))
