"""The test body in the plan, dimensioned as a tape takes it."""

from limen.draw.bodies import (
    across,
    along,
    corners_of,
    label_of,
    nearer_post,
    part_of,
    pose_of,
)
from limen.draw.outline import Outline
from limen.draw.phrases import Tongue
from limen.draw.scene import Area, Content, Label, Sign, Span
from limen.findings import Finding, Pose, Witness

LEAST = 0.0005  # m: what would be written as nothing is not dimensioned


def body(
    finding: Finding | None, outline: Outline, below: float, tongue: Tongue
) -> Content:
    """The body of a finding's witness, its sign, its distances.

    Args:
        finding: the finding, if one is drawn.
        outline: the doorway.
        below: y beyond which dimensions find room, lower on the page (m).
        tongue: language and units of the words.
    """
    pose = pose_of(finding)
    if pose is None or finding is None or finding.witness is None:
        return Content()
    part, mark = part_of(finding.verdict)
    corners = corners_of(pose)
    top = min(corners, key=lambda corner: corner[1])
    text = label_of(finding, pose, tongue)
    return Content(
        (Area(part, corners), Sign(mark, (pose.x, pose.y))),
        _tapes(finding.witness, pose, outline, below, tongue),
        (Label(text, top, text, "above", 1),),
    )


def _tapes(
    witness: Witness, pose: Pose, outline: Outline, below: float, tongue: Tongue
) -> tuple[Span, ...]:
    """The body's place, from the nearer post and from the leaf."""
    post, end, far = along(witness, pose, outline)
    face, at, deep = across(witness, pose, outline)
    corners = corners_of(pose)
    low = max(y for _, y in corners)
    on_right = nearer_post(pose) == "left"  # the line stands on the side with more room
    base = (max if on_right else min)(x for x, _ in corners)
    lengthwise = Span(
        "u",
        (end, low),
        (post, outline.wall_out),
        abs(far),
        tongue.length(abs(far)),
        "below",
        below,
    )
    if abs(deep) < LEAST:
        return (lengthwise,)
    sideways = Span(
        "v",
        (base, face),
        (base, at),
        deep,
        tongue.length(deep),
        "right" if on_right else "left",
        base,
    )
    return lengthwise, sideways
