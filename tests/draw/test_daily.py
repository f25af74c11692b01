"""Pictures of the daily check: the door's own, nobody in a leaf's way, no colour."""

import re
from itertools import product
from xml.etree import ElementTree as ET

import pytest

from builders.doorways import a_doorway
from limen.draw.daily import EYE, FLOOR, PICTURES, Shape, picture, shape_of
from limen.draw.daily_strokes import HIGH, ON_PAPER, ON_SCREEN, WIDE
from limen.store.daily import daily_steps

SHAPES = (
    Shape(1.8, 2.2),
    Shape(1.0, 2.2, ("right",), ("right",)),
    Shape(1.2, 2.1, ("left",), (), 0),
    Shape(2.4, 2.4, escape="outside"),
    Shape(0.5, 1.5),
)
CHROMA = re.compile(r"#([0-9a-f]{6})", re.IGNORECASE)


def test_every_step_has_a_picture_and_no_picture_is_without_a_step() -> None:
    assert set(PICTURES) == {one.id for one in daily_steps()}


@pytest.mark.parametrize(("name", "shape"), list(product(PICTURES, SHAPES)))
def test_a_picture_is_whole_and_stays_on_its_sheet(name: str, shape: Shape) -> None:
    drawn = ET.fromstring(picture(name, shape, "In <words> & so", ON_PAPER))  # noqa: S314 - our own
    assert drawn.attrib["viewBox"] == f"0 0 {WIDE:g} {HIGH:g}"
    for one in drawn.iter("{http://www.w3.org/2000/svg}rect"):
        x, y, wide, high = (
            float(one.attrib[key]) for key in ("x", "y", "width", "height")
        )
        assert x >= 0
        assert y >= 0
        assert x + wide <= WIDE
        assert y + high <= HIGH
        assert wide > 0
        assert high > 0


@pytest.mark.parametrize("name", PICTURES)
def test_on_paper_there_is_no_hue(name: str) -> None:
    """What is printed in grey loses nothing: every ink is grey already."""
    for found in CHROMA.findall(picture(name, SHAPES[0], "x", ON_PAPER)):
        assert len({found[0:2].lower(), found[2:4].lower(), found[4:6].lower()}) == 1


@pytest.mark.parametrize("name", PICTURES)
def test_on_a_screen_the_inks_are_the_page_s_own(name: str) -> None:
    assert "#" not in picture(name, SHAPES[0], "x", ON_SCREEN)


@pytest.mark.parametrize("shape", SHAPES)
def test_whoever_stands_aside_stands_beside_the_opening(shape: Shape) -> None:
    at, way = shape.aside()
    assert at < shape.left or at > shape.right
    assert (at < shape.left) == (way > 0)


@pytest.mark.parametrize("shape", SHAPES[1:3])
def test_beside_a_single_leaf_they_stand_where_it_does_not_open(shape: Shape) -> None:
    at, _ = shape.aside()
    assert (at < shape.left) == ("left" not in shape.opens)


def test_a_door_is_drawn_with_its_own_leaves_and_screens() -> None:
    one = shape_of(a_doorway({"leaves.kind": "single", "leaves.hand": "left"}))
    assert one.opens == ("left",)
    assert shape_of(a_doorway()).opens == ("left", "right")
    bare = a_doorway().model_copy(update={"side_space": ()})
    assert shape_of(bare).screens == ()


def test_a_large_door_is_drawn_smaller_so_that_people_can_be_seen() -> None:
    wide = shape_of(a_doorway({"clear_width": "5 m", "clear_height": "3 m"}))
    assert wide.wide < 5
    assert wide.scale * 1.7 > 0.25 * HIGH


def test_heights_are_counted_from_the_floor() -> None:
    shape = SHAPES[0]
    assert shape.up(0) == FLOOR
    assert shape.up(EYE[1]) < shape.up(EYE[0]) < FLOOR
