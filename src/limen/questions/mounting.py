"""How a unit is mounted: its height, and whether its scale reaches the target."""

from collections.abc import Iterator
from dataclasses import replace
from math import degrees, radians

from limen.findings import (
    Assumed,
    Change,
    Finding,
    Lack,
    Margin,
    Measure,
    Message,
    Remedy,
    Verdict,
)
from limen.findings.message import length, turn
from limen.model.fitting import Fitting, Mount
from limen.model.sheet import Presence, Sheet
from limen.physics.plan import sign
from limen.physics.reach import Placed, row_distance, tilt_at
from limen.quantity import (
    Dimension,
    Grade,
    Outcome,
    Quantity,
    at_least,
    at_most,
)
from limen.questions.asking import (
    Asked,
    compared,
    graded,
    lack,
    margin_of,
    standing,
    too_weak,
)
from limen.questions.settled import Named, UnitFacts

PRACTICE = Grade.PRACTICE
MOUNTED: dict[str, tuple[Quantity, Dimension]] = {
    "place": (Quantity(0.010, grade=PRACTICE), Dimension.LENGTH),
    "height": (Quantity(0.010, grade=PRACTICE), Dimension.LENGTH),
    "plumb": (Quantity(radians(1.0), grade=PRACTICE), Dimension.ANGLE),
    "tilt_scale": (Quantity(radians(1.0), grade=PRACTICE), Dimension.ANGLE),
}
"""How closely a unit is mounted before it is aimed, where nothing is said."""
CENTIMETRE = 0.01
FURTHEST = 60  # cm, how far a lens is told to be moved at most
INNER_ROW_FURTHEST = 0.100  # m: half the thinnest side of the reference body


def height(asked: Asked) -> tuple[Finding, ...]:
    """Is each unit mounted within the heights its sheet gives?

    Args:
        asked: no limits; the sheet's ``least_height`` and ``most_height`` (m).

    Returns:
        One finding for each unit with a lens, and for each presence unit whose
        lens place is not known.  Margin: distance to the nearer
        end of the sheet's range (m).

    Source:
        The sheet.
    """
    return tuple(
        _height(asked, fitting, fitting.unit)
        for fitting in asked.doorway.fitting
        if fitting.unit is not None
        and (fitting.lens is not None or fitting.unit.presence is not None)
    )


def _height(asked: Asked, fitting: Fitting, sheet: Sheet) -> Finding:
    lens, name = fitting.lens, fitting.id
    if lens is None:
        missing = lack("lack.lens", f"fitting[{name}].lens", {"fitting": name})
        because = Message("height.no_lens")
        return asked.answer(
            Verdict.NOT_SHOWN, because, fitting=name, lacking=(missing,)
        )
    least, most = sheet.mounting.least_height, sheet.mounting.most_height
    if least is None or most is None:
        ends = (("least_height", least), ("most_height", most))
        lacks = tuple(
            lack("lack.height_range", f"sheet.mounting.{end}")
            for end, figure in ends
            if figure is None
        )
        because = Message("height.unknown")
        return asked.answer(Verdict.NOT_SHOWN, because, fitting=name, lacking=lacks)
    comparison = min(
        (at_least(lens.height, least), at_most(lens.height, most)), key=standing
    )
    where = f"fitting[{name}].lens.height"
    figures = (
        (where, lens.height),
        ("sheet.mounting.least_height", least),
        ("sheet.mounting.most_height", most),
    )
    told = compared(comparison, too_weak(figures) or where)
    said = {
        "fitting": name,
        "height": length(lens.height.value),
        "least": length(least.value),
        "most": length(most.value),
    }
    return asked.answer(
        told.verdict,
        Message(f"height.{told.verdict.key}", said),
        fitting=fitting.id,
        margin=margin_of(comparison, Dimension.LENGTH),
        remedy=Remedy(Message("remedy.height", said))
        if told.verdict is Verdict.FAILS
        else None,
        lacking=told.lacking,
        to_confirm=told.to_confirm,
    )


def position(asked: Asked) -> tuple[Finding, ...]:
    """Does the scale reach the target line, however the unit was mounted?

    The first row must be brought within half the thinnest side of the body of
    the leaf middle.  Mounting leaves the lens off by ``place`` and ``height``,
    the housing off plumb, the scale off by ``tilt_scale``; the tilt that the
    target then asks for must lie within the sheet's range.

    Args:
        asked: no limits; the sheet's tilt range.

    Returns:
        One finding for each presence unit.  Margin: tilt to spare (rad).

    Source:
        Trigonometry.  Left out: what the housing itself allows.
    """
    found: list[Finding] = []
    for facts in asked.settled.units:
        sheet = facts.fitting.unit
        if sheet is None or sheet.presence is None:
            continue
        found.append(_position(asked, facts))
    return tuple(found)


