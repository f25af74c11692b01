"""The field of each radar: what is known of it, at the least and at the most.

The inner field is what surely opens the door, the outer one what may.  A sheet's
reference field gives the beam; how far this unit reaches is bounded by its spread,
its reach setting and for whom the field was drawn, or measured by walking at the
door and chalking where the lamp lights.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import product

from limen.findings import Assumed, Lack
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.people import Side
from limen.model.radar import Motion
from limen.physics.beams import Attitude
from limen.physics.plan import Plan, sign
from limen.physics.radar import Contour, Radar
from limen.physics.radar_zone import Zone
from limen.quantity import Grade, Quantity
from limen.questions.approach_lobes import beams_of
from limen.questions.approach_reach import Bounds, Stand, bounds_of
from limen.questions.approach_taken import (
    NOTHING,
    Taken,
    along_of,
    least_speed_of,
    response_of,
    stated,
    yaw_of,
)
from limen.questions.asking import lack
from limen.questions.wiring_ends import left_alone


@dataclass(frozen=True, slots=True)
class FieldFacts:
    """One radar's field, settled.

    Attributes:
        fitting: the unit.
        inners: radar of what surely opens the door, for each corner of what its
            place and tilt leave open, as stated first; empty if something is missing.
        outers: the same of what may open it.
        taken: what the contour rests on, and what was taken though nobody stated it.
        lacks: what is missing.
        motion: the same as ``taken`` for least speed and response.
    """

    fitting: Fitting
    inners: tuple[Radar, ...]
    outers: tuple[Radar, ...]
    taken: Taken = NOTHING
    lacks: tuple[Lack, ...] = ()
    motion: Taken = NOTHING

    @property
    def inner(self) -> Radar | None:
        """What surely opens the door, place and tilt as stated."""
        return self.inners[0] if self.inners else None

    @property
    def outer(self) -> Radar | None:
        """What may open the door, place and tilt as stated."""
        return self.outers[0] if self.outers else None

    @property
    def grades(self) -> tuple[Grade, ...]:
        """Grades of everything the contour rests on."""
        return self.taken.grades

    @property
    def assumed(self) -> tuple[Assumed, ...]:
        """What was taken for the contour though nobody stated it."""
        return self.taken.assumed

    @property
    def weak(self) -> tuple[Lack, ...]:
        """What would settle the figures of the contour that let nothing hold."""
        return self.taken.weak


def fields_of(
    doorway: Doorway, plan: Plan, side: Side, *, child: bool = False
) -> tuple[FieldFacts, ...]:
    """The field of each radar of one side.

    Args:
        doorway: as described.
        plan: the same as boxes.
        side: outside or inside.
        child: whether a small child is to be found: where the sheet's field is not
            drawn for one, the inner reach is 6 dB less, which is an estimate.

    Returns:
        One for each unit of that side with a motion sense, or of unknown sheet,
        whose opening output is not left alone.
    """
    return tuple(
        _facts(fitting, plan, child=child)
        for fitting in doorway.fitting
        if fitting.side == side
        and (fitting.unit is None or fitting.unit.motion is not None)
        and not left_alone(fitting, "opening", "escape opening")
    )


def passed_by(doorway: Doorway, side: Side) -> bool:
    """Whether nobody comes from a side: people only pass from the other one.

    Where the doorway may lie on an escape route, nobody may escape from there either.
    """
    use = doorway.use
    if use.one_way in (None, side):
        return False
    escapes = side in use.escape_from or not use.escape_from
    return use.escape_route is False or not escapes


def has_motion(doorway: Doorway) -> bool:
    """Whether anything at the door opens it by motion, as far as is known."""
    return any(f.unit is None or f.unit.motion for f in doorway.fitting)


def zones(
    fields: Iterable[FieldFacts],
    plan: Plan,
    side: Side,
    heights: tuple[float, ...],
    *,
    inner: bool,
) -> tuple[Zone, ...]:
    """The field of a side, for each corner of what places and tilts leave open.

    Args:
        fields: the radars of the side.
        plan: the doorway as boxes.
        side: outside or inside.
        heights: where a body is looked for: at all of them in the inner field, at
            any in the outer one (m).
        inner: which field.

    Returns:
        One zone for each corner; the places and tilts as stated lie between.
    """
    known = [field.inners if inner else field.outers for field in fields]
    ways = product(*(radars[1:] or radars for radars in known if radars))
    face, way = plan.side(side).face, sign(side)
    return tuple(Zone(radars, heights, inner, face, way) for radars in ways)


def _facts(fitting: Fitting, plan: Plan, *, child: bool) -> FieldFacts:
    motion = fitting.unit.motion if fitting.unit else None
    if motion is None:
        where = f"fitting[{fitting.id}].sheet"
        missing_sheet = lack("lack.sheet", where, {"fitting": fitting.id})
        return _lacking(fitting, missing_sheet)
    missing = tuple(_missing(fitting, motion))
    if missing:
        return _lacking(fitting, *missing)
    beams = beams_of(fitting, motion)
    if isinstance(beams, tuple):
        return _lacking(fitting, *beams)
    stands = tuple(_stands(fitting, plan))
    bounds = bounds_of(fitting, motion, beams, stands[0], plan, child=child)
    if isinstance(bounds, tuple):
        return _lacking(fitting, *bounds)
    return _settled(fitting, motion, stands, bounds)


def _lacking(fitting: Fitting, *lacks: Lack) -> FieldFacts:
    return FieldFacts(fitting, (), (), lacks=lacks)


def _missing(fitting: Fitting, motion: Motion) -> Iterator[Lack]:
    """Figures without which there is no field."""
    name = f"fitting[{fitting.id}]."
    if fitting.lens is None:
        yield lack("lack.lens", name + "lens", {"fitting": fitting.id})
    for key in ("field_depth", "field_width", "at_height", "at_tilt"):
        figure: Quantity | None = getattr(motion, key)
        if figure is None or (key != "at_tilt" and figure.value <= 0):
            yield lack(f"approach.lack.{key}", f"sheet.motion.{key}")
    if fitting.settings.radar_tilt is None:
        where = name + "settings.radar_tilt"
        yield lack("approach.lack.radar_tilt", where, {"fitting": fitting.id})


def _stands(fitting: Fitting, plan: Plan) -> Iterator[Stand]:
    """Lens and attitude as stated, then each corner of what their ± leave open."""
    lens, tilt = fitting.lens, fitting.settings.radar_tilt
    if lens is None or tilt is None:
        return
    yaw, along = yaw_of(fitting)[0], along_of(fitting)[0].value
    face, turned = plan.side(fitting.side).face, fitting.side == "inside"
    out = sign(fitting.side) * (face + lens.from_leaf.value)
    figures = (lens.height, tilt, yaw)
    corners = product(*(_ends(figure) for figure in figures))
    as_stated = tuple(figure.value for figure in figures)
    for h, t, y in dict.fromkeys((as_stated, *corners)):
        yield (along, out, h), Attitude(t, 0.0, y, turned)


def _ends(figure: Quantity) -> tuple[float, ...]:
    """The ends of the figure's interval."""
    return (figure.low, figure.high) if figure.u > 0 else (figure.value,)


