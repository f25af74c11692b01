"""Separation distances of machinery: how far from a danger a field must begin.

An engineering yardstick. No standard for pedestrian doors asks for it, and no
question of limen judges by it: docs/method/separation.md says why.
"""

from math import inf

Metres = float
Seconds = float

WALKING = 1.6
"""Speed of a walking body (m/s)."""
REACHING = 2.0
"""Speed of a hand (m/s)."""
FINE = 0.040
"""A beam field that finds this size or less finds a hand (m)."""
COARSE = 0.070
"""The largest size that a beam field across the way may leave unseen (m)."""
ARM = 0.850
"""What an arm reaches past a field that does not find hands (m)."""
BODY = 1.200
"""What a body reaches over a field at floor level (m)."""
NEAREST = 0.100
"""No field across the way stands nearer to the danger (m)."""
NEAREST_WALKING = 0.500
"""Beyond this distance people walk rather than reach (m)."""
CRAWLED_UNDER_2010 = 0.300
CRAWLED_UNDER_2024 = 0.200
"""Above this height somebody may crawl under a level field (m)."""


def across_2010(resolution: Metres, time: Seconds) -> Metres:
    """How far in front of the danger a field across the way must stand.

    For what finds a hand: S = 2 T + 8 (d − 14 mm), at least 100 mm; where that is
    more than 500 mm, S = 1.6 T + 8 (d − 14 mm), at least 500 mm.  For what finds
    an arm or a body: S = 1.6 T + 850 mm.

    Args:
        resolution: smallest body that is surely found, d (m).
        time: from the entry until the danger is over, T (s).

    Returns:
        The separation distance S (m).

    Raises:
        ValueError: a negative argument, or a resolution above 70 mm.

    Source:
        ISO 13855:2010, 6.2.3, from memory.  Left out: fields at an angle.
    """
    _in_range("resolution", resolution, COARSE)
    _in_range("time", time)
    if resolution > FINE:
        return WALKING * time + ARM
    reach = max(8.0 * (resolution - 0.014), 0.0)
    near = REACHING * time + reach
    if near > NEAREST_WALKING:
        return max(WALKING * time + reach, NEAREST_WALKING)
    return max(near, NEAREST)


def level_2010(height: Metres, time: Seconds) -> Metres:
    """How far a level field must reach out from the danger, edition 2010.

    S = 1.6 T + max(1200 mm − 0.4 H, 850 mm).

    Args:
        height: of the field above the floor, H (m).
        time: from the entry until the danger is over, T (s).

    Returns:
        The separation distance S (m).

    Raises:
        ValueError: a negative argument, or a height above 1 m.

    Source:
        ISO 13855:2010, 6.3, from memory.
    """
    _in_range("height", height, 1.0)
    _in_range("time", time)
    return WALKING * time + max(BODY - 0.4 * height, ARM)


def level_2024(time: Seconds, supplement: Metres = 0.0) -> Metres:
    """How far a level field must reach out from the danger, edition 2024.

    S = 1.6 T + 1200 mm + Z, whatever its height.

    Args:
        time: from the entry until the danger is over, T (s).
        supplement: for errors of measurement and system, Z (m).

    Returns:
        The separation distance S (m).

    Raises:
        ValueError: a negative argument.

    Source:
        ISO 13855:2024, 5 and 6.3, as told by a public consultant's page.  Left
        out: its new formula for 40 to 55 mm, which was not seen.
    """
    _in_range("time", time)
    _in_range("supplement", supplement)
    return WALKING * time + BODY + supplement


def mat_2010(time: Seconds, step: Metres = 0.0) -> Metres:
    """How far a mat on the floor must reach out from the danger.

    S = 1.6 T + 1200 mm − 0.4 H.

    Args:
        time: from the step onto it until the danger is over, T (s).
        step: height of a step on which it lies, H (m).

    Returns:
        The separation distance S (m).

    Raises:
        ValueError: a negative argument.

    Source:
        ISO 13855:2010, 7, as told by a public consultant's page.
    """
    _in_range("time", time)
    _in_range("step", step, BODY / 0.4)
    return WALKING * time + BODY - 0.4 * step


def least_height(resolution: Metres) -> Metres:
    """The least height at which a level field finds whoever walks through it.

    H = 15 (d − 50 mm), at least 0.

    Args:
        resolution: smallest body that is surely found, d (m).

    Returns:
        The height H above the floor (m).

    Raises:
        ValueError: a negative argument.

    Source:
        ISO 13855:2024, 6.3, as told by a public consultant's page.
    """
    _in_range("resolution", resolution)
    return max(15.0 * (resolution - 0.050), 0.0)


def _in_range(name: str, value: float, most: float = inf) -> None:
    if not 0.0 <= value <= most or value == inf:
        raise ValueError(f"{name} = {value}; 0 to {most} is needed")
