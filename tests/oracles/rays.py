"""The spatial oracle: real rays from the lens against a real box, by Embree.

Embree computes in single precision. At three metres that is about a micrometre, so
every comparison with it allows ``SINGLE`` on each side of the body.
"""

import numpy as np
import numpy.typing as npt
import trimesh
from trimesh.ray.ray_pyembree import RayMeshIntersector

from oracles.doorways import Doorway, Floats, Ints, directions, lens_of
from oracles.planar import Pose

SINGLE = 1e-5
"""Allowance in metres for single precision."""

Mounted = list[tuple[Floats, Floats]]
"""Of each unit the lens, (3,) or one a beam (n, 3), and its directions (n, 3)."""


def as_drawn(doorway: Doorway) -> Mounted:
    """Lens and beam directions of every unit without any error."""
    return [(lens_of(u), directions(u)) for u in doorway.units]


def tall_box(doorway: Doorway, grow: float = 0.0) -> trimesh.Trimesh:
    """The part of the body that a beam can be told to have met, about its own axis."""
    low, high = doorway.span
    w, d = doorway.rest.w + 2 * grow, doorway.rest.d + 2 * grow
    box = trimesh.creation.box((w, d, high - low))
    box.apply_translation((0.0, 0.0, (low + high) / 2))
    return box


def counts_in_the_room(
    doorway: Doorway, pose: Pose, grow: float = 0.0, mounted: Mounted | None = None
) -> Ints:
    """Beams of each unit that hit the body: the box is put down in the room."""
    box = tall_box(doorway, grow)
    x, y, yaw = pose
    turn = trimesh.transformations.rotation_matrix(yaw, (0.0, 0.0, 1.0))
    box.apply_transform(turn)
    box.apply_translation((x, y, 0.0))
    caster = RayMeshIntersector(box)
    found: list[int] = []
    for lens, beams in mounted or as_drawn(doorway):
        origins = np.broadcast_to(lens, (len(beams), 3))
        found.append(int(caster.intersects_any(origins, beams).sum()))
    return np.array(found)


class StaticBox:
    """One box that stays where it is; the rays are moved into the body's frame."""

    def __init__(
        self, doorway: Doorway, grow: float = 0.0, mounted: Mounted | None = None
    ) -> None:
        """Build the scene once."""
        self._caster = RayMeshIntersector(tall_box(doorway, grow))
        self._mounted = mounted or as_drawn(doorway)

    @property
    def beams(self) -> int:
        """How many rays one pose takes."""
        return sum(len(b) for _, b in self._mounted)

    def counts(self, poses: Floats) -> Ints:
        """Beams of each unit that hit the body at every pose, (m, units)."""
        return np.stack([self._cast(*unit, poses).sum(1) for unit in self._mounted], 1)

    def hits(self, poses: Floats) -> npt.NDArray[np.bool_]:
        """Which beams hit the body at every pose, (m, beams)."""
        return np.hstack([self._cast(*unit, poses) for unit in self._mounted])

    def _cast(
        self, lens: Floats, beams: Floats, poses: Floats
    ) -> npt.NDArray[np.bool_]:
        c, s = np.cos(poses[:, 2]), np.sin(poses[:, 2])
        zero, one = np.zeros_like(c), np.ones_like(c)
        into = np.stack([c, s, zero, -s, c, zero, zero, zero, one], 1).reshape(-1, 3, 3)
        place = np.stack([poses[:, 0], poses[:, 1], zero], 1)
        start = np.atleast_2d(lens)[None] - place[:, None]
        origins = np.matmul(start, into.transpose(0, 2, 1))
        rays = np.matmul(beams[None], into.transpose(0, 2, 1))
        origins = np.broadcast_to(origins, rays.shape)
        hit = self._caster.intersects_any(origins.reshape(-1, 3), rays.reshape(-1, 3))
        return hit.reshape(-1, len(beams))
