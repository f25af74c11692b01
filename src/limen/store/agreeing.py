"""Whether doorway, fittings and sheets agree with each other.

Each of them may be well written and the whole still describe no door: a channel
that the unit does not have, a lens inside the header.  What is only against the
manual's advice (a mounting height) is not refused here but found by a question.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.radar import RadarTurn
from limen.model.sheet import FanUnknown, Presence, Sheet, Turn
from limen.model.site import Site
from limen.quantity import Dimension, Quantity, write
from limen.store.tomllines import Path

HANGS = 0.1
"""Metres by which a unit on the header's face may hang below the header: ours, the
height of a housing; a lens lower than that hangs in the walkway."""

_TOUCH = 1e-9
"""Metres or radians that are float noise."""


@dataclass(frozen=True, slots=True)
class Clash:
    """Two statements that cannot both be true.

    Attributes:
        path: the way to the one that is refused.
        why: why.
        accepted: what is accepted in its place.
        example: a line that is accepted.
    """

    path: Path
    why: str
    accepted: str
    example: str = ""


def clashes(site: Site) -> Iterator[Clash]:
    """Everything in a site that does not agree.

    Args:
        site: valid by itself; fittings whose sheet is missing are passed over.
    """
    for number, door in enumerate(site.doorway):
        path: Path = ("doorway", number)
        yield from _doorway(door, path)
        for place, fitting in enumerate(door.fitting):
            yield from _fitting(door, fitting, (*path, "fitting", place))


# The doorway in itself ---------------------------------------------------------


def _doorway(door: Doorway, path: Path) -> Iterator[Clash]:
    under, ignored = door.header.underside, door.presence_ignored_below
    if under is not None and under.value < door.clear_height.value - _TOUCH:
        least = _text(door.clear_height)
        yield Clash(
            (*path, "header", "underside"),
            "the header's underside is lower than the clear height",
            f"{least} or more",
            f'underside = "{least}"',
        )
    if ignored is not None and ignored.value > door.clear_width.value + _TOUCH:
        yield Clash(
            (*path, "presence_ignored_below"),
            "the gap is wider than the opening",
            f"up to {_text(door.clear_width)}",
            'presence_ignored_below = "0 mm"',
        )
    yield from _side_spaces(door, path)


def _side_spaces(door: Doorway, path: Path) -> Iterator[Clash]:
    hand = door.leaves.hand
    for number, space in enumerate(door.side_space):
        if hand is not None and space.side != hand:
            yield Clash(
                (*path, "side_space", number, "side"),
                f"the single leaf opens to the {hand}",
                f"the side to which a leaf opens: {hand}",
                f'side = "{hand}"',
            )


# A fitting and its sheet -------------------------------------------------------


def _fitting(door: Doorway, fitting: Fitting, path: Path) -> Iterator[Clash]:
    sheet = fitting.unit
    if sheet is None:
        return
    yield from _parts(fitting, sheet, path)
    yield from _lens(door, fitting, path)
    yield from _wires(fitting, sheet, path)
    settings: Path = (*path, "settings")
    yield from _turns(fitting, sheet, settings)
    yield from _array(fitting, sheet, settings)
    yield from _steadiness(fitting, sheet, settings)
    if sheet.presence is not None:
        yield from _presence(fitting, sheet.presence, settings)
    else:
        yield from _no_presence(fitting, settings)


def _parts(fitting: Fitting, sheet: Sheet, path: Path) -> Iterator[Clash]:
    """A lens for a unit that looks down, beams for a barrier, and not otherwise."""
    if sheet.presence is not None and fitting.lens is None:
        example = 'lens = { from_leaf = "120 mm", height = "2200 mm" }'
        why = "a unit with rows of spots needs the place of its lens"
        yield Clash((*path, "lens"), why, "a lens with from_leaf and height", example)
    if sheet.barrier is not None and not fitting.beams:
        example = 'beams = [{ height = "200 mm", from_leaf = "30 mm" }]'
        why = "a light barrier needs its beams"
        yield Clash((*path, "beams"), why, "one beam or more", example)
    if sheet.barrier is None and fitting.beams:
        why = "the sheet describes no light barrier"
        yield Clash((*path, "beams"), why, "no beams, or the sheet of a barrier")


def _wires(fitting: Fitting, sheet: Sheet, path: Path) -> Iterator[Clash]:
    has = list(dict.fromkeys(output.signals for output in sheet.outputs))
    for number, wire in enumerate(fitting.wires):
        if has and wire.output != "test" and wire.output not in has:
            yield Clash(
                (*path, "wires", number, "output"),
                "the sheet has no such output",
                " or ".join(f'"{name}"' for name in (*has, "test")),
                f'output = "{has[0]}"',
            )


def _lens(door: Doorway, fitting: Fitting, path: Path) -> Iterator[Clash]:
    lens = fitting.lens
    if lens is None:
        return
    header = door.header.outside if fitting.side == "outside" else door.header.inside
    top = door.header.underside or door.clear_height
    below = top.value - lens.height.value
    on_face = fitting.place == "header face"
    if on_face and below <= _TOUCH and lens.from_leaf.value < header.value - _TOUCH:
        yield Clash(
            (*path, "lens", "from_leaf"),
            "the lens stands inside the header",
            f"{_text(header)} or more, the header's face on this side",
            f'from_leaf = "{_text(header)}"',
        )
    if on_face and below > HANGS + _TOUCH:
        yield Clash(
            (*path, "lens", "height"),
            f"a unit on the header's face hangs {below:.2f} m below the header",
            f"about {_text(top)} or more; else another place",
            'place = "beside"',
        )
    if below > _TOUCH and _in_leaf_path(door, fitting):
        yield Clash(
            (*path, "lens", "from_leaf"),
            "the lens stands in the leaf path",
            "further from the leaf face than leaf and handles come",
            'from_leaf = "60 mm"',
        )


def _in_leaf_path(door: Doorway, fitting: Fitting) -> bool:
    lens, leaves = fitting.lens, door.leaves
    if lens is None:
        return False
    along = lens.along.value if lens.along else 0.0
    if abs(along) >= door.clear_width.value / 2:
        return False
    moving = (leaves.sway, leaves.handle_depth)
    reach = max((part.value for part in moving if part is not None), default=0.0)
    return lens.from_leaf.value <= reach + _TOUCH


# Settings that the unit has ----------------------------------------------------


def _turns(fitting: Fitting, sheet: Sheet, settings: Path) -> Iterator[Clash]:
    """Rows and radar are turned no further than their scales go."""
    of, rows, radar = fitting.settings, sheet.presence, sheet.motion
    turns: tuple[tuple[str, Quantity | None, Turn | RadarTurn | None], ...] = (
        ("tilt", of.tilt, rows.tilt if rows else None),
        ("radar_tilt", of.radar_tilt, radar.tilt if radar else None),
        ("radar_yaw", of.radar_yaw, radar.yaw if radar else None),
    )
    for key, value, turn in turns:
        if value is not None and turn is not None:
            yield from _turned(key, value, turn, settings)


def _turned(
    key: str, value: Quantity, turn: Turn | RadarTurn, settings: Path
) -> Iterator[Clash]:
    low, high = turn.least.value - _TOUCH, turn.most.value + _TOUCH
    if not low <= value.value <= high:
        least, most = (write(end, Dimension.ANGLE) for end in (turn.least, turn.most))
        yield Clash(
            (*settings, key),
            f"the unit cannot be {'turned' if key == 'radar_yaw' else 'tilted'} so far",
            f"the sheet's range: {least} to {most}",
            f'{key} = "{most}"',
        )


def _array(fitting: Fitting, sheet: Sheet, settings: Path) -> Iterator[Clash]:
    chosen, radar = fitting.settings.array, sheet.motion
    if chosen is None or radar is None or not radar.arrays or chosen in radar.arrays:
        return
    yield Clash(
        (*settings, "array"),
        "the sheet has no such array",
        " or ".join(f'"{name}"' for name in radar.arrays),
        f'array = "{next(iter(radar.arrays))}"',
    )


def _steadiness(fitting: Fitting, sheet: Sheet, settings: Path) -> Iterator[Clash]:
    step = fitting.settings.steadiness
    if step is not None and sheet.steadiness and step not in sheet.steadiness:
        yield Clash(
            (*settings, "steadiness"),
            "the sheet has no such step",
            " or ".join(f'"{name}"' for name in sheet.steadiness),
            f'steadiness = "{sheet.steadiness[0]}"',
        )


def _presence(fitting: Fitting, presence: Presence, at: Path) -> Iterator[Clash]:
    settings = fitting.settings
    yield from _fan(settings.fan, presence, at)
    rows = len(presence.rows)
    for number, row in enumerate(settings.rows_on or ()):
        twice = settings.rows_on is not None and row in settings.rows_on[:number]
        if row > rows or twice:
            yield Clash(
                (*at, "rows_on", number),
                "this row stands twice" if twice else f"the sheet has {rows} rows",
                f"numbers from 1 to {rows}, each once",
                f"rows_on = {list(range(1, rows + 1))}",
            )
    channel, channels = settings.channel, presence.channels
    if channel is not None and channels is not None and channel > channels:
        yield Clash(
            (*at, "channel"),
            "the sheet has no such channel",
            f"1 to {channels}",
            f"channel = {channels}",
        )


def _fan(chosen: str | None, presence: Presence, at: Path) -> Iterator[Clash]:
    fan = presence.fan
    if chosen is None:
        return
    if isinstance(fan, FanUnknown):
        why = "the sheet says nothing of the fan, so none can be chosen"
        yield Clash((*at, "fan"), why, "no fan; row ends under read settle it")
    elif chosen not in fan.choices:
        yield Clash(
            (*at, "fan"),
            "the sheet has no such fan choice",
            " or ".join(f'"{name}"' for name in fan.choices),
            f'fan = "{next(iter(fan.choices))}"',
        )


def _no_presence(fitting: Fitting, at: Path) -> Iterator[Clash]:
    """Settings of rows, on a unit that has none."""
    settings = fitting.settings
    for name in ("fan", "rows_on"):
        if getattr(settings, name) is not None:
            why = "the sheet describes no presence sense"
            yield Clash((*at, name), why, "nothing here, or another sheet")


def _text(quantity: Quantity) -> str:
    return write(Quantity(quantity.value), Dimension.LENGTH)
