"""What each unit's scale can be set to, as places of its first row on the floor."""

from dataclasses import dataclass, replace
from math import ceil, floor, radians

from limen.model.fitting import Fitting
from limen.model.sheet import Presence
from limen.physics.reach import Placed, row_distance, tilt_for
from limen.questions.sight import light_room
from limen.questions.variants import Variant

STEP_UNSTATED = radians(0.25)
FURTHEST = 0.170  # m from the leaf middle: a row further out leaves the body unseen
MILLIMETRE = 1e-3
DIVERGENCE_UNSTATED = radians(2.0)


@dataclass(frozen=True, slots=True)
class Setting:
    """One unit's first row at one place: its distance from the face, its tilt."""

    distance: float
    tilt: float


@dataclass(frozen=True, slots=True)
class Knob:
    """One unit's tilt, in the sheet's steps.

    Attributes:
        unit: the unit under the first reading of its manual.
        fitting: as described.
        face: the leaf face on its side, from the mid-plane (m).
        step: of the scale (rad).
        settings: what can be set, nearest to the leaf first.
    """

    unit: Placed
    fitting: Fitting
    face: float
    step: float
    settings: tuple[Setting, ...]

    @property
    def now(self) -> float:
        """Where the first row lands now, from the leaf face (m)."""
        return row_distance(self.unit, 0, self.face)


def knobs_of(variant: Variant, *, surely: bool | None) -> tuple[Knob, ...]:
    """Every unit's tilt.

    Args:
        variant: the doorway.
        surely: whether the light stays clear of the door with what aiming leaves
            open; False if only as set; None if it may fall on the leaf.
    """
    found: list[Knob] = []
    for facts in variant.settled.units:
        sheet = facts.fitting.unit
        unit = facts.choices[0] if facts.choices else None
        if not isinstance(unit, Placed) or sheet is None or sheet.presence is None:
            continue
        knob = _knob(variant, facts.fitting, sheet.presence, unit, surely=surely)
        if knob.settings:
            found.append(knob)
    return tuple(found)


def _knob(
    variant: Variant,
    fitting: Fitting,
    presence: Presence,
    unit: Placed,
    *,
    surely: bool | None,
) -> Knob:
    """Every step of the scale that lands the first row where it could serve."""
    side = variant.settled.plan.side(fitting.side)
    step = presence.tilt.step.value if presence.tilt.step else STEP_UNSTATED
    read = fitting.read.first_row is not None
    tilts = _scale(presence, step, unit.attitude.tilt if read else None)
    settings = (_setting(unit, side.face, tilt, whole=read) for tilt in tilts)
    near = (s for s in settings if 0.0 < s.distance <= FURTHEST - side.face)
    kept = (
        s
        for s in near
        if surely is None or _clear_of_the_door(variant, unit, s, surely=surely)
    )
    ordered = tuple(sorted(kept, key=lambda s: s.distance))
    return Knob(unit, fitting, side.face, step, ordered)


def _clear_of_the_door(
    variant: Variant, unit: Placed, setting: Setting, *, surely: bool
) -> bool:
    """Whether the light stays clear of leaf and header there.

    Surely: with what aiming leaves open.  Where no such setting reaches the body,
    one whose light is clear as set is better than none: whether it stays clear is
    asked by itself, and is no must.
    """
    room, error = light_to_spare(variant, unit, setting)
    return room >= error if surely else room > 0.0


def light_to_spare(
    variant: Variant, unit: Placed, setting: Setting
) -> tuple[float, float]:
    """How clear of the door the light stays there, and what aiming leaves of it."""
    spread = DIVERGENCE_UNSTATED if unit.divergence is None else unit.divergence
    turned = replace(unit.tilted(setting.tilt), divergence=spread)
    room, error, _ = light_room(variant.doorway, variant.settled.plan, turned)
    return room, error


def _scale(presence: Presence, step: float, read: float | None) -> list[float]:
    """Tilts of the scale; steps from the tilt read on the floor, where there is one."""
    least, most = presence.tilt.least.value, presence.tilt.most.value
    start = 0.0 if read is None else read
    first, last = ceil((least - start) / step), floor((most - start) / step)
    if read is not None:
        first, last = ceil((least - most) / step), floor((most - least) / step)
    return [start + number * step for number in range(first, last + 1)]


def _setting(unit: Placed, face: float, tilt: float, *, whole: bool) -> Setting:
    distance = row_distance(unit.tilted(tilt), 0, face)
    if not whole:
        return Setting(distance, tilt)
    rounded = round(distance / MILLIMETRE) * MILLIMETRE
    return Setting(rounded, tilt_for(unit, 0, face, rounded))
