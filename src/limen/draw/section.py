"""The section across the door: the rows' beams, and the gap between them.

The eye looks along -x, to the left-hand post as it is named from outside: then the
outside is on the left of the sheet.
"""

from dataclasses import replace

from limen.draw.bodies import corners_of, dead_units, label_of, part_of, pose_of
from limen.draw.front import ABOVE, rect
from limen.draw.outline import Outline, sign
from limen.draw.parts import Part
from limen.draw.phrases import Tongue
from limen.draw.plan_units import unit_name
from limen.draw.scene import (
    Area,
    Content,
    Dots,
    Frame,
    Label,
    Line,
    Point,
    Sign,
    Span,
    points_of,
)
from limen.findings import BeamLine, Finding, Pose, Study, Target, UnitDrawn
from limen.model.doorway import Doorway

HOUSING = (0.08, 0.10)
GROUND = 6.0
BELOW = -0.06  # m under the floor, for dimensions and words
ASIDE = 0.75  # m shown on each side at least, for words beside the beams
CLOSE_ASIDE = 0.42
NAMED = 0.40  # m from the leaf at which the lowest detectable height is named
NAMED_CLOSE = 0.30
CLOSE_TOP = 0.95  # m of height shown on a narrow sheet


def section_content(
    study: Study,
    outline: Outline,
    finding: Finding | None,
    tongue: Tongue,
    targets: tuple[Target, ...],
) -> Content:
    """What the section shows."""
    content = _fixed(outline, stands=pose_of(finding) is not None)
    content += _lowest(study, pose_of(finding), tongue)
    dead = dead_units(finding, study)
    for unit in study.units:
        if unit.fitting in dead:
            content += _dead_beams(unit)
        else:
            content += _beams(unit, lowest_of(study.doorway, unit))
        content += _housing(unit, tongue, dead=unit.fitting in dead)
    for target in targets:
        content += _target(target, study, outline, tongue)
    content += _body(finding, tongue) + _gap(study, outline, dead, tongue)
    return _said_once(content)


def _said_once(content: Content) -> Content:
    """Units in line with the eye stand in one place: what is equal is said once."""
    spans = {(one.text, _about(one.start, one.end)): one for one in content.spans}
    labels = {(one.text, _about(one.at)): one for one in content.labels}
    return replace(content, spans=(*spans.values(),), labels=(*labels.values(),))


def _about(*points: Point) -> tuple[Point, ...]:
    return tuple((round(u, 3), round(v, 3)) for u, v in points)


def section_frames(
    content: Content, outline: Outline, finding: Finding | None
) -> tuple[Frame, Frame]:
    """What a wide and what a narrow sheet show of the section.

    The narrow one is the lower part with the innermost rows: that is where the
    section is read.
    """
    wide = Frame(-ASIDE, ASIDE, -0.06, outline.underside + ABOVE)
    for shape in content.shapes:
        if shape.part not in (Part.GROUND, Part.LOWEST):
            wide = wide.over(points_of(shape), 0.06)
    pose = pose_of(finding)
    top = max(CLOSE_TOP, pose.height + 0.3 if pose else 0.0)
    close = Frame(-CLOSE_ASIDE, CLOSE_ASIDE, -0.06, top)
    inner = inner_rows(content)
    close = close.over([(u, 0.0) for u in inner], 0.08)
    if pose:
        close = close.over([(-y, 0.0) for _, y in corners_of(pose)], 0.08)
    return wide._replace(bottom=BELOW), close._replace(bottom=BELOW)


def inner_rows(content: Content) -> tuple[float, ...]:
    """U of the points between which the gap is dimensioned."""
    return tuple(
        u
        for span in content.spans
        for u in (span.start[0], span.end[0])
        if span.along == "u"
    )


def across(y: float, z: float) -> Point:
    """A point of the doorway's frame on the sheet."""
    return -y, z


def lowest_of(door: Doorway, unit: UnitDrawn) -> float | None:
    """The lowest detectable height of a unit, where its sheet tells it."""
    for fitting in door.fitting:
        if fitting.id == unit.fitting and fitting.unit and fitting.unit.presence:
            lowest = fitting.unit.presence.lowest_height
            return None if lowest is None else lowest.value
    return None


