"""The beam of a radar, from what its manual says of antenna and reference field."""

from dataclasses import dataclass
from math import sqrt

from limen.findings import Lack, Message
from limen.model.fitting import Fitting
from limen.model.radar import Motion, Patches
from limen.physics.radar import Contour, PatchBeam
from limen.physics.radar_beam import HALF_WAVE
from limen.physics.radar_fit import Antenna, Fit, Reference, fits
from limen.quantity import Dimension, Grade, QuantityError, parse
from limen.questions.approach_taken import Taken, assumed, stated
from limen.questions.asking import lack

DRAWN = ("field_depth", "field_width", "at_height", "at_tilt")
LIGHT = 299_792_458.0  # m/s
ABSURD = 1.0  # of the field: printed as all of it
RESIDUAL = 0.10  # of the field: a beam that misses more of it explains nothing


@dataclass(frozen=True, slots=True)
class Beams:
    """The contours that the manual allows, as its reference field has them.

    Attributes:
        contours: one, or several where the manual tells nothing of the beam.
        taken: what they rest on.
    """

    contours: tuple[Contour, ...]
    taken: Taken


def beams_of(fitting: Fitting, motion: Motion) -> Beams | tuple[Lack, ...]:
    """The beams of a radar, or what is missing of them.

    Args:
        fitting: the unit.
        motion: its sheet's motion sense, the reference field stated.
    """
    drawn_for = _antenna(motion.patches, motion)
    if isinstance(drawn_for, Lack):
        return (drawn_for,)
    found = _fits(motion, drawn_for)
    kept = tuple(fit for fit in found if fit.residual <= RESIDUAL)
    if not kept:
        least = min(fit.residual for fit in found)
        missed = round(100 * least) if least < ABSURD else 100
        said: dict[str, str | int] = {"percent": missed}
        shape = "patches" if motion.patches is not None else "lobe"
        return tuple(
            lack("approach.lack.fit", f"sheet.motion.{key}", said)
            for key in (*DRAWN, shape)
        )
    beams = Beams(tuple(fit.contour for fit in kept), _rests(motion))
    changed = _as_put_in(beams, fitting, motion, drawn_for)
    return (changed,) if isinstance(changed, Lack) else changed


def _fits(motion: Motion, antenna: Antenna | None) -> tuple[Fit, ...]:
    depth, width = motion.field_depth, motion.field_width
    height, tilt = motion.at_height, motion.at_tilt
    if depth is None or width is None or height is None or tilt is None:
        return ()
    drawn = Reference(depth.value, width.value, height.value, tilt.value)
    lobe = motion.lobe
    return fits(drawn, antenna, (lobe.across.value, lobe.ahead.value) if lobe else None)


def _antenna(patches: Patches | None, motion: Motion) -> Antenna | Lack | None:
    if patches is None:
        return None
    if patches.spacing is None:
        return Antenna(patches.columns, patches.rows, HALF_WAVE)
    wave = _wavelength(motion.frequency)
    if wave is None:
        return lack("approach.lack.frequency", "sheet.motion.frequency")
    return Antenna(patches.columns, patches.rows, patches.spacing.value / wave)


def _wavelength(frequency: str | None) -> float | None:
    """Wavelength (m) of a frequency as the manual writes it."""
    try:
        return LIGHT / parse(frequency or "", Dimension.FREQUENCY).value
    except QuantityError:
        return None


def _rests(motion: Motion) -> Taken:
    rests = stated(*((f"sheet.motion.{key}", getattr(motion, key)) for key in DRAWN))
    if motion.patches is not None:
        return rests
    if motion.lobe is not None:
        given = (motion.lobe.across, motion.lobe.ahead)
        return rests + stated(*(("sheet.motion.lobe", q) for q in given))
    why, taken = Message("approach.assumed.lobe"), "25°, 51° or 90°"
    return rests + assumed("sheet.motion.lobe", why, taken, Grade.PRACTICE)


def _as_put_in(
    beams: Beams, fitting: Fitting, motion: Motion, drawn_for: Antenna | None
) -> Beams | Lack:
    """The beams of the antenna that is put in, where antennas can be changed.

    The reach goes as the square root of the number of patches: power sent and
    received both grow with it, and distance counts to the fourth.
    """
    name = fitting.settings.array
    if name is None and not motion.arrays:
        return beams
    if name not in motion.arrays:
        where, said = f"fitting[{fitting.id}].settings.array", {"fitting": fitting.id}
        return lack("approach.lack.array", where, dict(said))
    antenna = _antenna(motion.arrays[name], motion)
    if antenna is None or isinstance(antenna, Lack) or drawn_for is None:
        missing = lack("approach.lack.patches", "sheet.motion.patches")
        return antenna if isinstance(antenna, Lack) else missing
    if antenna == drawn_for:
        return beams
    gain = antenna.columns * antenna.rows / (drawn_for.columns * drawn_for.rows)
    contours = tuple(_changed(one, antenna, sqrt(gain)) for one in beams.contours)
    return Beams(contours, beams.taken + _guessed(fitting, name))


def _changed(contour: Contour, antenna: Antenna, factor: float) -> Contour:
    beam = contour.beam
    exponent = beam.exponent if isinstance(beam, PatchBeam) else 1.0
    patches = PatchBeam(antenna.columns, antenna.rows, antenna.spacing, exponent)
    return Contour(contour.ahead * factor, patches)


def _guessed(fitting: Fitting, name: str | None) -> Taken:
    key, why = (
        f"fitting[{fitting.id}].settings.array",
        Message("approach.assumed.array"),
    )
    return assumed(key, why, name or "", Grade.ESTIMATE, walk_of(fitting))


def walk_of(fitting: Fitting) -> Lack:
    """Three walks at the door, which settle how far this unit reaches."""
    where, said = f"fitting[{fitting.id}].read.lit_ahead", {"fitting": fitting.id}
    return lack("approach.lack.walks", where, dict(said))


def shape_stated(fitting: Fitting) -> bool:
    """Whether the manual tells the shape of the beam."""
    motion = fitting.unit.motion if fitting.unit else None
    return motion is not None and (motion.lobe or motion.patches) is not None
