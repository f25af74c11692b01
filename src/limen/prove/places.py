"""Where at a door a body can be put to the test, and how it lies there.

Places are such that one can set them out: whole steps from the nearer post, the body
along the door, across it or turned by half a right angle.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import cos, inf, pi, sin

import numpy as np

from limen.geometry.turns import Array
from limen.physics.coverage.pose import Pose, admissible
from limen.physics.plan import Plan
from limen.physics.reach import FACES, Body, Ground
from limen.prove.casting import Flags
from limen.questions.coverage import Case

ALONG = 0.1
"""How far apart places are along the opening (m)."""
TURNS = (0.0, pi / 2, pi / 4, -pi / 4)
OTHER_TURN, OTHER_FACE = 0.05, 0.03
"""How far another turn or another face count as (m)."""
FAR = 10.0
ALIKE = 0.97
"""Places that tell this share of the most tell about as much."""
AGAIN = 0.1
"""What a way in which a body is missed counts for once a place was chosen for it."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A place for the body.

    Attributes:
        body: as it rests there.
        pose: its middle (m) and turn (rad).
        room: by how much the body could be smaller on every side and still be
            reached as planned (m); below 0 where it is missed, minus infinity where no
            unit's beams are known or enough.
    """

    body: Body
    pose: Pose
    room: float


def candidates(cases: Sequence[Case], ground: Ground) -> tuple[Spot, ...]:
    """Every place that can be set out: on the leaf line and on either side of it.

    How much room there is is not asked yet.

    Args:
        cases: what is asked of the body.
        ground: the floor and what stands in the way.
    """
    each = {case.body: case for case in reversed(cases)}
    return tuple(
        Spot(body, pose, -inf)
        for body, case in reversed(each.items())
        for pose in _poses(case, ground)
    )


def _poses(case: Case, ground: Ground) -> Iterator[Pose]:
    """Poses in which the body stands clear of walls and meets the leaf path."""
    asked = ground.problem((), case.place, case.body, exact=True)
    for turn in TURNS:
        c, s = abs(cos(turn)), abs(sin(turn))
        long = c * case.body.width + s * case.body.depth
        deep = s * case.body.width + c * case.body.depth
        for x in _along(ground.plan, long):
            for y in (0.0, deep / 4, -deep / 4, deep / 2, -deep / 2):
                if admissible(asked, (x, y, turn)):
                    yield (x, y, turn)


def _along(plan: Plan, long: float) -> Iterator[float]:
    """Middles of a body, in whole steps from the nearer post."""
    room = plan.half - long / 2
    if room < 0.0:
        return
    close = long / 2
    steps = int(room / ALONG) + 1
    for post, way in ((-plan.half, 1.0), (plan.half, -1.0)):
        for step in range(steps):
            x = post + way * (close + step * ALONG)
            if abs(x) > ALONG / 4:
                yield round(x, 6)
    yield 0.0


def chosen(
    spots: Sequence[Spot], missed: Flags, weights: Array, most: int
) -> list[int]:
    """Places that together show most of what may be wrong, the most telling first.

    Of places that tell about as much, that which is farthest from those chosen
    already; of those, that with the least room.

    Args:
        spots: where the body can be put.
        missed: (spots, n) whether it is missed there in each way with a hole.
        weights: (n,) how likely each of these ways is.
        most: how many places at most.

    Returns:
        Numbers of places.
    """
    left, found = weights.copy(), list[int]()
    room = np.array([spot.room for spot in spots])
    far, laid = np.full(len(spots), FAR), _laid(spots)
    while len(found) < min(most, len(spots)):
        gain = missed @ left
        gain[found] = -1.0
        best = float(gain.max())
        if best <= 0.0:
            break
        alike = np.flatnonzero(gain >= ALIKE * best)
        number = int(alike[np.lexsort((room[alike], -far[alike]))[0]])
        found.append(number)
        left[missed[number]] *= AGAIN
        far = np.minimum(far, np.linalg.norm(laid - laid[number], axis=1))
    return found


def topped_up(pick: Sequence[int], spots: Sequence[Spot], least: int) -> list[int]:
    """The places picked, and others spread over the opening until there are enough.

    Each further one is the upright body on the leaf line, along the door, as far as
    possible from those that are there already.

    Args:
        pick: numbers of places.
        spots: where the body can be put.
        least: how many there are to be.
    """
    found = list(pick)
    far, laid = np.full(len(spots), FAR), _laid(spots)
    for number in found:
        far = np.minimum(far, np.linalg.norm(laid - laid[number], axis=1))
    plain = [n for n, spot in enumerate(spots) if _plain(spot)]
    while plain and len(found) < least:
        number = max(plain, key=lambda n: float(far[n]))
        if far[number] < ALONG / 2:
            break
        found.append(number)
        far = np.minimum(far, np.linalg.norm(laid - laid[number], axis=1))
    return found


def _plain(spot: Spot) -> bool:
    return spot.body.face == "upright" and spot.pose[1:] == (0.0, 0.0)


def _laid(spots: Sequence[Spot]) -> Array:
    """(spots, 5) each place as a point: those that are alike lie close together."""
    faces = [FACES.index(spot.body.face) for spot in spots]
    at = np.array([spot.pose for spot in spots]).reshape(-1, 3)
    turn = OTHER_TURN / 2 * np.stack([np.cos(2 * at[:, 2]), np.sin(2 * at[:, 2])])
    return np.column_stack([at[:, :2], *turn, OTHER_FACE * np.array(faces)])
