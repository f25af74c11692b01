"""What can be set on each unit, in the steps of its sheet."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import ceil, degrees, floor

from limen.findings.tuned import Turned
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting, Read, Settings
from limen.model.sheet import Presence
from limen.physics.fans import choices
from limen.physics.reach import Placed
from limen.quantity import Dimension, Quantity, parse, write
from limen.questions.settled import Settled, UnitFacts, settle
from limen.questions.tilts import STEP_UNSTATED, knobs_of
from limen.questions.variants import Variant

WHOLE = 1e-6
MILLIMETRES = 1000.0
ROWS_ON = "settings.rows_on"
PLUMB = ("roll", "yaw")


@dataclass(frozen=True, slots=True)
class Option:
    """One way to set a unit.

    Attributes:
        turned: what is changed; empty for the unit as it is set.
        fitting: the unit so set.
        travel: by how many steps of their scales settings are moved, all together.
    """

    turned: tuple[Turned, ...]
    fitting: Fitting
    travel: float = 0.0

    @property
    def changes(self) -> int:
        """How many settings are changed; what goes with them is not counted."""
        return sum(
            one.setting.startswith("settings.") or _aims(one) for one in self.turned
        )


def _aims(turned: Turned) -> bool:
    return turned.setting == "read.first_row"


def with_options(doorway: Doorway, picked: Sequence[Option]) -> Doorway:
    """The doorway with units set so; those of which nothing is said stay.

    Args:
        doorway: as it is set.
        picked: one option a unit at most.
    """
    units = {one.fitting.id: one.fitting for one in picked}
    fittings = tuple(units.get(one.id, one) for one in doorway.fitting)
    return doorway.model_copy(update={"fitting": fittings})


def alone(doorway: Doorway, fitting: Fitting) -> Settled:
    """The doorway settled with one unit only."""
    return settle(doorway.model_copy(update={"fitting": (fitting,)}))


# Rows ---------------------------------------------------------------------------


def row_options(
    doorway: Doorway, fitting: Fitting, *, outer_off: bool
) -> tuple[Option, ...]:
    """Every way to set the rows of a unit: tilt, fan, plumb, rows on.

    Tilts that land the first row nowhere near the leaf are left out; as it is set
    always stands first.

    Args:
        doorway: as it is set.
        fitting: one of its units.
        outer_off: whether rows further out may be switched off.
    """
    presence = fitting.unit.presence if fitting.unit else None
    if presence is None:
        return (Option((), fitting),)
    every = {
        tuple(one.turned): one
        for shape in _shapes(fitting, presence, outer_off=outer_off)
        for one in _tilted(doorway, shape, presence)
    }
    now = Option((), fitting)
    return (now, *(one for key, one in every.items() if key))


def _shapes(
    fitting: Fitting, presence: Presence, *, outer_off: bool
) -> Iterator[Option]:
    """What else than tilt is set: fan, plumb, rows on."""
    parts = (
        list(_fans(fitting, presence)),
        list(_plumb(fitting)),
        list(_rows_on(fitting, presence, outer_off=outer_off)),
    )
    for each in product(*parts):
        turned = tuple(one for part in each for one in part)
        yield Option(turned, _set(fitting, turned), float(len(turned)))


def _fans(fitting: Fitting, presence: Presence) -> Iterator[tuple[Turned, ...]]:
    yield ()
    now = fitting.settings.fan
    if _ends_read(fitting):
        return
    names = choices(presence)
    for name in names:
        if len(names) > 1 and name != now:
            yield (Turned(fitting.id, "settings.fan", now or "", name),)


def _plumb(fitting: Fitting) -> Iterator[tuple[Turned, ...]]:
    yield ()
    crooked = [
        (name, value)
        for name in PLUMB
        if (value := getattr(fitting.settings, name)) is not None and value.value != 0
    ]
    if crooked and not _ends_read(fitting):
        yield tuple(
            Turned(fitting.id, f"settings.{name}", _angle(value), "0°")
            for name, value in crooked
        )


def _rows_on(
    fitting: Fitting, presence: Presence, *, outer_off: bool
) -> Iterator[tuple[Turned, ...]]:
    yield ()
    count = len(presence.rows)
    every = tuple(range(1, count + 1))
    now = fitting.settings.rows_on or every
    sets = [every[:last] for last in range(count, 0 if outer_off else count - 1, -1)]
    for rows in sets:
        if rows != now:
            was, to = (" ".join(map(str, one)) for one in (now, rows))
            yield (Turned(fitting.id, ROWS_ON, was, to),)


def _ends_read(fitting: Fitting) -> bool:
    """Whether row ends were read: they say nothing of a unit set anew."""
    return None not in (fitting.read.left_end, fitting.read.right_end)


def _tilted(doorway: Doorway, shape: Option, presence: Presence) -> Iterator[Option]:
    yield shape
    step = step_of(presence)
    read, now = shape.fitting.read.first_row, shape.fitting.settings.tilt
    base = _known_tilt(shape.fitting, presence)
    for place in _landings(doorway, base):
        distance, tilt, was = place
        if read is not None:
            to = f"{distance * MILLIMETRES:.0f} mm"
            turn = Turned(shape.fitting.id, "read.first_row", _length(read), to)
        else:
            to = f"{degrees(tilt):.6g}°"
            turn = Turned(shape.fitting.id, "settings.tilt", _angle(now), to)
        moved = abs(tilt - was) / step
        if moved > WHOLE or (read is None and now is None):
            changed = _set(shape.fitting, (turn,))
            yield Option((*shape.turned, turn), changed, shape.travel + moved)


def step_of(presence: Presence) -> float:
    """One step of the tilt scale (rad)."""
    return presence.tilt.step.value if presence.tilt.step else STEP_UNSTATED


def _known_tilt(fitting: Fitting, presence: Presence) -> Fitting:
    """The unit with some tilt, so that its rows can be placed."""
    settings = fitting.settings
    if settings.tilt is not None or fitting.read.first_row is not None:
        return fitting
    some = replace(presence.tilt.least, value=max(presence.tilt.least.value, 0.0))
    given = settings.model_copy(update={"tilt": some})
    return fitting.model_copy(update={"settings": given})


def _landings(doorway: Doorway, fitting: Fitting) -> list[tuple[float, float, float]]:
    """Where the scale lands the first row, by what tilt, and the tilt of now."""
    settled = alone(doorway, fitting)
    return [
        (place.distance, place.tilt, knob.unit.attitude.tilt)
        for knob in knobs_of(Variant((), doorway, settled), surely=None)
        for place in knob.settings
    ]


def placed(facts: UnitFacts) -> Placed | None:
    """The unit under the first reading of its manual; None if its rows are unknown."""
    first = facts.choices[0] if facts.choices else None
    return first if isinstance(first, Placed) else None


def rows_grid(fitting: Fitting, *, outer_off: bool) -> int:
    """How many ways a grid has to set the rows of a unit, out of reach or not.

    Args:
        fitting: one of its units.
        outer_off: whether rows further out may be switched off.
    """
    presence = fitting.unit.presence if fitting.unit else None
    if presence is None:
        return 1
    shapes = sum(1 for _ in _shapes(fitting, presence, outer_off=outer_off))
    scale, step = presence.tilt, step_of(presence)
    first = ceil(scale.least.value / step - WHOLE)
    last = floor(scale.most.value / step + WHOLE)
    tilt = fitting.settings.tilt
    on = tilt is not None and abs(tilt.value / step - round(tilt.value / step)) < WHOLE
    return shapes * (last - first + 1 + (not on))


# Radar --------------------------------------------------------------------------

REACHES = tuple(n / 10 for n in range(1, 11))
"""Where a reach scale is tried: no sheet states its steps."""


@dataclass(frozen=True, slots=True)
class Beam:
    """The settings of a radar but for its reach.

    Attributes:
        option: the radar so turned, its reach as it is.
        reaches: the same at each reach that can be set, rising; the option alone
            where the reach is not set here.
    """

    option: Option
    reaches: tuple[Option, ...]


def radar_options(fitting: Fitting, every: int = 1) -> tuple[Beam, ...]:
    """Every way to set a radar: array, tilt and yaw, and the reach of each.

    What was measured by walking stays what it is: it was walked as it was set then.
    Where a change would leave that without meaning, the setting is left alone.

    Args:
        fitting: a unit with a motion sense, or without.
        every: every how manyth step of its tilt and yaw is taken.
    """
    motion = fitting.unit.motion if fitting.unit else None
    if motion is None:
        return (_beam(Option((), fitting)),)
    walked = bool(fitting.read.lit_ahead)
    parts = [[(), *_arrays(fitting)] if not walked else [()]]
    if not walked or fitting.settings.radar_tilt is not None:
        parts.append([(), *_turns(fitting, "radar_tilt", "lit_tilt", every)])
    if not walked:
        parts.append([(), *_turns(fitting, "radar_yaw", "", every)])
    found: list[Beam] = []
    for each in product(*parts):
        turned = tuple(one for part in each for one in part)
        found.append(
            _beam(Option(turned, _set(fitting, turned), _steps(fitting, turned)))
        )
    return tuple(found)


def _steps(fitting: Fitting, turned: Sequence[Turned]) -> float:
    """By how many steps of their scales angles are turned; other changes are one."""
    motion, total = fitting.unit and fitting.unit.motion, 0.0
    for one in turned:
        scale = {
            "settings.radar_tilt": motion and motion.tilt,
            "settings.radar_yaw": motion and motion.yaw,
        }.get(one.setting)
        if scale and scale.step and one.was:
            angles = (parse(text, Dimension.ANGLE).value for text in (one.was, one.to))
            total += abs(next(angles) - next(angles)) / scale.step.value
        elif one.setting.startswith("settings."):
            total += 1.0
    return total


def _arrays(fitting: Fitting) -> Iterator[tuple[Turned, ...]]:
    motion, now = fitting.unit and fitting.unit.motion, fitting.settings.array
    for name in motion.arrays if motion else ():
        if name != now:
            yield (Turned(fitting.id, "settings.array", now or "", name),)


def _turns(
    fitting: Fitting, name: str, walked: str, every: int
) -> Iterator[tuple[Turned, ...]]:
    """Each step of one of a radar's scales."""
    motion = fitting.unit and fitting.unit.motion
    scale = motion and (motion.tilt if name == "radar_tilt" else motion.yaw)
    now: Quantity | None = getattr(fitting.settings, name)
    if not scale or scale.step is None:
        return
    first = ceil(scale.least.value / scale.step.value - WHOLE)
    last = floor(scale.most.value / scale.step.value + WHOLE)
    for number in range(first, last + 1, every):
        value = number * scale.step.value
        if now is not None and abs(value - now.value) < WHOLE:
            continue
        to = f"{degrees(value):.6g}°"
        turned = Turned(fitting.id, f"settings.{name}", _angle(now), to)
        yield (turned, *_as_walked(fitting, walked, _angle(now)))


