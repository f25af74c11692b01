"""The plan: the floor seen from above, by someone who stands outside.

Outside is at the lower edge of the page, inside at the upper one, left on the left.
It is put together in the floor's own x and y and turned to the page as a whole.
"""

from limen.draw.bodies import corners_of, dead_units, nearer_post, pose_of
from limen.draw.outline import Outline
from limen.draw.parts import Part
from limen.draw.phrases import Tongue
from limen.draw.plan_body import body
from limen.draw.plan_figures import figures_of, target_line
from limen.draw.plan_units import End, barrier, housing, rows_of, without_rows
from limen.draw.scene import Area, Content, Frame, Span, on_page, points_of
from limen.draw.surroundings import header, thing, walls
from limen.findings import Finding, Pose, Study, Target

BESIDE = 0.10  # m of free floor between the drawing and its dimensions
ASIDE = 0.35  # m shown beyond the open leaves
BEYOND = 0.60  # m shown beyond the posts where the open leaves do not matter
NEAR = 0.50  # m from the leaves that is shown then
NAMES = 0.37  # m beside the rows for their names
BEYOND_THE_SHEET = (Part.WALL, Part.POCKET, Part.LEAF, Part.HEADER)
ROWS = (Part.ROW, Part.DEAD)
BODIES = (Part.BODY_FAILS, Part.BODY_HOLDS, Part.BODY_NOT_SHOWN)
BEFORE_THE_DOOR = (
    Part.APPROACH,
    Part.FIELD,
    Part.PRESENCE,
    Part.WALK,
    Part.PASSER,
    Part.NEIGHBOUR,
    Part.THING,
)
FAR = (Part.APPROACH, Part.FIELD, Part.WALK, Part.PASSER)
LEAST_DEEP = 0.55  # m shown on each side at least
CLOSE_ASIDE = 0.25  # m shown beyond the posts on a narrow sheet
CLOSE_WIDE = 1.25  # m shown there at least
CLOSE_BEYOND = 0.46  # m shown beyond the post there
CLOSE_BESIDE = 0.56  # m shown beyond the body's middle there
CLOSE_DEEP = 0.42


def plan_content(
    study: Study,
    outline: Outline,
    finding: Finding | None,
    tongue: Tongue,
    targets: tuple[Target, ...],
) -> Content:
    """What the plan shows, from the floor upwards."""
    content = walls(study.doorway, outline, tongue) + figures_of(finding, tongue)
    near = None if targets else _named_at(content, finding)
    dead = dead_units(finding, study)
    content += Content((Area(Part.LEAF_PATH, outline.path.corners()),))
    content += Content(tuple(Area(Part.LEAF, x.corners()) for x in outline.leaves))
    for each in study.doorway.thing:
        content += thing(each, outline)
    content += header(outline)
    for unit in study.units:
        gone, unknown = unit.fitting in dead, without_rows(unit, study.doorway)
        content += housing(unit, tongue, dead=gone, unknown=unknown)
        content += barrier(unit, outline.half)
    for unit in study.units:
        content += rows_of(unit, tongue, near, dead=unit.fitting in dead)
    for target in targets:
        content += target_line(target, study, outline, pose_of(finding), tongue)
    content += _dimensions(content, study, outline, finding, tongue)
    return on_page(content)


def _dimensions(
    content: Content,
    study: Study,
    outline: Outline,
    finding: Finding | None,
    tongue: Tongue,
) -> Content:
    """The clear width and the body with its distances, on the side with room."""
    near = near_the_leaf(finding)
    depths = {out: _depth(content, outline, out) for out in (1.0, -1.0)}
    out = -1.0 if not near and depths[-1.0] < depths[1.0] else 1.0
    free = out * _free_from(study, outline, out, near=near)
    return _opening(outline, out, free, tongue) + body(finding, outline, free, tongue)


def _depth(content: Content, outline: Outline, out: float) -> float:
    """How far from the door that reaches which stands before the opening (m)."""
    wide = outline.half + CLOSE_ASIDE
    points = [
        point
        for shape in content.shapes
        if shape.part in BEFORE_THE_DOOR
        for point in points_of(shape)
    ]
    return max((out * y for x, y in points if abs(x) <= wide), default=0.0)


