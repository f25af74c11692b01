"""Target lines: where rows that move are to be brought, and how closely."""

from collections.abc import Sequence
from math import floor

from limen.findings import Target
from limen.findings.tuned import Aim, Turned
from limen.model.doorway import Doorway
from limen.physics.reach import Placed, row_distance
from limen.questions.coverage import Case
from limen.questions.remedies import Judge
from limen.questions.settled import Settled, settle
from limen.questions.tilts import MILLIMETRE, Setting, light_to_spare
from limen.questions.variants import Variant
from limen.tune.scales import placed

WIDEST = 25
"""mm to either side of a target: wider windows are not told."""
AIMED = ("settings.tilt", "read.first_row")


def aims_of(
    before: Doorway, after: Doorway, turned: Sequence[Turned], cases: Sequence[Case]
) -> tuple[Aim, ...]:
    """The target line of each row that moves, with the window that all have together.

    Args:
        before: the doorway as it was set.
        after: with the settings.
        turned: what is changed.
        cases: what must hold in the window.
    """
    moved = [one.fitting for one in turned if one.setting in AIMED]
    settled = settle(after)
    units = {one.fitting: one for one in _placed(settled) if one.fitting in moved}
    if not units:
        return ()
    variant = Variant((), after, settled)
    judge = Judge(variant, cases)
    tilts = {name: unit.attitude.tilt for name, unit in units.items()}
    room = min(_window(judge, tilts), *(_clear(variant, u) for u in units.values()))
    was = {one.fitting: one for one in _placed(settle(before))}
    return tuple(_aim(after, settled, u, was.get(n), room) for n, u in units.items())


def _placed(settled: Settled) -> list[Placed]:
    return [unit for facts in settled.units if (unit := placed(facts)) is not None]


def _window(judge: Judge, tilts: dict[str, float]) -> float:
    """How far off their lines all rows may land together, proved (m)."""
    good, bad = 0, WIDEST
    while bad - good > 1:
        middle = (good + bad) // 2
        if judge.holds(tilts, middle * MILLIMETRE):
            good = middle
        else:
            bad = middle
    return good * MILLIMETRE


def _clear(variant: Variant, unit: Placed) -> float:
    """How far a row may land nearer and its light still clear the door (m)."""
    face = variant.settled.plan.side(unit.side).face
    here = Setting(row_distance(unit, 0, face), unit.attitude.tilt)
    room, error = light_to_spare(variant, unit, here)
    spare = floor((room - error) / MILLIMETRE) * MILLIMETRE
    return spare if spare >= MILLIMETRE else WIDEST * MILLIMETRE


def _aim(
    after: Doorway, settled: Settled, unit: Placed, was: Placed | None, room: float
) -> Aim:
    face = settled.plan.side(unit.side).face
    best = row_distance(unit, 0, face)
    from_ = best if was is None else row_distance(was, 0, face)
    turn = 0.0 if was is None else unit.attitude.tilt - was.attitude.tilt
    target = Target(unit.fitting, 1, best, best - room, best + room, from_, turn)
    fitting = next(one for one in after.fitting if one.id == unit.fitting)
    presence = fitting.unit.presence if fitting.unit else None
    step = presence.tilt.step if presence else None
    return Aim(target, unit.lens[2] * step.value if step else None)
