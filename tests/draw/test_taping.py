"""What to tape, drawn: where it is, from what, and the right way round."""

import re
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.draw.taping import Mark, Taping, from_above, from_the_side
from limen.draw.themes import PAPER

HALF = 0.9
MARKS = (
    Mark("1", "row line", -0.8, 1, "left"),
    Mark("2", "row line", 0.8, 1, "right"),
    Mark("3", "row end", -1.2, 1, "left"),
    Mark("4", "row end", 1.2, 1, "right"),
    Mark("5", "spot centre", 0.05, 1, "left"),
)
SVG = "{http://www.w3.org/2000/svg}"


def _taping(*, inside: bool = False, lens: float = 0.1, rows: int = 2) -> Taping:
    return Taping(
        inside=inside,
        half=HALF,
        meet=True,
        lens=lens,
        rows=((-1.2, 1.2),) * rows,
        marks=MARKS,
        says="in words",
    )


def _labels(drawing: str) -> dict[str, float]:
    """Where each word of a drawing stands, along."""
    root = ET.fromstring(drawing)  # noqa: S314 - our own
    texts = root.iter(f"{SVG}text")
    return {one.text or "": float(one.get("x", "nan")) for one in texts}


@pytest.mark.parametrize("inside", [False, True])
def test_every_measure_bears_its_name_in_a_group_of_its_own(inside: bool) -> None:
    drawing = from_above(_taping(inside=inside))
    marks = re.findall(r'data-mark="(\w+)"', drawing)
    assert sorted(marks) == ["1", "2", "3", "4", "5", "C"]
    assert {"1a", "1b", "2a", "2b", "3", "4", "5a", "5b", "C"} <= _labels(
        drawing
    ).keys()


def test_left_seen_from_outside_is_on_the_right_for_whoever_stands_inside() -> None:
    outside, inside = (
        _labels(from_above(_taping(inside=one))) for one in (False, True)
    )
    assert outside["left post"] < outside["right post"]
    assert inside["left post"] > inside["right post"]
    assert outside["1a"] < 200 < inside["1a"]
    assert "outside" in outside
    assert "inside" in inside


@given(st.floats(-3.0, 3.0), st.booleans())
def test_along_the_opening_the_drawing_is_to_scale(along: float, inside: bool) -> None:
    taping = _taping(inside=inside)
    scale = (taping.u(1.0) - taping.u(0.0)) * (-1 if inside else 1)
    assert scale > 0
    assert abs(taping.u(along) - taping.u(0.0)) == pytest.approx(abs(along) * scale)


@given(st.floats(0.5, 6.0), st.floats(0.1, 8.0), st.booleans())
def test_every_mark_is_on_the_drawing(half: float, end: float, inside: bool) -> None:
    marks = (
        Mark("1", "row end", -end, 1, "left"),
        Mark("2", "row end", end, 1, "right"),
    )
    taping = Taping(
        inside=inside,
        half=half,
        meet=False,
        lens=0.0,
        rows=((-end, end),),
        marks=marks,
        says="",
    )
    root = ET.fromstring(from_above(taping))  # noqa: S314 - our own
    _, _, wide, high = map(float, str(root.get("viewBox")).split())
    for one in root.iter(f"{SVG}text"):
        assert 0 <= float(one.get("x", "nan")) <= wide
        assert 0 <= float(one.get("y", "nan")) <= high


def test_ink_is_that_of_every_drawing_so_that_it_follows_the_page() -> None:
    known = {*PAPER.values(), "none"}
    for drawing in (from_above(_taping()), from_the_side(_taping())):
        assert set(re.findall(r'(?:fill|stroke)="([^"]+)"', drawing)) <= known


def test_it_is_said_in_words_too() -> None:
    root = ET.fromstring(from_above(_taping()))  # noqa: S314 - our own
    title = root.find(f"{SVG}title")
    assert title is not None
    assert title.text == "in words"
    assert root.get("aria-labelledby") == title.get("id")


def test_the_side_shows_height_and_distance_of_the_lens() -> None:
    assert {"A", "B", "1a"} <= _labels(from_the_side(_taping())).keys()


def test_a_unit_of_many_rows_is_drawn_with_the_first_ones() -> None:
    assert "row 3" in from_above(_taping(rows=7))
    assert "row 4" not in from_above(_taping(rows=7))
