"""Within which settings of one unit all that is asked of presence holds."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from limen.model.doorway import Doorway
from limen.questions.coverage import Case
from limen.questions.remedies import Judge
from limen.questions.settled import Settled
from limen.questions.tilts import Knob, Setting, knobs_of
from limen.questions.variants import Variant


@dataclass(frozen=True, slots=True)
class Range:
    """An unbroken run of one unit's tilts, all else as it is.

    Attributes:
        fitting: the unit.
        least, most: the first row at its ends, from the leaf face (m).
        tilts: the tilts at these ends, in the same order (rad).
    """

    fitting: str
    least: float
    most: float
    tilts: tuple[float, float]


def tilt_ranges(
    doorway: Doorway, settled: Settled, cases: Sequence[Case]
) -> tuple[Range, ...]:
    """For each unit the tilts with which every case holds, all else as it is.

    Tried step by step of the unit's own scale, everything that aiming leaves open
    included; only tilts whose light surely stays clear of the door.

    Args:
        doorway: as described.
        settled: the same, settled.
        cases: what must hold.

    Returns:
        The first unbroken run from the leaf outwards of each unit that has one.
    """
    variant = Variant((), doorway, settled)
    judge = Judge(variant, cases)
    knobs = knobs_of(variant, surely=True)
    return tuple(found for knob in knobs for found in _range(knob, judge))


def _range(knob: Knob, judge: Judge) -> Iterator[Range]:
    good: list[Setting] = []
    for setting in knob.settings:
        if judge.holds({knob.unit.fitting: setting.tilt}):
            good.append(setting)
        elif good:
            break
    if good:
        near, far = good[0], good[-1]
        yield Range(
            knob.unit.fitting, near.distance, far.distance, (near.tilt, far.tilt)
        )
