"""The further places at a door, as tests: where a body may be missed."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import degrees, inf, isfinite, radians

from limen.findings import Message
from limen.findings.message import length
from limen.physics.coverage.pose import Pose
from limen.physics.plan import Plan
from limen.physics.reach import FACES, Body
from limen.prove.guessing import Guess, guess
from limen.prove.minimum import LEAST_STILL, MINUTES, TOOLS, Step, minimum
from limen.prove.places import Spot
from limen.prove.setting_out import named, set_out
from limen.questions.asking import Asked

LETTERS = "ufe"
"""Upright, on its face, on its edge."""
HAIR = 5e-4
_NAMED = re.compile(r"place\.([ufe])(m?\d+)\.(m?\d+)\.(m?\d+)")


@dataclass(frozen=True, slots=True)
class Offered:
    """All tests of a doorway.

    Attributes:
        least: those that may never be skipped, in their order.
        guess: what may be wrong, and where the bodies of those tests and others
            would show it.
        places: the further places, by their number in the guess; none where no unit
            senses presence, for the leaves would strike the box.
    """

    least: tuple[Step, ...]
    guess: Guess
    places: Mapping[int, Step]


def offered(asked: Mapping[str, Asked]) -> Offered:
    """All tests of a doorway.

    Args:
        asked: what is put to the doorway, by question.
    """
    least = minimum(asked)
    placed = [(one.body, one.pose) for one in least if one.body and one.pose]
    found = guess(asked, placed)
    plan = next(iter(asked.values())).settled.plan
    places = further(found, len(placed), plan) if placed else {}
    return Offered(tuple(least), found, places)


def further(found: Guess, fixed: int, plan: Plan) -> dict[int, Step]:
    """The places of a guess after those that are tested anyway, by their number.

    Args:
        found: the guess of the doorway.
        fixed: how many of its places are tested anyway; none of them comes again.
        plan: of the doorway.
    """
    taken = {place_id(one.body, one.pose) for one in found.spots[:fixed]}
    made: dict[int, Step] = {}
    for number, spot in enumerate(found.spots[fixed:], fixed):
        name = place_id(spot.body, spot.pose)
        if name not in taken:
            taken.add(name)
            made[number] = _place(spot, plan)
    return made


def place_id(body: Body, pose: Pose) -> str:
    """A name of a place that is the same in every version of a doorway.

    Args:
        body: as it rests.
        pose: its middle (m) and turn (rad).
    """
    x, y = (_whole(1000 * value) for value in pose[:2])
    return f"place.{LETTERS[FACES.index(body.face)]}{x}.{y}.{_whole(degrees(pose[2]))}"


def place_named(name: str, faces: Sequence[Body], plan: Plan) -> Step | None:
    """The test of a place that its name spells out; None if it spells none.

    Args:
        name: as `place_id` makes it.
        faces: the reference body on its rest faces, upright first.
        plan: of the doorway.
    """
    found = _NAMED.fullmatch(name)
    if found is None or not faces:
        return None
    x, y, yaw = (float(one.replace("m", "-")) for one in found.groups()[1:])
    pose = (x / 1000, y / 1000, radians(yaw))
    return _place(Spot(faces[LETTERS.index(found[1])], pose, inf), plan)


def _whole(value: float) -> str:
    number = round(value)
    return f"m{-number}" if number < 0 else f"{number}"


def _place(spot: Spot, plan: Plan) -> Step:
    body, pose = spot.body, spot.pose
    where = {"place": set_out(body, pose, plan)}
    tall = body.face == "upright"
    return Step(
        id=place_id(body, pose),
        group="place",
        minutes=MINUTES["place"],
        title=named(body, pose, plan),
        says=Message("card_tests.box.says", where),
        why=_why(spot.room),
        body=body,
        pose=pose,
        tools=TOOLS if tall else TOOLS[:2],
        seconds=LEAST_STILL,
        minimum=False,
    )


def _why(room: float) -> Message:
    """What the model says of the place."""
    if not isfinite(room):
        return Message("card_tests.place.why.unknown")
    if room < HAIR:
        return Message("card_tests.place.why.missed")
    return Message("card_tests.place.why.room", {"room": length(room)})
