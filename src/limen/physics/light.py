"""The whole light of a spot, not only its middle.

A spot of full divergence d seen along the opening is a wedge: with a the
beam's angle from the vertical in the section across the door and p the length
of its unit vector in that section, the light reaches from a - b to a + b,
sin b = sin(d/2) / p (tangent planes of a cone that contain the x axis).
"""

import numpy as np

from limen.geometry.turns import Array


def inner_edge_slopes(directions: Array, divergence: float, way: float) -> Array:
    """Slope across the door of the light's edge nearest to the leaf.

    Args:
        directions: (n, 3) unit vectors of the beams.
        divergence: full angle of the light (rad).
        way: +1 for a unit outside, -1 inside.

    Returns:
        (n,) metres away from the door for each metre down.
    """
    across, down = way * directions[:, 1], -directions[:, 2]
    reach = np.hypot(across, down)
    spread = np.arcsin(np.minimum(1.0, np.sin(divergence / 2) / reach))
    return np.tan(np.arctan2(across, down) - spread)


def clearance(
    lens_out: float, height: float, slopes: Array, obstacle: tuple[float, float, float]
) -> Array:
    """Least distance across the door between light and an obstacle's face.

    Args:
        lens_out: distance of the lens from the leaves' mid-plane, m.
        height: height of the lens, m.
        slopes: (n,) slopes of the light's inner edge.
        obstacle: its face's distance from the mid-plane, lowest and highest z.

    Returns:
        (n,) metres; negative where the light falls on it.
    """
    face, low, high = obstacle
    edges = [lens_out + (height - z) * slopes for z in (low, min(high, height))]
    return np.minimum(*edges) - face


def spot_radius(slopes: Array, height: float, divergence: float) -> Array:
    """Largest half-size (m) of each spot's light on the floor.

    Half the long axis of the ellipse in which the floor cuts the cone, taken
    on its far side: h (tan(t + d/2) - tan t), t the angle from the vertical.
    """
    lean = np.arctan(np.hypot(slopes[:, 0], slopes[:, 1]))
    return height * (np.tan(lean + divergence / 2) - np.tan(lean))


def blind_reflectance(floor: float, height: float, z: float) -> float:
    """Reflectance of a body's top that cannot be told from the floor.

    The return goes as reflectance/distance^2, so at height ``z`` (m) under a lens
    at ``height`` (m) it is floor ((h - z)/h)^2.
    """
    return floor * ((height - z) / height) ** 2


def contrast(body: float, floor: float, height: float, z: float) -> float:
    """Relative change of the return when a body's top at ``z`` covers the floor."""
    return abs(body / floor * (height / (height - z)) ** 2 - 1.0)
