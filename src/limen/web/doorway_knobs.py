"""The settings of one unit, as the doorway page turns them."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from math import degrees

from limen.findings import Message, Study
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.radar import RadarTurn
from limen.model.sheet import FanByAngle, FanByWidth, Turn
from limen.quantity import Quantity, Show
from limen.words import say, say_length

STEP_UNSTATED = 0.1  # deg: a scale whose step no sheet states is turned finely
INCH = 0.0254
MM = 0.001
FINE = {"mm": 1.0, "in": 1 / 16}
FINER = 3  # times that a step is divided by ten for a value that lies between two
LENS_LOW, LENS_HIGH, LENS_OUT = 0.8, 4.0, 0.6  # m: what sliders of a lens span
HOLD_MOST = 300.0  # s, what the slider of a hold time spans
LEAN = 10.0  # deg: how far a housing can be held askew by a slider


@dataclass(frozen=True, slots=True)
class Window:
    """The range in which all that depends on a setting holds.

    Attributes:
        least, most: in the slider's own unit.
        near, far: the same in words, in floor millimetres where rows are aimed.
        words: the range in one sentence.
    """

    least: float
    most: float
    near: str
    far: str
    words: str


@dataclass(frozen=True, slots=True)
class Knob:
    """A setting that is turned: slider, wheel, keys, or typed with its unit.

    Attributes:
        key: the setting's name in edits.
        name: what it is called.
        value: as it is set, in the unit.
        unit: the unit, as a file takes it.
        least, most, step: of the slider.
        read: what it comes to on the floor.
        help: what is good to know.
        window: the range in which all holds, if one was computed.
        remark: what is hatched, or why nothing is, once that is known.
    """

    key: str
    name: str
    value: float
    unit: str
    least: float
    most: float
    step: float
    read: str = ""
    help: str = ""
    window: Window | None = None
    remark: str = ""

    @property
    def id(self) -> str:
        """Its name in the page."""
        return slug_of(self.key)

    @property
    def shown(self) -> str:
        """The unit as people read it."""
        return "°" if self.unit == "deg" else self.unit


@dataclass(frozen=True, slots=True)
class Choice:
    """A setting that is chosen from a few.

    Attributes:
        key: the setting's name in edits.
        name: what it is called.
        value: what is chosen; empty if nothing is.
        options: values and words.
        many: whether several may be chosen; ``value`` then lists them, apart by
            spaces.
        remark: with which of them all holds, once that is known.
    """

    key: str
    name: str
    value: str
    options: tuple[tuple[str, str], ...]
    many: bool = False
    remark: str = ""

    @property
    def id(self) -> str:
        """Its name in the page."""
        return slug_of(self.key)

    @property
    def chosen(self) -> frozenset[str]:
        """What is chosen, one by one."""
        return frozenset(self.value.split())


@dataclass(frozen=True, slots=True)
class UnitSettings:
    """All that is turned and chosen at one unit.

    Attributes:
        id: the fitting.
        name: what it is called.
        knobs: its knobs.
        choices: its choices.
        note: why something is not there, if that must be said.
    """

    id: str
    name: str
    knobs: tuple[Knob, ...]
    choices: tuple[Choice, ...]
    note: str = ""


def slug_of(key: str) -> str:
    """A setting's key as a name within a page."""
    return re.sub(r"[^a-z0-9]+", "-", key.lower()).strip("-")


def unit_settings(study: Study, fitting: str, system: Show) -> UnitSettings:
    """The settings of a unit of a study's doorway.

    Args:
        study: the doorway and where its rows land.
        fitting: id of the unit.
        system: in which lengths are written.

    Raises:
        KeyError: there is no such unit.
    """
    there = {one.id: one for one in study.doorway.fitting}
    one = there[fitting]
    knobs = [
        *_presence(one, study, system),
        *_lens(one, study.doorway, system),
        *_radar(one),
    ]
    name = say(Message("doorway_page.unit", {"fitting": fitting}))
    return UnitSettings(fitting, name, tuple(knobs), tuple(_choices(one)), _note(one))


def first_row(study: Study, fitting: str) -> float | None:
    """Where a unit's first row lands, from the leaf face (m)."""
    rows = [unit.rows for unit in study.units if unit.fitting == fitting and unit.rows]
    return rows[0][0].from_leaf if rows else None


def lands(study: Study, fitting: str, system: Show) -> str:
    """Where a unit's first row lands, in words."""
    at = first_row(study, fitting)
    if at is None:
        return say(Message("doorway_page.read.unknown"))
    far = Message("doorway_page.read.lands", {"far": say_length(at, system)})
    return say(far)


# Presence -----------------------------------------------------------------------


def _presence(one: Fitting, study: Study, system: Show) -> Iterator[Knob]:
    presence = one.unit.presence if one.unit else None
    if presence is None:
        return
    read = lands(study, one.id, system)
    if one.read.first_row is not None:
        yield _as_read(one, one.read.first_row, read, system)
    elif one.settings.tilt is not None:
        tilt = one.settings.tilt
        yield _angle(one, "tilt", tilt, _span(presence.tilt), read)
    for name in ("roll", "yaw"):
        value = getattr(one.settings, name)
        if value is not None:
            yield _angle(one, name, value, (-LEAN, LEAN, STEP_UNSTATED))
    if one.settings.hold is not None:
        yield _hold(one, one.settings.hold)


def _hold(one: Fitting, value: Quantity) -> Knob:
    """For how long a still body stays found (s)."""
    said = say(Message("doorway_page.setting.hold"))
    helped = say(Message("doorway_page.help.hold"))
    at = _neat(value.value)
    step = _step(1.0, at)
    key = _key(one, "settings.hold")
    return Knob(key, said, at, "s", 0.0, max(HOLD_MOST, at), step, help=helped)


