"""People who walk to a door: straight lines, bodies, and how quickly they go.

Everything here is in the frame of one *side*: x along the opening, y away from the
door.  Outside it is the doorway's own frame, inside the same turned by half a turn.
"""

from dataclasses import dataclass
from math import cos, erf, inf, isfinite, sin, sqrt
from statistics import NormalDist


@dataclass(frozen=True, slots=True)
class Walker:
    """What of a walking body the door must let through.

    Attributes:
        aside: half the width that must be free: body and side clearance (m).
        ahead: how far from the mid-plane of the leaves the body's middle is when
            the opening must be free: half its depth and the stand-off (m).
    """

    aside: float
    ahead: float


@dataclass(frozen=True, slots=True)
class Walk:
    """A straight walk through the door.

    Attributes:
        heading: where it comes from (rad): 0 straight, positive from the side of
            positive x.
        target: x at which it crosses the mid-plane of the leaves (m).
        speed: m/s.
        start: length of the way from its start to the mid-plane (m); endless if it
            comes from further than the door notices.
    """

    heading: float
    target: float
    speed: float
    start: float = inf

    def at(self, left: float) -> tuple[float, float]:
        """Where the walker is with so much of the way left (m): (x, y)."""
        return self.target + left * sin(self.heading), left * cos(self.heading)


@dataclass(frozen=True, slots=True)
class Group:
    """How quickly the people of a group walk: normally distributed.

    Attributes:
        mean: m/s.
        spread: one standard deviation (m/s).
    """

    mean: float
    spread: float

    def slower(self, speed: float) -> float:
        """Share of the group that walks more slowly than a speed, 0 to 1.

        Nobody walks backwards: what the normal distribution has below 0 is left
        out.

        Args:
            speed: m/s; endless for everybody.

        Returns:
            The share.
        """
        if speed <= 0.0:
            return 0.0
        below = self._normal(0.0)
        return (self._normal(speed) - below) / (1.0 - below)

    def quantile(self, share: float) -> float:
        """The speed that a share of the group does not exceed (m/s).

        Args:
            share: more than 0, less than 1.

        Raises:
            ValueError: the share is not between 0 and 1.
        """
        if not 0.0 < share < 1.0:
            raise ValueError(f"a share lies between 0 and 1, not {share}")
        below = self._normal(0.0)
        spread = NormalDist(self.mean, self.spread)
        return spread.inv_cdf(below + share * (1.0 - below))

    def _normal(self, speed: float) -> float:
        if not isfinite(speed):
            return 1.0
        return (1.0 + erf((speed - self.mean) / (self.spread * sqrt(2.0)))) / 2


def way_needed(speed: float, seconds: float) -> float:
    """How far ahead of the door a walker must be noticed (m).

    D = v·t: the way walked while the opening is made.

    Args:
        speed: m/s.
        seconds: from being noticed until enough is free (s).

    Source:
        Identity.
    """
    return speed * seconds
