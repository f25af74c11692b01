"""What a rule asks of the radar's field: how deep it is, and how wide."""

from limen.findings import (
    Change,
    Figure,
    Finding,
    Lack,
    Measure,
    Message,
    Polygon,
    Remedy,
    Role,
    Verdict,
)
from limen.findings.message import length, turn
from limen.geometry.boxes import Box
from limen.model.people import Side
from limen.physics.plan import sign
from limen.physics.radar_zone import least_half_width
from limen.quantity import (
    Comparison,
    Dimension,
    Outcome,
    Quantity,
    at_least,
    at_most,
    write,
)
from limen.questions.approach_field import has_motion
from limen.questions.approach_side import (
    SIDES,
    UNBOUNDED,
    SideField,
    assumed_of,
    depths,
    drawn,
    side_field,
    side_said,
    tilt_that_serves,
    told_of,
    without_field,
)
from limen.questions.asking import Asked, lack, lack_fact, margin_of, standing
from limen.rules.rule import Weight

ZONE = (
    "body_height",
    "depth",
    "escape_depth",
    "start",
    "width_near",
    "width_far",
    "edge_loss",
)
DAILY, ESCAPE = "depth", "escape_depth"


def minimum_zone(asked: Asked) -> tuple[Finding, ...]:
    """Is the field in which motion opens the door deep and wide enough?

    On the middle of the opening the inner field must reach at least ``depth`` from
    the leaf face (``escape_depth`` on the side of an escape route without
    break-out) and begin no further out than ``start``; where the rulebook has no such
    figure, within that depth.  ``width_near`` and ``width_far`` from the face it must
    be as wide as the clear opening, less ``edge_loss`` at each end.

    Args:
        asked: limits as above, and ``body_height`` where the rule names a body: it
            must then be in the field at the floor and at its middle (m).

    Returns:
        Two findings a side: the middle, and the width.  Margin: field to spare (m).
        *Holds* on what surely opens, *fails* on what may.

    Source:
        The rulebook's figures; docs/method/radar.md.  Left out: the least speed,
        what hides the radar, and whether its output opens the door.
    """
    if not has_motion(asked.doorway):
        return ()
    fields = [side_field(asked, side) for side in SIDES]
    return tuple(answer for field in fields for answer in _both(asked, field))


def _both(asked: Asked, field: SideField) -> tuple[Finding, Finding]:
    """The middle and the width, with one drawing of the field."""
    shape = drawn(field)
    return _middle(asked, field, shape), _width(asked, field, shape)


# The middle of the opening -------------------------------------------------------


def _middle(asked: Asked, field: SideField, shape: tuple[Figure, ...]) -> Finding:
    case = field.side
    out = without_field(asked, field, case)
    if out is not None:
        return out
    begins, ends = depths(field)
    name = _depth_name(asked, field.side, ends)
    limit = asked.rule.limit(name)
    deep = at_least(ends, limit)
    nearest = _start(asked, limit)
    near = at_most(begins, nearest)
    told = told_of(
        field, min((deep, near), key=standing), asked.weak_limits(name, "start")
    )
    late = standing(near) < standing(deep)
    said = {
        "side": side_said(field.side),
        "start": length(begins.high),
        "least": length(begins.low),
        "depth": length(ends.low),
        "most": length(ends.high),
        "limit": length(limit.value),
    }
    short = deep.outcome is Outcome.FAILS and near.outcome is not Outcome.FAILS
    if short and name == ESCAPE and not _surely_escape(asked, field.side):
        return _for_escape(asked, field, said, deep, shape)
    told_late = late and told.verdict is not Verdict.HOLDS
    topic = "start" if told_late else "zone"
    if told.verdict is Verdict.NOT_SHOWN and field.lacks:
        topic = "part"
    if topic == "start":
        said["limit"] = length(nearest.value)
    fails = told.verdict is Verdict.FAILS
    return asked.answer(
        told.verdict,
        Message(f"approach.{topic}.{told.key}", said),
        case=case,
        weight=Weight.MUST if name == ESCAPE else asked.rule.weight,
        margin=margin_of(near if late else deep, Dimension.LENGTH),
        needed=Message("approach.zone.needed", {"limit": length(limit.value)}),
        lacking=told.lacking,
        to_confirm=told.to_confirm,
        remedy=_remedy(asked, field, begins, ends, late=late) if fails else None,
        assumed=assumed_of(field),
        figures=(*shape, _asks(asked, field, limit)),
        owed=_owed(field, limit) if told.verdict is Verdict.HOLDS else (),
    )


def _depth_name(asked: Asked, side: Side, ends: Quantity) -> str:
    """The figure that counts: that of an escape route unless it surely is none.

    A field that is not deep enough for daily use is held against that.
    """
    use = asked.doorway.use
    elsewhere = bool(use.escape_from) and side not in use.escape_from
    if use.escape_route is False or use.breaks_out is True or elsewhere:
        return DAILY
    surely = _surely_escape(asked, side)
    daily = at_least(ends, asked.rule.limit(DAILY))
    return DAILY if not surely and daily.outcome is Outcome.FAILS else ESCAPE


def _surely_escape(asked: Asked, side: Side) -> bool:
    """Whether people surely escape from this side, and leaves do not break out."""
    use = asked.doorway.use
    known = use.escape_route is True and use.breaks_out is False
    return known and side in use.escape_from