def _leaf_part(outline: Outline, *, stands: bool) -> Part:
    """How the leaves are drawn.

    Where a body stands they are open.  The eye looks to the left, so that a leaf
    which opens to the left is seen beyond the body; of one that opens to the right,
    behind the eye, only the path is drawn.
    """
    if not stands:
        return Part.LEAF
    beyond = any(leaf.left < 0.0 for leaf in outline.leaves)
    return Part.LEAF_BEHIND if beyond else Part.LEAF_PATH


def _fixed(outline: Outline, *, stands: bool) -> Content:
    """Floor, header, leaves."""
    part = _leaf_part(outline, stands=stands)
    under = outline.underside
    header = rect(
        Part.HEADER, -outline.header_out, outline.header_in, under, under + ABOVE
    )
    planes = sorted({(leaf.near, leaf.far) for leaf in outline.leaves})
    leaves = tuple(rect(part, -far, -near, 0.0, under) for near, far in planes)
    ground = Line(Part.GROUND, ((-GROUND, 0.0), (GROUND, 0.0)))
    return Content((ground, header, *leaves))


def _lowest(study: Study, pose: Pose | None, tongue: Tongue) -> Content:
    """The lowest detectable height: one line, or one a side where they differ."""
    known = [(lowest_of(study.doorway, unit), unit.side) for unit in study.units]
    heights = {low: side for low, side in known if low}
    free = -1.0 if pose is not None and pose.y < 0 else 1.0
    content = Content()
    for low, side in sorted(heights.items()):
        alone = len(heights) == 1
        out = free if alone else -sign(side)
        ends = ((-GROUND if alone else 0.0, low), (out * GROUND, low))
        content += Content((Line(Part.LOWEST, ends),), labels=_low(low, out, tongue))
    return content


def _low(low: float, out: float, tongue: Tongue) -> tuple[Label, Label]:
    far = tongue.length(low)
    return (
        Label(
            tongue.say("lowest", far=far),
            (out * NAMED, low),
            prefer="above",
            importance=2,
            quiet=True,
        ),
        Label(
            "",
            (out * NAMED_CLOSE, low),
            tongue.say("lowest.short", far=far),
            "above",
            2,
            quiet=True,
        ),
    )


def _beams(unit: UnitDrawn, low: float | None) -> Content:
    """The middle beam of each row; weaker below the lowest detectable height."""
    content = Content()
    for row in unit.rows:
        beam = middle_beam(unit, row.row)
        if beam is None:
            continue
        content += _beam(beam, low)
        y = _landing(beam)
        light = Line(
            Part.LIGHT,
            (across(y - row.spots.radius, 0.0), across(y + row.spots.radius, 0.0)),
        )
        content += Content((light, Dots(Part.SPOT, (across(y, 0.0),), 0.0)))
    lines = tuple(Dots(Part.BARRIER, (across(y, z),), 0.0) for y, z in unit.barrier)
    return content + Content(lines)


def _dead_beams(unit: UnitDrawn) -> Content:
    beams = [middle_beam(unit, row.row) for row in unit.rows]
    return Content(
        tuple(
            Line(Part.DEAD, (across(*beam.start[1:]), across(*beam.end[1:])))
            for beam in beams
            if beam is not None
        )
    )


def _beam(beam: BeamLine, low: float | None) -> Content:
    start, end = (across(*point[1:]) for point in (beam.start, beam.end))
    if low is None or not end[1] < low < start[1]:
        return Content((Line(Part.BEAM, (start, end)),))
    share = (start[1] - low) / (start[1] - end[1])
    turn = (start[0] + share * (end[0] - start[0]), low)
    return Content((Line(Part.BEAM, (start, turn)), Line(Part.BEAM_LOW, (turn, end))))


def middle_beam(unit: UnitDrawn, row: int) -> BeamLine | None:
    """The beam of a row that lands nearest below the lens."""
    beams = [beam for beam in unit.beams if beam.row == row]
    return min(beams, key=lambda b: abs(b.end[0] - b.start[0]), default=None)


def _landing(beam: BeamLine) -> float:
    return beam.end[1]


