"""A radar at its place: how far it reaches, and what it detects.

With one pattern for sending and receiving, power goes as E⁴/R⁴: the contour of
one threshold is R = R0 |E|, the *field* pattern.  At half a half-power width off
the axis the reach is therefore 0.707 of the reach ahead.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from limen.geometry.turns import Array
from limen.physics.beams import Attitude
from limen.physics.radar_beam import Beam, Lobe, PatchBeam

__all__ = ["Beam", "Contour", "Lobe", "PatchBeam", "Radar"]

Bools = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Contour:
    """One reading of a radar's contour: its reach ahead and the shape of its beam.

    Attributes:
        ahead: reach on the axis (m).
        beam: the field pattern.
    """

    ahead: float
    beam: Beam


@dataclass(frozen=True, slots=True)
class Radar:
    """A radar in the doorway's frame.

    Where its manual can be read in more than one way it has as many contours: the
    inner radar reaches only where all of them do, the outer one where any does.

    Attributes:
        lens: its place (m).
        attitude: how it is turned; an inside unit is turned by half a turn.
        contours: its readings, at least one.
        inner: whether the least of the readings counts, or the greatest.
        least_speed: slowest motion along the line of sight it detects (m/s).
        response: from motion to output (s).
        direction_aware: whether only what comes nearer counts.
    """

    lens: tuple[float, float, float]
    attitude: Attitude
    contours: tuple[Contour, ...]
    inner: bool
    least_speed: float
    response: float
    direction_aware: bool

    def reach(self, direction: Array) -> Array:
        """How far the contour lies from the lens.

        Args:
            direction: (n, 3) unit vectors in the doorway's frame.

        Returns:
            (n,) metres; 0 where nothing is received.
        """
        own = np.asarray(direction, dtype=np.float64) @ self.attitude.frame()
        s, t, c = own[:, 0], own[:, 1], -own[:, 2]
        reaches = [one.ahead * one.beam.field(s, t, c) for one in self.contours]
        chosen = np.min(reaches, axis=0) if self.inner else np.max(reaches, axis=0)
        return np.asarray(chosen, dtype=np.float64)

    def contains(self, point: Array) -> Bools:
        """Whether points lie within the contour.

        Args:
            point: (n, 3) places (m).

        Returns:
            (n,) truth.
        """
        away, distance = self._sight(point)
        return distance <= self.reach(away)

    def closing_speed(self, point: Array, velocity: Array) -> Array:
        """Speed towards the lens along the line of sight.

        Args:
            point: (n, 3) places (m).
            velocity: (n, 3) velocities there (m/s).

        Returns:
            (n,) m/s; negative for what goes away.
        """
        away, _ = self._sight(point)
        return -np.sum(away * np.asarray(velocity, dtype=np.float64), axis=1)

    def detects(self, point: Array, velocity: Array) -> Bools:
        """Whether something that moves is detected, its confirmation apart.

        It lies within the contour and its speed along the line of sight is at least
        ``least_speed``; towards the lens, if the radar tells coming from going.

        Args:
            point: (n, 3) places (m).
            velocity: (n, 3) velocities there (m/s).

        Returns:
            (n,) truth.
        """
        speed = self.closing_speed(point, velocity)
        if not self.direction_aware:
            speed = np.abs(speed)
        return self.contains(point) & (speed >= self.least_speed)

    def scaled(self, factor: float) -> "Radar":
        """The same radar with all its reaches times a factor."""
        contours = tuple(Contour(c.ahead * factor, c.beam) for c in self.contours)
        return replace(self, contours=contours)

    def _sight(self, point: Array) -> tuple[Array, Array]:
        """Unit vectors from the lens to each point, and its distance."""
        away = np.asarray(point, dtype=np.float64) - np.asarray(self.lens)
        distance = np.linalg.norm(away, axis=1)
        return away / np.maximum(distance, 1e-9)[:, None], distance
