"""Where a box goes, from what a tape can touch: a post, the leaf face."""

from dataclasses import dataclass
from math import cos, pi, sin

from limen.findings import Message
from limen.findings.message import length, turn
from limen.model.doorway import Hand
from limen.model.people import Side
from limen.physics.coverage.pose import Pose
from limen.physics.plan import Plan
from limen.physics.reach import Body

HAIR = 5e-4
"""Less is not seen on a tape (m)."""
SQUARE = 1e-6


@dataclass(frozen=True, slots=True)
class Taped:
    """A place of a box, as it is taped.

    Attributes:
        post: the nearer post, seen from outside; None midway between them.
        far: from the post to the box's nearest point (m); negative past the post.
        side: the side to which it is set off the leaf line; None on the line.
        out: how far the box stands out from the leaf face there (m), negative where
            its outermost side is not as far out as the face.
    """

    post: Hand | None
    far: float
    side: Side | None
    out: float


def taped(body: Body, pose: Pose, plan: Plan) -> Taped:
    """How a box is taped.

    Args:
        body: as it rests.
        pose: its middle (m) and turn (rad).
        plan: of the doorway.
    """
    x, y, yaw = pose
    c, s = abs(cos(yaw)), abs(sin(yaw))
    long = (c * body.width + s * body.depth) / 2
    deep = (s * body.width + c * body.depth) / 2
    post: Hand | None = None if abs(x) < HAIR else ("right" if x > 0.0 else "left")
    side: Side | None = None if abs(y) < HAIR else ("outside" if y > 0.0 else "inside")
    face = plan.side(side or "outside").face
    return Taped(post, plan.half - abs(x) - long, side, abs(y) + deep - face)


def set_out(body: Body, pose: Pose, plan: Plan) -> Message:
    """Where the box goes and how it lies, in words.

    Args:
        body: as it rests.
        pose: its middle (m) and turn (rad).
        plan: of the doorway.
    """
    found = taped(body, pose, plan)
    said = {
        "face": body.face,
        "along": _along(found),
        "across": _across(found, abs(pose[1])),
        "turned": turned(pose[2]),
    }
    return Message("card_tests.place.where", said)


def named(body: Body, pose: Pose, plan: Plan) -> Message:
    """The same in a few words, as a title.

    Args:
        body: as it rests.
        pose: its middle (m) and turn (rad).
        plan: of the doorway.
    """
    found = taped(body, pose, plan)
    side = found.side or "line"
    said = {
        "along": _along(found, "short."),
        "face": body.face,
        "across": Message(f"card_tests.place.on.{side}"),
        "turned": turned(pose[2], "short"),
    }
    return Message("card_tests.place.title", said)


def turned(yaw: float, kind: str = "long") -> Message:
    """How a box is turned, within a quarter turn to either side (rad).

    Args:
        yaw: its turn; half a turn changes nothing.
        kind: long, or short for titles.
    """
    within = (yaw + pi / 2) % pi - pi / 2
    base = f"card_tests.turned.{kind}"
    if abs(within) < SQUARE:
        return Message(f"{base}.along")
    if abs(abs(within) - pi / 2) < SQUARE:
        return Message(f"{base}.across")
    way = "clockwise" if within > 0.0 else "anticlockwise"
    return Message(f"{base}.{way}", {"turn": turn(abs(within))})


def _along(found: Taped, short: str = "") -> Message:
    base = f"card_tests.along.{short}"
    said = {"far": length(abs(found.far))}
    if found.post is None:
        return Message(f"{base}middle", said)
    if abs(found.far) < HAIR:
        return Message(f"{base}at.{found.post}")
    past = "past." if found.far < 0.0 else ""
    return Message(f"{base}{past}{found.post}", said)


def _across(found: Taped, off: float) -> Message:
    if found.side is None:
        return Message("card_tests.across.line")
    if found.out < HAIR:
        return Message(f"card_tests.across.middle.{found.side}", {"off": length(off)})
    return Message(f"card_tests.across.{found.side}", {"out": length(found.out)})
