"""Beams that pass the leaf's plane, with the leaf's place as a fourth dimension.

A unit outside looks through the opening; the one inside has rows too narrow to do
without.  As the leaves close they hide what is behind them, and what is wholly behind
them they can no longer strike.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from builders.doorways import a_doorway
from limen.findings import Verdict
from limen.geometry.boxes import Box
from limen.model.doorway import Doorway
from limen.physics.plan import Plan, free
from limen.physics.reach import Placed, Scope, on_path, rest_faces
from limen.questions.beyond import reached_past_the_leaf
from limen.questions.settled import settle
from questions.asking import asked

UPRIGHT = rest_faces(0.7, 0.3, 0.2)[0]
SCOPE = Scope(UPRIGHT, 0.002, exact=True)


def looking_through(
    narrow: str = "1200 mm", tilt: str = "-11 deg", **more: Any
) -> Doorway:
    """Outside 380 mm out, rows on both sides of the leaves; inside a narrow unit."""
    rows = tuple(
        {"angle": f"{angle} deg", "spots": 48, "pauses_while_moving": False}
        for angle in (-4, -2, 0, 2, 4, 6)
    )
    return a_doorway(
        {
            "fitting[outside].lens.from_leaf": "380 mm",
            "fitting[outside].settings.tilt": tilt,
            "fitting[outside].settings.rows_on": None,
            "fitting[inside].settings.tilt": "2.542 deg",
            "fitting[inside].settings.rows_on": None,
            "fitting[inside].settings.fan": "narrow",
            "sheet.presence.rows": rows,
            "sheet.presence.fan.choices": {"wide": "2900 mm", "narrow": narrow},
            **more,
        }
    )


def units_of(doorway: Doorway) -> list[Placed]:
    return [unit for unit in settle(doorway).ways()[0] if isinstance(unit, Placed)]


def past(doorway: Doorway, scope: Scope = SCOPE) -> Any:
    settled = settle(doorway)
    plan = settled.plan
    return reached_past_the_leaf(
        settled.ways()[0], settled.ground, on_path(plan.leaf_path, UPRIGHT), scope
    )


def corners(pose: tuple[float, float, float]) -> np.ndarray:
    x, y, yaw = pose
    w, d = UPRIGHT.width / 2, UPRIGHT.depth / 2
    flat = np.array([[-w, -d], [w, -d], [w, d], [-w, d]])
    c, s = np.cos(yaw), np.sin(yaw)
    return flat @ np.array([[c, s], [-s, c]]) + (x, y)


def inside(pose: tuple[float, float, float], points: np.ndarray) -> np.ndarray:
    x, y, yaw = pose
    c, s = np.cos(yaw), np.sin(yaw)
    dx, dy = points[:, 0] - x, points[:, 1] - y
    u, v = c * dx + s * dy, -s * dx + c * dy
    return (np.abs(u) <= UPRIGHT.width / 2) & (np.abs(v) <= UPRIGHT.depth / 2)


def reached_by_walking(
    doorway: Doorway, gap: float, pose: tuple[float, float, float]
) -> bool:
    """Whether a beam, walked in small steps past leaves that stand, meets the body."""
    plan = settle(doorway).plan
    return any(
        inside(pose, part).any()
        for unit in units_of(doorway)
        for part in _walked(unit, plan, gap)
    )


def _walked(unit: Placed, plan: Plan, gap: float) -> Iterator[np.ndarray]:
    """Points of each beam within the heights that count, up to a standing leaf."""
    opening, between = plan.leaf_path, free(plan, gap)
    z = np.linspace(unit.lens[2], unit.low or 0.0, 3000)
    counts = (z <= UPRIGHT.height - 0.002) & (z >= (unit.low or 0.0) + 0.002)
    for slope in unit.slopes(unit.beams()):
        x, y = (unit.lens[i] + (unit.lens[2] - z) * slope[i] for i in range(2))
        in_plane = (y > opening.near) & (y < opening.far)
        leaf = in_plane & ((x < between.left) | (x > between.right))
        stop = leaf.argmax() if leaf.any() else len(z)
        yield np.column_stack([x, y])[counts & (np.arange(len(z)) < stop)]


def test_a_unit_that_looks_through_makes_up_for_a_narrow_one() -> None:
    found = asked("presence.leaf_path", looking_through())[None, "upright"]
    assert found.verdict is Verdict.HOLDS
    assert found.because.key == "coverage.holds_bare"
    assert found.margin is None


def test_it_does_so_at_the_threshold_too() -> None:
    found = asked("presence.threshold", looking_through())[None, "upright"]
    assert found.verdict is Verdict.HOLDS


def test_without_what_lies_past_the_leaf_the_narrow_unit_fails() -> None:
    found = asked("presence.leaf_path", looking_through(tilt="-4 deg"))
    assert found[None, "upright"].verdict is Verdict.FAILS


def test_one_unit_alone_leaves_a_body_half_behind_the_leaf_at_a_printed_gap() -> None:
    nobody: dict[str, Any] = {"fitting[inside]": None}
    alone = looking_through(**nobody)
    found = asked("presence.leaf_path", alone)[None, "upright"]
    assert found.verdict is Verdict.FAILS
    assert found.witness
    assert found.witness.gap is not None
    assert 0 < found.witness.gap < 2.0
    assert found.witness.pose
    assert found.witness.pose.y < 0


@pytest.mark.parametrize(
    "changes",
    [
        {"tilt": "-7.5 deg"},
        {"narrow": "150 mm", "tilt": "-8 deg"},
        {"fitting[inside]": None},
        {"fitting[inside]": None, "tilt": "-13 deg"},
        {
            "fitting[inside]": None,
            "leaves.kind": "single",
            "leaves.hand": "left",
        },
        {
            "fitting[inside]": None,
            "leaves.kind": "single",
            "leaves.hand": "right",
            "fitting[outside].lens.along": "300 mm",
        },
    ],
    ids=str,
)
def test_a_witness_is_missed_by_every_beam_walked_past_the_leaves(
    changes: dict[str, Any],
) -> None:
    doorway = looking_through(**changes)
    found = past(doorway)
    assert found.verdict == "fails"
    assert not reached_by_walking(doorway, found.gap, found.witness)


@pytest.mark.parametrize("hand", [None, "left", "right"])
def test_what_holds_is_met_by_walked_beams_at_random_gaps_and_poses(
    hand: str | None,
) -> None:
    single = {"leaves.kind": "single", "leaves.hand": hand}
    # where a single leaf closes, only the inside unit's own side is left
    near = {"fitting[inside].lens.along": "500 mm" if hand == "left" else "-500 mm"}
    wide = {"narrow": "1600 mm"}
    doorway = looking_through(**(single | near | wide if hand else {}))
    assert past(doorway).verdict == "holds"
    plan = settle(doorway).plan
    rng = np.random.default_rng(7)
    asked_poses = 0
    while asked_poses < 25:
        gap = rng.uniform(0.15, 2.0)
        between = free(plan, gap)
        x, y = rng.uniform(between.left, between.right), rng.uniform(-0.2, 0.2)
        pose = (float(x), float(y), float(rng.uniform(0, np.pi)))
        if not _stands_in(pose, between, plan.leaf_path):
            continue
        asked_poses += 1
        assert reached_by_walking(doorway, gap, pose), (gap, pose)


def _stands_in(pose: tuple[float, float, float], between: Box, path: Box) -> bool:
    """Clear of the leaves for sure, and in their path."""
    at = corners(pose)
    clear = at[:, 0].min() > between.left and at[:, 0].max() < between.right
    meets = at[:, 1].min() < path.far and at[:, 1].max() > path.near
    return bool(clear and meets)


def test_with_what_aiming_leaves_open_less_is_clear_of_the_leaves() -> None:
    doorway = looking_through()
    loose = past(doorway, replace(SCOPE, exact=False)).verdict
    assert loose in ("holds", "not shown")
    sloppy = looking_through(**{"fitting[outside].aim.along": "300 mm"})
    assert past(sloppy, replace(SCOPE, exact=False)).verdict != "holds"


def test_no_beam_past_the_leaf_is_nothing_to_prove() -> None:
    assert past(a_doorway()) is None
