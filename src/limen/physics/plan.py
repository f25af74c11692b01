"""What of a doorway a beam or a body can run into, as boxes on the floor."""

from dataclasses import dataclass

from limen.geometry.boxes import Box
from limen.model.doorway import Doorway, Hand, Thing
from limen.model.people import Side

WALL_DEPTH = 3.0  # m of wall beside the opening: further than any body reaches


@dataclass(frozen=True, slots=True)
class SidePlan:
    """One side of the doorway, distances from the mid-plane, m.

    Attributes:
        face: the leaf face that is furthest out on this side.
        swayed: the same with the leaf's sway.
        header: the header's face.
    """

    face: float
    swayed: float
    header: float


@dataclass(frozen=True, slots=True)
class Standing:
    """What stands near the door and hides what is behind it.

    Attributes:
        box: where it stands.
        widest: the same as far as its figures may be off.
        height: how high it may be (m).
    """

    box: Box
    widest: Box
    height: float


@dataclass(frozen=True, slots=True)
class Plan:
    """A doorway's plan in its own frame, m.

    Attributes:
        half: half the clear width.
        outside, inside: the two sides.
        underside: height of the header's underside, which is the leaves' top.
        leaf_path: what a closing leaf sweeps, sway included.
        walls: left and right of the opening, where nobody can stand.
        hand: the side to which a single leaf opens; None for two leaves.
        stands: what was set down near the door.
    """

    half: float
    outside: SidePlan
    inside: SidePlan
    underside: float
    leaf_path: Box
    walls: tuple[Box, ...]
    hand: Hand | None
    stands: tuple[Standing, ...] = ()

    def side(self, side: Side) -> SidePlan:
        """The side asked for."""
        return self.outside if side == "outside" else self.inside


@dataclass(frozen=True, slots=True)
class Doubt:
    """How far a plan's own figures may be off (m), as stated.

    Attributes:
        along: of each post along the opening.
        across: of the leaf faces.
        reveal: of the walls' depth, besides.
        header: of the header's faces.
        underside: of its height.
    """

    along: float = 0.0
    across: float = 0.0
    reveal: float = 0.0
    header: float = 0.0
    underside: float = 0.0


SURE = Doubt()


def doubt_of(doorway: Doorway) -> Doubt:
    """How far the plan of a doorway may be off, by its figures' uncertainty."""
    leaves, header, reveal = doorway.leaves, doorway.header, doorway.reveal
    planes = max((plane.u for plane in leaves.planes), default=0.0)
    under = header.underside or doorway.clear_height
    return Doubt(
        doorway.clear_width.u / 2,
        leaves.thickness.u / 2 + planes,
        max(reveal.outside.u, reveal.inside.u),
        max(header.outside.u, header.inside.u),
        under.u,
    )


def sign(side: Side) -> float:
    """+1 outside, -1 inside: the direction away from the door along y."""
    return 1.0 if side == "outside" else -1.0


def plan_of(doorway: Doorway, sway: float) -> Plan:
    """The plan of a doorway.

    Args:
        doorway: as described.
        sway: how far a leaf sways across (m), stated or assumed.
    """
    half = doorway.clear_width.value / 2
    thick = doorway.leaves.thickness.value / 2
    planes = [plane.value for plane in doorway.leaves.planes] or [0.0]
    out, back = max(planes) + thick, thick - min(planes)
    outside = SidePlan(out, out + sway, out + doorway.header.outside.value)
    inside = SidePlan(back, back + sway, back + doorway.header.inside.value)
    near = -(back + doorway.reveal.inside.value)
    far = out + doorway.reveal.outside.value
    under = doorway.header.underside or doorway.clear_height
    return Plan(
        half,
        outside,
        inside,
        under.value,
        Box(-half, half, -inside.swayed, outside.swayed),
        (
            Box(-half - WALL_DEPTH, -half, near, far),
            Box(half, half + WALL_DEPTH, near, far),
        ),
        doorway.leaves.hand,
        tuple(
            _standing(thing, out if thing.side == "outside" else back)
            for thing in doorway.thing
        ),
    )


def _standing(thing: Thing, face: float) -> Standing:
    x, y = thing.along.value, sign(thing.side) * (face + thing.out.value)
    half_w, half_d = thing.width.value / 2, thing.depth.value / 2
    box = Box(x - half_w, x + half_w, y - half_d, y + half_d)
    off = thing.along.u + thing.width.u / 2, thing.out.u + thing.depth.u / 2
    return Standing(box, box.grown(*off), thing.height.high)


def free(plan: Plan, width: float) -> Box:
    """The part of the leaf path that is free at a free width (m)."""
    path = plan.leaf_path
    match plan.hand:
        case "right":
            return path._replace(right=path.left + width)
        case "left":
            return path._replace(left=path.right - width)
        case None:
            return path._replace(left=-width / 2, right=width / 2)


def standing_leaves(plan: Plan, width: float) -> tuple[Box, ...]:
    """Where the leaves stand at a free width (m), sway left out."""
    opening, gap = plan.leaf_path, free(plan, width)
    near, far = -plan.inside.face, plan.outside.face
    left = Box(opening.left, gap.left, near, far)
    right = Box(gap.right, opening.right, near, far)
    return tuple(leaf for leaf in (left, right) if leaf.right > leaf.left)
