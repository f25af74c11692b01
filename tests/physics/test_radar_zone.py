"""The field of a side on the floor."""

from dataclasses import replace
from math import radians

import numpy as np
import pytest
from shapely.geometry import Point, Polygon

from limen.physics.beams import Attitude
from limen.physics.radar import Contour, Lobe, Radar
from limen.physics.radar_zone import (
    Zone,
    ahead,
    closing_speed,
    least_half_width,
    outline,
)

FACE = 0.02


def a_radar(tilt: float = 25, x: float = 0.0, reach: float = 3.4) -> Radar:
    return Radar(
        (x, 0.14, 2.2),
        Attitude(radians(tilt), 0.0, 0.0, turned=False),
        (Contour(reach, Lobe(radians(120), radians(55))),),
        inner=True,
        least_speed=0.05,
        response=0.1,
        direction_aware=True,
    )


def a_zone(*radars: Radar, heights: tuple[float, ...] = (0.0,)) -> Zone:
    return Zone(radars or (a_radar(),), heights, surely=True, face=FACE, way=1.0)


def test_edges_lie_within_a_millimetre_of_the_contour() -> None:
    begin, end = ahead(a_zone(a_radar(tilt=45)))
    radar = a_radar(tilt=45)
    for out, other in ((end, end + 0.001), (begin, begin - 0.001)):
        inside = radar.contains(np.array([[0.0, FACE + out, 0.0]]))[0]
        beyond = radar.contains(np.array([[0.0, FACE + other, 0.0]]))[0]
        assert inside
        assert not beyond


def test_a_radar_turned_outwards_leaves_a_gap_at_the_leaf() -> None:
    assert ahead(a_zone(a_radar(tilt=10)))[0] == 0.0
    assert ahead(a_zone(a_radar(tilt=40)))[0] > 0.3


def test_a_field_that_never_comes_down_is_none() -> None:
    assert ahead(a_zone(a_radar(reach=1.5))) == (0.0, 0.0)
    assert least_half_width(a_zone(a_radar(reach=1.5)), 0.5) == 0.0


def test_a_unit_out_of_the_middle_covers_less_at_the_far_end() -> None:
    middle = least_half_width(a_zone(), 0.7)
    aside = least_half_width(a_zone(a_radar(x=0.5)), 0.7)
    assert aside == pytest.approx(middle - 0.5, abs=0.002)


def test_two_units_together_cover_what_either_does() -> None:
    both = a_zone(a_radar(x=-0.6), a_radar(x=0.6))
    alone = least_half_width(a_zone(), 0.7)
    assert least_half_width(both, 0.7) == pytest.approx(alone + 0.6, abs=0.002)


def test_a_body_of_some_height_must_be_within_at_all_heights_or_at_any() -> None:
    floor, middle = a_zone(), a_zone(heights=(1.0,))
    surely = a_zone(heights=(0.0, 1.0))
    maybe = replace(surely, surely=False)
    ends = [ahead(zone)[1] for zone in (floor, middle, surely, maybe)]
    assert ends[2] == pytest.approx(min(ends[:2]), abs=1e-9)
    assert ends[3] == pytest.approx(max(ends[:2]), abs=1e-9)


def test_the_inside_field_is_the_outside_one_turned() -> None:
    radar = replace(a_radar(), lens=(0.0, -0.14, 2.2))
    turned = replace(radar, attitude=Attitude(radians(25), 0.0, 0.0, turned=True))
    inside = Zone((turned,), (0.0,), surely=True, face=FACE, way=-1.0)
    assert ahead(inside) == ahead(a_zone())
    assert least_half_width(inside, 0.5) == least_half_width(a_zone(), 0.5)


def test_the_outline_lies_within_the_field_and_fills_it() -> None:
    zone = a_zone()
    drawn = Polygon(outline(zone, 1.0))
    rng = np.random.default_rng(3)
    x, out = rng.uniform(-2.5, 2.5, 800), rng.uniform(0.0, 3.0, 800)
    inside = zone.covers(x, out)
    shape = [drawn.contains(Point(a, FACE + b)) for a, b in zip(x, out, strict=True)]
    assert not np.any(np.array(shape) & ~inside)
    assert np.sum(np.array(shape)) > 0.97 * np.sum(inside)


def test_who_walks_slowly_shows_their_speed_best_far_out() -> None:
    zone = a_zone()
    end = FACE + ahead(zone)[1] - 0.14
    found = closing_speed(zone, (0.0, 4.0), 0.152)
    assert found == pytest.approx(0.152 * end / np.hypot(end, 2.2), rel=0.02)


def test_outside_the_field_nobody_shows_anything() -> None:
    assert closing_speed(a_zone(a_radar(reach=1.5)), (0.0, 4.0), 1.0) == 0.0


def test_twice_the_speed_shows_twice_as_much() -> None:
    slow = closing_speed(a_zone(), (1.0, 4.0), 0.1)
    assert closing_speed(a_zone(), (1.0, 4.0), 0.2) == pytest.approx(2 * slow)
