"""Where boxes go: to scale, the outside below, each distance where a tape has it."""

import re
from itertools import combinations
from math import pi
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.draw.box_places import WIDE, BoxPlace, Floor, box_places

SVG = "{http://www.w3.org/2000/svg}"


def _place(name: str, x: float, y: float = 0.0, **more: float) -> BoxPlace:
    said = {"yaw": 0.0, "width": 0.3, "depth": 0.2, **more}
    return BoxPlace(name, x, y, said["yaw"], said["width"], said["depth"], "540 mm")


def _floor(*places: BoxPlace, half: float = 1.0) -> Floor:
    return Floor(
        half=half,
        leaf=0.02,
        places=places,
        says="The opening from above",
        outside="outside",
        inside="inside",
        left="left post",
        right="right post",
    )


def _root(drawing: str) -> ET.Element:
    return ET.fromstring(drawing)  # noqa: S314 - of our own drawing


def _texts(drawing: str) -> list[tuple[str, float, float]]:
    every = _root(drawing).iter(f"{SVG}text")
    return [
        (one.text or "", float(one.get("x", 0)), float(one.get("y", 0)))
        for one in every
    ]


def _named(drawing: str, name: str) -> tuple[float, float]:
    return next((x, y) for text, x, y in _texts(drawing) if text == name)


def test_left_is_left_and_outside_is_below() -> None:
    drawing = box_places(_floor(_place("1", -0.5), _place("2", 0.5, 0.1)))
    assert _named(drawing, "1")[0] < WIDE / 2 < _named(drawing, "2")[0]
    assert _named(drawing, "1")[1] < _named(drawing, "2")[1]
    assert _named(drawing, "inside")[1] < _named(drawing, "outside")[1]
    assert _named(drawing, "left post")[0] < _named(drawing, "right post")[0]


def test_a_distance_begins_at_the_nearer_post_and_ends_at_the_box() -> None:
    """0.3 m long, its middle 0.5 m right of the middle: 0.35 m to the post."""
    one = _place("1", 0.5)
    floor = _floor(one)
    assert floor.half - one.nearest(1.0) == pytest.approx(0.35)
    post, end = floor.at((1.0, 0))[0], floor.at((0.65, 0))[0]
    level = [
        (float(a), float(c))
        for a, b, c, d in re.findall(
            r"M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)", box_places(floor)
        )
        if b == d
    ]
    assert any({round(a), round(c)} == {round(post), round(end)} for a, c in level), (
        level
    )


def test_a_turned_box_is_taped_to_its_nearest_corner() -> None:
    one = _place("1", -0.5, yaw=pi / 4)
    reach = (0.3 + 0.2) / 2 / 2**0.5
    assert one.nearest(-1.0) == pytest.approx(-0.5 - reach)


@given(
    st.lists(
        st.tuples(
            st.floats(-0.8, 0.8), st.floats(-0.2, 0.2), st.sampled_from([0, pi / 2, 1])
        ),
        min_size=1,
        max_size=12,
    )
)
def test_no_two_distances_stand_on_one_line_from_one_post(
    at: list[tuple[float, float, float]],
) -> None:
    places = [_place(f"{n}", x, y, yaw=yaw) for n, (x, y, yaw) in enumerate(at, 1)]
    drawing = box_places(_floor(*places))
    at_y: dict[float, list[float]] = {}
    for x, y in re.findall(
        r'<text x="([\d.]+)" y="([\d.]+)"[^>]*fill="#FFFFFF"', drawing
    ):
        at_y.setdefault(float(y), []).append(float(x))
    assert sum(map(len, at_y.values())) == len(places)
    for level, xs in at_y.items():
        assert len(xs) <= 2, level  # one from either post
        assert len(xs) < 2 or min(xs) <= WIDE / 2 + 20 <= max(xs) + 40
    assert all(abs(a - b) > 12 for a, b in combinations(at_y, 2))


def test_what_is_midway_is_taped_from_where_there_is_room() -> None:
    places = [_place("1", -0.5), _place("2", -0.3), _place("3", 0.0)]
    drawing = box_places(_floor(*places))
    badges = {
        text: float(x)
        for x, text in re.findall(
            r'<text x="([\d.]+)"[^>]*fill="#FFFFFF">(\d)<', drawing
        )
    }
    assert badges["3"] > WIDE / 2
    assert badges["1"] < badges["2"] < WIDE / 2


def test_what_stands_far_out_makes_the_drawing_smaller_not_higher() -> None:
    near, far = (box_places(_floor(_place("1", 0.4, y))) for y in (0.0, 0.7))
    highs = [
        float(re.search(r'viewBox="0 0 [\d.]+ ([\d.]+)"', one)[1])  # pyright: ignore[reportOptionalSubscript]
        for one in (near, far)
    ]
    assert highs[1] < 1.5 * highs[0]


def test_nothing_leaves_the_drawing() -> None:
    places = [_place(f"{n}", x) for n, x in enumerate((-0.85, 0.0, 0.85), 1)]
    drawing = box_places(_floor(*places))
    high = float(re.search(r'viewBox="0 0 [\d.]+ ([\d.]+)"', drawing)[1])  # pyright: ignore[reportOptionalSubscript]
    for _, x, y in _texts(drawing):
        assert 0 <= x <= WIDE
        assert 0 <= y <= high


def test_it_says_in_words_what_it_shows() -> None:
    drawing = box_places(_floor(_place("1", 0.0)))
    root = _root(drawing)
    assert root.get("role") == "img"
    title = root.find(f"{SVG}title")
    assert title is not None
    assert title.text == "The opening from above"
