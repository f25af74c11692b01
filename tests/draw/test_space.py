"""The doorway in space is the doorway of the plan, with heights."""

import pytest

from draw import samples
from draw.samples import Laid
from limen.draw.outline import outline_of
from limen.draw.parts import Part
from limen.draw.scene import Area, Dots, points_of
from limen.draw.space import Solid, Space, leaves_of, space
from limen.draw.views import scene
from limen.findings import Finding, Study
from limen.quantity import Show

ROWS = (Laid("outside", (0.07, 0.22)), Laid("inside", (0.09, 0.25)))
STAND = {
    "name": "stand", "side": "outside", "along": "600 mm", "out": "450 mm",
    "width": "300 mm", "depth": "200 mm", "height": "1200 mm",
}  # fmt: skip


def study(**door: object) -> Study:
    return samples.sample(units=tuple(samples.unit(laid) for laid in ROWS), **door)


def missed() -> Finding:
    return samples.no_beam(samples.body_at(0.3, 0.1, 20.0))


def blocks(drawn: Space, part: Part) -> list[Solid]:
    return [one for one in drawn.solids if one.part is part]


@pytest.mark.parametrize("finding", [missed(), samples.late(), samples.neighbours()])
def test_the_floor_is_the_plans_floor_before_it_is_turned_to_the_page(
    finding: Finding,
) -> None:
    plan = scene(study(), "plan", finding=finding).content
    floor = space(study(), finding=finding).floor
    shared = {Part.SPOT, Part.ROW, Part.LIGHT, Part.FIELD, Part.WALK, Part.TARGET}
    turned = [
        (shape.part, [(x, -v) for x, v in points_of(shape)])
        for shape in plan.shapes
        if shape.part in shared
    ]
    lying = [
        (shape.part, [*points_of(shape)])
        for shape in floor.shapes
        if shape.part in shared
    ]
    assert sorted(map(repr, lying)) == sorted(map(repr, turned))


def test_the_missed_body_stands_where_it_is_found_and_is_as_high() -> None:
    finding = missed()
    assert finding.witness
    pose = finding.witness.pose
    assert pose
    drawn = space(study(), finding=finding)
    (body,) = blocks(drawn, Part.BODY_FAILS)
    xs, ys = zip(*body.corners, strict=True)
    assert (sum(xs) / 4, sum(ys) / 4) == pytest.approx((pose.x, pose.y))
    assert (body.low, body.high) == (0.0, pose.height)
    crosses = [one for one in drawn.posts if one.part is Part.SIGN_FAILS]
    assert [one.at[:2] for one in crosses] == [(pose.x, pose.y)]


def test_without_a_finding_there_is_no_body_and_no_cross() -> None:
    drawn = space(study())
    assert not blocks(drawn, Part.BODY_FAILS)
    assert {one.part for one in drawn.posts} == {Part.LENS}


def test_every_spot_has_its_beam_from_the_lens() -> None:
    drawn = space(study())
    spots = {
        (x, y, 0.0)
        for shape in drawn.floor.shapes
        if isinstance(shape, Dots) and shape.part is Part.SPOT
        for x, y in shape.middles
    }
    beams = [w for w in drawn.wires if w.part in (Part.BEAM, Part.BEAM_INSIDE)]
    assert {one.points[1] for one in beams} == spots
    lenses = {unit.lens for unit in study().units}
    assert {one.points[0] for one in beams} == lenses


def test_a_thing_stands_as_high_as_it_is() -> None:
    (thing,) = blocks(space(study(thing=(STAND,))), Part.THING)
    assert (thing.low, thing.high) == (0.0, 1.2)
    xs, ys = zip(*thing.corners, strict=True)
    assert (min(xs), max(xs)) == pytest.approx((0.45, 0.75))
    assert min(ys) > 0  # outside


def test_outside_is_named_outside_and_left_on_the_left() -> None:
    named = {one.text: one.at for one in space(study()).named}
    assert named["outside"][1] > 0 > named["inside"][1]
    assert named["left"][0] < 0 < named["right"][0]


def test_it_is_said_in_the_words_of_the_other_drawings() -> None:
    finding = missed()
    plan = scene(study(), "plan", finding=finding)
    assert space(study(), finding=finding).description == plan.description


def test_lengths_are_written_in_the_readers_units() -> None:
    said = [one.text for one in space(study(), system=Show.FEET).floor.labels]
    assert any("in" in one.split() for one in said)
    assert not any("mm" in one for one in said)


def test_all_that_is_shown_lies_within_the_frame() -> None:
    drawn = space(study(thing=(STAND,)), finding=samples.late())
    for shape in drawn.floor.shapes:
        if isinstance(shape, Area):
            assert all(drawn.frame.holds(point) for point in shape.corners)


def test_leaves_open_away_from_each_other_and_go_the_whole_way() -> None:
    drawn = space(study())
    assert [leaf.hand for leaf in drawn.leaves] == [-1, 1]
    assert [leaf.share for leaf in drawn.leaves] == [1.0, 1.0]
    left, right = drawn.leaves
    assert left.box.right == pytest.approx(-drawn.half)
    assert right.box.left == pytest.approx(drawn.half)


def test_of_telescopic_leaves_the_first_leads_and_closed_they_fill_the_opening() -> (
    None
):
    leaves = {"kind": "bi-parting", "thickness": "40 mm", "planes": ("30 mm", "-30 mm")}
    door = study(leaves=leaves).doorway
    outline = outline_of(door)
    right = [one for one in leaves_of(outline, 2) if one.hand > 0]
    assert [leaf.share for leaf in right] == [1.0, 0.5]
    closed = sorted(
        (
            one.box.left - one.share * outline.half,
            one.box.right - one.share * outline.half,
        )
        for one in right
    )
    assert closed[0][0] == pytest.approx(0.0)
    assert closed[0][1] == pytest.approx(closed[1][0])
    assert closed[1][1] == pytest.approx(outline.half)