def _as_walked(fitting: Fitting, key: str, was: str) -> tuple[Turned, ...]:
    """What was set when the field was walked, if that is not written yet."""
    read = fitting.read
    if not key or not read.lit_ahead or getattr(read, key) is not None:
        return ()
    return (Turned(fitting.id, f"read.{key}", "", was),)


def _beam(option: Option) -> Beam:
    return Beam(option, tuple(_reaches(option)))


def _reaches(option: Option) -> Iterator[Option]:
    fitting = option.fitting
    motion, now = fitting.unit and fitting.unit.motion, fitting.settings.reach
    walked = bool(fitting.read.lit_ahead)
    if motion is None or (now is None and (walked or motion.reach_law is None)):
        yield option
        return
    for reach in _scale_of_reach(now):
        if now is not None and reach == now.value:
            yield option
            continue
        was = "" if now is None else write(now, Dimension.RATIO)
        turn = Turned(fitting.id, "settings.reach", was, f"{reach * 100:.0f} %")
        turned = (turn, *_as_walked(fitting, "lit_reach", was))
        moved = abs(reach - (now.value if now else 1.0)) / REACHES[0]
        changed = (*option.turned, *turned)
        yield Option(changed, _set(option.fitting, turned), option.travel + moved)


def _scale_of_reach(now: Quantity | None) -> list[float]:
    """Every reach that is tried, rising, what is set among them."""
    if now is None:
        return list(REACHES)
    others = [reach for reach in REACHES if abs(reach - now.value) > WHOLE]
    return sorted([*others, now.value])