def _span(turn: Turn | RadarTurn) -> tuple[float, float, float]:
    step = degrees(turn.step.value) if turn.step else STEP_UNSTATED
    return degrees(turn.least.value), degrees(turn.most.value), step


def _angle(
    one: Fitting,
    name: str,
    value: Quantity,
    span: tuple[float, float, float],
    read: str = "",
) -> Knob:
    least, most, step = (_neat(part) for part in span)
    at = _neat(degrees(value.value))
    said = say(Message(f"doorway_page.setting.{name}"))
    helped = say(Message(f"doorway_page.help.{name}"))
    key = _key(one, f"settings.{name}")
    span = (min(least, at), max(most, at), _step(step, at))
    return Knob(key, said, at, "deg", *span, read, helped)


def _as_read(one: Fitting, value: Quantity, read: str, system: Show) -> Knob:
    """A row that was read on the floor: the reading counts, the scale no more."""
    span = (0.0, max(0.4, value.value))
    return _long(one, "read.first_row", value, span, system, read=read)


# Lens and radar -----------------------------------------------------------------


def _lens(one: Fitting, door: Doorway, system: Show) -> Iterator[Knob]:
    lens = one.lens
    if lens is None:
        return
    half = door.clear_width.value / 2
    if lens.along is not None:
        yield _long(one, "lens.along", lens.along, (-half, half), system)
    yield _long(one, "lens.from_leaf", lens.from_leaf, (0.0, LENS_OUT), system)
    yield _long(one, "lens.height", lens.height, _heights(one), system)


def _heights(one: Fitting) -> tuple[float, float]:
    """Where the sheet lets it be mounted; else what a door can have."""
    place = one.unit.mounting if one.unit else None
    low = place.least_height.value if place and place.least_height else LENS_LOW
    high = place.most_height.value if place and place.most_height else LENS_HIGH
    return low, high


def _radar(one: Fitting) -> Iterator[Knob]:
    motion = one.unit.motion if one.unit else None
    if motion is None:
        return
    turns = (("radar_tilt", motion.tilt), ("radar_yaw", motion.yaw))
    for name, turn in turns:
        value = getattr(one.settings, name)
        if value is not None and turn is not None:
            yield _angle(one, name, value, _span(turn))
    reach = one.settings.reach
    if reach is not None:
        said = say(Message("doorway_page.setting.reach"))
        helped = say(Message("doorway_page.help.reach"))
        key, percent = _key(one, "settings.reach"), _neat(reach.value * 100)
        yield Knob(key, said, percent, "%", 0.0, 100.0, 1.0, help=helped)


def _long(
    one: Fitting,
    name: str,
    value: Quantity,
    span: tuple[float, float],
    system: Show,
    *,
    read: str = "",
) -> Knob:
    """A length; the slider is widened where the value lies beyond its span."""
    unit = _unit(system)
    factor, step = _factor(unit), FINE[unit]
    at = _neat(value.value / factor)
    least = min(round(span[0] / factor / step) * step, at)
    most = max(round(span[1] / factor / step) * step, at)
    said = say(Message(f"doorway_page.setting.{name}"))
    helped = say(Message(f"doorway_page.help.{name}"))
    key = _key(one, name)
    step = _step(step, at) if unit == "mm" else step
    return Knob(key, said, at, unit, least, most, step, read, helped)


def _step(step: float, value: float) -> float:
    """The step, finer where the value would else be shown as another one."""
    for _ in range(FINER):
        if abs(value / step - round(value / step)) < 1e-6:  # noqa: PLR2004 - rounding
            break
        step = _neat(step / 10)
    return step


def _unit(system: Show) -> str:
    return "in" if system is Show.FEET else "mm"


def _factor(unit: str) -> float:
    return INCH if unit == "in" else MM


def _neat(value: float) -> float:
    """Without the last digits that only the conversion made."""
    return round(value, 6) + 0.0


# Choices ------------------------------------------------------------------------


def _choices(one: Fitting) -> Iterator[Choice]:
    sheet, settings = one.unit, one.settings
    presence = sheet.presence if sheet else None
    if presence is None:
        return
    if isinstance(presence.fan, FanByAngle | FanByWidth):
        fans = tuple((name, name) for name in presence.fan.choices)
        yield _choice(one, "fan", settings.fan or "", fans)
    if len(presence.rows) > 1:
        every = tuple(str(n) for n in range(1, len(presence.rows) + 1))
        on = settings.rows_on
        value = " ".join(str(n) for n in on) if on else " ".join(every)
        rows = tuple((number, number) for number in every)
        yield _choice(one, "rows_on", value, rows, many=True)
    if presence.channels:
        numbers = [str(n) for n in range(1, presence.channels + 1)]
        set_to = str(settings.channel) if settings.channel else ""
        yield _choice(one, "channel", set_to, tuple((n, n) for n in numbers))


def _choice(
    one: Fitting,
    name: str,
    value: str,
    options: tuple[tuple[str, str], ...],
    *,
    many: bool = False,
) -> Choice:
    if not value:
        unset = say(Message("doorway_page.unset"))
        options = (("", unset), *options)
    said = say(Message(f"doorway_page.setting.{name}"))
    return Choice(_key(one, f"settings.{name}"), said, value, options, many)


def _note(one: Fitting) -> str:
    if one.unit is None:
        return say(Message("doorway_page.note.no_sheet"))
    if one.read.first_row is not None:
        return say(Message("doorway_page.note.as_read"))
    missing = one.unit.presence is not None and one.settings.tilt is None
    return say(Message("doorway_page.note.no_tilt")) if missing else ""


def _key(one: Fitting, setting: str) -> str:
    return f"fitting[{one.id}].{setting}"