def _housing(unit: UnitDrawn, tongue: Tongue, *, dead: bool) -> Content:
    if unit.lens is None:
        return Content()
    _, y, z = unit.lens
    u = -y
    w, d = HOUSING[0] / 2, HOUSING[1] / 2
    inside = unit.side == "inside"
    part = Part.HOUSING_INSIDE if inside else Part.HOUSING_OUTSIDE
    out = 1.0 if inside else -1.0
    text = unit_name(unit, tongue, dead=dead)
    edge = u + out * w
    return Content(
        (rect(part, u - w, u + w, z - d, z + d), Sign(Part.LENS, (u, z))),
        (
            Span(
                "v",
                (edge, 0.0),
                (edge, z),
                z,
                tongue.length(z),
                "right" if inside else "left",
                max(edge, ASIDE - 0.2) if inside else min(edge, -ASIDE + 0.2),
                importance=2,
            ),
        ),
        (Label(text, (edge, z), None, "right" if inside else "left", 2),),
    )


# What it is about -------------------------------------------------------------


def innermost(
    study: Study, side: str, dead: frozenset[str] = frozenset()
) -> tuple[float, UnitDrawn, int] | None:
    """The row that lands nearest to the leaf on a side: its distance and unit."""
    found = [
        (row.from_leaf, index, row.row)
        for index, unit in enumerate(study.units)
        if unit.side == side and unit.fitting not in dead
        for row in unit.rows
    ]
    if not found:
        return None
    far, index, row = min(found)
    return far, study.units[index], row


def gap_of(
    study: Study, outline: Outline, dead: frozenset[str] = frozenset()
) -> float | None:
    """How far apart the innermost rows of both sides land, in the middle (m)."""
    out, back = innermost(study, "outside", dead), innermost(study, "inside", dead)
    if out is None or back is None:
        return None
    return outline.from_face("outside", out[0]) - outline.from_face("inside", back[0])


def _gap(
    study: Study, outline: Outline, dead: frozenset[str], tongue: Tongue
) -> Content:
    spans: list[Span] = []
    places: list[float] = []
    for side in ("outside", "inside"):
        found = innermost(study, side, dead)
        if found is None:
            continue
        face = across(outline.face(side), 0.0)
        row = across(outline.from_face(side, found[0]), 0.0)
        places.append(row[0])
        spans.append(
            Span(
                "u",
                row,
                face,
                found[0],
                tongue.length(found[0]),
                "below",
                0.0,
                importance=2,
            )
        )
    gap = gap_of(study, outline, dead)
    if gap is not None:
        text = tongue.say("gap", far=tongue.length(gap))
        ends = tuple((u, 0.0) for u in sorted(places))
        spans.append(Span("u", ends[0], ends[1], gap, text, "below", 0.0, lane=1))
    return Content(spans=tuple(spans))


def _target(target: Target, study: Study, outline: Outline, tongue: Tongue) -> Content:
    sides = [u.side for u in study.units if u.fitting == target.fitting]
    if not sides:
        return Content()
    best, least, most = (
        -outline.from_face(sides[0], far)
        for far in (target.best, target.least, target.most)
    )
    face = -outline.face(sides[0])
    best_said = tongue.length(target.best)
    window = tongue.window(target.least, target.most)
    span = Span(
        "u",
        (best, 0.0),
        (face, 0.0),
        target.best,
        tongue.say("target", best=best_said, window=window),
        "below",
        0.0,
        2,
        narrow=tongue.say("target.short", best=best_said),
    )
    return Content(
        (
            Line(Part.TARGET, ((least, 0.0), (most, 0.0))),
            Sign(Part.SIGN_HOLDS, (best, 0.0)),
        ),
        (span,),
    )


def _body(finding: Finding | None, tongue: Tongue) -> Content:
    pose = pose_of(finding)
    if pose is None or finding is None:
        return Content()
    body, mark = part_of(finding.verdict)
    us = [-y for _, y in corners_of(pose)]
    corners = rect(body, min(us), max(us), 0.0, pose.height).corners
    text = label_of(finding, pose, tongue)
    return Content(
        (Area(body, corners), Sign(mark, (-pose.y, pose.height / 2))),
        labels=(Label(text, (max(us), pose.height), text, "right", 1),),
    )
