"""From units to the segments of a proof."""

from functools import cache
from math import radians

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.geometry.boxes import Box
from limen.physics.coverage import prove
from limen.physics.fans import FanReading
from limen.physics.reach import (
    Body,
    Ground,
    Level,
    Place,
    Scope,
    cast,
    height_span,
    on_path,
    rest_faces,
    row_distance,
    tilt_for,
)
from limen.physics.tolerance import Errors
from physics.units import a_plan, a_unit

UPRIGHT, FACE, EDGE = rest_faces(0.7, 0.3, 0.2)
FAR_AWAY = a_plan(5.0, face=0.0, header=0.0)


def test_the_body_rests_on_three_faces() -> None:
    sizes = [(b.width, b.depth, b.height) for b in (UPRIGHT, FACE, EDGE)]
    assert sizes == [(0.3, 0.2, 0.7), (0.7, 0.3, 0.2), (0.7, 0.2, 0.3)]


def test_half_the_diagonal_is_as_far_as_a_body_reaches() -> None:
    assert Body("upright", 0.3, 0.4, 1.0).reach == pytest.approx(0.25)


def test_a_path_is_asked_wherever_a_body_can_touch_it() -> None:
    place = on_path(Box(-1, 1, -0.02, 0.02), UPRIGHT)
    assert place.must_meet == Box(-1, 1, -0.02, 0.02)
    assert place.zone.right == pytest.approx(1 + UPRIGHT.reach)


def test_beams_count_from_the_lowest_height_to_the_top_less_the_floors_waves() -> None:
    span = height_span(a_unit(low=0.04), Scope(UPRIGHT, 0.002))
    assert span == pytest.approx((0.042, 0.698))


def test_only_the_top_counts_where_the_lowest_height_is_unknown() -> None:
    assert height_span(a_unit(low=None), Scope(UPRIGHT, 0.002)) == (0.698, 0.698)


def test_a_body_lower_than_the_unit_detects_is_reached_by_nothing() -> None:
    unit = a_unit(low=0.25)
    assert height_span(unit, Scope(FACE, 0.0)) is None
    assert len(cast(unit, a_plan(), Scope(FACE, 0.0)).segments) == 0


def test_errors_are_left_out_of_an_exact_cast() -> None:
    unit = a_unit(errors=Errors(dx=0.01, tilt=0.002))
    exact = cast(unit, a_plan(), Scope(UPRIGHT, 0.0, exact=True))
    loose = cast(unit, a_plan(), Scope(UPRIGHT, 0.0))
    assert not exact.residual.any()
    assert not exact.common.any()
    assert loose.common[0] >= 0.01


def test_a_barrier_reaches_what_its_beams_cross_at_their_height() -> None:
    level = Level("edge", ((0.03, 0.2), (0.03, 0.9), (-0.03, 0.001)))
    found = cast(level, a_plan(), Scope(UPRIGHT, 0.002))
    assert found.segments == pytest.approx(np.array([[-1.0, 0.03, 1.0, 0.03]]))
    assert found.needed == 1


def test_a_shift_moves_spots_on_the_floor_and_leaves_the_lens() -> None:
    plain, moved = a_unit(), a_unit(shift=(0.01, 0.02))
    ends = [
        cast(unit, a_plan(face=0.0), Scope(UPRIGHT, 0.0, exact=True)).segments
        for unit in (plain, moved)
    ]
    on_floor = (ends[1] - ends[0])[:, 2:]
    at_top = (ends[1] - ends[0])[:, :2]
    assert on_floor == pytest.approx(np.tile([0.01, 0.02], (21, 1)))
    assert at_top == pytest.approx(np.tile([0.01, 0.02], (21, 1)) * (1.5 / 2.2))


@given(
    st.floats(-0.1, 0.1), st.floats(0.01, 0.2), st.sampled_from(["outside", "inside"])
)
def test_the_tilt_for_a_place_brings_the_row_there(
    row: float, distance: float, side: str
) -> None:
    lens = (0.0, 0.14 if side == "outside" else -0.14, 2.2)
    turned = a_unit().attitude._replace(turned=side == "inside")
    unit = a_unit(side=side, lens=lens, row_angles=(row,), attitude=turned)
    there = unit.tilted(tilt_for(unit, 0, 0.02, distance))
    assert row_distance(there, 0, 0.02) == pytest.approx(distance)
    middle = there.beams().at_height(0.0)[10, 1]
    assert abs(middle) == pytest.approx(distance + 0.02)


SHADOW = 2.2 / (2.2 - 0.7)
"""K = h/(h - z) of a body 0.7 m high under a lens at 2.2 m."""
GREEDY = [0.0, 0.29333, 0.72356, 1.35455, 2.28000]
"""s' = K (s + d), d = 0.2 m: perspective from the apex; printed in whole 0.01 mm."""
GREEDY_LYING = [0.0, 0.33000, 0.69300, 1.09230, 1.53153]
"""The same for z = 0.2 m (K = 1.1), d = 0.3 m."""
THIN = 1e-3


