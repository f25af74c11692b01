"""A doorway's fixed shapes, taken from its description."""

from dataclasses import dataclass

from limen.geometry.boxes import Box
from limen.model.doorway import Doorway, SideSpace
from limen.model.people import Side

WALL_GOES_ON = 3.0  # m of wall drawn beyond the leaves; the sheet's edge cuts it


@dataclass(frozen=True, slots=True)
class Outline:
    """What a drawing needs of a doorway, in its own frame (m).

    Attributes:
        half: half the clear width.
        high: the clear height.
        face_out, face_in: y of the outermost leaf faces, both counted positive.
        header_out, header_in: the header's faces, counted likewise.
        wall_out, wall_in: the wall's faces, counted likewise.
        underside: height of the header's underside.
        leaves: the leaves, open.
        reach: x to which the open leaves reach, left and right.
        path: what the leaves sweep in the opening.
    """

    half: float
    high: float
    face_out: float
    face_in: float
    header_out: float
    header_in: float
    wall_out: float
    wall_in: float
    underside: float
    leaves: tuple[Box, ...]
    reach: tuple[float, float]
    path: Box

    def face(self, side: str) -> float:
        """Y of the leaf face on a side, with its sign."""
        return self.face_out if side == "outside" else -self.face_in

    def from_face(self, side: str, far: float) -> float:
        """Y of a line that lies ``far`` from the leaf face on a side."""
        return self.face(side) + sign(side) * far

    def wall(self, hand: str) -> Box:
        """The wall beside the opening."""
        right = max(self.reach) + WALL_GOES_ON
        box = Box(self.half, right, -self.wall_in, self.wall_out)
        return box if hand == "right" else mirrored(box)

    def pocket(self, space: SideSpace) -> Box | None:
        """The space that a leaf opens into, where its gap is known."""
        if space.gap is None:
            return None
        gap = space.gap.value
        far = self.reach[1] if space.side == "right" else -self.reach[0]
        far += space.clearance.value if space.clearance else 0.0
        if far <= self.half:
            return None
        box = Box(self.half, far, -self.face_in - gap, self.face_out + gap)
        return box if space.side == "right" else mirrored(box)


def mirrored(box: Box) -> Box:
    """The box on the other side of the door's middle."""
    return Box(-box.right, -box.left, box.near, box.far)


def sign(side: Side | str) -> float:
    """+1 outside, -1 inside: away from the door along y."""
    return 1.0 if side == "outside" else -1.0


def outline_of(door: Doorway, gap: float | None = None) -> Outline:
    """The fixed shapes of a doorway.

    Args:
        door: the doorway.
        gap: free width between the leaves (m), if they are not drawn wide open.
    """
    half, thick = door.clear_width.value / 2, door.leaves.thickness.value / 2
    planes = tuple(plane.value for plane in door.leaves.planes) or (0.0,)
    face_out, face_in = max(planes) + thick, thick - min(planes)
    leaves = _leaves(door, half, thick, planes)
    return Outline(
        half=half,
        high=door.clear_height.value,
        face_out=face_out,
        face_in=face_in,
        header_out=face_out + door.header.outside.value,
        header_in=face_in + door.header.inside.value,
        wall_out=face_out + door.reveal.outside.value,
        wall_in=face_in + door.reveal.inside.value,
        underside=(door.header.underside or door.clear_height).value,
        leaves=leaves if gap is None else _closing(door, half, gap, leaves),
        reach=(
            min(-half, *(leaf.left for leaf in leaves)),
            max(half, *(leaf.right for leaf in leaves)),
        ),
        path=Box(-half, half, -face_in, face_out),
    )


def _closing(
    door: Doorway, half: float, gap: float, leaves: tuple[Box, ...]
) -> tuple[Box, ...]:
    """The leaves on their way; those of a telescopic door are left as they are."""
    if len(door.leaves.planes) > 1:
        return leaves
    way = 2 * half - gap if door.leaves.kind == "single" else half - gap / 2
    return tuple(
        box._replace(
            left=box.left - way if box.left >= half else box.left + way,
            right=box.right - way if box.left >= half else box.right + way,
        )
        for box in leaves
    )


def _leaves(
    door: Doorway, half: float, thick: float, planes: tuple[float, ...]
) -> tuple[Box, ...]:
    """The leaves, open: each as wide as its share of the opening."""
    whole = 2 * half if door.leaves.kind == "single" else half
    wide = whole / len(planes)
    right = tuple(Box(half, half + wide, y - thick, y + thick) for y in planes)
    left = tuple(mirrored(box) for box in right)
    match door.leaves.hand:
        case "right":
            return right
        case "left":
            return left
        case None:
            return left + right
