"""Settle every figure of a doorway's units: stated, or assumed and listed.

Nothing is assumed in silence.  What the tape must still bring about (how
closely a row is read) is not an assumption about the door but a condition on
the work; it is listed all the same, and owed.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import product
from math import radians

from limen.findings import Assumed, Lack, Measure, Message
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.sheet import FanByWidth, FanUnknown, Presence
from limen.model.taken import taken_for
from limen.physics.beams import Attitude
from limen.physics.fans import FanReading, fan_doubt, readings
from limen.physics.plan import Doubt, Plan, doubt_of, plan_of, sign
from limen.physics.reach import Ground, Level, Placed, Unit, tilt_at
from limen.physics.tolerance import Errors
from limen.quantity import Dimension, Grade, Quantity

PRACTICE = Grade.PRACTICE
Named = tuple[str, Quantity]
"""A figure with the key of the file under which it stands."""
ASSUMED: dict[str, tuple[Quantity, Dimension]] = {
    "floor.evenness": (Quantity(0.005, grade=PRACTICE), Dimension.LENGTH),
    "leaves.sway": (Quantity(0.005, grade=PRACTICE), Dimension.LENGTH),
    "aim.across": (Quantity(0.005, grade=PRACTICE), Dimension.LENGTH),
    "aim.along": (Quantity(0.015, grade=PRACTICE), Dimension.LENGTH),
    "aim.turn": (Quantity(radians(0.2), grade=PRACTICE), Dimension.ANGLE),
    "lens.along": (Quantity(0.0, 0.02, PRACTICE), Dimension.LENGTH),
    "lens.taped": (Quantity(0.005, grade=PRACTICE), Dimension.LENGTH),
    "lens.housing": (Quantity(0.02, grade=PRACTICE), Dimension.LENGTH),
    "sheet.angle_error": (Quantity(radians(0.1), grade=PRACTICE), Dimension.ANGLE),
}
LENS_TAPED = ASSUMED["lens.taped"][0].value
ENDS_READ = 0.005  # m, how closely a row's end is read where nothing is said
NEEDED_UNKNOWN = 2


@dataclass(frozen=True, slots=True)
class UnitFacts:
    """One presence unit or barrier of the doorway, settled.

    Attributes:
        fitting: as described.
        choices: the unit under each reading of its manual; empty if something
            that the geometry needs is unknown.
        assumed: what was taken though nobody stated it.
        lacks: what keeps the unit out of the geometry.
        figures: what the geometry rests on, by the keys of the file.
    """

    fitting: Fitting
    choices: tuple[Unit, ...]
    assumed: tuple[Assumed, ...]
    lacks: tuple[Lack, ...]
    figures: tuple[Named, ...]

    @property
    def grades(self) -> tuple[Grade, ...]:
        """Grades of what the geometry rests on."""
        return tuple(figure.grade for _, figure in self.figures)


@dataclass(frozen=True, slots=True)
class Settled:
    """A doorway ready for geometry.

    Attributes:
        ground: its plan and floor.
        units: its presence units and barriers.
        assumed: what was taken for the doorway itself.
        figures: the doorway's own, by the keys of the file.
    """

    ground: Ground
    units: tuple[UnitFacts, ...]
    assumed: tuple[Assumed, ...]
    figures: tuple[Named, ...]

    @property
    def grades(self) -> tuple[Grade, ...]:
        """Grades of the doorway's own figures."""
        return tuple(figure.grade for _, figure in self.figures)

    @property
    def plan(self) -> Plan:
        """What stands where."""
        return self.ground.plan

    def all_assumed(self) -> tuple[Assumed, ...]:
        """Everything taken though nobody stated it."""
        return (*self.assumed, *(a for unit in self.units for a in unit.assumed))

    def all_grades(self) -> tuple[Grade, ...]:
        """Grades of everything the geometry rests on."""
        return tuple(figure.grade for _, figure in self.all_figures())

    def all_figures(self) -> tuple[Named, ...]:
        """Everything the geometry rests on, by the keys of the file."""
        return (*self.figures, *(f for unit in self.units for f in unit.figures))

    def all_lacks(self) -> tuple[Lack, ...]:
        """What keeps units out of the geometry."""
        return tuple(item for unit in self.units for item in unit.lacks)

    def ways(self) -> tuple[tuple[Unit, ...], ...]:
        """The units under every reading of their manuals.

        Units of one sheet share its reading; sheets are read independently.  A unit
        whose row ends were read shares the spacing, which runs innermost.
        """
        known = [unit for unit in self.units if unit.choices]
        sheets = list(dict.fromkeys(unit.fitting.sheet for unit in known))
        counts = [
            max(len(u.choices) for u in known if u.fitting.sheet == sheet)
            for sheet in sheets
        ]
        combinations = product(*(range(count) for count in counts))
        return tuple(
            tuple(
                unit.choices[pick[sheets.index(unit.fitting.sheet)] % len(unit.choices)]
                for unit in known
            )
            for pick in combinations
        )


