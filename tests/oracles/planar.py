"""The planar oracle: Shapely decides which beams meet the body's plan."""

import numpy as np
import numpy.typing as npt
import shapely

from oracles.doorways import Box, Floats, Ints, Plan

Pose = tuple[float, float, float]


def plan_of_body(body: tuple[float, float], pose: Pose) -> shapely.Polygon:
    """The rectangle of the body at a pose (x, y, yaw)."""
    x, y, yaw = pose
    w, d = body
    corners = np.array([[-w, -d], [w, -d], [w, d], [-w, d]]) / 2.0
    c, s = np.cos(yaw), np.sin(yaw)
    turned = corners @ np.array([[c, s], [-s, c]]) + np.array([x, y])
    return shapely.Polygon(turned)


def met(
    segments: Floats, body: tuple[float, float], pose: Pose
) -> npt.NDArray[np.bool_]:
    """Which beams meet the body at a pose, (n,)."""
    lines = shapely.linestrings(segments.reshape(-1, 2, 2))
    rectangle = plan_of_body(body, pose)
    shapely.prepare(rectangle)
    return np.asarray(shapely.intersects(rectangle, lines))


def counts(plan: Plan, pose: Pose, grow: float = 0.0) -> Ints:
    """How many beams of each unit meet the body, grown by ``grow`` on every side."""
    body = (plan.body[0] + 2 * grow, plan.body[1] + 2 * grow)
    hit = met(plan.segments, body, pose)
    return np.bincount(plan.group[hit], minlength=plan.needed.size)


def reached(plan: Plan, pose: Pose, grow: float = 0.0) -> bool:
    """Whether some unit has as many beams on the body as it needs."""
    return bool(np.any(counts(plan, pose, grow) >= plan.needed))


def admissible(plan: Plan, pose: Pose, slack: float = 0.0) -> bool:
    """Whether a body may be here: in the zone, in the leaf path, in no wall.

    ``slack`` > 0 forgives that much, ``slack`` < 0 asks for that much more.
    """
    x, y, _ = pose
    xmin, xmax, ymin, ymax = plan.zone
    inside = xmin - slack <= x <= xmax + slack and ymin - slack <= y <= ymax + slack
    body = plan_of_body(plan.body, pose)
    meets = body.intersects(_box(plan.must_meet, slack))
    walls = [_box(b, -slack) for b in plan.blocked]
    return inside and meets and not any(body.intersection(w).area > 0.0 for w in walls)


def _box(box: Box, grow: float) -> shapely.Polygon:
    xmin, xmax, ymin, ymax = box
    return shapely.box(xmin - grow, ymin - grow, xmax + grow, ymax + grow)