def _position(asked: Asked, facts: UnitFacts) -> Finding:
    fitting = facts.fitting
    unit = facts.choices[0] if facts.choices else None
    presence = fitting.unit.presence if fitting.unit else None
    if not isinstance(unit, Placed) or presence is None:
        return asked.answer(
            Verdict.NOT_SHOWN,
            Message("position.unknown"),
            fitting=fitting.id,
            lacking=facts.lacks,
        )
    need = _tilts_needed(asked, fitting, unit, _target(asked, unit))
    least, most = presence.tilt.least.value, presence.tilt.most.value
    room = min(most - need[1], need[0] - least)
    nominal = min(most - need[2], need[2] - least)
    outcome = Outcome.NOT_SHOWN
    if room >= 0 or nominal < 0:
        outcome = Outcome.HOLDS if room >= 0 else Outcome.FAILS
    stated = (*_mount_figures(fitting, presence), *facts.figures)
    figures = (*asked.settled.figures, *stated)
    grades = (*asked.limits_graded(), *(figure.grade for _, figure in figures))
    told = graded(outcome, grades, too_weak(figures))
    closer = _closer(fitting) if outcome is Outcome.NOT_SHOWN else ()
    face = asked.settled.plan.side(unit.side).face
    said = {
        "target": length(_target(asked, unit)),
        "now": length(row_distance(unit, 0, face)),
        "low": f"{degrees(need[0]):.1f}",
        "high": f"{degrees(need[1]):.1f}",
        "least": turn(least),
        "most": turn(most),
    }
    return asked.answer(
        told.verdict,
        Message(f"position.{told.verdict.key}", said),
        fitting=fitting.id,
        margin=Margin(room, 0.0, Dimension.ANGLE),
        remedy=None
        if told.verdict is Verdict.HOLDS
        else _other_place(asked, fitting, unit, presence),
        lacking=(*told.lacking, *closer),
        assumed=tuple(_assumed(fitting)),
        to_confirm=told.to_confirm,
    )


def _mounted(mount: Mount) -> dict[str, Quantity | None]:
    """How closely the unit is mounted, as stated, by name."""
    return {
        "place": mount.place,
        "height": mount.height,
        "plumb": mount.plumb,
        "tilt_scale": mount.tilt_scale,
    }


def _mount_figures(fitting: Fitting, presence: Presence) -> Iterator[Named]:
    """How closely the unit is mounted and how far its scale goes, as stated."""
    for name, stated in _mounted(fitting.mount).items():
        if stated is not None:
            yield f"fitting[{fitting.id}].mount.{name}", stated
    yield "sheet.presence.tilt", presence.tilt.least
    yield "sheet.presence.tilt", presence.tilt.most


def _closer(fitting: Fitting) -> tuple[Lack, ...]:
    """What is mounted less closely than the scale has room for."""
    where = f"fitting[{fitting.id}].mount"
    return (lack("lack.mounted", where, {"fitting": fitting.id}),)


def _other_place(
    asked: Asked, fitting: Fitting, unit: Placed, presence: Presence
) -> Remedy:
    """Where the lens belongs so that the scale reaches the target: whole centimetres.

    The place nearest to where it is now is told.
    """
    way, face = sign(unit.side), asked.settled.plan.side(unit.side).face
    now = way * unit.lens[1] - face
    least, most = presence.tilt.least.value, presence.tilt.most.value
    read = fitting.read.first_row is not None
    for steps in sorted(range(-FURTHEST, FURTHEST + 1), key=abs):
        best = round(now, 2) + steps * CENTIMETRE
        lens = (unit.lens[0], way * (face + best), unit.lens[2])
        moved = replace(unit, lens=lens)
        # a row that was read stays where it is; one that was not moves with the lens
        target = _target(asked, unit if read else moved)
        low, high, _ = _tilts_needed(asked, fitting, moved, target)
        if best >= 0 and low >= least and high <= most:
            said = {"fitting": fitting.id, "best": length(best)}
            change = Change(fitting.id, "lens.from_leaf", f"{best * 1000:.0f} mm")
            return Remedy(Message("remedy.lens_place", said), (change,))
    return Remedy(Message("remedy.no_lens_place", {"fitting": fitting.id}))


def _assumed(fitting: Fitting) -> Iterator[Assumed]:
    """What was taken of the mounting though nobody stated it."""
    for name, stated in _mounted(fitting.mount).items():
        if stated is None:
            taken, dimension = MOUNTED[name]
            key, why = f"fitting[{fitting.id}].mount.{name}", f"assumed.mount.{name}"
            shown = Measure(taken.value, dimension)
            yield Assumed(key, shown, taken.grade, Message(why))


def _target(asked: Asked, unit: Placed) -> float:
    """Where the first row is wanted, from the leaf face: as set, or as far as serves.

    A row that stands further out than half the body's thinnest side is wanted
    at 85 % of that.
    """
    face = asked.settled.plan.side(unit.side).face
    now = row_distance(unit, 0, 0.0)
    wanted = now if now <= INNER_ROW_FURTHEST else 0.85 * INNER_ROW_FURTHEST
    return wanted - face


def _tilts_needed(
    asked: Asked, fitting: Fitting, unit: Placed, target: float
) -> tuple[float, float, float]:
    """Least, greatest and nominal tilt (rad) that a target (m) may ask for."""
    mount = fitting.mount
    place, rise, plumb, scale = (
        (stated or MOUNTED[name][0]).high for name, stated in _mounted(mount).items()
    )
    face = asked.settled.plan.side(unit.side).face
    out = sign(unit.side) * unit.lens[1]
    run = target + face - out
    angles = [
        tilt_at(run + dy, unit.lens[2] + dz, unit.row_angles[0])
        for dy in (-place, 0.0, place)
        for dz in (-rise, 0.0, rise)
    ]
    off = plumb + scale
    nominal = tilt_at(run, unit.lens[2], unit.row_angles[0])
    return min(angles) - off, max(angles) + off, nominal