def aimed_closer(units: Iterable[Unit]) -> tuple[Lack, ...]:
    """How closely each unit is aimed: what aiming leaves open may settle it."""
    return tuple(
        Lack(
            Message("lack.aim", {"unit": Message("unit.own", {"fitting": name})}),
            f"fitting[{name}].aim",
        )
        for unit in units
        if isinstance(unit, Placed)
        for name in (unit.fitting,)
    )


def settle(doorway: Doorway) -> Settled:
    """Settle a doorway.

    Args:
        doorway: as described, sheets hung on its fittings.
    """
    listed: list[Assumed] = []
    evenness = _stated(doorway.floor.evenness, "floor.evenness", listed)
    sway = _stated(doorway.leaves.sway, "leaves.sway", listed)
    plan = plan_of(doorway, sway.high)
    own = (("floor.evenness", evenness), ("leaves.sway", sway))
    figures = (*own, *_plan_figures(doorway))
    listed += _taken(doorway)
    doubt = doubt_of(doorway)
    units = tuple(
        facts
        for fitting in doorway.fitting
        if (facts := _unit(fitting, plan, doubt)) is not None
    )
    return Settled(
        Ground(plan, evenness.high, doubt),
        units,
        tuple(listed),
        figures,
    )


def _taken(doorway: Doorway) -> list[Assumed]:
    """What was taken for a doorway that is described in short."""
    return [
        Assumed(
            key,
            Measure(value.value, Dimension.LENGTH),
            value.grade,
            Message(f"assumed.short.{key}"),
        )
        for key, value in taken_for(doorway)
    ]


def _plan_figures(doorway: Doorway) -> tuple[Named, ...]:
    """Every figure from which the plan is made."""
    header, reveal, leaves = doorway.header, doorway.reveal, doorway.leaves
    return (
        ("clear_width", doorway.clear_width),
        ("leaves.thickness", leaves.thickness),
        *(("leaves.planes", plane) for plane in leaves.planes),
        ("header.underside", header.underside)
        if header.underside
        else ("clear_height", doorway.clear_height),
        ("header.outside", header.outside),
        ("header.inside", header.inside),
        ("reveal.outside", reveal.outside),
        ("reveal.inside", reveal.inside),
    )


def _stated(
    value: Quantity | None, name: str, listed: list[Assumed], prefix: str = ""
) -> Quantity:
    """The stated value, or the assumed one, listed."""
    if value is not None:
        return value
    taken, dimension = ASSUMED[name]
    why = Message(f"assumed.{name}")
    shown = Measure(taken.value, dimension)
    listed.append(Assumed(prefix + name, shown, taken.grade, why))
    return taken


def _unit(fitting: Fitting, plan: Plan, doubt: Doubt) -> UnitFacts | None:
    sheet = fitting.unit
    if sheet is None:
        where = f"fitting[{fitting.id}].sheet"
        missing = Lack(Message("lack.sheet", {"fitting": fitting.id}), where)
        return UnitFacts(fitting, (), (), (missing,), ())
    if sheet.barrier is not None and sheet.presence is None:
        return _barrier(fitting, plan, doubt)
    if sheet.presence is None:
        return None
    return _curtains(fitting, sheet.presence, plan, doubt)


def _barrier(fitting: Fitting, plan: Plan, doubt: Doubt) -> UnitFacts:
    face, way = plan.side(fitting.side).face, sign(fitting.side)
    beams = tuple(
        (way * (face + beam.from_leaf.value), beam.height.value)
        for beam in fitting.beams
    )
    key = f"fitting[{fitting.id}].beams"
    given = (q for beam in fitting.beams for q in (beam.height, beam.from_leaf))
    figures = tuple((key, q) for q in given)
    across = max((beam.from_leaf.u for beam in fitting.beams), default=0.0)
    height = max((beam.height.u for beam in fitting.beams), default=0.0)
    level = Level(fitting.id, beams, across + doubt.across, height)
    return UnitFacts(fitting, (level,), (), (), figures)


