"""The front: the door seen from outside, with the fans of the first rows."""

from limen.draw.bodies import along, corners_of, dead_units, label_of, part_of, pose_of
from limen.draw.outline import Outline
from limen.draw.parts import Part
from limen.draw.phrases import Tongue
from limen.draw.scene import Area, Content, Frame, Label, Line, Shape, Sign, Span
from limen.findings import BeamLine, Finding, Pose, Study, UnitDrawn
from limen.geometry.boxes import Box

ABOVE = 0.22  # m of header drawn: its height is not known, and not dimensioned
ASIDE = 0.35
HOUSING = (0.24, 0.07)
GROUND = 3.0


def front_content(
    study: Study, outline: Outline, finding: Finding | None, tongue: Tongue
) -> Content:
    """What the front shows, from back to front."""
    content = Content(_fixed(outline)) + _open_leaves(outline, tongue)
    dead = dead_units(finding, study)
    for unit in sorted(study.units, key=lambda unit: unit.fitting not in dead):
        content += _fan(unit, dead=unit.fitting in dead)
    for unit in sorted(study.units, key=lambda unit: unit.side):  # inside is behind
        content += _housing(unit, outline, tongue)
    return (
        content
        + _heights(outline, pose_of(finding), tongue)
        + _body(outline, finding, tongue)
    )


def front_frames(
    outline: Outline, study: Study, finding: Finding | None
) -> tuple[Frame, Frame]:
    """What a wide and what a narrow sheet show of the front."""
    left, right = outline.reach
    lenses = [unit.lens[2] + 0.1 for unit in study.units if unit.lens]
    high = max([outline.underside + ABOVE, *lenses])
    wide = Frame(left - ASIDE, right + ASIDE, -0.06, high + 0.05)
    half = outline.half + 0.30
    close = Frame(-half, half, wide.bottom, wide.top)
    pose = pose_of(finding)
    if pose is None:
        return wide, close
    body = [(x, 0.0) for x, _ in corners_of(pose)]
    beside = [(u + out * 0.1, v) for u, v in body for out in (-1, 1)]
    return wide.over(beside), close.over(beside)


def rect(part: Part, left: float, right: float, low: float, high: float) -> Area:
    """An upright rectangle."""
    return Area(part, Box(left, right, low, high).corners())


def _fixed(outline: Outline) -> tuple[Shape, ...]:
    half, high = outline.half, outline.underside
    left, right = outline.reach
    wide = max(-left, right) + GROUND
    leaves = {(leaf.left, leaf.right) for leaf in outline.leaves}
    return (
        *(rect(Part.LEAF_BEHIND, a, b, 0.0, high) for a, b in sorted(leaves)),
        rect(Part.HEADER, left, right, high, high + ABOVE),
        rect(Part.OPENING, -half, half, 0.0, outline.high),
        Line(Part.GROUND, ((-wide, 0.0), (wide, 0.0))),
    )


def _open_leaves(outline: Outline, tongue: Tongue) -> Content:
    middle = (outline.half + outline.reach[1]) / 2
    if outline.reach[1] <= outline.half:
        middle = (outline.reach[0] - outline.half) / 2
    at = (middle, 0.35 * outline.underside)
    return Content(labels=(Label(tongue.say("leaf.open"), at, importance=3),))


def _fan(unit: UnitDrawn, *, dead: bool) -> Content:
    """The end beams of the first row, its middle one, and what lies between."""
    beams = [beam for beam in unit.beams if beam.row == 1]
    if not beams:
        return Content()
    part = Part.BEAM_INSIDE if unit.side == "inside" else Part.BEAM
    part = Part.DEAD if dead else part
    fan: tuple[Shape, ...] = ()
    if unit.side == "outside" and len(beams) > 1 and not dead:
        fan = (_between(beams),)
    lines = tuple(Line(part, (_seen(b.start), _seen(b.end))) for b in beams)
    return Content(fan + lines)


def _between(beams: list[BeamLine]) -> Area:
    ends = sorted(_seen(beam.end) for beam in beams)
    return Area(Part.PRESENCE, (_seen(beams[0].start), ends[0], ends[-1]))


def _seen(point: tuple[float, float, float]) -> tuple[float, float]:
    return point[0], point[2]


def _housing(unit: UnitDrawn, outline: Outline, tongue: Tongue) -> Content:
    if unit.lens is None:
        spots = [z for _, z in unit.barrier]
        ends = (-outline.half, outline.half)
        lines = [Line(Part.BARRIER, ((ends[0], z), (ends[1], z))) for z in spots]
        labels = [
            Label(tongue.say("barrier", far=tongue.length(z)), (ends[1], z))
            for z in spots
        ]
        return Content(tuple(lines), labels=tuple(labels))
    x, _, z = unit.lens
    w, d = HOUSING[0] / 2, HOUSING[1] / 2
    inside = unit.side == "inside"
    part = Part.HOUSING_INSIDE if inside else Part.HOUSING_OUTSIDE
    name = f"{tongue.say('unit.named', fitting=unit.fitting)}, " + tongue.say(
        "lens", far=tongue.length(z)
    )
    return Content(
        (rect(part, x - w, x + w, z - d, z + d), Sign(Part.LENS, (x, z))),
        labels=(
            Label(
                name,
                (x - w if inside else x + w, z),
                narrow=tongue.say("lens", far=tongue.length(z)),
                prefer="left" if inside else "right",
                importance=2,
            ),
        ),
    )


def _heights(outline: Outline, pose: Pose | None, tongue: Tongue) -> Content:
    """Clear width and height; the height stands away from the body."""
    half, high = outline.half, outline.high
    wide = tongue.say("opening", far=tongue.length(2 * half))
    left = pose is not None and pose.x > 0
    post = -half if left else half
    height = Span(
        "v",
        (post, 0.0),
        (post, high),
        high,
        tongue.length(high),
        "left" if left else "right",
        post,
        importance=2,
    )
    width = Span(
        "u",
        (-half, 0.0),
        (half, 0.0),
        2 * half,
        wide,
        "below",
        0.0,
        lane=1,
        importance=2,
    )
    return Content(spans=(height, width))


def _body(outline: Outline, finding: Finding | None, tongue: Tongue) -> Content:
    pose = pose_of(finding)
    if pose is None or finding is None or finding.witness is None:
        return Content()
    body, mark = part_of(finding.verdict)
    xs = [x for x, _ in corners_of(pose)]
    post, end, far = along(finding.witness, pose, outline)
    right = pose.x < 0
    beside = max(xs) if right else min(xs)
    text = label_of(finding, pose, tongue)
    return Content(
        (
            rect(body, min(xs), max(xs), 0.0, pose.height),
            Sign(mark, (pose.x, pose.height / 2)),
        ),
        (
            Span(
                "u",
                (end, 0.0),
                (post, 0.0),
                abs(far),
                tongue.length(abs(far)),
                "below",
                0.0,
            ),
            Span(
                "v",
                (beside, 0.0),
                (beside, pose.height),
                pose.height,
                tongue.length(pose.height),
                "right" if right else "left",
                beside,
            ),
        ),
        (Label(text, (pose.x, pose.height), text, "above", 1),),
    )