def near_the_leaf(finding: Finding | None) -> bool:
    """Whether a finding is about bodies near the leaves.

    Then rows and things that lie far away are left beyond the sheet, and what
    matters is the larger for it.
    """
    if finding is None or pose_of(finding) is None:
        return False
    return finding.question in ("presence.threshold", "presence.leaf_path")


def _named_at(content: Content, finding: Finding | None) -> End | None:
    """At which end a narrow sheet names the rows: that of the nearer post.

    Where it shows a whole approach zone the rows lie too close for names.
    """
    if any(shape.part in FAR for shape in content.shapes):
        return None
    pose = pose_of(finding)
    return "right" if pose is None else nearer_post(pose)


def plan_frames(
    content: Content, outline: Outline, finding: Finding | None
) -> tuple[Frame, Frame]:
    """What a wide and what a narrow sheet show of the plan."""
    if near_the_leaf(finding):
        frame = _near(content, outline)
    else:
        left, right = outline.reach
        frame = Frame(left - ASIDE, right + ASIDE, -LEAST_DEEP, LEAST_DEEP)
        for shape in content.shapes:
            if shape.part not in BEYOND_THE_SHEET:
                frame = frame.over(points_of(shape), BESIDE)
    return frame, _close(content, outline, pose_of(finding), frame)


def _near(content: Content, outline: Outline) -> Frame:
    """The opening with what lies near the leaves, and room for the rows' names."""
    wide = outline.half + BEYOND
    frame = Frame(-wide, wide, -LEAST_DEEP, LEAST_DEEP)
    for shape in content.shapes:
        near = [(u, v) for u, v in points_of(shape) if abs(v) <= NEAR]
        if shape.part in ROWS:
            frame = frame.over(
                [(u + out * NAMES, v) for u, v in near for out in (-1, 1)], BESIDE
            )
        elif shape.part in BODIES:
            frame = frame.over(near, BESIDE)
    return frame


def _close(
    content: Content, outline: Outline, pose: Pose | None, frame: Frame
) -> Frame:
    """The whole opening, or the part between the body and its nearer post."""
    far = any(shape.part in FAR for shape in content.shapes)
    opening = (-outline.half - CLOSE_ASIDE, outline.half + CLOSE_ASIDE)
    if far:
        return frame
    if pose is None:
        return Frame(*opening, frame.bottom, frame.top)
    on_right = nearer_post(pose) == "right"
    post = outline.half if on_right else -outline.half
    ends = sorted((post, pose.x))
    before, after = CLOSE_BESIDE, CLOSE_BEYOND
    if not on_right:
        before, after = after, before
    left, right = ends[0] - before, ends[1] + after
    lack = max(0.0, CLOSE_WIDE - (right - left))
    left, right = (left - lack, right) if on_right else (left, right + lack)
    deep = Frame(left, right, -CLOSE_DEEP, CLOSE_DEEP)
    if right - left > opening[1] - opening[0]:
        deep = Frame(*opening, -CLOSE_DEEP, CLOSE_DEEP)
    deep = deep.over([(x, -y) for x, y in corners_of(pose)], BESIDE)
    hand = 1.0 if on_right else -1.0
    ends = [
        (u + hand * NAMES, v)
        for shape in content.shapes
        if shape.part is Part.TARGET
        for u, v in points_of(shape)
        if u * hand > 0
    ]
    return deep.over(ends)


def _opening(outline: Outline, out: float, free: float, tongue: Tongue) -> Content:
    """The clear opening and its width, outside (+1) or inside (-1)."""
    half, wall = outline.half, outline.wall_out if out > 0 else -outline.wall_in
    text = tongue.say("opening", far=tongue.length(2 * half))
    side = "below" if out > 0 else "above"
    span = Span(
        "u", (-half, wall), (half, wall), 2 * half, text, side, free, 1, importance=2
    )
    return Content(spans=(span,))


def _free_from(study: Study, outline: Outline, out: float, *, near: bool) -> float:
    """How far from the door a side is free for dimensions (m)."""
    rows = [
        out * y + row.spots.radius
        for unit in study.units
        for row in unit.rows
        for _, y in row.spots.middles
        if not near or out * y <= NEAR
    ]
    wall, header = outline.wall_out, outline.header_out
    if out < 0:
        wall, header = outline.wall_in, outline.header_in
    return max(wall, header, *rows, 0.0) + BESIDE / 2