def _curtains(
    fitting: Fitting, presence: Presence, plan: Plan, doubt: Doubt
) -> UnitFacts:
    listed: list[Assumed] = []
    lens = fitting.lens
    name = f"fitting[{fitting.id}]."
    if lens is None:
        missing = Lack(Message("lack.lens", {"fitting": fitting.id}), name + "lens")
        return UnitFacts(fitting, (), (), (missing,), ())
    along = _stated(lens.along, "lens.along", listed, name)
    side, way = plan.side(fitting.side), sign(fitting.side)
    at = (along.value, way * (side.face + lens.from_leaf.value), lens.height.value)
    attitude = _attitude(fitting, presence, side.face, at)
    if attitude is None:
        where = name + "read.first_row"
        missing = Lack(Message("lack.first_row", {"fitting": fitting.id}), where)
        return UnitFacts(fitting, (), tuple(listed), (missing,), ())
    fans = readings(
        presence,
        fitting.settings.fan,
        fitting.read,
        lens=at,
        attitude=attitude,
    )
    lacks = _fan_lacks(fitting, presence, fans)
    if lacks:
        return UnitFacts(fitting, (), tuple(listed), lacks, ())
    errors = _errors(fitting, presence, along, listed)
    errors = _with_faces(errors, doubt)
    placed = tuple(
        _placed(fitting, presence, at, attitude, fan, errors, listed) for fan in fans
    )
    figures = (
        (name + "lens.from_leaf", lens.from_leaf),
        (name + "lens.height", lens.height),
        (name + "lens.along", along),
        *_figures(fitting, presence),
    )
    once = tuple({item.key: item for item in listed}.values())
    return UnitFacts(fitting, placed, once, (), figures)


def _fan_lacks(
    fitting: Fitting, presence: Presence, fans: tuple[FanReading, ...]
) -> tuple[Lack, ...]:
    """What is missing of the fan: its choice, its row ends, or its light's width."""
    name, fan = f"fitting[{fitting.id}].", presence.fan
    said = {"fitting": fitting.id}
    if not fans and not isinstance(fan, FanUnknown):
        return (Lack(Message("lack.fan", said), name + "settings.fan"),)
    if not fans:
        return row_ends(fitting, "lack.row_ends")
    by_width = any(way.measured_to == "light edges" for way in fans)
    if by_width and presence.spot_divergence is None:
        return (Lack(Message("lack.divergence"), "sheet.presence.spot_divergence"),)
    return ()


def row_ends(fitting: Fitting, key: str) -> tuple[Lack, ...]:
    """Both ends of a unit's first row, as far as nobody read them."""
    read = fitting.read
    ends = (("left_end", read.left_end), ("right_end", read.right_end))
    return tuple(
        Lack(Message(key, {"fitting": fitting.id}), f"fitting[{fitting.id}].read.{end}")
        for end, value in ends
        if value is None
    )


def _figures(fitting: Fitting, presence: Presence) -> Iterator[Named]:
    """What fixes where the rows are, and how closely, by the keys of the file."""
    name, sheet = f"fitting[{fitting.id}].", "sheet.presence."
    read, settings, aim = fitting.read, fitting.settings, fitting.aim
    tilt = ("settings.tilt", settings.tilt)
    at_door = (
        ("read.left_end", read.left_end),
        ("read.right_end", read.right_end),
        ("settings.roll", settings.roll),
        ("settings.yaw", settings.yaw),
        ("read.first_row", read.first_row) if read.first_row else tilt,
        ("aim.across", aim.across),
        ("aim.along", aim.along),
        ("aim.turn", aim.turn),
    )
    on_paper = (
        ("angle_error", presence.angle_error),
        ("spot_divergence", presence.spot_divergence),
        ("lowest_height", _lowest(presence)),
        *(("rows.angle", row.angle) for row in presence.rows),
        *_fan_figures(fitting, presence),
    )
    yield from ((name + key, q) for key, q in at_door if q is not None)
    yield from ((sheet + key, q) for key, q in on_paper if q is not None)


def _fan_figures(fitting: Fitting, presence: Presence) -> Iterator[Named]:
    """The manual's figures of the fan, where no row ends were read instead."""
    fan, read = presence.fan, fitting.read
    if isinstance(fan, FanUnknown) or None not in (read.left_end, read.right_end):
        return
    for width in fan.choices.values():
        yield "fan.choices", width
    if isinstance(fan, FanByWidth):
        yield "fan.at_height", fan.at_height


def _lowest(presence: Presence) -> Quantity | None:
    """The lowest height at which the unit detects; unknown if only estimated."""
    stated = presence.lowest_height
    return stated if stated is not None and stated.grade.may_hold else None