def _settled(
    fitting: Fitting, motion: Motion, stands: tuple[Stand, ...], bounds: Bounds
) -> FieldFacts:
    slow, late = least_speed_of(motion)[1], response_of(motion)[1]
    return FieldFacts(
        fitting,
        _radars(motion, stands, bounds.inner, inner=True),
        _radars(motion, stands, bounds.outer, inner=False),
        bounds.taken + _placed(fitting),
        motion=slow + late,
    )


def _radars(
    motion: Motion,
    stands: tuple[Stand, ...],
    contours: tuple[Contour, ...],
    *,
    inner: bool,
) -> tuple[Radar, ...]:
    """The radar at its worst for being noticed (inner), or for staying unnoticed."""
    least, delay = least_speed_of(motion)[0], response_of(motion)[0]
    aware = motion.direction_aware
    return tuple(
        Radar(
            *stand,
            contours,
            inner=inner,
            least_speed=least.high if inner else least.low,
            response=delay.high if inner else delay.low,
            direction_aware=aware is not False if inner else aware is True,
        )
        for stand in stands
    )


def _placed(fitting: Fitting) -> Taken:
    """What the place of the radar and its turn rest on."""
    name, lens = f"fitting[{fitting.id}].", fitting.lens
    given = stated((name + "settings.radar_tilt", fitting.settings.radar_tilt))
    if lens is not None:
        given += stated((name + "lens.from_leaf", lens.from_leaf))
        given += stated((name + "lens.height", lens.height))
    return given + yaw_of(fitting)[1] + along_of(fitting)[1]
