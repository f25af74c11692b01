"""What a sensor sheet may say, field by field, as a form asks and a page shows it.

A field goes by the way to it in the file: ``presence.tilt.least``.  In a list the
place stands in between, counted from 1: ``presence.rows.2.angle``.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from limen.quantity import Dimension

Kind = Literal["text", "quantity", "number", "choice", "yes_no", "several", "words"]


@dataclass(frozen=True, slots=True)
class Field:
    """One thing that a manual may say.

    Attributes:
        key: the way to it within its part or its list.
        kind: what is written there.
        drawing: the small drawing that says what is meant.
        dimension: what is measured, if it is a quantity.
        choices: what may be chosen.
        needed: whether its part cannot do without it.
    """

    key: str
    kind: Kind
    drawing: str
    dimension: Dimension | None = None
    choices: tuple[str, ...] = ()
    needed: bool = False


@dataclass(frozen=True, slots=True)
class Rows:
    """Things of which a sheet lists several.

    Attributes:
        key: the way to the list.
        fields: of each.
        most: how many at most.
        least: how many a form shows at least.
        named: whether each goes by a name instead of its place.
    """

    key: str
    fields: tuple[Field, ...]
    most: int
    least: int = 0
    named: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a sheet.

    Attributes:
        key: its name.
        items: its fields and lists, in the order in which they are asked.
        optional: whether a unit may be without it; ``has.<key>`` says so.
    """

    key: str
    items: tuple[Field | Rows, ...]
    optional: bool = False


def _measured(
    key: str, drawing: str, dimension: Dimension, *, needed: bool = False
) -> Field:
    return Field(key, "quantity", drawing, dimension, needed=needed)


def _length(key: str, drawing: str, *, needed: bool = False) -> Field:
    return _measured(key, drawing, Dimension.LENGTH, needed=needed)


def _angle(key: str, drawing: str, *, needed: bool = False) -> Field:
    return _measured(key, drawing, Dimension.ANGLE, needed=needed)


def _time(key: str, drawing: str) -> Field:
    return _measured(key, drawing, Dimension.TIME)


def _number(key: str, drawing: str, *, needed: bool = False) -> Field:
    return Field(key, "number", drawing, needed=needed)


def _yes_no(key: str, drawing: str) -> Field:
    return Field(key, "yes_no", drawing)


def _choice(key: str, drawing: str, *choices: str, needed: bool = False) -> Field:
    return Field(key, "choice", drawing, choices=choices, needed=needed)