def reached(spots: list[float], body: Body, places: tuple[float, float]) -> str:
    """A fan from the apex along x against bodies whose left end is in ``places``.

    The body is turned so that its side d lies along x; yaw is held by asking bodies
    of hardly any extent across, which the fan's plane always meets.
    """
    fan = FanReading("spot centres", "", (np.arctan(np.array(spots) / 2.2),))
    unit = a_unit(
        lens=(0.0, 0.0, 2.2), fan=fan, attitude=a_unit().attitude._replace(tilt=0.0)
    )
    plan = a_plan(9.0, face=-1.0, header=-1.0)
    cast_on = cast(unit, plan, Scope(body, 0.0, exact=True)).segments
    middle = body.width / 2
    zone = (places[0] + middle, places[1] + middle, -THIN / 2, THIN / 2)
    return prove(cast_on, zone, (body.width, body.depth)).verdict


def bar(side: float, height: float) -> Body:
    """As good as round: nothing but its extent along x matters for small turns."""
    return Body("upright", side, side, height)


@cache
def part_of(spot: float, side: float, height: float) -> tuple[float, float]:
    """Between which x a spot's beam is low enough to meet a body."""
    fan = FanReading("", "", (np.arctan(np.array([spot, spot]) / 2.2),))
    unit = a_unit(
        lens=(0.0, 0.0, 2.2), fan=fan, attitude=a_unit().attitude._replace(tilt=0.0)
    )
    plan = a_plan(9.0, face=-1.0, header=-1.0)
    segment = cast(unit, plan, Scope(bar(side, height), 0.0, exact=True)).segments[0]
    return float(segment[0]), float(segment[2])


def shadow_met(spot: float, left: float, side: float, height: float) -> bool:
    """Whether a spot's beam meets a body on [left, left + side]."""
    top, foot = part_of(spot, side, height)
    return top <= left + side and foot >= left


@pytest.mark.parametrize(
    ("spot", "met"), [(0.999, False), (1.001, True), (1.759, True), (1.761, False)]
)
def test_a_box_throws_its_shadow_from_1000_to_1760_mm(spot: float, met: bool) -> None:
    """Box on [1.0, 1.2] m, 0.7 m high, lens 2.2 m: shadow [1.0, 1.76] m."""
    assert shadow_met(spot, 1.0, 0.2, 0.7) is met


@pytest.mark.parametrize(
    ("spots", "side", "height"),
    [(GREEDY, 0.2, 0.7), (GREEDY_LYING, 0.3, 0.2)],
    ids=["standing", "lying"],
)
def test_greedy_spots_leave_no_place_along_the_fan(
    spots: list[float], side: float, height: float
) -> None:
    k = 2.2 / (2.2 - height)
    exact = [0.0]
    while len(exact) < len(spots):
        exact.append(k * (exact[-1] + side))
    assert exact == pytest.approx(spots, abs=5e-6)
    lefts = np.linspace(0.0, exact[-1] / k - side, 4001)
    assert all(any(shadow_met(s, x, side, height) for s in exact) for x in lefts)
    wider = [exact[0], *(s + 2e-3 for s in exact[1:])]
    assert not all(any(shadow_met(s, x, side, height) for s in wider) for x in lefts)


def disc_like(spots: list[float]) -> str:
    """The proof over every yaw: a square body's inscribed circle sets the pitch."""
    return reached(spots, bar(0.2, 0.7), (0.0, 1.0))


def test_the_proof_holds_for_greedy_spots_of_the_narrowest_side() -> None:
    # over all yaws the shortest chord on the line through the middle is d
    assert disc_like([-0.2, *(0.99 * s for s in GREEDY)]) == "holds"
    wider = [-0.2, 0.0, *(s + 0.03 for s in GREEDY[1:])]
    assert disc_like(wider) == "fails"


def test_a_problem_keeps_units_apart() -> None:
    units = (a_unit(needed=2), Level("edge", ((0.03, 0.3),)))
    place = Place(Box(-1, 1, -0.1, 0.1), None)
    asked = Ground(FAR_AWAY, 0.0).problem(units, place, UPRIGHT)
    assert asked.needed.tolist() == [2, 1]
    assert sorted(set(asked.group.tolist())) == [0, 1]


def test_no_unit_at_all_reaches_nobody() -> None:
    place = Place(Box(-1, 1, 0, 0.1), None)
    assert len(Ground(a_plan(), 0.0).problem((), place, UPRIGHT).beams) == 0


def test_a_turn_of_the_doorway_turns_the_cast() -> None:
    turn = a_unit().attitude
    out = a_unit(lens=(0.2, 0.14, 2.2), attitude=turn._replace(roll=0.05, yaw=0.03))
    inside = a_unit(
        side="inside",
        lens=(-0.2, -0.14, 2.2),
        attitude=turn._replace(roll=0.05, yaw=0.03, turned=True),
    )
    one, two = (
        cast(u, a_plan(), Scope(UPRIGHT, 0.0, exact=True)).segments
        for u in (out, inside)
    )
    assert two == pytest.approx(-one)
    assert radians(1.5) == pytest.approx(-turn.tilt)
