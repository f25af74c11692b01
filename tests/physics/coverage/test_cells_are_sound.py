"""The bounds of a cell hold for every pose in it, judged by shapely."""

from typing import Any

import numpy as np
import pytest
import shapely

from limen.physics.coverage import Problem, twin

TRIALS, PAIRS = 200, 100
"""20,000 triples of a cell, a pose in it and a beam."""


def random_block(rng: np.random.Generator, body: tuple[float, float]) -> twin.Block:
    size = 10 ** rng.uniform(-3, -0.7)
    rx, ry = size * rng.uniform(0, 1, 2)
    return twin.Block(
        x=rng.uniform(-1, 1, PAIRS),
        y=rng.uniform(-1, 1, PAIRS),
        yaw=rng.uniform(-np.pi, np.pi, PAIRS),
        rx=rx,
        ry=ry,
        ra=min(np.pi / 2, rng.uniform(0, 1) * size / np.hypot(*body) * 2),
        cell=np.arange(PAIRS),
        beam=np.arange(PAIRS),
    )


def beams_near(block: twin.Block, rng: np.random.Generator) -> np.ndarray:
    start = np.column_stack([block.x, block.y]) + rng.normal(0, 0.12, (PAIRS, 2))
    length = rng.choice([0, 0.02, 0.1, 0.5], (PAIRS, 1))
    return np.hstack([start, start + length * rng.normal(0, 1, (PAIRS, 2))])


def bodies(
    body: tuple[float, float], x: np.ndarray, y: np.ndarray, yaw: np.ndarray
) -> Any:
    corners = np.array([[1, 1], [-1, 1], [-1, -1], [1, -1]]) * np.array(body) / 2
    c, s = np.cos(yaw)[:, None], np.sin(yaw)[:, None]
    u, v = corners[:, 0], corners[:, 1]
    places = np.stack([x[:, None] + c * u - s * v, y[:, None] + s * u + c * v], axis=2)
    return shapely.polygons(places)


def extreme(rng: np.random.Generator, half: float) -> np.ndarray:
    """Offsets in a cell, half of them at its ends."""
    ends = rng.choice([-half, half], PAIRS)
    return np.where(rng.random(PAIRS) < 0.5, ends, rng.uniform(-half, half, PAIRS))


@pytest.mark.parametrize("errors", [0.0, 0.01])
def test_sure_beams_meet_and_dropped_beams_miss_at_every_pose_of_a_cell(
    errors: float,
) -> None:
    rng = np.random.default_rng(20)
    sure_ones = dropped = 0
    for _ in range(TRIALS):
        body = tuple(rng.uniform(0.1, 0.7, 2))
        block = random_block(rng, body)
        beams = beams_near(block, rng)
        own = rng.uniform(0, errors, (PAIRS, 2)) if errors else 0.0
        asked = Problem.build(beams, (-1, 1, -1, 1), body, tolerance=own)
        task, _ = twin._start(asked, 0.0, 5e-4)
        may, _, sure = twin._examine(task, block)
        moved = beams + np.tile(asked.beams[:, 4:] * rng.choice([-1, 1], (PAIRS, 2)), 2)
        turn = block.yaw + extreme(rng, block.ra)
        there = block.x + extreme(rng, block.rx), block.y + extreme(rng, block.ry)
        plan = bodies(body, *there, turn)
        hit = shapely.intersects(plan, shapely.linestrings(moved.reshape(-1, 2, 2)))
        nominal = shapely.intersects(plan, shapely.linestrings(beams.reshape(-1, 2, 2)))
        assert hit[sure[:, 0] > 0].all()
        assert not nominal[~may].any()
        sure_ones += int(sure.sum())
        dropped += int((~may).sum())
    assert min(sure_ones, dropped) > 1500


def test_a_dismissed_cell_has_no_pose_that_is_admissible_and_asked() -> None:
    rng = np.random.default_rng(21)
    gone = 0
    for _ in range(TRIALS):
        body = tuple(rng.uniform(0.1, 0.7, 2))
        block = random_block(rng, body)
        wall, path = (np.sort(rng.uniform(-1, 1, (2, 2)), axis=0).T for _ in range(2))
        asked = Problem.build(
            [], (-1, 1, -1, 1), body, blocked=wall.ravel(), must_meet=path.ravel()
        )
        dismissed = twin._dismissed(asked, block)
        there = block.x + extreme(rng, block.rx), block.y + extreme(rng, block.ry)
        plan = bodies(body, *there, block.yaw + extreme(rng, block.ra))
        boxes = [shapely.box(b[0, 0], b[1, 0], b[0, 1], b[1, 1]) for b in (wall, path)]
        stands = shapely.area(shapely.intersection(plan, boxes[0])) <= 0.0
        meets = shapely.intersects(plan, boxes[1])
        assert not (stands & meets)[dismissed].any()
        gone += int(dismissed.sum())
    assert 1000 < gone < 0.9 * TRIALS * PAIRS


def test_the_bounds_are_not_idle() -> None:
    """A bound half as wide is caught by the same draws: the check can fail."""
    rng, wrong = np.random.default_rng(22), 0
    for _ in range(TRIALS):
        body = tuple(rng.uniform(0.1, 0.7, 2))
        block = random_block(rng, body)
        asked = Problem.build(beams_near(block, rng), (-1, 1, -1, 1), body)
        task, _ = twin._start(asked, 0.0, 5e-4)
        _, met, _ = twin._examine(task, block)
        turn = block.yaw + extreme(rng, block.ra)
        there = block.x + extreme(rng, block.rx), block.y + extreme(rng, block.ry)
        lines = shapely.linestrings(
            np.hstack(
                [
                    asked.beams[:, :2] - asked.beams[:, 2:4],
                    asked.beams[:, :2] + asked.beams[:, 2:4],
                ]
            ).reshape(-1, 2, 2)
        )
        hit = shapely.intersects(bodies(body, *there, turn), lines)
        wrong += int((~hit[met[:, 0] > 0]).sum())
    assert wrong > 50
