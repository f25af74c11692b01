"""Boxes on the floor."""

from hypothesis import given
from hypothesis import strategies as st

from limen.geometry.boxes import Box

SIZES = st.floats(-10, 10)
BOXES = st.builds(
    lambda a, b, w, d: Box(a, a + w, b, b + d),
    SIZES, SIZES, st.floats(0, 5), st.floats(0, 5),
)  # fmt: skip


@given(BOXES)
def test_half_a_turn_twice_is_no_turn(box: Box) -> None:
    assert box.turned().turned() == box


@given(BOXES, st.floats(0, 1), st.floats(0, 1))
def test_a_grown_box_contains_the_box(box: Box, by_x: float, by_y: float) -> None:
    grown = box.grown(by_x, by_y)
    assert grown.left <= box.left
    assert grown.right >= box.right
    assert grown.near <= box.near
    assert grown.far >= box.far


@given(BOXES)
def test_corners_run_counter_clockwise_around_the_box(box: Box) -> None:
    corners = box.corners()
    after = (*corners[1:], corners[0])
    pairs = zip(corners, after, strict=True)
    twice_area = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs)
    wanted = 2 * (box.right - box.left) * (box.far - box.near)
    assert abs(twice_area - wanted) <= 1e-9 * (1 + abs(wanted))
