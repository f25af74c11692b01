"""What a doorway, a sheet and a readings file give to the fit of one unit.

Whatever nobody stated is taken and listed, as everywhere: how closely a kind of
reading is read, how closely a lens was taped.  A figure of the lens that is no more
than an estimate was not taped: it is where the fit begins, and bears no weight.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import nan, sqrt

import numpy as np

from limen.findings import Assumed, Message
from limen.findings.message import length, turn
from limen.geometry.turns import Array
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting, Read
from limen.model.readings import BoxEdge, Reading, RowEnd, SpotCentre, UnitRead
from limen.model.sheet import FanUnknown, Presence, Sheet
from limen.physics.beams import Attitude
from limen.physics.fans import FanReading, choices, readings
from limen.physics.plan import sign
from limen.physics.readings.expecting import Curtain, Kind, Taken
from limen.physics.readings.hanging import Known
from limen.physics.readings.resolving import Usual
from limen.quantity import Grade, Quantity
from limen.questions.mounting import MOUNTED
from limen.questions.settled import ASSUMED, Settled

WITHIN: dict[Kind, Quantity] = {
    "spot": Quantity(0.005, grade=Grade.PRACTICE),
    "line": Quantity(0.005, grade=Grade.PRACTICE),
    "end": Quantity(0.010, grade=Grade.PRACTICE),
    "in": Quantity(0.008, grade=Grade.ESTIMATE),
    "out": Quantity(0.008, grade=Grade.ESTIMATE),
}
"""How closely each kind is read where the reading does not say (m)."""
ALONG_LINE = 0.020  # m, how closely a line's place along the opening is known
KINDS: dict[str, Kind] = {
    "spot centre": "spot",
    "row line": "line",
    "row end": "end",
    "box edge in": "in",
    "box edge out": "out",
}
UNSTATED_SLOPE = 0.5
"""Slope of the last spot from which the fit of an unknown fan begins."""

Three = tuple[float, float, float]
Maybe = tuple[float | None, float | None, float | None]


@dataclass(frozen=True, slots=True)
class Given:
    """Everything that the fit of one unit rests on.

    Attributes:
        fitting: as described.
        presence: its sheet's presence part.
        face: the leaf face on its side, from the mid-plane (m).
        way: the direction away from the door along y.
        known: one for each way to read the manual's fan.
        fans: that way, in the same order; None where the fan is read.
        within: within what the lens was taped, x, y, h (m).
        usual: how units hang.
        taken: the readings that count.
        struck: those that were struck.
        assumed: what was taken though nobody stated it.
        grades: of everything that the fit rests on.
    """

    fitting: Fitting
    presence: Presence
    face: float
    way: float
    known: tuple[Known, ...]
    fans: tuple[FanReading | None, ...]
    within: Maybe
    usual: Usual
    taken: tuple[Taken, ...]
    struck: tuple[Taken, ...]
    assumed: tuple[Assumed, ...]
    grades: tuple[Grade, ...]


@dataclass(frozen=True, slots=True)
class _Lens:
    """Where the lens is, x, y, h, within what it was taped, and of what grade."""

    place: Three
    within: Maybe
    grades: tuple[Grade, ...]


def given(
    doorway: Doorway, settled: Settled, fitting: Fitting, sheet: Sheet, read: UnitRead
) -> Given:
    """Everything that the fit of one unit rests on.

    Args:
        doorway: as described.
        settled: the same, settled.
        fitting: the unit.
        sheet: its sheet, which has a presence part.
        read: its readings.

    Raises:
        ValueError: the sheet describes no presence sense.
    """
    if sheet.presence is None:
        raise ValueError(f"{fitting.id} throws no rows")
    presence, listed = sheet.presence, list[Assumed]()
    face, way = settled.plan.side(fitting.side).face, sign(fitting.side)
    lens = _lens(doorway, fitting, sheet, read, listed)
    at = (lens.place[0], way * (face + lens.place[1]), lens.place[2])
    every = [
        (one.struck, _taken(doorway, fitting, number, one, face, listed))
        for number, one in enumerate(read.reading, 1)
    ]
    used = [one for one in read.reading if not one.struck]
    fans = _fans(fitting, presence, at)
    spot = presence.angle_error or _assumed("sheet.angle_error", fitting.id, listed)
    known = tuple(
        _known(fitting, presence, fan, by_angle, at, lens.within)
        for fan, by_angle in _ways(presence, fans)
    )
    closely = (spot.high, settled.ground.evenness)
    share = read.fan == "as read" or not fans
    return Given(
        fitting,
        presence,
        face,
        way,
        tuple(_closely(one, *closely, share=share) for one in known),
        fans or (None,) * len(known),
        lens.within,
        _usual(fitting),
        tuple(one for struck, one in every if not struck),
        tuple(one for struck, one in every if struck),
        tuple({one.key: one for one in (*settled.assumed, *listed)}.values()),
        (*lens.grades, spot.grade, *(_grade(one) for one in used)),
    )


# The lens ------------------------------------------------------------------------


def _lens(
    doorway: Doorway,
    fitting: Fitting,
    sheet: Sheet,
    read: UnitRead,
    listed: list[Assumed],
) -> _Lens:
    """Where the lens was taped, this time or before."""
    now, before = read.lens, fitting.lens
    stated = (
        now.along or (before.along if before else None),
        now.from_leaf or (before.from_leaf if before else None),
        now.height or (before.height if before else None),
    )
    closely = "lens.taped" if sheet.mounting.lens_known else "lens.housing"
    place: list[float] = []
    within: list[float | None] = []
    grades: list[Grade] = []
    for which, (figure, guess) in enumerate(
        zip(stated, _guesses(doorway, fitting), strict=True)
    ):
        place.append(guess if figure is None else figure.value)
        taped, grade = _taped(figure, fitting, which, closely, listed)
        within.append(taped)
        grades += [] if grade is None else [grade]
    return _Lens(
        (place[0], place[1], place[2]), (within[0], within[1], within[2]), (*grades,)
    )


def _taped(
    figure: Quantity | None,
    fitting: Fitting,
    which: int,
    closely: str,
    listed: list[Assumed],
) -> tuple[float | None, Grade | None]:
    """Within what one figure of the lens was taped, and its grade; None if not."""
    middle = which == 0 and figure is None and fitting.lens is not None
    if middle:
        found = _assumed("lens.along", fitting.id, listed)
        return found.u, found.grade
    if figure is None or not figure.grade.may_hold:
        return None, None
    if figure.u > 0:
        return figure.u, figure.grade
    name = "lens.taped" if which == 2 else closely  # noqa: PLR2004  # the height
    return _assumed(name, fitting.id, listed).value, figure.grade


def _guesses(doorway: Doorway, fitting: Fitting) -> Three:
    """Where the fit begins if nobody taped the lens: in the middle of the header."""
    header = doorway.header
    out = header.outside if fitting.side == "outside" else header.inside
    top = header.underside or doorway.clear_height
    return 0.0, out.value, top.value


def _assumed(name: str, fitting: str, listed: list[Assumed]) -> Quantity:
    """A value that nobody stated, listed."""
    taken, _ = ASSUMED[name]
    shown = length if name.startswith("lens") else turn
    value = taken.u if name == "lens.along" else taken.value
    key = f"fitting[{fitting}].{name}"
    listed.append(Assumed(key, shown(value), taken.grade, Message(f"assumed.{name}")))
    return taken


# The readings --------------------------------------------------------------------


def _taken(
    doorway: Doorway,
    fitting: Fitting,
    number: int,
    one: Reading,
    face: float,
    listed: list[Assumed],
) -> Taken:
    """A reading in the doorway's frame."""
    kind, way = KINDS[one.kind], sign(fitting.side)
    along = one.place(doorway.clear_width)
    row = None if one.row is None else one.row - 1
    if isinstance(one, RowEnd):
        u = along.u or _within(kind, one.kind, fitting, listed)
        spot = 0 if one.end == "left" else -1
        return Taken(number, kind, along.value, nan, u, 0.0, row, spot)
    u = one.out.u or _within(kind, one.kind, fitting, listed)
    y = way * (face + one.out.value)
    if isinstance(one, SpotCentre):
        ux = along.u or _within(kind, one.kind, fitting, listed)
        spot = None if one.spot is None else one.spot - 1
        return Taken(number, kind, along.value, y, ux, u, row, spot)
    ux = along.u or ALONG_LINE
    box = one.height.value if isinstance(one, BoxEdge) else 0.0
    return Taken(number, kind, along.value, y, ux, u, row, None, box)


