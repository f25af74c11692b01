"""The test body where it was found, and its distances as a tape takes them."""

from math import cos, sin
from typing import Literal

from limen.draw.outline import Outline
from limen.draw.parts import Part
from limen.draw.phrases import Tongue
from limen.draw.scene import Point
from limen.findings import Finding, Pose, Study, Verdict, Witness

Hand = Literal["left", "right"]

STRAIGHT = 0.5 * 3.141592653589793 / 180  # rad: less is not worth saying


def corners_of(pose: Pose) -> tuple[Point, ...]:
    """The footprint's corners on the floor (x, y), turning from x towards y."""
    c, s = cos(pose.yaw), sin(pose.yaw)
    w, d = pose.width / 2, pose.depth / 2
    signs = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    return tuple(
        (pose.x + i * w * c - j * d * s, pose.y + i * w * s + j * d * c)
        for i, j in signs
    )


def part_of(verdict: Verdict) -> tuple[Part, Part]:
    """How the body and its sign are drawn under a verdict."""
    match verdict:
        case Verdict.FAILS:
            return Part.BODY_FAILS, Part.SIGN_FAILS
        case Verdict.HOLDS:
            return Part.BODY_HOLDS, Part.SIGN_HOLDS
        case Verdict.NOT_SHOWN | Verdict.NOT_ASKED:
            return Part.BODY_NOT_SHOWN, Part.SIGN_NOT_SHOWN


def pose_of(finding: Finding | None) -> Pose | None:
    """The body of a finding's witness, if it has one."""
    if finding is None or finding.witness is None:
        return None
    return finding.witness.pose


def dead_units(finding: Finding | None, study: Study) -> frozenset[str]:
    """The fittings that a finding takes to be dead, as its case says."""
    case = (finding.case or "") if finding else ""
    return frozenset(
        unit.fitting
        for unit in study.units
        if case == f"{unit.fitting} dead" or case.endswith(f", {unit.fitting} dead")
    )


def label_of(finding: Finding, pose: Pose, tongue: Tongue) -> str:
    """What stands beside the body."""
    face = tongue.say(f"face.{pose.face}")
    turned = _turned(finding.witness, pose)
    if abs(turned) < STRAIGHT:
        text = tongue.say("body", face=face)
    else:
        text = tongue.say("body.turned", face=face, turn=tongue.angle(turned))
    if finding.verdict is Verdict.NOT_SHOWN:
        text += "\n" + tongue.say("body.not shown")
    return text


def _turned(witness: Witness | None, pose: Pose) -> float:
    if witness is not None and "turned" in witness.printed:
        return witness.printed["turned"]
    return pose.yaw


def nearer_post(pose: Pose) -> Hand:
    """The post from which a body is taped; the left one where both are as near."""
    return "left" if pose.x <= 0 else "right"


def along(witness: Witness, pose: Pose, outline: Outline) -> tuple[float, float, float]:
    """The distance from the nearer post: (x of the post, x at the body, value).

    A printed distance is taken as it is; the line ends at that point of the body,
    middle or nearest corner, to which it was measured.
    """
    hand = nearer_post(pose)
    right = hand == "right"
    post = outline.half if right else -outline.half
    names = (f"centre_from_{hand}_post", f"from_{hand}_post")
    value = _printed(witness, names, abs(post - pose.x))
    nearest = [x for x, _ in corners_of(pose)]
    inward = -1.0 if right else 1.0
    ends = (pose.x, max(nearest) if right else min(nearest))
    return post, min(ends, key=lambda x: abs(post + inward * value - x)), value


def across(
    witness: Witness, pose: Pose, outline: Outline
) -> tuple[float, float, float]:
    """The distance across: (y it is taken from, y at the body, value).

    From the leaf face on the body's side where a tape can take it, else from the
    leaves' middle, as printed.
    """
    side = "outside" if pose.y >= 0 else "inside"
    out = 1.0 if pose.y >= 0 else -1.0
    if "from_leaf_face" not in witness.printed:
        names = ("centre_from_leaf_middle", "from_leaf_middle")
        value = abs(_printed(witness, names, abs(pose.y)))
        return 0.0, pose.y, value
    face, value = outline.face(side), witness.printed["from_leaf_face"]
    reached = [y for _, y in corners_of(pose)]
    ends = (pose.y, min(reached) if pose.y >= 0 else max(reached))
    return face, min(ends, key=lambda y: abs(face + out * value - y)), value


def _printed(witness: Witness, names: tuple[str, ...], measured: float) -> float:
    """The first of these distances that is printed, else as the pose has it."""
    for name in names:
        if name in witness.printed:
            return witness.printed[name]
    return measured
