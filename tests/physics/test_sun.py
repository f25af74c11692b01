"""Where the sun stands.

The instant, place and answer are the worked example of Reda and Andreas, Solar position
algorithm for solar radiation applications, NREL/TP-560-34302 (2003, revised 2008),
table A5.1; values from memory: topocentric zenith 50.11162 deg, azimuth 194.34024 deg.
"""

from datetime import UTC, datetime, timedelta, timezone
from math import degrees, radians

import pytest

from limen.physics.sun import Sun, aside, is_low, sun_at

EXAMPLE = datetime(2003, 10, 17, 12, 30, 30, tzinfo=timezone(timedelta(hours=-7)))
LATITUDE, LONGITUDE = radians(39.742476), radians(-105.1786)
ZENITH, AZIMUTH = 50.11162, 194.34024
APART = 0.02
"""deg: air pressure and height of the example are left at usual ones."""


def test_the_worked_example_is_met() -> None:
    sun = sun_at(LATITUDE, LONGITUDE, EXAMPLE)
    assert 90 - degrees(sun.height) == pytest.approx(ZENITH, abs=APART)
    assert degrees(sun.bearing) == pytest.approx(AZIMUTH, abs=APART)


def test_at_the_equinox_it_rises_in_the_east_and_sets_in_the_west() -> None:
    """The plain geometry of the equator on 20 March 2026."""
    morning = sun_at(0.0, 0.0, datetime(2026, 3, 20, 6, 30, tzinfo=UTC))
    evening = sun_at(0.0, 0.0, datetime(2026, 3, 20, 17, 30, tzinfo=UTC))
    assert degrees(morning.bearing) == pytest.approx(90, abs=1)
    assert degrees(evening.bearing) == pytest.approx(270, abs=1)


def test_an_instant_without_an_offset_is_refused() -> None:
    with pytest.raises(ValueError, match="offset"):
        sun_at(0.0, 0.0, datetime(2026, 3, 20, 6, 30))  # noqa: DTZ001 - that is the point


@pytest.mark.parametrize(
    ("height", "bearing", "faces", "low"),
    [
        (10, 250, 240, True),
        (10, 350, 20, True),
        (10, 20, 350, True),
        (50, 240, 240, False),
        (-5, 240, 240, False),
        (10, 60, 240, False),
    ],
)
def test_it_is_low_where_it_stands_low_before_the_door(
    height: float, bearing: float, faces: float, *, low: bool
) -> None:
    sun = Sun(radians(height), radians(bearing))
    assert is_low(sun, radians(faces)) is low


def test_how_far_aside_it_stands_is_told_the_shorter_way_round() -> None:
    sun = Sun(radians(9), radians(350))
    assert aside(sun, radians(2)) == pytest.approx(radians(12))
    assert aside(sun, radians(338)) == pytest.approx(radians(12))
    assert aside(sun, radians(170)) == pytest.approx(radians(180))