def _within(kind: Kind, name: str, fitting: Fitting, listed: list[Assumed]) -> float:
    """How closely a kind is read, where the reading does not say."""
    taken = WITHIN[kind]
    key = f"unit[{fitting.id}].reading.{name}"
    why = Message(f"readings.assumed.{kind}")
    listed.append(Assumed(key, length(taken.value), taken.grade, why))
    return taken.value


def _grade(one: Reading) -> Grade:
    """The grade of a reading: of its own figures, or of what is taken by its kind."""
    along = one.along or one.from_left or one.from_right
    figures = [along] if along and not isinstance(one, BoxEdge) else []
    figures += [] if isinstance(one, RowEnd) else [one.out]
    weak = [f.grade for f in figures if not f.grade.may_hold or f.grade.to_confirm]
    told = figures[-1].u > 0
    taken = [] if told else [WITHIN[KINDS[one.kind]].grade]
    weakest = [*weak, *taken]
    return max(weakest, key=_weakness) if weakest else Grade.MEASURED


def _weakness(grade: Grade) -> int:
    return (Grade.MEMORY, Grade.PRACTICE, Grade.ESTIMATE, Grade.UNSURE).index(grade)


# The unit ------------------------------------------------------------------------


def _fans(fitting: Fitting, presence: Presence, at: Three) -> tuple[FanReading, ...]:
    """Every way to read the manual's fan; of every choice where none is set."""
    if isinstance(presence.fan, FanUnknown):
        return ()
    attitude = Attitude(0.0, 0.0, 0.0, fitting.side == "inside")
    chosen = fitting.settings.fan
    named = (chosen,) if chosen is not None else choices(presence)
    return tuple(
        one
        for choice in named
        for one in readings(presence, choice, Read(), lens=at, attitude=attitude)
    )


