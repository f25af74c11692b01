"""Straight walks, and how a group's speeds are spread."""

from math import inf, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.physics.walking import Group, Walk

groups = st.builds(Group, st.floats(0.3, 2.5), st.floats(0.05, 0.6))
shares = st.floats(1e-4, 1 - 1e-4)


@given(groups, shares)
def test_a_share_of_a_group_is_slower_than_its_quantile(
    group: Group, share: float
) -> None:
    assert group.slower(group.quantile(share)) == pytest.approx(share, abs=1e-9)


@given(groups, st.floats(-1, 5), st.floats(0, 5))
def test_no_fewer_are_slower_than_a_greater_speed(
    group: Group, speed: float, more: float
) -> None:
    assert group.slower(speed) <= group.slower(speed + more)


@given(groups)
def test_nobody_walks_backwards_and_everybody_walks(group: Group) -> None:
    assert group.slower(0.0) == 0.0
    assert group.slower(inf) == pytest.approx(1.0)


@pytest.mark.parametrize("share", [0.0, 1.0, -0.1, 1.1])
def test_a_quantile_is_of_a_share(share: float) -> None:
    with pytest.raises(ValueError, match="between 0 and 1"):
        Group(1.3, 0.2).quantile(share)


def test_who_comes_from_positive_x_has_a_positive_heading() -> None:
    x, y = Walk(radians(30.0), 0.1, 1.0).at(2.0)
    assert (x, y) == pytest.approx((1.1, 3**0.5))
