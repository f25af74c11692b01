"""What hides a beam, against a walk along it in small steps."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from limen.geometry.boxes import Box
from limen.geometry.turns import Array
from limen.physics.hidden import Cutter, visible
from limen.physics.plan import Plan, SidePlan
from physics.units import a_plan

STEPS = 4000
SPAN = (0.04, 0.69)


def a_scene(rng: np.random.Generator) -> tuple[Array, Array, Plan, Cutter]:
    """A lens outside or inside, beams all over, walls and a header about them."""
    out, back = rng.uniform(0.01, 0.08, 2)
    sway = rng.uniform(0, 0.01)
    reveal = rng.uniform(0, 0.4, 2)
    half = rng.uniform(0.5, 1.2)
    plan = Plan(
        half,
        SidePlan(out, out + sway, out + rng.uniform(0.0, 0.2)),
        SidePlan(back, back + sway, back + rng.uniform(0.0, 0.2)),
        rng.uniform(1.9, 2.4),
        Box(-half, half, -back - sway, out + sway),
        tuple(
            Box(*ends, -back - reveal[1], out + reveal[0])
            for ends in ((-half - 3, -half), (half, half + 3))
        ),
        None,
    )
    side: Any = rng.choice(["outside", "inside"])
    way = 1 if side == "outside" else -1
    lens = np.array(
        [rng.uniform(-half, half), way * rng.uniform(0.02, 0.6), rng.uniform(1.9, 2.6)]
    )
    slopes = np.column_stack([rng.uniform(-0.6, 0.6, 30), rng.uniform(-0.3, 0.3, 30)])
    slack = tuple(rng.uniform(0, 0.02, 2) * rng.integers(2))
    if 0 <= abs(lens[1]) - plan.side(side).header < slack[1]:
        slack = (0.0, 0.0)  # a lens that was taped clear of the header is clear of it
    return lens, slopes, plan, Cutter(plan, side, slack)  # pyright: ignore[reportArgumentType]


def within(box: Box, x: Array, y: Array) -> np.ndarray:
    return (x > box.left) & (x < box.right) & (y > box.near) & (y < box.far)


def walked(
    lens: Array, slope: Array, plan: Plan, cutter: Cutter, *, leaf: bool
) -> float:
    """How far along the beam (0 lens, 1 floor) it gets before something stops it."""
    t = np.linspace(0.0, 1.0, STEPS + 1)
    x, y = (lens[i] + t * lens[2] * slope[i] for i in range(2))
    z = lens[2] * (1 - t)
    way = 1 if cutter.side == "outside" else -1
    stopped = np.zeros(len(t), dtype=bool)
    for wall in plan.walls:
        stopped |= within(wall.grown(*cutter.slack), x, y)
    own = plan.side(cutter.side)
    stopped |= (z > plan.underside) & (way * y < own.header + cutter.slack[1])
    if leaf:
        stopped |= way * y < own.swayed + cutter.slack[1]
    return float(t[stopped.argmax()]) if stopped.any() else np.inf


@pytest.mark.parametrize("leaf", [True, False], ids=["its own side", "beyond too"])
@pytest.mark.parametrize("seed", range(40))
def test_a_beam_is_cut_where_a_walk_along_it_is_stopped(seed: int, leaf: bool) -> None:
    rng = np.random.default_rng([seed, 51])
    lens, slopes, plan, cutter = a_scene(rng)
    seen = visible(lens, slopes, SPAN, cutter)
    start, floor = ((lens[2] - z) / lens[2] for z in (SPAN[1], SPAN[0]))
    parts = seen.near if leaf else seen.whole
    for number, slope in enumerate(slopes):
        stop = walked(lens, slope, plan, cutter, leaf=leaf)
        end = min(stop, floor)
        if leaf and abs(stop - start) > 2 / STEPS:
            assert seen.has_near[number] == (end >= start), (seed, number)
        if end < start:
            continue
        run = lens[2] * slope
        wanted = np.concatenate([lens[:2] + start * run, lens[:2] + end * run])
        assert parts[number] == pytest.approx(wanted, abs=3 / STEPS)


@pytest.mark.parametrize("seed", range(20))
def test_a_beam_crosses_the_leaf_plane_where_a_walk_does(seed: int) -> None:
    rng = np.random.default_rng([seed, 52])
    lens, slopes, plan, cutter = a_scene(rng)
    cutter = replace(cutter, slack=(0.0, 0.0))
    seen = visible(lens, slopes, SPAN, cutter)
    t = np.linspace(0.0, (lens[2] - SPAN[0]) / lens[2], STEPS + 1)
    for slope, crossing in zip(slopes, seen.crossing, strict=True):
        end = walked(lens, slope, plan, cutter, leaf=False)
        x, y = (lens[i] + t * lens[2] * slope[i] for i in range(2))
        leaves = (t < end) & (y < plan.outside.swayed) & (y > -plan.inside.swayed)
        if not leaves.any() or end == 0:
            continue
        if np.isnan(crossing).any():
            assert np.count_nonzero(leaves) <= 2 or _starts_inside(lens, cutter)
            continue
        span = x[leaves].min(), x[leaves].max()
        assert crossing == pytest.approx(span, abs=3 / STEPS)


def _starts_inside(lens: Array, cutter: Cutter) -> bool:
    return abs(lens[1]) < cutter.face or cutter.plan.underside < lens[2]


def cut(lens: tuple[float, float, float], slope: tuple[float, float]) -> Any:
    plan = a_plan()
    return visible(np.array(lens), np.array([slope]), SPAN, Cutter(plan, "outside"))


def test_a_beam_away_from_the_door_counts_whole() -> None:
    seen = cut((0.0, 0.14, 2.0), (0.0, 0.1))
    ends = [0.0, 0.14 + 1.31 * 0.1, 0.0, 0.14 + 1.96 * 0.1]
    assert seen.near[0] == pytest.approx(ends)
    assert np.isnan(seen.crossing).all()


def test_a_beam_towards_the_leaf_counts_up_to_its_face() -> None:
    seen = cut((0.0, 0.14, 2.0), (0.0, -0.07))
    assert seen.near[0, 3] == pytest.approx(0.02)
    assert seen.whole[0, 3] == pytest.approx(0.14 - 1.96 * 0.07)
    assert seen.crossing[0] == pytest.approx([0.0, 0.0])


def test_a_lens_behind_the_face_of_the_header_sees_nothing() -> None:
    assert not cut((0.0, 0.11, 2.2), (0.0, 0.1)).has_near[0]
    assert cut((0.0, 0.13, 2.2), (0.0, 0.1)).has_near[0]


def test_a_beam_from_above_that_runs_into_the_header_is_gone() -> None:
    assert not cut((0.0, 0.14, 2.4), (0.0, -0.07)).has_near[0]
    assert cut((0.0, 0.14, 2.4), (0.0, -0.05)).has_near[0]


def test_slack_cuts_earlier_on_every_side() -> None:
    lens, slopes, _, cutter = a_scene(np.random.default_rng(3))
    loose = visible(lens, slopes, SPAN, replace(cutter, slack=(0.0, 0.0)))
    tight = visible(lens, slopes, SPAN, replace(cutter, slack=(0.02, 0.02)))
    assert (tight.has_near <= loose.has_near).all()
    both = tight.has_near
    lengths = [
        np.hypot(*(seen.near[both, 2:] - seen.near[both, :2]).T)
        for seen in (tight, loose)
    ]
    assert (lengths[0] <= lengths[1] + 1e-12).all()
