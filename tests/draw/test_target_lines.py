"""Target lines are drawn where they are said to be, with or without a finding."""

from itertools import combinations

import pytest

from draw import samples
from limen.draw import View, lay_out, scene
from limen.draw.parts import Part
from limen.draw.scene import Area, Line
from limen.findings import Target

HALF_LEAF = samples.HALF_LEAF
OUT = Target("out", 1, 0.070, 0.061, 0.082, 0.085, -0.006)
BACK = Target("in", 1, 0.064, 0.058, 0.070, 0.125, -0.027)


def test_target_lines_need_no_finding() -> None:
    plan = scene(samples.sample(), "plan", targets=(OUT, BACK))
    lines = [s for s in plan.content.shapes if isinstance(s, Line)]
    drawn = {round(s.points[0][1], 6) for s in lines if s.part is Part.TARGET}
    # The page has the outside at its lower edge: v is -y.
    assert drawn == {-round(HALF_LEAF + 0.070, 6), round(HALF_LEAF + 0.064, 6)}


def test_a_window_reaches_from_its_least_to_its_most() -> None:
    plan = scene(samples.sample(), "plan", targets=(BACK,))
    (window,) = [
        s for s in plan.content.shapes if isinstance(s, Area) and s.part is Part.WINDOW
    ]
    vs = {round(v, 6) for _, v in window.corners}
    assert vs == {round(HALF_LEAF + 0.058, 6), round(HALF_LEAF + 0.070, 6)}


def test_targets_that_are_given_take_the_place_of_the_remedys() -> None:
    found = samples.no_beam()
    assert "64 mm" in scene(samples.sample(), "plan", finding=found).description
    given = scene(samples.sample(), "plan", finding=found, targets=(OUT,))
    assert "70 mm" in given.description
    assert "64 mm" not in given.description


@pytest.mark.parametrize("view", ["plan", "section"])
@pytest.mark.parametrize("width", [360, 1400])
def test_both_target_lines_are_named_and_keep_apart(view: View, width: int) -> None:
    sheet = lay_out(scene(samples.sample(), view, targets=(OUT, BACK)), width)
    said = [" ".join(text.lines) for text in sheet.texts]
    for best in ("70 mm", "64 mm"):
        assert any(f"target {best}" in one for one in said), said
    for one, other in combinations(sheet.texts, 2):
        assert not one.box.meets(other.box), (one.lines, other.lines)


def test_the_front_shows_no_line_on_the_floor() -> None:
    front = scene(samples.sample(), "front", targets=(BACK,))
    assert not [s for s in front.content.shapes if s.part is Part.TARGET]