UNIT = Part(
    "unit",
    (
        Field("name", "text", "name", needed=True),
        Field("note", "text", "note"),
        _time("service_pause", "pause"),
        Field("steadiness", "words", "steadiness"),
    ),
)
PRESENCE = Part(
    "presence",
    (
        Rows(
            "presence.rows",
            (
                _angle("angle", "row_angle", needed=True),
                _number("spots", "spots", needed=True),
                _yes_no("pauses_while_moving", "pauses"),
            ),
            most=12,
            least=1,
        ),
        _choice("presence.decides_by", "decides", "brightness", "distance"),
        _choice("presence.fan.form", "fan", "width", "angles", "unknown", needed=True),
        Rows(
            "presence.fan.choices",
            (Field("name", "text", "fan_name"), Field("value", "text", "fan")),
            most=6,
            least=1,
            named=True,
        ),
        _length("presence.fan.at_height", "fan_height"),
        _choice(
            "presence.fan.measured_to",
            "fan_ends",
            "spot centres",
            "light edges",
            "test body",
        ),
        _choice("presence.fan.spacing", "spacing", "equal on floor", "equal in angle"),
        _angle("presence.tilt.least", "tilt", needed=True),
        _angle("presence.tilt.most", "tilt", needed=True),
        _angle("presence.tilt.step", "step"),
        _angle("presence.spot_divergence", "divergence"),
        _angle("presence.angle_error", "angle_error"),
        _number("presence.spots_needed", "needed"),
        _length("presence.lowest_height", "lowest"),
        _time("presence.response", "response"),
        _time("presence.learns_after", "learns"),
        _number("presence.channels", "channels"),
        _measured("presence.contrast_least", "contrast", Dimension.RATIO),
    ),
    optional=True,
)
_PATCHES = (
    _number("columns", "patches"),
    _number("rows", "patches"),
    _length("spacing", "patch_spacing"),
)
MOTION = Part(
    "motion",
    (
        Field("motion.frequency", "text", "frequency"),
        _yes_no("motion.direction_aware", "direction"),
        _length("motion.field_depth", "field_depth"),
        _length("motion.field_width", "field_width"),
        _length("motion.at_height", "field_height"),
        _angle("motion.at_tilt", "field_tilt"),
        _choice("motion.field_for", "field_for", "adult", "child", "test body"),
        _measured("motion.spread", "spread", Dimension.RATIO),
        _measured("motion.least_speed", "speed", Dimension.SPEED),
        _choice("motion.reach_law", "reach", "field", "power"),
        _angle("motion.tilt.least", "radar_tilt"),
        _angle("motion.tilt.most", "radar_tilt"),
        _angle("motion.tilt.step", "step"),
        _angle("motion.yaw.least", "radar_yaw"),
        _angle("motion.yaw.most", "radar_yaw"),
        _angle("motion.yaw.step", "step"),
        _time("motion.response", "response"),
        *(
            Field(f"motion.patches.{one.key}", one.kind, one.drawing, one.dimension)
            for one in _PATCHES
        ),
        _angle("motion.lobe.across", "lobe_across"),
        _angle("motion.lobe.ahead", "lobe_ahead"),
        Rows(
            "motion.arrays",
            (Field("name", "text", "fan_name"), *_PATCHES),
            most=6,
            named=True,
        ),
    ),
    optional=True,
)
BARRIER = Part(
    "barrier",
    (_time("barrier.response", "response"), _yes_no("barrier.monitored", "monitored")),
    optional=True,
)
OUTPUTS = Part(
    "outputs",
    (
        Rows(
            "outputs",
            (
                _choice(
                    "signals",
                    "signals",
                    "opening",
                    "presence",
                    "escape opening",
                    needed=True,
                ),
                _choice(
                    "kind",
                    "output_kind",
                    "relay",
                    "semiconductor",
                    "frequency",
                    "current",
                ),
                _choice("normal_state", "normal", "open", "closed", "live", "dead"),
                _yes_no("monitored", "monitored"),
                _yes_no("test_input", "test_input"),
            ),
            most=6,
            least=1,
        ),
    ),
)
_HOLE = (
    _length("along", "hole_along"),
    _length("up", "hole_up"),
    _length("diameter", "hole_width"),
)
MOUNTING = Part(
    "mounting",
    (
        _length("mounting.least_height", "mount_height"),
        _length("mounting.most_height", "mount_height"),
        Field(
            "mounting.places",
            "several",
            "places",
            choices=("header face", "underside", "ceiling", "beside"),
        ),
        _yes_no("mounting.lens_known", "lens_known"),
        _length("mounting.edge", "edge"),
        _length("mounting.width", "housing_width"),
        _length("mounting.tall", "housing_tall"),
        Rows("mounting.holes", _HOLE, most=12),
        *(
            Field(
                f"mounting.cable_hole.{one.key}",
                one.kind,
                f"cable_{one.drawing}",
                one.dimension,
            )
            for one in _HOLE
        ),
    ),
)
SUPPLY = Part(
    "supply",
    (
        _measured("supply.least", "voltage", Dimension.VOLTAGE),
        _measured("supply.most", "voltage", Dimension.VOLTAGE),
        _measured("supply.current", "current", Dimension.CURRENT),
        _measured("supply.power", "power", Dimension.POWER),
        _yes_no("supply.alternating", "alternating"),
    ),
)
ENVIRONMENT = Part(
    "environment",
    (
        _yes_no("environment.outdoors", "outdoors"),
        Field("environment.sealing", "text", "sealing"),
        _measured("environment.coldest", "cold", Dimension.TEMPERATURE),
        _measured("environment.hottest", "hot", Dimension.TEMPERATURE),
    ),
)
PARTS = (UNIT, PRESENCE, MOTION, BARRIER, OUTPUTS, MOUNTING, SUPPLY, ENVIRONMENT)
LISTS: Mapping[str, Rows] = {
    one.key: one for part in PARTS for one in part.items if isinstance(one, Rows)
}
SENSES = tuple(part.key for part in PARTS if part.optional)


def fields_of(part: Part, counts: Mapping[str, int]) -> Iterator[tuple[str, Field]]:
    """Every field of a part with its whole key, lists as long as they are.

    Args:
        part: the part.
        counts: how many each list holds.
    """
    for item in part.items:
        if isinstance(item, Field):
            yield item.key, item
            continue
        for number in range(1, counts.get(item.key, 0) + 1):
            for one in item.fields:
                yield f"{item.key}.{number}.{one.key}", one
