"""The oracles, written from the frame alone, agree with each other and with proofs.

Hand-computable cases: each with a proof; the lattice theorem is Niven & Zuckerman,
Mathematics Magazine 42 (1969), cited from memory, proved independently.
"""

import numpy as np
import pytest

from oracles import adversary, attack, planar, rays
from oracles.doorways import Floats, Plan, plan_of, random_doorway, turn_x, turn_z

UPRIGHT = (0.300, 0.200)
SQUARE = (0.200, 0.200)
CHORD = {0.0: 0.200, 0.050: 0.200, 0.075: 0.19781, 0.100: 0.14081}
"""Shortest chord of 300 x 200 mm over all yaws, by the row's offset from the centre."""


def upright_beams(
    points: Floats, body: tuple[float, float], zone: tuple[float, ...], needed: int = 1
) -> Plan:
    xmin, xmax, ymin, ymax = zone
    return Plan(
        np.hstack([points, points]),
        np.zeros(len(points), dtype=np.int64),
        np.array([needed]),
        body,
        (xmin, xmax, ymin, ymax),
        (-9.0, 9.0, -9.0, 9.0),
        (),
    )


def lattice(pitch: float) -> Floats:
    i, j = np.meshgrid(np.arange(-5, 7), np.arange(-5, 7))
    return np.stack([i.ravel(), j.ravel()], 1).astype(np.float64) * pitch


def line(pitch: float) -> Floats:
    along = np.arange(-10, 11, dtype=np.float64) * pitch
    return np.stack([along, np.zeros_like(along)], 1)


def refuted(plan: Plan) -> bool:
    return adversary.hunt(plan, seed=1).score < -1e-6


@pytest.mark.parametrize(("at", "lost"), [(0.0995, False), (0.1005, True)])
def test_one_beam_reaches_a_body_of_any_yaw_up_to_half_its_depth(
    at: float, lost: bool
) -> None:
    zone = (-at / np.sqrt(2), at / np.sqrt(2), -at / np.sqrt(2), at / np.sqrt(2))
    assert refuted(upright_beams(np.zeros((1, 2)), UPRIGHT, zone)) is lost


@pytest.mark.parametrize(
    ("pitch", "body", "needed", "lost"),
    [
        (0.1995, UPRIGHT, 1, False),
        (0.2010, UPRIGHT, 1, True),
        (0.1411, SQUARE, 1, False),
        (0.1420, SQUARE, 1, True),
        pytest.param(0.0995, UPRIGHT, 4, False, marks=pytest.mark.slow),
        (0.1410, UPRIGHT, 2, False),
        (0.2010, (0.700, 0.200), 1, True),
        (0.2995, (0.700, 0.300), 1, False),
    ],
)
def test_a_square_lattice_reaches_a_body_up_to_the_proved_pitch(
    pitch: float, body: tuple[float, float], needed: int, lost: bool
) -> None:
    plan = upright_beams(lattice(pitch), body, (0.0, pitch, 0.0, pitch), needed)
    assert refuted(plan) is lost


@pytest.mark.parametrize("offset", sorted(CHORD))
def test_one_row_reaches_a_body_up_to_its_shortest_chord(offset: float) -> None:
    for step, lost in ((-0.0005, False), (0.0005, True)):
        pitch = CHORD[offset] + step
        zone = (0.0, pitch, offset, offset)
        assert refuted(upright_beams(line(pitch), UPRIGHT, zone)) is lost


def test_a_plate_between_two_rows_is_reached_by_no_lattice() -> None:
    plan = upright_beams(lattice(0.02), (0.300, 1e-3), (0.0, 0.02, 0.0, 0.02))
    assert refuted(plan)


@pytest.mark.parametrize(
    ("spot", "hit"), [(0.999, False), (1.001, True), (1.759, True), (1.761, False)]
)
def test_a_slanted_beam_meets_the_body_where_its_shadow_says(
    spot: float, hit: bool
) -> None:
    """Lens at 2.2 m over x = 0, body 700 mm high on [1.0, 1.2]: shadow [1.0, 1.76]."""
    top = spot * (2.2 - 0.7) / 2.2
    segment = np.array([[spot, 0.0, top, 0.0]])
    assert bool(planar.met(segment, SQUARE, (1.1, 0.0, 0.0))[0]) is hit
    depth = adversary.beam_depth(spot - 1.1, 0.0, top - 1.1, 0.0, 1.0, 0.0, 0.1, 0.1)
    assert (depth > 0.0) is hit