# Setting ------------------------------------------------------------------------

_ANGLES = {"tilt", "roll", "yaw", "radar_tilt", "radar_yaw", "lit_tilt"}


def _set(fitting: Fitting, turned: Sequence[Turned]) -> Fitting:
    """The unit with these settings, as if they were read from a file."""
    parts: dict[str, dict[str, object]] = {"settings": {}, "read": {}}
    for one in turned:
        part, _, name = one.setting.partition(".")
        new, old = _typed(name, one.to), getattr(getattr(fitting, part), name)
        parts[part][name] = new.known_as(old) if isinstance(new, Quantity) else new
    settings: Settings = fitting.settings.model_copy(update=parts["settings"])
    read: Read = fitting.read.model_copy(update=parts["read"])
    return fitting.model_copy(update={"settings": settings, "read": read})


def _typed(name: str, text: str) -> object:
    if name in _ANGLES:
        return parse(text, Dimension.ANGLE)
    if name in ("reach", "lit_reach"):
        return parse(text, Dimension.RATIO)
    if name == "first_row":
        return parse(text, Dimension.LENGTH)
    if name == "rows_on":
        return tuple(int(number) for number in text.split())
    return int(text) if name == "channel" else text


def channel_turned(fitting: Fitting, channel: int) -> tuple[Turned, ...]:
    """What is changed to put the unit on a channel; nothing if it is on it."""
    now = fitting.settings.channel
    if now == channel:
        return ()
    was = "" if now is None else str(now)
    return (Turned(fitting.id, "settings.channel", was, str(channel)),)


def turned_all(doorway: Doorway, turned: Sequence[Turned]) -> Doorway:
    """The doorway with every setting changed that is named.

    Args:
        doorway: as it is set.
        turned: changes of its units.
    """
    fittings = tuple(
        _set(one, [t for t in turned if t.fitting == one.id]) for one in doorway.fitting
    )
    return doorway.model_copy(update={"fitting": fittings})


def _angle(value: Quantity | None) -> str:
    return "" if value is None else write(value, Dimension.ANGLE)


def _length(value: Quantity) -> str:
    return write(value, Dimension.LENGTH)
