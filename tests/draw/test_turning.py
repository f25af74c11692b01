from dataclasses import replace

import pytest

from draw import samples
from limen.draw import Scene, scene, svg
from limen.draw.parts import Part
from limen.draw.scene import Area, points_of
from limen.draw.turning import seen_from_inside
from limen.findings import Finding


def finding() -> Finding:
    return samples.no_beam(samples.body_at(0.3, 0.1, 20.0))


def plan() -> Scene:
    return scene(samples.single(), "plan", finding=finding())


def bodies(drawn: Scene) -> list[tuple[float, float]]:
    return [
        point
        for shape in drawn.content.shapes
        if isinstance(shape, Area) and shape.part is Part.BODY_FAILS
        for point in shape.corners
    ]


def test_turned_twice_it_is_as_it_was_but_for_its_note() -> None:
    once = plan()
    twice = seen_from_inside(seen_from_inside(once))
    assert replace(twice, note=once.note) == once


def test_what_was_right_and_below_is_left_and_above() -> None:
    assert bodies(plan())
    assert bodies(seen_from_inside(plan())) == [(-u, -v) for u, v in bodies(plan())]


def test_it_is_turned_and_not_mirrored() -> None:
    """The sense in which corners follow each other stays: a mirror would change it."""

    def area(corners: list[tuple[float, float]]) -> float:
        pairs = zip(corners, [*corners[1:], corners[0]], strict=True)
        return sum(a[0] * b[1] - a[1] * b[0] for a, b in pairs)

    before, after = area(bodies(plan())), area(bodies(seen_from_inside(plan())))
    assert before != 0
    assert after == pytest.approx(before)


def test_all_that_was_in_the_frame_is_in_it_still() -> None:
    before, after = plan(), seen_from_inside(plan())
    for old, new in zip(before.content.shapes, after.content.shapes, strict=True):
        for was, now in zip(points_of(old), points_of(new), strict=True):
            assert before.frame.holds(was) == after.frame.holds(now)


def test_the_tinted_side_and_its_name_go_to_the_lower_edge() -> None:
    turned = seen_from_inside(plan())
    assert turned.inside is not None
    assert turned.inside.top <= 0
    assert turned.corners == ("outside", "", "inside")


def test_the_sheet_says_that_it_is_turned_and_words_stand_upright() -> None:
    drawn = svg(seen_from_inside(plan()), width_px=900)
    assert "Turned" in drawn
    assert "rotate(180" not in drawn


def test_the_words_for_those_who_do_not_see_it_stay() -> None:
    assert seen_from_inside(plan()).description == plan().description


def test_only_a_plan_can_be_turned() -> None:
    with pytest.raises(ValueError, match="front"):
        seen_from_inside(scene(samples.single(), "front"))