def test_a_positive_tilt_leads_away_from_the_door_on_either_side() -> None:
    outside = turn_x(0.1) @ np.array([0.0, 0.0, -1.0])
    inside = turn_z(np.pi) @ outside
    assert outside[1] > 0.0 > inside[1]


def test_rows_land_between_30_and_300_mm_from_the_leaf_middle() -> None:
    for seed in range(200):
        doorway = random_doorway(seed)
        for unit in doorway.units:
            for row in unit.rows:
                landing = unit.y + unit.h * np.tan(unit.tilt + row.angle)
                assert 0.0299 <= landing <= 0.3001
                assert 8 <= len(row.fan) <= 40


def test_shapes_rays_and_depths_count_the_same_beams() -> None:
    rng = np.random.default_rng(5)
    compared = 0
    for seed in range(25):
        doorway = random_doorway(seed)
        plan = plan_of(doorway)
        poses = np.vstack(
            [
                adversary.hardest(plan, seed, 15, 500),
                rng.uniform((-1, -0.3, -3), (1, 0.3, 3), (15, 3)),
            ]
        )
        moving = rays.StaticBox(doorway).counts(poses)
        for p, by_rays in zip(poses, moving, strict=True):
            pose = (p[0], p[1], p[2])
            if np.any(
                planar.counts(plan, pose, rays.SINGLE)
                != planar.counts(plan, pose, -rays.SINGLE)
            ):
                continue
            compared += 1
            by_shapes = planar.counts(plan, pose)
            assert np.array_equal(by_shapes, by_rays)
            assert np.array_equal(by_rays, rays.counts_in_the_room(doorway, pose))
            met = planar.met(plan.segments, plan.body, pose)
            assert np.array_equal(met, depths(plan, pose) >= 0.0)
    assert compared > 700


def depths(plan: Plan, pose: planar.Pose) -> Floats:
    x, y, yaw = pose
    c, s, hw, hd = np.cos(yaw), np.sin(yaw), plan.body[0] / 2, plan.body[1] / 2
    off = plan.segments - np.array([x, y, x, y])
    return np.array(
        [adversary.beam_depth(o[0], o[1], o[2], o[3], c, s, hw, hd) for o in off]
    )


def test_a_depth_is_how_far_the_body_can_shrink_and_still_be_met() -> None:
    plan = plan_of(random_doorway(3))
    pose = (0.1, 0.02, 0.4)
    for j, depth in enumerate(depths(plan, pose)):
        if depth <= -0.15 or depth >= 0.099:
            continue
        for more, hit in ((1e-7, False), (-1e-7, True)):
            shrink = depth + more
            body = (plan.body[0] - 2 * shrink, plan.body[1] - 2 * shrink)
            assert bool(planar.met(plan.segments[[j]], body, pose)[0]) is hit


def test_what_the_adversary_finds_is_a_witness_to_shapes_and_rays() -> None:
    found = 0
    for seed in range(60):
        doorway = random_doorway(seed)
        find = adversary.hunt(plan_of(doorway), seed)
        if find.score < -1e-6:
            found += 1
            deep = adversary.Effort(enough=-1e-4)
            find = adversary.hunt(plan_of(doorway), seed, effort=deep)
            assert attack.against_witness(doorway, find.pose) == []
    assert 20 <= found <= 50


def test_a_false_holds_does_not_pass() -> None:
    """The attack can fail: every doorway the adversary refutes is complained about."""
    for seed in range(12):
        doorway = random_doorway(seed)
        lost = adversary.hunt(plan_of(doorway), seed).score < -1e-6
        assert bool(attack.against_holds(doorway)) is lost


def test_a_false_witness_does_not_pass() -> None:
    doorway = random_doorway(4)
    plan = plan_of(doorway)
    middle = plan.segments[len(plan.segments) // 4]
    assert attack.against_witness(doorway, (middle[0], middle[1], 0.0)) or np.any(
        plan.needed > 1
    )
    assert "a body cannot be here" in attack.against_witness(doorway, (9.0, 0.0, 0.0))