def _for_escape(
    asked: Asked,
    field: SideField,
    said: dict[str, Measure | Message],
    deep: Comparison,
    shape: tuple[Figure, ...],
) -> Finding:
    use = asked.doorway.use
    lacking: list[Lack] = []
    if use.escape_route is None:
        lacking.append(lack_fact("escape_route"))
    if use.breaks_out is None:
        lacking.append(lack("approach.lack.breaks_out", "use.breaks_out"))
    if not use.escape_from:
        lacking.append(lack("approach.lack.escape_from", "use.escape_from"))
    return asked.answer(
        Verdict.NOT_SHOWN,
        Message("approach.zone.escape", dict(said)),
        case=field.side,
        weight=Weight.MUST,
        margin=margin_of(deep, Dimension.LENGTH),
        lacking=tuple(lacking),
        assumed=assumed_of(field),
        figures=(*shape, _asks(asked, field, asked.rule.limit(ESCAPE))),
    )


def _start(asked: Asked, depth: Quantity) -> Quantity:
    """Where the field must begin: at the figure for it, or at least within the zone."""
    return asked.rule.limit("start") if asked.rule.has("start") else depth


def _asks(asked: Asked, field: SideField, depth: Quantity) -> Polygon:
    """The zone that the rule asks for."""
    half = asked.settled.plan.half - asked.rule.limit("edge_loss").value
    begin = asked.rule.limit("start").value if asked.rule.has("start") else 0.0
    face, way = asked.settled.plan.side(field.side).face, sign(field.side)
    box = Box(-half, half, face + begin, face + depth.value)
    return Polygon(Role.ZONE, tuple((x, way * y) for x, y in box.corners()))


def _remedy(
    asked: Asked, field: SideField, begins: Quantity, ends: Quantity, *, late: bool
) -> Remedy:
    limit = asked.rule.limit(_depth_name(asked, field.side, ends))
    name = field.known[0].fitting.id
    found = tilt_that_serves(asked, field, lambda other: _serves(asked, other))
    if found is not None:
        fitting, tilt = found
        said = {"fitting": name, "tilt": turn(tilt.value), "limit": length(limit.value)}
        change = Change(fitting.id, "settings.radar_tilt", write(tilt, Dimension.ANGLE))
        return Remedy(Message("approach.remedy.tilt", said), (change,))
    if late:
        by = begins.low - _start(asked, limit).value
        return Remedy(_by("approach.remedy.nearer", name, by))
    by = limit.value - ends.low
    said = {"fitting": name, "by": length(by), "limit": length(limit.value)}
    return Remedy(Message("approach.remedy.further", said))


def _serves(asked: Asked, field: SideField) -> bool:
    """Whether a field surely begins and ends where the rule asks."""
    begins, ends = depths(field)
    limit = asked.rule.limit(_depth_name(asked, field.side, ends))
    return ends.low >= limit.value and begins.high <= _start(asked, limit).value


def _owed(field: SideField, limit: Quantity) -> tuple[Message, ...]:
    """The walk that shows it, where nobody has walked yet."""
    if all(facts.fitting.read.lit_ahead for facts in field.known):
        return ()
    said = {"side": side_said(field.side), "limit": length(limit.value)}
    return (Message("approach.owed.walk", said),)


# The width -----------------------------------------------------------------------


def _width(asked: Asked, field: SideField, shape: tuple[Figure, ...]) -> Finding:
    case = f"{field.side}, width"
    out = without_field(asked, field, case)
    if out is not None:
        return out
    limit = asked.rule.limit("edge_loss")
    places = [asked.rule.limit(name).value for name in ("width_near", "width_far")]
    lost = {at: _lost(asked, field, at) for at in places}
    worst = min(places, key=lambda at: standing(at_most(lost[at], limit)))
    comparison = at_most(lost[worst], limit)
    told = told_of(field, comparison, asked.weak_limits("edge_loss"))
    said = {
        "side": side_said(field.side),
        "near": length(places[0]),
        "far": length(places[1]),
        "out": length(worst),
        "short": length(lost[worst].low),
    }
    name = field.known[0].fitting.id
    remedy = Remedy(
        _by("approach.remedy.wider", name, comparison.u - comparison.margin)
    )
    return asked.answer(
        told.verdict,
        Message(f"approach.width.{told.key}", said),
        case=case,
        margin=margin_of(comparison, Dimension.LENGTH),
        needed=Message("approach.zone.needed_width", {"limit": length(limit.value)}),
        lacking=told.lacking,
        to_confirm=told.to_confirm,
        remedy=remedy if told.verdict is Verdict.FAILS else None,
        assumed=assumed_of(field),
        figures=shape,
    )


def _lost(asked: Asked, field: SideField, out: float) -> Quantity:
    """How much of the opening, at one end, the field leaves uncovered there."""
    half = asked.settled.plan.half
    surely = min(least_half_width(zone, out) for zone in field.inner)
    maybe = max(least_half_width(zone, out) for zone in field.outer)
    most = UNBOUNDED if field.lacks else max(maybe, surely)
    return field.between(half - most, half - surely)


def _by(key: str, fitting: str, by: float) -> Message:
    return Message(key, {"fitting": fitting, "by": length(by)})
