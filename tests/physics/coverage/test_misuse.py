"""What `prove` refuses, and what it says then."""

from math import inf, nan
from typing import Any

import pytest

from limen.physics.coverage import Problem, bracket, prove, solve
from limen.physics.coverage.seam import Engine
from physics.coverage.problems import lattice

BEAM = [[0.0, 0.0, 0.1, 0.0]]
ZONE = (-0.1, 0.1, -0.1, 0.1)
BODY = (0.3, 0.2)


def refuses(match: str, *arguments: Any, **options: Any) -> None:
    with pytest.raises(ValueError, match=match):
        prove(*arguments, **options)


def test_a_beam_that_is_not_finite_is_refused() -> None:
    refuses("segments must be finite", [[0, 0, nan, 0]], ZONE, BODY)


def test_a_beam_with_three_numbers_is_refused() -> None:
    refuses("segments must have shape", [[0, 0, 0]], ZONE, BODY)


def test_a_beam_in_words_is_refused() -> None:
    refuses("segments must be numbers", [["a", 0, 0, 0]], ZONE, BODY)


def test_a_beam_farther_than_the_guard_covers_is_refused() -> None:
    refuses("within 10000 m", [[0, 0, 1e5, 0]], ZONE, BODY)


def test_an_infinite_zone_is_refused() -> None:
    refuses("zone must be finite", BEAM, (0, inf, 0, 1), BODY)


def test_a_zone_with_two_numbers_is_refused() -> None:
    refuses("zone must be xmin", BEAM, (0, 1), BODY)


@pytest.mark.parametrize("zone", [(0.1, -0.1, 0, 0), (0, 0, 0.1, -0.1)])
def test_an_inverted_zone_is_refused(zone: tuple[float, ...]) -> None:
    refuses("zone is inverted", BEAM, zone, BODY)


@pytest.mark.parametrize("body", [(0, 0.2), (0.3, -0.2)])
def test_an_empty_body_is_refused(body: tuple[float, float]) -> None:
    refuses("body is empty", BEAM, ZONE, body)


def test_a_body_with_three_sides_is_refused() -> None:
    refuses("body must be", BEAM, ZONE, (0.3, 0.2, 0.7))


@pytest.mark.parametrize("needed", [0, -1, [1, 0]])
def test_needing_no_beam_is_refused(needed: int) -> None:
    refuses("needed must be", BEAM, ZONE, BODY, needed=needed)


def test_needing_half_a_beam_is_refused() -> None:
    refuses("needed must be whole", BEAM, ZONE, BODY, needed=1.5)


def test_a_group_for_another_number_of_beams_is_refused() -> None:
    refuses("group must have shape", BEAM, ZONE, BODY, group=[0, 1])


def test_a_group_without_its_needed_number_is_refused() -> None:
    refuses("group must lie in", BEAM, ZONE, BODY, group=[2], needed=[1, 1])


def test_needed_and_common_for_different_units_are_refused() -> None:
    refuses("needed names 2", BEAM, ZONE, BODY, needed=[1, 1], common=[[0, 0]])


def test_a_negative_tolerance_is_refused() -> None:
    refuses("tolerance must not be negative", BEAM, ZONE, BODY, tolerance=-1e-3)


def test_a_tolerance_of_the_wrong_shape_is_refused() -> None:
    refuses("tolerance must be one", BEAM, ZONE, BODY, tolerance=[[0, 0], [0, 0]])


def test_a_negative_common_shift_is_refused() -> None:
    refuses("common must not be negative", BEAM, ZONE, BODY, common=[[0, -1e-3]])


def test_common_shifts_for_no_unit_are_refused() -> None:
    refuses("common must have one row", BEAM, ZONE, BODY, common=[])


def test_an_inverted_wall_is_refused() -> None:
    refuses("blocked has an inverted", BEAM, ZONE, BODY, blocked=[(1, 0, 0, 1)])


def test_a_wall_that_is_not_finite_is_refused() -> None:
    refuses("blocked must be finite", BEAM, ZONE, BODY, blocked=[(0, nan, 0, 1)])


def test_having_to_meet_no_box_is_refused() -> None:
    refuses("must_meet names no box", BEAM, ZONE, BODY, must_meet=[])


@pytest.mark.parametrize("resolution", [0.0, -1e-3, nan, inf, 1e-9])
def test_a_resolution_that_cannot_be_met_is_refused(resolution: float) -> None:
    refuses("resolution must be", BEAM, ZONE, BODY, resolution=resolution)


def test_a_search_of_no_cells_is_refused() -> None:
    refuses("max_cells must be", BEAM, ZONE, BODY, max_cells=0)


def test_an_unknown_engine_is_refused() -> None:
    refuses("engine must be", BEAM, ZONE, BODY, engine="abacus")


@pytest.mark.parametrize("grow", [-0.11, nan, inf])
def test_a_growth_that_leaves_no_body_is_refused(grow: float) -> None:
    with pytest.raises(ValueError, match="leaves no body"):
        solve(Problem.build(BEAM, ZONE, BODY), grow=grow)


@pytest.mark.parametrize(("precision", "limit"), [(0, 0.1), (nan, 0.1), (1e-3, 0)])
def test_a_bracket_without_width_or_range_is_refused(
    precision: float, limit: float
) -> None:
    with pytest.raises(ValueError, match="precision must be"):
        bracket(Problem.build(BEAM, ZONE, BODY), precision=precision, limit=limit)


def test_a_problem_cannot_be_changed_once_built() -> None:
    problem = Problem.build(BEAM, ZONE, BODY)
    with pytest.raises(ValueError, match="read-only"):
        problem.beams[0, 0] = 1.0


def test_without_beams_every_pose_is_a_witness() -> None:
    found = prove([], ZONE, BODY)
    assert found.verdict == "fails"
    assert found.witness is not None


@pytest.mark.parametrize("engine", ["numba", "numpy"])
def test_where_nothing_is_asked_it_holds_and_says_so(engine: Engine) -> None:
    options: list[dict[str, Any]] = [
        {"must_meet": (5, 6, 5, 6)},
        {"blocked": [(-9, 9, -9, 9)]},
    ]
    for option in options:
        found = prove(BEAM, ZONE, BODY, engine=engine, **option)
        assert (found.verdict, found.reason) == ("holds", "nothing asked")
        found = prove([], ZONE, BODY, engine=engine, **option)
        assert (found.verdict, found.reason) == ("holds", "nothing asked")


@pytest.mark.parametrize("engine", ["numba", "numpy"])
def test_a_search_that_ends_early_shows_nothing_and_says_so(engine: Engine) -> None:
    zone = (0, 0.19, 0, 0.19)
    found = prove(lattice(0.19), zone, BODY, max_cells=5, engine=engine)
    assert (found.verdict, found.reason) == ("not shown", "search limit")
