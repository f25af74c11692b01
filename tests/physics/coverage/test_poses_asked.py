"""Walls and boxes to meet: which poses are asked."""

import numpy as np
import pytest

from limen.physics.coverage import prove
from limen.physics.coverage.seam import Engine

BODY = (0.3, 0.2)
ENGINES = pytest.mark.parametrize("engine", ["numba", "numpy"])
ROW = np.column_stack([np.arange(-10, 11) * 0.05] * 2 + [np.arange(-10, 11) * 0.05] * 2)
ROW[:, [1, 3]] = 0.0


@ENGINES
def test_a_body_need_not_be_reached_inside_a_wall(engine: Engine) -> None:
    zone, wall = (-0.2, 0.2, -0.05, 0.3), [(-1, 1, 0.14, 1)]
    assert prove(ROW, zone, BODY, engine=engine).verdict == "fails"
    narrow = prove(ROW, (-0.2, 0.2, -0.05, 0.03), BODY, engine=engine)
    assert narrow.verdict == "holds"
    assert prove(ROW, zone, BODY, blocked=wall, engine=engine).verdict == "holds"


@ENGINES
def test_a_body_pressed_against_a_wall_is_asked(engine: Engine) -> None:
    """A slot as wide as the body is deep leaves it one line of places."""
    walls = [(-1, 1, 0.1, 0.5), (-1, 1, -0.5, -0.1)]
    zone = (0.0, 0.02, -0.05, 0.05)
    found = prove([], zone, BODY, blocked=walls, engine=engine)
    assert found.verdict == "fails"
    assert found.witness is not None
    assert abs(found.witness[1]) < 1e-8
    assert abs(found.witness[2]) < 1e-8


@ENGINES
def test_a_slot_narrower_than_the_body_asks_nothing(engine: Engine) -> None:
    walls = [(-1, 1, 0.098, 0.5), (-1, 1, -0.5, -0.098)]
    found = prove([], (0.0, 0.02, -0.05, 0.05), BODY, blocked=walls, engine=engine)
    assert (found.verdict, found.reason) == ("holds", "nothing asked")


@ENGINES
def test_a_thin_wall_blocks_like_a_thick_one(engine: Engine) -> None:
    zone = (-0.2, 0.2, -0.05, 0.12)
    for wall in [(-1, 1, 0.13, 0.13), (-1, 1, 0.13, 0.14)]:
        assert prove(ROW, zone, BODY, blocked=wall, engine=engine).verdict == "holds"


@ENGINES
def test_only_bodies_that_meet_the_box_are_asked(engine: Engine) -> None:
    zone, box = (-0.2, 0.2, -0.4, 0.4), (-0.2, 0.2, -0.01, 0.01)
    row = np.vstack([ROW + np.array([0, y, 0, y]) for y in (-0.08, 0.08)])
    assert prove(row, zone, BODY, engine=engine).verdict == "fails"
    found = prove(row, zone, BODY, must_meet=box, engine=engine)
    assert found.verdict == "holds"
    wide = prove(row, zone, BODY, must_meet=(-0.2, 0.2, -0.2, 0.2), engine=engine)
    assert wide.verdict == "fails"


@ENGINES
def test_any_one_of_several_boxes_asks_for_the_pose(engine: Engine) -> None:
    boxes = [(5, 6, 5, 6), (-0.01, 0.01, 0.2, 0.21)]
    found = prove(ROW, (-0.2, 0.2, -0.4, 0.4), BODY, must_meet=boxes, engine=engine)
    assert found.verdict == "fails"
    assert found.witness is not None
    assert found.witness[1] > 0.01
