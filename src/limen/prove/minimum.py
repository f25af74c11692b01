"""The tests that are never left out at a door, in their order.

Which of them a doorway has depends on what it is: where nothing is known of a fact,
the test is asked.  Minutes are estimates.  What is struck is a box, never a person.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import pi
from typing import Literal

from limen.findings import Measure, Message
from limen.findings.message import length, turn
from limen.model.doorway import Doorway, Hand
from limen.model.fitting import Fitting
from limen.model.people import Approach, Side
from limen.physics.coverage.pose import Pose, admissible
from limen.physics.plan import Plan
from limen.physics.reach import Body, Ground, on_path, rest_faces
from limen.prove.scoring import Tool
from limen.prove.setting_out import set_out
from limen.quantity import Dimension
from limen.questions.asking import Asked
from limen.questions.presence import BODY

Group = Literal["box", "closing", "plug", "still", "walk", "trailing", "power", "place"]
BOXES: tuple[Tool, ...] = ("body", "carton")
TOOLS: tuple[Tool, ...] = ("body", "carton", "leg")
STILL = 60.0
"""How long a body stands still where no figure says it (s): common practice, no
source."""
LEAST_STILL = 5.0
"""How long the box stands still at every other place (s): common practice, no
source."""
BEFORE = 0.1
"""How much wider than box and ignored gap it still is when the box is put in (m)."""
TEN = 0.01
MINUTES: Mapping[str, float] = {
    "box": 0.5,
    "lying": 0.7,
    "closing": 1.0,
    "plug": 1.5,
    "straight": 1.0,
    "wall": 1.5,
    "trailing": 1.0,
    "power": 3.0,
    "place": 0.75,
}
"""What each takes; estimates."""
NARROW = 80.0 * pi / 180.0
"""People who come from further aside than this come along the wall (rad)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One test at the door.

    Attributes:
        id: its name, the same for equal tests of every version of a doorway.
        group: what kind of test it is: what is likely wrong if it fails.
        minutes: what it takes; an estimate.
        title, says, why: what is done, where and how, and what it is for.
        body, pose: what is put down and where; None where nothing is.
        tools: with what it may be made.
        seconds: how long to wait and look; None where nothing is timed.
        fitting: the unit it is about, if it is about one.
        about: the side of the door or the end of its opening it is about, if any.
        minimum: whether it may never be left out.
    """

    id: str
    group: Group
    minutes: float
    title: Message
    says: Message
    why: Message
    body: Body | None = None
    pose: Pose | None = None
    tools: tuple[Tool, ...] = ()
    seconds: float | None = None
    fitting: str | None = None
    about: str = ""
    minimum: bool = True


def minimum(asked: Mapping[str, Asked]) -> tuple[Step, ...]:
    """The tests of a doorway that are never left out, in their order.

    Args:
        asked: what is put to the doorway, by question (`study.running.asked_of`).
    """
    one = next(iter(asked.values()))
    doorway = one.doorway
    return (
        *_with_body(asked, doorway, one.settled.ground),
        *(_plug(fitting) for fitting in doorway.fitting),
        *_still(asked, one.settled.ground),
        *_walks(doorway),
        *(_trailing(doorway, hand) for hand in _hands(doorway)),
        *_power(doorway),
    )


def bodies(asked: Mapping[str, Asked]) -> tuple[Body, ...]:
    """The reference body on each of its rest faces; none where no rule has one."""
    for one in asked.values():
        if all(one.rule.has(name) for name in BODY):
            return rest_faces(*(one.rule.limit(name).value for name in BODY))
    return ()


# With a body -----------------------------------------------------------------------


def _with_body(
    asked: Mapping[str, Asked], doorway: Doorway, ground: Ground
) -> Iterator[Step]:
    faces = bodies(asked)
    if not faces or not senses(doorway, "presence"):
        return
    upright, lying = faces[0], faces[1]
    plan = ground.plan
    edge = plan.half - upright.width / 2
    for name, x in (("left", -edge), ("middle", 0.0), ("right", edge)):
        yield _box(f"box.{name}", "box", upright, (x, 0.0, 0.0), plan)
    flat = _fitting_pose(lying, ground)
    if flat is not None:
        yield _box("box.lying", "lying", lying, flat, plan)
    yield _closing(doorway, upright, plan)


def _box(name: str, kind: str, body: Body, pose: Pose, plan: Plan) -> Step:
    return Step(
        id=name,
        group="box",
        minutes=MINUTES[kind],
        title=Message(f"card_tests.{name}.title"),
        says=Message("card_tests.box.says", {"place": set_out(body, pose, plan)}),
        why=Message(f"card_tests.{name}.why"),
        body=body,
        pose=pose,
        tools=BOXES,
        seconds=LEAST_STILL,
    )


def _fitting_pose(body: Body, ground: Ground) -> Pose | None:
    """In the middle, along the door; across it where the opening is too narrow."""
    asked = ground.problem((), on_path(ground.plan.leaf_path, body), body, exact=True)
    tried: tuple[Pose, ...] = ((0.0, 0.0, 0.0), (0.0, 0.0, pi / 2))
    return next((pose for pose in tried if admissible(asked, pose)), None)


def _closing(doorway: Doorway, body: Body, plan: Plan) -> Step:
    """Put in where the leaves meet, its shorter side along the opening."""
    ignored = doorway.presence_ignored_below
    gap = max(body.depth, ignored.high if ignored else 0.0) + BEFORE
    at = {None: 0.0, "left": plan.half, "right": -plan.half}[plan.hand]
    inward = -1.0 if at > 0.0 else 1.0
    pose = (at + (inward * body.depth / 2 if at else 0.0), 0.0, pi / 2)
    known = "known" if ignored else "unknown"
    said = {
        "gap": length(_up(gap)),
        "ignored": length(ignored.value if ignored else 0.0),
        "place": set_out(body, pose, plan),
    }
    none = ignored is not None and ignored.high <= 0.0
    return Step(
        id="box.closing",
        group="closing",
        minutes=MINUTES["closing"],
        title=Message("card_tests.box.closing.title"),
        says=Message("card_tests.box.closing.says", said),
        why=Message(f"card_tests.box.closing.why.{'never' if none else known}", said),
        body=body,
        pose=pose,
        tools=BOXES,
    )


def _up(metres: float) -> float:
    """To the next 10 mm."""
    return -(-round(metres / TEN, 6) // 1) * TEN


def _still(asked: Mapping[str, Asked], ground: Ground) -> Iterator[Step]:
    faces = bodies(asked)
    one = next(iter(asked.values()))
    if not faces or not senses(one.doorway, "presence"):
        return
    seconds, by = hold_of(asked)
    pose = (0.0, 0.0, 0.0)
    said = {
        "time": Measure(seconds, Dimension.TIME),
        "place": set_out(faces[0], pose, ground.plan),
    }
    yield Step(
        id="still",
        group="still",
        minutes=round(seconds / 60.0 + 0.5, 2),
        title=Message("card_tests.still.title", said),
        says=Message("card_tests.still.says", said),
        why=Message(f"card_tests.still.why.{by}", said),
        body=faces[0],
        pose=pose,
        tools=BOXES,
        seconds=seconds,
    )


def hold_of(asked: Mapping[str, Asked]) -> tuple[float, str]:
    """How long a body that keeps still is to be held (s), and who says so.

    Args:
        asked: what is put to the doorway, by question.

    Returns:
        The rulebook's figure; else the shortest that is set or that a sheet gives;
        else common practice.
    """
    rule = asked.get("presence.hold_time")
    if rule is not None and rule.rule.has("hold"):
        return rule.rule.limit("hold").value, "rule"
    doorway = next(iter(asked.values())).doorway
    held = [one for one in map(_held, doorway.fitting) if one is not None]
    return (min(held), "unit") if held else (STILL, "practice")


def _held(fitting: Fitting) -> float | None:
    presence = fitting.unit.presence if fitting.unit else None
    stated = fitting.settings.hold or (presence.learns_after if presence else None)
    return stated.value if stated else None


# Without one -----------------------------------------------------------------------


def senses(doorway: Doorway, sense: str, side: Side | None = None) -> bool:
    """Whether some unit has a sense, or may have it: its sheet is not known.

    Args:
        doorway: as described.
        sense: presence or motion; a light barrier counts as presence.
        side: only units on this side.
    """
    return any(
        _has(one, sense) for one in doorway.fitting if side is None or one.side == side
    )


def _has(fitting: Fitting, sense: str) -> bool:
    unit = fitting.unit
    if unit is None:
        return True
    if sense == "motion":
        return unit.motion is not None
    return unit.presence is not None or unit.barrier is not None


def _plug(fitting: Fitting) -> Step:
    said = {"fitting": fitting.id}
    presence = "presence" if _has(fitting, "presence") else "motion"
    return Step(
        id=f"plug.{fitting.id}"[:80],
        group="plug",
        minutes=MINUTES["plug"],
        title=Message("card_tests.plug.title", said),
        says=Message(f"card_tests.plug.says.{presence}", said),
        why=Message("card_tests.plug.why"),
        fitting=fitting.id,
    )


def _walks(doorway: Doorway) -> Iterator[Step]:
    """Of each side from which people come, and that has or may have a motion sense."""
    only = doorway.use.one_way
    sides: tuple[Side, ...] = ("outside", "inside")
    for side in sides:
        if only in (None, side) and senses(doorway, "motion", side):
            straight = Message("card_tests.walk.straight.says", {"side": side})
            yield _walk(side, "straight", straight)
            yield _walk(side, "wall", _aside(doorway, side))


def _walk(side: Side, kind: str, says: Message) -> Step:
    return Step(
        id=f"walk.{side}.{kind}",
        group="walk",
        minutes=MINUTES[kind],
        title=Message(f"card_tests.walk.{kind}.title", {"side": side}),
        says=says,
        why=Message(f"card_tests.walk.{kind}.why"),
        about=side,
    )


def _aside(doorway: Doorway, side: Side) -> Message:
    """Along the wall, or from as far aside as people come here."""
    ways = (one for one in doorway.approach if one.side == side)
    way = next(ways, None)
    if way is None or _along_wall(way):
        return Message("card_tests.walk.wall.says.wall", {"side": side})
    left, right = turn(way.from_left.value), turn(way.from_right.value)
    said = {"side": side, "left": left, "right": right}
    return Message("card_tests.walk.wall.says.aside", said)


def _along_wall(way: Approach) -> bool:
    return min(way.from_left.high, way.from_right.high) >= NARROW


def _hands(doorway: Doorway) -> tuple[Hand, ...]:
    """The ends of the opening into which a leaf opens."""
    hand = doorway.leaves.hand
    return ("left", "right") if hand is None else (hand,)


def _trailing(doorway: Doorway, hand: Hand) -> Step:
    spaces = (one for one in doorway.side_space if one.side == hand)
    space = next(spaces, None)
    kind = "guarded" if space and space.guarded else "open"
    said = {"end": Message(f"card_tests.end.{hand}")}
    return Step(
        id=f"trailing.{hand}",
        group="trailing",
        minutes=MINUTES["trailing"],
        title=Message("card_tests.trailing.title", said),
        says=Message(f"card_tests.trailing.says.{kind}", said),
        why=Message("card_tests.trailing.why"),
        about=hand,
        tools=BOXES if kind == "open" else (),
    )


def _power(doorway: Doorway) -> Iterator[Step]:
    """Where people escape or a battery moves the leaves, or where nobody has said."""
    loss, escape = doorway.power_loss, doorway.use.escape_route
    battery = loss is None or loss.by in (None, "battery")
    if escape is False and not battery:
        return
    does = loss.does if loss else "unknown"
    key = "escape" if escape else does
    yield Step(
        id="power",
        group="power",
        minutes=MINUTES["power"],
        title=Message("card_tests.power.title"),
        says=Message(f"card_tests.power.says.{key}"),
        why=Message("card_tests.power.why"),
    )
