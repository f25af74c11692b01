"""The plan of a doorway: faces, walls, what a leaf sweeps and leaves free."""

from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders.doorways import a_doorway
from limen.physics.plan import Plan, free, plan_of, sign, standing_leaves

SINGLE = {"leaves.kind": "single", "leaves.hand": "right"}


def a_plan(changes: Mapping[str, object] | None = None, sway: float = 0.0) -> Plan:
    return plan_of(a_doorway(changes), sway)


def test_the_reference_doorway_in_its_own_frame() -> None:
    plan = a_plan(sway=0.003)
    assert plan.half == pytest.approx(1.0)
    assert plan.outside == pytest.approx((0.02, 0.023, 0.12), rel=1e-12) or (
        plan.outside.face,
        plan.outside.swayed,
        plan.outside.header,
    ) == pytest.approx((0.02, 0.023, 0.12))
    assert plan.leaf_path == pytest.approx((-1.0, 1.0, -0.023, 0.023))


def test_walls_stand_beside_the_opening_as_deep_as_the_reveal() -> None:
    reveal = {"reveal.outside": "150 mm", "reveal.inside": "30 mm"}
    left, right = a_plan(reveal).walls
    assert (left.right, left.near, left.far) == pytest.approx((-1.0, -0.05, 0.17))
    assert (right.left, right.near, right.far) == pytest.approx((1.0, -0.05, 0.17))


def test_telescopic_planes_widen_the_path_to_their_outermost_faces() -> None:
    plan = a_plan({"leaves.planes": ("-25 mm", "60 mm")})
    assert plan.leaf_path == pytest.approx((-1.0, 1.0, -0.045, 0.08))
    assert plan.outside.header == pytest.approx(0.18)
    assert plan.inside.header == pytest.approx(0.145)


def test_the_header_is_as_high_as_the_opening_where_nothing_else_is_said() -> None:
    assert a_plan({"header.underside": None}).underside == pytest.approx(2.1)


@pytest.mark.parametrize(
    ("hand", "ends"),
    [("right", (-1.0, -0.4)), ("left", (0.4, 1.0)), (None, (-0.3, 0.3))],
)
def test_what_is_free_begins_where_the_leading_edge_leaves(
    hand: str | None, ends: tuple[float, float]
) -> None:
    changes = {"leaves.kind": "single", "leaves.hand": hand} if hand else {}
    gap = free(a_plan(changes), 0.6)
    assert (gap.left, gap.right) == pytest.approx(ends)


@given(st.floats(0.0, 2.0), st.sampled_from(["left", "right", None]))
def test_leaves_and_gap_fill_the_opening(width: float, hand: str | None) -> None:
    changes = {"leaves.kind": "single", "leaves.hand": hand} if hand else {}
    plan = a_plan(changes)
    leaves = standing_leaves(plan, width)
    filled = sum(leaf.right - leaf.left for leaf in leaves)
    assert filled + width == pytest.approx(2 * plan.half)
    gap = free(plan, width)
    assert all(leaf.right <= gap.left or leaf.left >= gap.right for leaf in leaves)


def test_a_single_leaf_is_one_box_and_an_open_door_has_none() -> None:
    plan = a_plan(dict(SINGLE))
    assert len(standing_leaves(plan, 0.5)) == 1
    assert standing_leaves(plan, 2.0) == ()
    assert len(standing_leaves(a_plan(), 0.5)) == 2


def test_a_narrower_gap_leaves_a_wider_leaf() -> None:
    wide, narrow = (standing_leaves(a_plan(), w)[0] for w in (1.0, 0.4))
    assert narrow.right > wide.right


def test_the_sign_leads_away_from_the_door() -> None:
    assert (sign("outside"), sign("inside")) == (1.0, -1.0)
