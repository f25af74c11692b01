"""Which tests a doorway is never spared, where boxes go, what a failure leads to."""

from math import cos, isclose, pi, sin
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders.doorways import a_doorway
from limen.findings.message import length
from limen.geometry.boxes import Box
from limen.model.doorway import Doorway
from limen.physics.plan import plan_of
from limen.physics.reach import Body
from limen.prove.causes import CAUSES, OWED, likely
from limen.prove.minimum import Step, hold_of, minimum
from limen.prove.setting_out import set_out, taped, turned
from limen.prove.work import order_of_work
from limen.store.bookshelf import open_shelf
from limen.study import study
from limen.words import catalogue, say
from prove.doors import asked, put

BOXES = ["box.left", "box.middle", "box.right", "box.lying", "box.closing"]
WALKS = [
    "walk.outside.straight",
    "walk.outside.wall",
    "walk.inside.straight",
    "walk.inside.wall",
]
# DESIGN 6.8: the order of work at the door, tests apart (common practice, no source).
WORK = [
    "mechanics",
    "operator_learns",
    "wires",
    "test_enabled",
    "mount",
    "cable_loop",
    "aim",
    "widths",
    "channels",
    "learn",
    "pause_over",
    "radar",
    "timing",
    "force",
    "signs",
    "log",
]


def ids(door: Doorway) -> list[str]:
    return [one.id for one in minimum(put(door))]


def of(name: str, door: Doorway) -> Step:
    return next(one for one in minimum(put(door)) if one.id == name)


def test_the_minimum_set_stands_in_its_fixed_order() -> None:
    found = [one.id for one in minimum(asked("main"))]
    plugs = ["plug.outside", "plug.inside"]
    ends = ["trailing.left", "trailing.right"]
    assert found == [*BOXES, *plugs, "still", *WALKS, *ends]


def test_every_test_of_the_set_may_not_be_left_out_and_takes_some_time() -> None:
    for one in minimum(asked("main")):
        assert one.minimum
        assert one.minutes > 0.0


def test_power_is_taken_away_where_people_escape_or_a_battery_moves_leaves() -> None:
    loss = {"power_loss": {"does": "opens", "by": "battery"}}
    weight = {"power_loss": {"does": "stays", "by": "nothing"}}
    escape: dict[str, Any] = {"use.escape_route": True}
    none: dict[str, Any] = {"use.escape_route": False}
    assert "power" in ids(a_doorway({**none, **loss}))
    assert "power" in ids(a_doorway({**escape, **weight}))
    assert "power" not in ids(a_doorway({**none, **weight}))


def test_what_nobody_said_of_the_power_is_tested() -> None:
    assert "power" in ids(a_doorway({"use.escape_route": False, "power_loss": None}))


def test_nobody_walks_in_from_a_side_from_which_nobody_comes() -> None:
    found = ids(a_doorway({"use.one_way": "inside"}))
    assert "walk.inside.straight" in found
    assert "walk.outside.straight" not in found


def test_a_single_leaf_has_one_trailing_edge_and_closes_on_the_other_post() -> None:
    door = a_doorway({"leaves.kind": "single", "leaves.hand": "left"})
    assert [name for name in ids(door) if name.startswith("trailing")] == [
        "trailing.left"
    ]
    closing = of("box.closing", door)
    assert closing.pose is not None
    assert closing.body is not None
    half = door.clear_width.value / 2
    assert closing.pose[0] == pytest.approx(half - closing.body.depth / 2)


def test_the_box_is_put_in_while_it_still_fits_and_presence_is_heeded() -> None:
    wide = of("box.closing", a_doorway({"presence_ignored_below": "400 mm"}))
    never = of("box.closing", a_doorway({"presence_ignored_below": "0 mm"}))
    assert wide.says.values["gap"] == length(0.5)
    assert never.body is not None
    assert never.says.values["gap"] == length(round(never.body.depth + 0.1, 2))


def test_a_box_stands_still_as_long_as_a_unit_is_set_if_no_rule_says() -> None:
    seconds, by = hold_of(put(a_doorway({"fitting[inside].settings.hold": "42 s"})))
    assert (seconds, by) == (42.0, "unit")


def test_a_narrow_opening_has_the_lying_box_across_the_door() -> None:
    narrow = of("box.lying", a_doorway({"clear_width": "650 mm"}))
    assert narrow.pose == (0.0, 0.0, pi / 2)


BODIES = (Body("upright", 0.3, 0.2, 0.7), Body("on its face", 0.7, 0.3, 0.2))


