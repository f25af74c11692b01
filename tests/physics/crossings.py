"""The doors of the walking oracle as our own physics has them."""

from math import inf, isfinite

from limen.physics.beams import Attitude
from limen.physics.in_time import Approach
from limen.physics.in_time_edges import edges_of
from limen.physics.in_time_field import CORNERS, field_of
from limen.physics.leaf import Opening
from limen.physics.leaf_course import rest_to_rest
from limen.physics.radar import Contour, Lobe, Radar
from limen.physics.walking import Walker
from oracles.walks import Door


def radar_of(door: Door, out: float = 1.0) -> Radar:
    """The radar; an inside one is turned by half a turn."""
    return Radar(
        (0.0, out * door.out, door.height),
        Attitude(door.tilt, 0.0, 0.0, out < 0),
        (Contour(door.reach, Lobe(door.across, door.ahead)),),
        inner=True,
        least_speed=door.least,
        response=door.response,
        direction_aware=True,
    )


def opening_of(door: Door) -> Opening:
    """The opening, from closed."""
    stroke = 2 * door.half if door.hand else door.half
    course = rest_to_rest(stroke, door.leaf_speed, door.leaf_gain)
    return Opening(door.half, door.hand, door.delay, course)  # pyright: ignore[reportArgumentType]


def approach_of(door: Door, corners: int = CORNERS) -> Approach:
    """What decides, from outside."""
    field = field_of(radar_of(door), 1.0, door.looks_at, corners)
    return Approach(
        edges_of(opening_of(door), 1.0),
        (field,) if field else (),
        Walker(door.aside, door.deep),
        (-door.steepest, door.steepest),
        (-door.target, door.target),
        float(door.start) if isfinite(door.start) else inf,
    )
