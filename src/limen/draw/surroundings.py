"""What stands around a door in the plan: walls, side spaces, things."""

from limen.draw.outline import Outline
from limen.draw.parts import Part
from limen.draw.phrases import Tongue
from limen.draw.scene import Area, Content, Label, Span
from limen.geometry.boxes import Box
from limen.model.doorway import Doorway, SideSpace, Thing

THICK = 0.06  # m drawn of what stands behind an opening leaf


def walls(door: Doorway, outline: Outline, tongue: Tongue) -> Content:
    """The walls beside the opening, and the spaces the leaves open into."""
    boxes = [outline.wall(hand) for hand in ("left", "right")]
    content = Content(tuple(Area(Part.WALL, box.corners()) for box in boxes))
    for space in door.side_space:
        box = outline.pocket(space)
        if box is not None:
            content += Content((Area(Part.POCKET, box.corners()),))
        named = (space.behind or "").casefold()
        known = any(one.name.casefold() == named for one in door.thing)
        content += _behind(space, outline, tongue, known=known)
    return content


def _behind(
    space: SideSpace, outline: Outline, tongue: Tongue, *, known: bool
) -> Content:
    """What stands behind the trailing edge of the open leaf, and how near."""
    right = space.side == "right"
    edge = outline.reach[1] if right else outline.reach[0]
    if space.clearance is None or abs(edge) <= outline.half:
        return Content()
    free, out = space.clearance.value, 1.0 if right else -1.0
    fixed, y = edge + out * free, -outline.wall_in
    gap = space.gap.value if space.gap else 0.0
    left, far = sorted((fixed, fixed + out * THICK))
    box = Box(left, far, -outline.face_in - gap, outline.face_out + gap)
    span = Span(
        "u",
        (edge, -outline.face_in),
        (fixed, -outline.face_in),
        free,
        tongue.length(free),
        "above",
        y,
        importance=2,
    )
    labels: tuple[Label, ...] = ()
    if known:  # it is drawn as a thing in its own right
        return Content(spans=(span,))
    if space.behind:
        at = ((left + far) / 2, box.near)
        labels = (Label(space.behind, at, space.behind, "above", 2),)
    return Content((Area(Part.THING, box.corners()),), (span,), labels)


def thing(thing: Thing, outline: Outline) -> Content:
    """Something that stands or moves near the door."""
    x, w = thing.along.value, thing.width.value / 2
    y, d = outline.from_face(thing.side, thing.out.value), thing.depth.value / 2
    corners = Box(x - w, x + w, y - d, y + d).corners()
    label = Label(thing.name, (x, y - d), thing.name, "above", 3)
    return Content((Area(Part.THING, corners),), labels=(label,))


def header(outline: Outline) -> Content:
    """The header above, dashed as what is over the eye is."""
    left, right = outline.reach
    box = Box(left, right, -outline.header_in, outline.header_out)
    return Content((Area(Part.HEADER, box.corners()),))