@given(
    body=st.sampled_from(BODIES),
    x=st.floats(-0.6, 0.6),
    y=st.floats(-0.3, 0.3),
    yaw=st.floats(-pi, pi),
)
def test_a_tape_reaches_from_the_post_and_the_leaf_face_to_the_nearest_corner(
    body: Body, x: float, y: float, yaw: float
) -> None:
    plan = plan_of(a_doorway({}), 0.0)
    found = taped(body, (x, y, yaw), plan)
    c, s = cos(yaw), sin(yaw)
    w, d = body.width / 2, body.depth / 2
    corners = [
        (x + i * w * c - j * d * s, y + i * w * s + j * d * c)
        for i in (-1, 1)
        for j in (-1, 1)
    ]
    way = -1.0 if found.post == "left" else 1.0
    furthest = max(way * cx for cx, _ in corners)
    assert isclose(found.far, plan.half - furthest, abs_tol=1e-3)
    out = -1.0 if found.side == "inside" else 1.0
    face = plan.side(found.side or "outside").face
    assert isclose(found.out, max(out * cy for _, cy in corners) - face, abs_tol=1e-3)


@given(st.floats(-10.0, 10.0))
def test_half_a_turn_lies_the_box_as_before(yaw: float) -> None:
    one, other = (say(turned(angle)) for angle in (yaw, yaw + pi))
    near = abs((yaw / (pi / 2)) % 1.0 - 0.5) < 0.49  # off the words' edges
    assert one == other or not near


def test_a_place_past_the_post_says_so() -> None:
    plan = plan_of(a_doorway({}), 0.0)
    said = say(set_out(BODIES[0], (plan.half, 0.2, 0.0), plan))
    assert "150\N{NO-BREAK SPACE}mm past the right post" in said.replace(
        "150 mm", "150\N{NO-BREAK SPACE}mm"
    )


def test_boxes_stand_within_the_opening() -> None:
    for one in minimum(asked("staff")):
        if one.body is not None and one.pose is not None:
            plan = asked("staff")["presence.leaf_path"].settled.plan
            within = Box(-plan.half - 1e-9, plan.half + 1e-9, -9.0, 9.0)
            assert taped(one.body, one.pose, plan).far >= -1e-9
            assert within.left <= one.pose[0] <= within.right


def test_the_work_stands_in_its_order() -> None:
    door = next(iter(asked("main").values())).doorway
    assert [one.id for one in order_of_work(door)] == WORK


def test_what_follows_the_tests_comes_last() -> None:
    door = next(iter(asked("main").values())).doorway
    after = [one.after for one in order_of_work(door)]
    assert after == sorted(after)


def test_a_unit_learns_the_floor_after_its_rows_were_set() -> None:
    door = next(iter(asked("main").values())).doorway
    names = [one.id for one in order_of_work(door)]
    assert names.index("widths") < names.index("learn") < names.index("radar")


def _likely(file: str, door: str, name: str) -> list[tuple[str, str]]:
    question = asked(door, file)
    one = next(iter(question.values()))
    book = open_shelf().edition("en", "2012")
    found = study(one.doorway, book)
    steps = minimum(question)
    step = next(each for each in steps if each.id == name)
    return [(each.cause.id, each.turn.key) for each in likely(step, steps, found)]


def test_what_the_study_says_to_turn_comes_first() -> None:
    first = _likely("as-found", "main", "box.left")[0]
    assert first == ("rows_off", "remedy.bring_both_rows")


def test_a_test_that_is_not_switched_on_is_named_at_the_plug_of_that_unit() -> None:
    assert _likely("as-found", "main", "plug.inside")[0] == (
        "test_off",
        "remedy.wiring.test",
    )
    assert _likely("as-found", "main", "plug.outside")[0] == (
        "test_off",
        "card_tests.cause.test_off.turn",
    )


def test_a_stand_behind_the_leaf_is_named_at_its_trailing_edge() -> None:
    found = dict(_likely("as-found", "staff", "trailing.left"))
    assert found["thing_behind"] == "remedy.obstacles.behind_leaf"


def test_a_lamp_that_lights_alone_leads_to_the_wires() -> None:
    wires = [one for one in CAUSES["box"] if one.after == ("lamp only",)]
    assert wires
    assert any("plugs" in one.owed for one in wires)


def test_every_cause_has_its_words_and_owes_tests_that_there_are() -> None:
    known = catalogue("en").sentences
    for group in CAUSES.values():
        for one in group:
            assert f"card_tests.cause.{one.id}.is" in known
            assert f"card_tests.cause.{one.id}.turn" in known
            assert one.owed
            assert set(one.owed) <= set(OWED)
