"""The distances on a drawing are those that are printed beside it."""

from dataclasses import replace

import pytest

from draw import samples
from limen.draw import View, lay_out, scene
from limen.findings import Finding, Verdict, Witness
from limen.quantity import Show


def words(view: View, finding: Finding, width: int = 1400, **more: object) -> list[str]:
    made = scene(samples.sample(), view, finding=finding, **more)  # pyright: ignore[reportArgumentType]
    return [" ".join(text.lines) for text in lay_out(made, width).texts]


@pytest.mark.parametrize("width", [360, 1400])
@pytest.mark.parametrize("view", ["plan", "front"])
def test_the_nearer_post_is_the_one_measured_from(view: View, width: int) -> None:
    right = words(view, samples.no_beam(samples.body_at(0.46, 0.0, 0.0)), width)
    left = words(view, samples.no_beam(samples.body_at(-0.3, 0.0, 0.0)), width)
    assert "540 mm" in right
    assert "700 mm" in left


@pytest.mark.parametrize("view", ["plan", "front"])
def test_in_the_middle_the_left_post_is_the_one_measured_from(view: View) -> None:
    finding = samples.no_beam(samples.body_at(0.0, 0.0, 0.0))
    made = scene(samples.sample(), view, finding=finding)
    (span,) = [s for s in made.content.spans if s.text == "1000 mm"]
    assert {span.start[0], span.end[0]} == {-1.0, 0.0}
    assert "1000 mm from the left post" in made.description


def test_feet_and_inches_are_shown_where_they_are_read() -> None:
    shown = words("plan", samples.no_beam(), system=Show.FEET)
    assert "1 ft 9 1/4 in" in shown
    assert not any("mm" in text for text in shown)


def test_a_printed_value_is_shown_even_where_the_pose_says_a_trifle_else() -> None:
    pose = samples.body_at(0.46, -0.012, 8.0)
    witness = Witness("pose", pose, {"centre_from_right_post": 0.541, "turned": 0.14})
    assert "541 mm" in words("plan", samples.no_beam(pose, witness=witness))


def test_a_distance_to_the_nearest_corner_ends_at_that_corner() -> None:
    pose = samples.body_at(0.5, 0.0, 0.0)
    witness = Witness("pose", pose, {"from_right_post": 0.35})
    made = scene(
        samples.sample(), "plan", finding=samples.no_beam(pose, witness=witness)
    )
    (span,) = [s for s in made.content.spans if s.text == "350 mm"]
    assert {span.start[0], span.end[0]} == {1.0, 0.65}


def test_a_distance_from_the_leaf_face_starts_at_that_face() -> None:
    pose = samples.body_at(0.5, 0.2, 0.0)
    witness = Witness("pose", pose, {"from_leaf_face": 0.08})
    made = scene(
        samples.sample(), "plan", finding=samples.no_beam(pose, witness=witness)
    )
    (span,) = [s for s in made.content.spans if s.text == "80 mm"]
    assert sorted((span.start[1], span.end[1])) == pytest.approx([-0.1, -0.02])


def test_every_dimension_is_as_long_as_it_says() -> None:
    views: tuple[View, ...] = ("plan", "front", "section")
    for view in views:
        made = scene(samples.sample(), view, finding=samples.no_beam())
        assert made.content.spans
        for span in made.content.spans:
            axis = 0 if span.along == "u" else 1
            length = abs(span.start[axis] - span.end[axis])
            assert length == pytest.approx(span.value, abs=1e-9)


def test_a_body_beyond_the_post_is_dimensioned_without_a_sign() -> None:
    pose = samples.body_at(1.053, 0.178, 93.0)
    finding = samples.no_beam(pose)
    assert "53 mm" in words("plan", finding)
    made = scene(samples.sample(), "plan", finding=finding)
    assert "53 mm beyond the right post" in made.description


def test_the_turn_is_said_only_where_the_body_is_turned() -> None:
    straight = words("plan", samples.no_beam(samples.body_at(0.46, 0.0, 0.0)))
    turned = words("plan", samples.no_beam(samples.body_at(0.46, 0.0, 8.0)))
    assert "test body, upright" in straight
    assert "test body, upright turned 8°" in turned


def test_rows_and_target_are_named_with_their_distance_from_the_leaf_face() -> None:
    shown = words("plan", samples.no_beam())
    assert {"row 1, 85 mm", "row 1, 125 mm"} <= set(shown)
    assert "target 64 mm (58 to 70 mm)" in shown


def test_a_mounting_witness_says_that_it_is_one() -> None:
    pose = samples.body_at(-0.4, 0.03, 25.0)
    finding = samples.no_beam(pose, witness=samples.witness_of(pose, kind="mounting"))
    assert any("edge of their tolerances" in text for text in words("plan", finding))


def test_the_description_tells_what_is_drawn() -> None:
    made = scene(samples.sample(), "plan", finding=samples.no_beam())
    for said in (
        "Clear opening 2000 mm wide",
        "In unit: row 1 lands 125 mm from the leaf face.",
        "land 250 mm apart",
        "540 mm from the right post",
        "fails",
        "to 64 mm from the leaf face; good from 58 to 70 mm.",
    ):
        assert said in made.description


def test_a_dead_unit_lends_no_row_to_the_gap() -> None:
    finding = samples.no_beam(case="upright, in dead", verdict=Verdict.FAILS)
    assert not any(text.startswith("gap") for text in words("section", finding))


def test_units_in_line_with_the_eye_say_each_distance_once() -> None:
    study = samples.sample()
    twins = tuple(replace(unit, fitting=f"{unit.fitting}-2") for unit in study.units)
    both = replace(study, units=(*study.units, *twins))
    made = scene(both, "section", finding=samples.no_beam())
    alone = scene(study, "section", finding=samples.no_beam())
    assert len(made.content.spans) == len(alone.content.spans)
