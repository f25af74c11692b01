"""Does the radar find people who come slowly?"""

from math import atan2

from limen.findings import (
    Finding,
    Measure,
    Message,
    Remedy,
    Role,
    Stroke,
    Verdict,
    Witness,
)
from limen.physics.plan import sign
from limen.physics.radar_zone import closing_speed
from limen.quantity import Dimension, Quantity, at_least, least
from limen.questions.approach_field import has_motion
from limen.questions.approach_side import (
    SIDES,
    SideField,
    assumed_of,
    drawn,
    side_field,
    side_said,
    told_of,
    without_field,
)
from limen.questions.approach_taken import NOTHING, Taken, least_speed_of
from limen.questions.asking import Asked, margin_of

NEAREST = 1.0  # m from the leaf face: a walk begins there or further out


def slow_walker(asked: Asked) -> tuple[Finding, ...]:
    """Does the radar find somebody who comes slowly?

    Somebody who walks at ``speed`` to the middle of the leaf face, from straight
    ahead or from either end of the opening, shows the radar only the part of their
    speed that leads along the line of sight.  Its greatest value within the field
    must be at least the least speed of the sheet.

    Args:
        asked: limits ``speed`` (m/s) and, where the rule names a body,
            ``body_height`` (m).

    Returns:
        One finding a side.  Margin: speed to spare (m/s).

    Source:
        v·y/R for a walk straight ahead; docs/method/radar.md.  Left out: what arms
        and legs add, and the response, which costs less than 50 mm at this speed.
    """
    if not has_motion(asked.doorway):
        return ()
    return tuple(_slow(asked, side_field(asked, side)) for side in SIDES)


def _slow(asked: Asked, field: SideField) -> Finding:
    out = without_field(asked, field, field.side)
    if out is not None:
        return out
    shown, slowest = _shown(asked, field), _slowest(field)
    needs = _least_speed(field, slowest)
    comparison = at_least(shown, needs)
    told = told_of(field, comparison, (*slowest.weak, *asked.weak_limits("speed")))
    speed = asked.rule.limit("speed").value
    said = {
        "side": side_said(field.side),
        "speed": Measure(speed, Dimension.SPEED),
        "shown": Measure(_printed(shown, told.verdict), Dimension.SPEED),
        "least": Measure(needs.value, Dimension.SPEED),
    }
    key = f"approach.slow.{told.key}"
    finds = Measure(shown.low if shown.low > 0 else shown.high, Dimension.SPEED)
    remedy = Remedy(Message("approach.remedy.slow", {"speed": finds}))
    fails = told.verdict is Verdict.FAILS
    start = _hardest(asked, field) if fails else None
    if shown.high <= 0:
        key, remedy = "approach.slow.no_field", Remedy(Message("approach.remedy.field"))
    return asked.answer(
        told.verdict,
        Message(key, said),
        case=field.side,
        margin=margin_of(comparison, Dimension.SPEED),
        needed=Message("approach.slow.needed", {"speed": said["speed"]}),
        lacking=told.lacking,
        to_confirm=told.to_confirm,
        remedy=remedy if fails else None,
        assumed=(*assumed_of(field), *slowest.assumed),
        witness=_witness(start, speed) if start else None,
        figures=(*drawn(field), *((_stroke(asked, field, start),) if start else ())),
    )


def _printed(shown: Quantity, verdict: Verdict) -> float:
    return shown.high if verdict is Verdict.FAILS else shown.low


def _shown(asked: Asked, field: SideField) -> Quantity:
    """The speed that somebody shows at the least, over three ways to come."""
    speed, starts = asked.rule.limit("speed").value, _starts(asked, field)
    low = min(closing_speed(z, start, speed) for z in field.inner for start in starts)
    high = max(
        min(closing_speed(zone, start, speed) for start in starts)
        for zone in field.outer
    )
    return field.between(low, speed if field.lacks else high)


def _starts(asked: Asked, field: SideField) -> list[tuple[float, float]]:
    """Where walks begin: along the opening, and from the leaf face (m)."""
    half = asked.settled.plan.half
    far = max(NEAREST, *(zone.farthest() for zone in field.inner))
    return [(x, far) for x in (0.0, -half, half)]


def _hardest(asked: Asked, field: SideField) -> tuple[float, float]:
    """The start of the walk that shows the least, to whole millimetres."""
    speed, zone = asked.rule.limit("speed").value, field.outer[0]
    x, out = min(
        _starts(asked, field), key=lambda start: closing_speed(zone, start, speed)
    )
    return round(x, 3), round(out, 3)


def _witness(start: tuple[float, float], speed: float) -> Witness:
    x, out = start
    printed = {"start_along": x, "start_out": out, "target_along": 0.0}
    more = {"heading": atan2(x, out), "speed": speed}
    return Witness("walk", printed=printed | more)


def _stroke(asked: Asked, field: SideField, start: tuple[float, float]) -> Stroke:
    face, way = asked.settled.plan.side(field.side).face, sign(field.side)
    x, out = start
    return Stroke(Role.WALK, ((x, way * (face + out)), (0.0, way * face)))


def _slowest(field: SideField) -> Taken:
    """What the least speeds of the radars rest on."""
    units = [facts.fitting.unit for facts in field.known]
    found = [least_speed_of(unit.motion)[1] for unit in units if unit and unit.motion]
    return sum(found, NOTHING)


def _least_speed(field: SideField, rests: Taken) -> Quantity:
    """The least speed of the least sensitive and of the most sensitive radar."""
    ends = [(f.inners[0].least_speed, f.outers[0].least_speed) for f in field.known]
    low, high = min(low for _, low in ends), max(high for high, _ in ends)
    return Quantity((low + high) / 2, (high - low) / 2, least(*rests.grades))