def _attitude(
    fitting: Fitting, presence: Presence, face: float, at: tuple[float, float, float]
) -> Attitude | None:
    """How the unit is turned; a first row read on the floor beats the scale."""
    settings = fitting.settings
    roll = settings.roll.value if settings.roll else 0.0
    yaw = settings.yaw.value if settings.yaw else 0.0
    turned = fitting.side == "inside"
    read = fitting.read.first_row
    if read is not None:
        run = read.value + face - sign(fitting.side) * at[1]
        tilt = tilt_at(run, at[2], presence.rows[0].angle.value)
        return Attitude(tilt, roll, yaw, turned)
    if settings.tilt is None:
        return None
    return Attitude(settings.tilt.value, roll, yaw, turned)


def _errors(
    fitting: Fitting, presence: Presence, along: Quantity, listed: list[Assumed]
) -> Errors:
    """What may be off after aiming: the rows as read, the lens as taped."""
    name = f"fitting[{fitting.id}]."
    read, aim, lens = fitting.read.first_row, fitting.aim, fitting.lens
    across = _stated(aim.across, "aim.across", listed, name)
    turn = _stated(aim.turn, "aim.turn", listed, name)
    spot = _stated(presence.angle_error, "sheet.angle_error", listed, name)
    floor_x = _stated(aim.along, "aim.along", listed, name)
    out, height = (lens.from_leaf.u, lens.height.u) if lens else (0.0, 0.0)
    known = fitting.unit is not None and fitting.unit.mounting.lens_known
    closely = "lens.taped" if known else "lens.housing"
    # A lens place stated with its own uncertainty was found, whatever the sheet says.
    found = along.u > 0 and out > 0 and height > 0
    taped = 0.0 if found else _stated(None, closely, listed, name).value
    settings, read_ends = fitting.settings, _ends_off(fitting)
    return Errors(
        dh=max(height, LENS_TAPED),
        roll=settings.roll.u if settings.roll else 0.0,
        yaw=turn.high + (settings.yaw.u if settings.yaw else 0.0),
        fan=spot.high + _ends_doubt(fitting, presence),
        row=spot.high + max(row.angle.u for row in presence.rows),
        floor_x=max(floor_x.high, read_ends or 0.0),
        floor_y=max(across.high, read.u if read else 0.0),
        swing_x=along.u or taped,
        swing_y=out or taped,
    )


def _ends_off(fitting: Fitting) -> float | None:
    """How far the ends of a row may stand off as read (m); None if not read."""
    read = fitting.read
    if read.left_end is None or read.right_end is None:
        return None
    return max(read.left_end.u, read.right_end.u) or ENDS_READ


def _ends_doubt(fitting: Fitting, presence: Presence) -> float:
    """How far a spot's fan angle may be off (rad) by what the fan was taken from.

    Row ends that err against each other by ``off`` move the spot at share k of the
    row by k times that; an angle of off / height moves it by more.
    """
    off = _ends_off(fitting)
    if off is None or fitting.lens is None:
        return fan_doubt(presence, fitting.settings.fan)
    return off / fitting.lens.height.low


def _with_faces(errors: Errors, doubt: Doubt) -> Errors:
    """Rows and lens are taped from the leaf face: its own doubt moves both."""
    return replace(
        errors,
        floor_y=errors.floor_y + doubt.across,
        swing_y=errors.swing_y + doubt.across,
    )


def _placed(
    fitting: Fitting,
    presence: Presence,
    at: tuple[float, float, float],
    attitude: Attitude,
    fan: FanReading,
    errors: Errors,
    listed: list[Assumed],
) -> Placed:
    needed = presence.spots_needed
    name = f"fitting[{fitting.id}]."
    if needed is None:
        why = Message("assumed.spots_needed")
        key = name + "sheet.spots_needed"
        listed.append(Assumed(key, str(NEEDED_UNKNOWN), PRACTICE, why))
    on = fitting.settings.rows_on
    rows = tuple(number - 1 for number in on) if on else range(len(presence.rows))
    divergence, lowest = presence.spot_divergence, _lowest(presence)
    return Placed(
        fitting.id,
        fitting.side,
        at,
        attitude,
        tuple(row.angle.value for row in presence.rows),
        fan,
        tuple(rows),
        NEEDED_UNKNOWN if needed is None else needed,
        lowest.high if lowest else None,
        errors,
        divergence.high if divergence else None,
        taped=max(fitting.lens.from_leaf.u if fitting.lens else 0.0, LENS_TAPED),
    )
