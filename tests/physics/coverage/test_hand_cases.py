"""Cases whose answer has a proof on paper.

Square lattices: Niven and Zuckerman, Lattice point coverings by rectangles, Mathematics
Magazine 42 (1969); the others are elementary and proved where they are named.
Resolution 0.02 mm; the limits are printed to 0.01 mm, so they are met to 0.06 mm.
"""

from collections.abc import Callable
from math import pi, sqrt

import numpy as np
import pytest

from limen.physics.coverage import Problem, meets, prove
from physics.coverage.problems import lattice, poses, row

FINE = 2e-5
WITHIN = 6e-5
BODY = (0.3, 0.2)

LATTICE_LIMITS = [
    ((0.3, 0.2), 0.200),
    ((0.2, 0.2), 0.14142),
    ((0.7, 0.3), 0.300),
    ((0.7, 0.2), 0.200),
]
ROW_LIMITS_BY_OFFSET = [(0.0, 0.200), (0.050, 0.200), (0.075, 0.19781)]
ROW_AT_HALF_DEPTH = 0.14081
SQUARE_ROW_LIMITS = [(0.050, 0.18284)]
DISC_RADII = [(1, 1 / sqrt(2)), (2, 1.0), (3, 1.11803), (4, 1.17851)]
"""Largest distance to the k-th nearest point of a unit lattice: 1/sqrt 2, 1, sqrt 5/2,
5 sqrt 2/6, at the middle of a square, a point, the middle of a side, (1/6, 1/6)."""
STRIP_BOUNDS = [
    ((0.3, 0.2), 0.099, 4),
    ((0.3, 0.2), 0.1405, 2),
    ((0.3, 0.2), 0.199, 1),
    ((0.7, 0.3), 0.149, 6),
]


def limit(
    question: Callable[[float], str], low: float, high: float
) -> tuple[float, float]:
    """The largest size that holds and the smallest that fails, by halving."""
    held, failed = low, high
    assert question(low) == "holds"
    assert question(high) == "fails"
    for _ in range(13):
        size = (held + failed) / 2
        match question(size):
            case "holds":
                held = size
            case "fails":
                failed = size
            case _:
                break
    size = (held + failed) / 2
    while question(size) == "not shown":
        size += FINE
    failed = min(failed, size)
    size = failed
    while question(size) != "holds":
        size -= FINE
    return max(held, size), failed


def test_one_beam_reaches_the_body_at_every_turn_up_to_half_its_depth() -> None:
    def at(offset: float) -> str:
        return prove(
            [[0, 0, 0, 0]], (offset, offset, 0, 0), BODY, resolution=FINE
        ).verdict

    assert at(0.099) == "holds"
    assert at(0.101) == "fails"
    assert limit(at, 0.05, 0.15) == pytest.approx((0.1, 0.1), abs=WITHIN)


@pytest.mark.parametrize(("body", "pitch"), LATTICE_LIMITS)
def test_a_square_lattice_reaches_every_pose_up_to_the_pitch_of_the_theorem(
    body: tuple[float, float], pitch: float
) -> None:
    def at(size: float) -> str:
        zone = (0, size / 2, 0, size / 2)
        return prove(lattice(size, 0.6), zone, body, resolution=1e-4).verdict

    assert at(pitch - 4e-4) == "holds"
    assert at(pitch + 4e-4) == "fails"


def test_the_elementary_condition_for_a_lattice_is_enough() -> None:
    pitch = 0.2 / sqrt(2) - 5e-4
    assert prove(lattice(pitch), (0, pitch, 0, pitch), (0.2, 0.2)).verdict == "holds"


@pytest.mark.parametrize(("offset", "pitch"), ROW_LIMITS_BY_OFFSET)
def test_a_row_reaches_the_body_up_to_its_shortest_chord_at_that_offset(
    offset: float, pitch: float
) -> None:
    def at(size: float) -> str:
        zone = (-size / 2, size / 2, offset, offset)
        return prove(row(size), zone, BODY, resolution=FINE).verdict

    found = limit(at, 0.9 * pitch, 1.1 * pitch)
    assert found == pytest.approx((pitch, pitch), abs=WITHIN)


