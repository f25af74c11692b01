"""The further places at a door, as tests: where a body may be missed."""

from math import degrees, isfinite

from limen.findings import Message
from limen.findings.message import length
from limen.physics.coverage.pose import Pose
from limen.physics.plan import Plan
from limen.physics.reach import FACES, Body
from limen.prove.guessing import Guess
from limen.prove.minimum import LEAST_STILL, MINUTES, TOOLS, Step
from limen.prove.places import Spot
from limen.prove.setting_out import named, set_out

LETTERS = "ufe"
"""Upright, on its face, on its edge."""
HAIR = 5e-4


def further(guess: Guess, fixed: int, plan: Plan) -> dict[int, Step]:
    """The places of a guess after those that are tested anyway, by their number.

    Args:
        guess: of the doorway.
        fixed: how many of its places are tested anyway; none of them comes again.
        plan: of the doorway.
    """
    taken = {place_id(one.body, one.pose) for one in guess.spots[:fixed]}
    made: dict[int, Step] = {}
    for number, spot in enumerate(guess.spots[fixed:], fixed):
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
