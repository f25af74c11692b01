"""The light of presence units on the floor, and how far that of two is apart."""

from dataclasses import dataclass

import numpy as np

from limen.findings import Lack
from limen.geometry.turns import Array
from limen.physics.light import spot_radius
from limen.physics.reach import Placed
from limen.questions.asking import lack
from limen.questions.settled import Named, UnitFacts


@dataclass(frozen=True, slots=True)
class Light:
    """A unit's spots on the floor of this doorway's frame.

    Attributes:
        name: the fitting, with its doorway where that is another one.
        middles: (n, 2), under every reading of the manual.
        radii: (n,).
        drawn: how many of them are those of the first reading.
        off: how far they may stand off along x and y (m).
        channel: what is set; None if nobody said.
        figures: what this rests on, by the keys of the file.
        lacks: what keeps place or width of the light from being known.
    """

    name: str
    middles: Array
    radii: Array
    drawn: int
    off: tuple[float, float]
    channel: int | None
    figures: tuple[Named, ...] = ()
    lacks: tuple[Lack, ...] = ()


def light_of(facts: UnitFacts, prefix: str) -> Light:
    """A unit's light on the floor, its name led in by ``prefix``."""
    channel, name = facts.fitting.settings.channel, prefix + facts.fitting.id
    units = [unit for unit in facts.choices if isinstance(unit, Placed)]
    if not units:
        none = np.empty((0, 2))
        nowhere = (0.0, 0.0)
        return Light(name, none, none[:, 0], 0, nowhere, channel, (), facts.lacks)
    spots = [_spots_of(unit) for unit in units]
    missing = lack("lack.divergence", "sheet.presence.spot_divergence")
    lacks = (missing,) if units[0].divergence is None else ()
    return Light(
        name,
        np.concatenate([middles for middles, _, _ in spots]),
        np.concatenate([radii for _, radii, _ in spots]),
        len(spots[0][1]),
        (max(off[0] for _, _, off in spots), max(off[1] for _, _, off in spots)),
        channel,
        facts.figures,
        lacks,
    )


def _spots_of(unit: Placed) -> tuple[Array, Array, tuple[float, float]]:
    """A unit's spots on the floor: middles, radii, how far they may stand off."""
    beams = unit.beams()
    slopes = unit.slopes(beams)
    spread = unit.divergence if unit.divergence is not None else 0.0
    error = unit.bounds(beams, (0.0, 0.0))
    along, across = error.common + error.residual.max(axis=0, initial=0.0)
    middles = beams.lens[:2] + unit.lens[2] * slopes
    radii = spot_radius(slopes, unit.lens[2], spread)
    return middles, radii, (float(along), float(across))


def apart(one: Light, two: Light) -> tuple[float, float]:
    """How far the light of two units is apart (m): as stated, and at least."""
    between = one.middles[:, None, :] - two.middles[None, :, :]
    radii = one.radii[:, None] + two.radii[None, :]
    off = np.array(one.off) + np.array(two.off)
    nearest = np.maximum(np.abs(between) - off, 0.0)
    gaps, least = (np.hypot(b[..., 0], b[..., 1]) - radii for b in (between, nearest))
    return float(gaps.min(initial=np.inf)), float(least.min(initial=np.inf))


def moved_apart(one: Light, two: Light) -> tuple[float, float]:
    """How far one unit's light has to be moved until it surely meets the other's not.

    Along and across the doors, each by itself and to whichever side is nearer; all
    spots are looked at, for another one may come close on the way.

    Returns:
        Metres along and across; inf where what is open along that axis has no end.
    """
    between = one.middles[:, None, :] - two.middles[None, :, :]
    radii = one.radii[:, None] + two.radii[None, :]
    off = np.array(one.off) + np.array(two.off)
    along, across = (
        _least_move(between[..., axis], between[..., 1 - axis], radii, off, axis)
        for axis in (0, 1)
    )
    return along, across


def _least_move(
    moved: Array, other: Array, radii: Array, off: Array, axis: int
) -> float:
    """The least shift along one axis that lies in no spot's forbidden stretch."""
    if not np.isfinite(off[axis]):
        return float("inf")
    still = np.maximum(np.abs(other) - off[1 - axis], 0.0)
    close = still < radii
    half = off[axis] + np.sqrt(np.maximum(radii**2 - still**2, 0.0))[close]
    middles = -moved[close]
    stretches = sorted(zip(middles - half, middles + half, strict=True))
    up, down = 0.0, 0.0
    for low, high in stretches:
        if low <= up <= high:
            up = float(high)
    for low, high in sorted(stretches, key=lambda one: -one[1]):
        if low <= down <= high:
            down = float(low)
    return min(up, -down)
