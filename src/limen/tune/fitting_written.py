"""What of a fit is written into a site file, and the doorway that says so.

Written is what a study reads: the lens, how the unit is turned, where its first row
lands, and within what.  Figures are rounded to tenths of a millimetre, doubts up.
"""

from collections.abc import Iterator, Mapping, Sequence
from math import ceil, degrees, radians, tan

from limen.findings import Change
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.sheet import FanUnknown
from limen.physics.readings.expecting import (
    ACROSS,
    ALONG,
    HEIGHT,
    ROLL,
    TILT,
    YAW,
    row_slopes,
)
from limen.quantity import Dimension, Grade, Quantity, write
from limen.quantity import least as weakest
from limen.tune.fitting_given import Given
from limen.tune.fitting_unit import Pinned

FINE = 1e-4  # m
FINE_TURN = radians(0.01)
WEAK = (Grade.MEMORY, Grade.PRACTICE, Grade.ESTIMATE, Grade.UNSURE)


def changes_of(given: Given, pinned: Pinned) -> tuple[Change, ...]:
    """What is written of one fitted unit.

    Args:
        given: everything that the fit rests on.
        pinned: the pose.
    """
    grade = _grade(given)
    pose, left = pinned.explained.hanging.pose, pinned.left
    out = given.way * float(pose[ACROSS]) - given.face
    lens = (
        ("lens.along", _length(float(pose[ALONG]), left.lens[0], grade)),
        ("lens.from_leaf", _length(out, left.lens[1], grade)),
        ("lens.height", _length(float(pose[HEIGHT]), left.lens[2], grade)),
    )
    turned = (
        ("settings.roll", _angle(float(pose[ROLL]), grade)),
        ("settings.yaw", _angle(float(pose[YAW]), grade)),
    )
    aimed = (
        ("read.first_row", _length(first_row(given, pinned), left.across, grade)),
        *_ends(given, pinned, grade),
        ("aim.across", _length(_up(left.across), 0.0, grade)),
        ("aim.along", _length(_up(left.along), 0.0, grade)),
        ("aim.turn", _angle(ceil(left.turn / FINE_TURN) * FINE_TURN, grade)),
    )
    name = given.fitting.id
    return tuple(Change(name, key, text) for key, text in (*lens, *turned, *aimed))


def first_row(given: Given, pinned: Pinned) -> float:
    """The first row from the leaf face, straight out from under the lens (m).

    As a study takes it: by the tilt alone.  A turn about the upright axis moves the
    row there by less than a thousandth of its way out.
    """
    pose = pinned.explained.hanging.pose
    lean = float(pose[TILT]) + pinned.known.curtain.row_angles[0]
    run = float(pose[HEIGHT]) * tan(lean)
    return given.way * float(pose[ACROSS]) + run - given.face


def ends_of(given: Given, pinned: Pinned, row: int) -> tuple[tuple[float, float], ...]:
    """The left and the right end of a row: along, and out from the leaf face (m)."""
    pose = pinned.explained.hanging.pose
    floor = pose[[ALONG, ACROSS]] + pose[HEIGHT] * row_slopes(
        pinned.known.curtain, pose, row
    )
    ends = sorted((float(floor[which, 0]), float(floor[which, 1])) for which in (0, -1))
    return tuple((x, given.way * y - given.face) for x, y in ends)


def hung_as(doorway: Doorway, changes: Sequence[Change]) -> Doorway:
    """The doorway with what is written of its units in place.

    Args:
        doorway: as described, sheets hung on.
        changes: as `changes_of` gives them.
    """
    fittings: list[Fitting] = []
    for fitting in doorway.fitting:
        own = {c.setting: c.value for c in changes if c.fitting == fitting.id}
        fittings.append(_hung(fitting, own) if own else fitting)
    return doorway.model_copy(update={"fitting": tuple(fittings)})


def _hung(fitting: Fitting, values: Mapping[str, str]) -> Fitting:
    data = fitting.model_dump()
    for setting, value in values.items():
        part, _, key = setting.partition(".")
        data[part] = {**(data[part] or {}), key: value}
    return Fitting.model_validate(data).model_copy(update={"unit": fitting.unit})


def _ends(given: Given, pinned: Pinned, grade: Grade) -> Iterator[tuple[str, str]]:
    """Both ends of the first row, where the manual's fan is not to be used.

    That is where it is not known or may be read several ways, where the readings are
    to replace it, and where ends read before stand in the file.
    """
    read, share = given.fitting.read, pinned.known.share
    before = read.left_end is not None or read.right_end is not None
    unknown = isinstance(given.presence.fan, FanUnknown)
    if not (share or before or unknown or len(given.known) > 1):
        return
    left, right = ends_of(given, pinned, 0)
    half = (right[0] - left[0]) / 2
    within = max(pinned.left.share * half, pinned.left.along)
    yield "read.left_end", _length(left[0], within, grade)
    yield "read.right_end", _length(right[0], within, grade)


def _grade(given: Given) -> Grade:
    """The grade of what is written: the weakest of what it rests on, else measured."""
    grade = weakest(Grade.MEASURED, *given.grades)
    return grade if grade in WEAK else Grade.MEASURED


def _up(value: float) -> float:
    return ceil(value / FINE - 1e-6) * FINE


def _length(value: float, u: float, grade: Grade) -> str:
    rounded = round(value / FINE) * FINE
    within = _up(u + abs(rounded - value)) if u else 0.0
    plain = Quantity(round(rounded, 6), round(within, 6), grade)
    return write(plain, Dimension.LENGTH)


def _angle(value: float, grade: Grade) -> str:
    text = f"{round(degrees(value), 2):g} deg"
    return text if grade is Grade.MEASURED else f"{text}, {grade}"