def _ways(
    presence: Presence, fans: tuple[FanReading, ...]
) -> Iterator[tuple[tuple[Array, ...], bool]]:
    """Fan angles of every row, and whether their width is shared out by angle."""
    for fan in fans:
        yield fan.angles, fan.spacing == "equal in angle"
    if fans:
        return
    stated = presence.fan.spacing
    for by_angle in (False, True):
        if stated is None or (stated == "equal in angle") is by_angle:
            rows = (np.linspace(-1.0, 1.0, row.spots) for row in presence.rows)
            yield tuple(_unstated(row, by_angle=by_angle) for row in rows), by_angle


def _unstated(share: Array, *, by_angle: bool) -> Array:
    half = np.arctan(UNSTATED_SLOPE)
    angles = share * half if by_angle else np.arctan(share * UNSTATED_SLOPE)
    return np.asarray(angles, dtype=np.float64)


def _known(
    fitting: Fitting,
    presence: Presence,
    fan: tuple[Array, ...],
    by_angle: bool,  # noqa: FBT001  # one of a pair
    at: Three,
    within: Maybe,
) -> Known:
    on = fitting.settings.rows_on
    rows = tuple(row - 1 for row in on) if on else tuple(range(len(presence.rows)))
    low = presence.lowest_height
    curtain = Curtain(
        fitting.side == "inside",
        tuple(row.angle.value for row in presence.rows),
        fan,
        rows,
        by_angle,
        low.value if low and low.grade.may_hold else None,
    )
    taped = tuple(None if u is None else u / sqrt(3.0) for u in within)
    tilt = fitting.settings.tilt
    return Known(
        curtain, at, (taped[0], taped[1], taped[2]), tilt.value if tilt else 0.0
    )


def _closely(known: Known, spot: float, evenness: float, *, share: bool) -> Known:
    return Known(
        known.curtain, known.lens, known.taped, known.tilt, spot, evenness, share
    )


def _usual(fitting: Fitting) -> Usual:
    """How closely a unit is mounted and its scale set, stated or by practice."""
    mount, tilt = fitting.mount, fitting.settings.tilt
    plumb = mount.plumb or MOUNTED["plumb"][0]
    scale = mount.tilt_scale or MOUNTED["tilt_scale"][0]
    least = MOUNTED["plumb"][0].value / 10
    return Usual(
        tilt.value if tilt else None, max(plumb.high, least), max(scale.high, least)
    )
