"""Beams of a radar: the shape of its field pattern, one where it is strongest.

A direction is told by its direction cosines in the antenna's own frame: ``s``
along the door, ``t`` in the plane that leads away from it, ``c`` along the axis,
so that s² + t² + c² = 1.  Nothing is received from behind the antenna (c ≤ 0).
"""

from dataclasses import dataclass
from math import log, pi, sqrt
from typing import Protocol

import numpy as np

from limen.geometry.turns import Array

HALF_WAVE = 0.5
SMALL = 1e-12


class Beam(Protocol):
    """A field pattern |E|, by direction."""

    def field(self, s: Array, t: Array, c: Array) -> Array:
        """|E| in each direction, 1 at most; s, t, c (n,) direction cosines."""
        ...


@dataclass(frozen=True, slots=True)
class Lobe:
    """A Gaussian beam of two half-power widths.

    Power 2^-((2a/w)²), field its square root: at half a width off the axis the
    field is 0.707.  Between the axes the angle off the axis is split by direction.

    Attributes:
        across: full half-power width along the door (rad).
        ahead: full half-power width in the plane that leads away (rad).
    """

    across: float
    ahead: float

    def field(self, s: Array, t: Array, c: Array) -> Array:
        """|E| in each direction."""
        off = np.hypot(s, t)
        angle = np.arctan2(off, c)
        share = angle / np.maximum(off, SMALL)
        square = (2 * share * s / self.across) ** 2 + (2 * share * t / self.ahead) ** 2
        return np.where(c > 0, np.exp2(-square / 2), 0.0)


@dataclass(frozen=True, slots=True)
class PatchBeam:
    """An antenna of equal patches, fed alike: element pattern times array factor.

    Attributes:
        columns: patches side by side, along the door.
        rows: patches one above the other.
        spacing: from patch to patch, in wavelengths.
        exponent: q of one patch's field, cos^q of the angle off the axis.
        lobes: whether the lobes beside the main one count.
    """

    columns: int
    rows: int
    spacing: float = HALF_WAVE
    exponent: float = 1.0
    lobes: bool = False

    def field(self, s: Array, t: Array, c: Array) -> Array:
        """|E| in each direction."""
        factor = self._factor(self.columns, s) * self._factor(self.rows, t)
        return np.where(c > 0, np.maximum(c, 0.0) ** self.exponent * factor, 0.0)

    def _factor(self, patches: int, sine: Array) -> Array:
        factor = array_factor(patches, self.spacing, sine)
        if self.lobes or patches == 1:
            return factor
        return np.where(np.abs(sine) < first_null(patches, self.spacing), factor, 0.0)


def array_factor(patches: int, spacing: float, sine: Array) -> Array:
    """|sin(N ψ/2) / (N sin(ψ/2))|, ψ = 2 π d sin θ, d in wavelengths.

    Args:
        patches: N, in one axis.
        spacing: d, from patch to patch, in wavelengths.
        sine: (n,) sin θ, θ off the axis.

    Returns:
        (n,) field of the array, 1 on the axis.

    Source:
        Sum of N equal phasors.
    """
    half = pi * spacing * np.asarray(sine, dtype=np.float64)
    below = np.sin(half)
    flat = np.abs(below) < SMALL
    ratio = np.sin(patches * half) / (patches * np.where(flat, 1.0, below))
    return np.where(flat, 1.0, np.abs(ratio))


def first_null(patches: int, spacing: float) -> float:
    """Where the first null lies, as sin θ = 1/(N d)."""
    return 1.0 / (patches * spacing)


def width_of_gaussian(angle: float, field: float) -> float:
    """Half-power width of a Gaussian beam whose field is ``field`` at ``angle``.

    From field = 2^-((2a/w)²/2): w = 2 a √(ln 2 / (-2 ln field)).

    Args:
        angle: off the axis (rad), more than 0.
        field: |E| there, between 0 and 1.
    """
    return 2 * angle * sqrt(log(2) / (-2 * log(field)))