def test_a_row_at_half_the_depth_fails_just_above_its_chord_and_never_holds_below() -> (
    None
):
    def at(size: float) -> str:
        zone = (-size / 2, size / 2, 0.1, 0.1)
        return prove(row(size), zone, BODY, resolution=1e-4).verdict

    assert at(ROW_AT_HALF_DEPTH + 2e-4) == "fails"
    assert at(ROW_AT_HALF_DEPTH - 2e-4) == "not shown"


@pytest.mark.parametrize(("offset", "pitch"), SQUARE_ROW_LIMITS)
def test_a_row_reaches_a_square_up_to_the_chord_of_its_cut_corner(
    offset: float, pitch: float
) -> None:
    def at(size: float) -> str:
        zone = (-size / 2, size / 2, offset, offset)
        return prove(row(size), zone, (0.2, 0.2), resolution=FINE).verdict

    found = limit(at, 0.9 * pitch, 1.1 * pitch)
    assert found == pytest.approx((pitch, pitch), abs=WITHIN)


@pytest.mark.parametrize(("needed", "radius"), DISC_RADII)
def test_a_body_around_the_disc_of_the_kth_beam_has_k_beams(
    needed: int, radius: float
) -> None:
    pitch = 0.1
    side = 2 * radius * pitch + 2e-3
    zone = (0, pitch / 2, 0, pitch / 2)
    found = prove(lattice(pitch, 0.4), zone, (side, side), needed=needed)
    assert found.verdict == "holds"


@pytest.mark.parametrize(("body", "pitch", "needed"), STRIP_BOUNDS)
def test_a_body_cut_into_strips_has_a_beam_for_each(
    body: tuple[float, float], pitch: float, needed: int
) -> None:
    zone = (0, pitch / 2, 0, pitch / 2)
    beams = lattice(pitch, 0.7)
    assert prove(beams, zone, body, needed=needed).verdict == "holds"
    assert prove(beams, zone, body, needed=needed + 1).verdict == "fails"


def test_a_body_unturned_has_beams_as_its_sides_count_them() -> None:
    beams, rng = lattice(0.16), np.random.default_rng(1)
    asked = Problem.build(beams, (-0.2, 0.2, -0.2, 0.2), BODY)
    counts = {int(meets(asked, (x, y, 0.0))[0]) for x, y, _ in poses(asked, 2000, rng)}
    assert counts == {1, 2, 4}


def test_a_plate_between_two_rows_is_reached_by_no_lattice() -> None:
    for pitch in (0.01, 0.05, 0.2):
        zone = (0, pitch, 0, pitch)
        assert prove(lattice(pitch, 0.2), zone, (0.1, 1e-4)).verdict == "fails"


def test_curtains_as_far_apart_as_the_body_is_deep_reach_every_pose() -> None:
    def at(apart: float) -> str:
        y = np.arange(-3, 4) * apart
        curtains = np.column_stack([-1 + 0 * y, y, 1 + 0 * y, y])
        zone = (-0.2, 0.2, -apart, apart)
        return prove(curtains, zone, BODY, resolution=1e-4).verdict

    assert at(0.2 - 6e-4) == "holds"
    assert at(0.2 + 6e-4) == "fails"


def test_a_witness_on_a_sparse_lattice_can_be_counted_by_hand() -> None:
    found = prove(lattice(0.22), (0, 0.22, 0, 0.22), BODY)
    assert found.witness is not None
    x, y, yaw = found.witness
    beams = lattice(0.22)[:, :2] - (x, y)
    along = beams @ (np.cos(yaw), np.sin(yaw))
    across = beams @ (-np.sin(yaw), np.cos(yaw))
    assert not ((abs(along) <= 0.15) & (abs(across) <= 0.1)).any()
    assert -pi / 2 <= yaw <= pi / 2
