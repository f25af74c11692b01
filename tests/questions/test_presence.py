"""The presence zone: each verdict for its own reason."""

import pytest

from builders.doorways import a_doorway
from limen.findings import Verdict
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.sheet import Sheet
from limen.quantity import Quantity
from limen.questions.coverage import AMPLE
from limen.rules import Weight
from questions.asking import ask, asked, book

FACES = ("upright", "on its face", "on its edge")
PATH, THRESHOLD = "presence.leaf_path", "presence.threshold"
NO_FAN = {
    "sheet.presence.fan.form": "unknown",
    "fitting[outside].settings.fan": None,
    "fitting[inside].settings.fan": None,
    **dict.fromkeys(
        f"sheet.presence.fan.{key}"
        for key in ("choices", "at_height", "measured_to", "spacing")
    ),
}
ENDS = {
    f"fitting[{side}].read": {"left_end": "-1200 mm", "right_end": "1200 mm"}
    for side in ("outside", "inside")
}


def length(metres: float) -> Quantity:
    return Quantity(metres)


def with_barrier(
    from_leaf: str, *, both: bool = False, height: str = "150 mm"
) -> Doorway:
    """The reference doorway with level beams instead of its units."""
    deep = {"reveal.outside": "50 mm", "reveal.inside": "50 mm"}
    doorway = a_doorway(deep)
    sheet = Sheet.model_validate({"name": "Level beams", "barrier": {}})
    units = tuple(
        Fitting.model_validate(
            {
                "id": f"beam-{side}",
                "sheet": "level",
                "side": side,
                "beams": ({"height": height, "from_leaf": from_leaf},),
            }
        ).model_copy(update={"unit": sheet})
        for side in (("outside", "inside") if both else ("outside",))
    )
    return doorway.model_copy(update={"fitting": units})


@pytest.mark.parametrize("question", [PATH, THRESHOLD])
@pytest.mark.parametrize("face", FACES)
def test_the_reference_doorway_holds_with_room_to_spare(
    question: str, face: str
) -> None:
    found = ask(question, case=face)
    assert found.verdict is Verdict.HOLDS
    assert found.because.key == "coverage.holds"
    assert found.margin
    measured_out = found.margin.value > found.margin.u > 0
    assert measured_out or found.margin.value == AMPLE
    assert any(o.key == "owed.geometry_only" for o in found.owed)
    assert any(o.key == "owed.read_first_row" for o in found.owed)


@pytest.mark.parametrize("question", [PATH, THRESHOLD])
def test_rows_too_far_apart_fail_at_a_place_that_is_printed(question: str) -> None:
    found = ask(question, {"rows_at": "130 mm"}, case="upright")
    assert found.verdict is Verdict.FAILS
    assert found.because.key == "coverage.fails"
    assert found.witness
    assert found.witness.pose
    assert found.margin
    assert found.margin.value < 0
    x = found.witness.pose.x * 1000
    assert x == pytest.approx(round(x), abs=1e-6)


def test_rows_apart_by_more_than_the_body_is_deep_are_said_to_be() -> None:
    found = ask(PATH, {"rows_at": "130 mm"}, case="upright")
    assert found.found
    assert found.found.key == "coverage.rows_apart"
    apart = found.found.values["apart"]
    assert getattr(apart, "value", 0) == pytest.approx(0.260)


def test_what_holds_as_stated_and_not_for_every_aim_fails_at_a_mounting() -> None:
    changes = {"rows_at": "90 mm", "fitting[inside].aim.across": "20 mm",
               "fitting[outside].aim.across": "20 mm"}  # fmt: skip
    found = ask(PATH, changes, case="upright")
    assert found.verdict is Verdict.FAILS
    assert found.because.key == "coverage.fails_mounting"
    assert found.witness
    assert found.witness.kind == "mounting"
    assert any(
        abs(value) == pytest.approx(0.02) for value in found.witness.mounting.values()
    )


def test_a_fan_that_is_not_known_is_not_shown_until_its_ends_are_read() -> None:
    found = ask(PATH, NO_FAN, case="upright")
    assert found.verdict is Verdict.NOT_SHOWN
    assert found.because.key == "coverage.not_shown.unit"
    assert {lack.message.key for lack in found.lacking} == {"lack.row_ends"}
    read = ask(PATH, {**NO_FAN, **ENDS}, case="upright")
    assert read.verdict is Verdict.HOLDS


def test_a_choice_of_fan_that_nobody_set_is_lacking() -> None:
    changes = {
        "sheet.presence.fan.choices": {"narrow": "1000 mm"},
        "fitting[outside].settings.fan": None,
    }
    found = ask(PATH, changes, case="upright")
    assert found.verdict is Verdict.NOT_SHOWN
    assert {lack.key for lack in found.lacking} == {"fitting[outside].settings.fan"}


def test_a_width_to_the_edges_of_light_of_unknown_width_is_lacking() -> None:
    changes = {
        "sheet.presence.fan.measured_to": "light edges",
        "sheet.presence.spot_divergence": None,
    }
    found = ask(PATH, changes, case="upright")
    assert found.verdict is Verdict.NOT_SHOWN
    assert {lack.message.key for lack in found.lacking} == {"lack.divergence"}


def test_a_manual_that_can_be_read_both_ways_is_settled_by_the_row_ends() -> None:
    vague = {
        "sheet.presence.fan.measured_to": None,
        "sheet.presence.fan.choices": {"wide": "2250 mm"},
    }
    found = ask(PATH, vague, case="upright")
    assert found.verdict is Verdict.NOT_SHOWN
    assert found.because.key == "coverage.not_shown.readings"
    assert {lack.message.key for lack in found.lacking} == {"lack.reading"}
    read = ask(PATH, {**vague, **ENDS}, case="upright")
    assert read.verdict is Verdict.HOLDS


def test_a_reading_that_no_way_saves_fails() -> None:
    vague = {
        "sheet.presence.fan.measured_to": None,
        "sheet.presence.fan.choices": {"wide": "1200 mm"},
    }
    assert ask(PATH, vague, case="upright").verdict is Verdict.FAILS


def test_a_lying_body_is_not_shown_where_the_lowest_height_is_unknown() -> None:
    changes = {"sheet.presence.lowest_height": None}
    for face in ("on its face", "on its edge"):
        found = ask(PATH, changes, case=face)
        assert found.verdict is Verdict.NOT_SHOWN
        assert found.because.key == "coverage.not_shown.lowest_height"
        assert {lack.key for lack in found.lacking} == {"sheet.presence.lowest_height"}


def test_a_lowest_height_above_a_lying_body_leaves_it_unreached() -> None:
    changes = {"sheet.presence.lowest_height": "250 mm"}
    assert ask(PATH, changes, case="on its face").verdict is Verdict.FAILS
    assert ask(PATH, changes, case="upright").verdict is not Verdict.FAILS


def test_a_door_with_units_on_one_side_only_fails() -> None:
    found = ask(PATH, {"fitting[inside]": None}, case="upright")
    assert found.verdict is Verdict.FAILS
    assert found.witness
    assert found.witness.pose
    assert found.witness.pose.y < 0


def test_a_door_without_units_fails_everywhere_and_says_no_margin() -> None:
    found = ask(
        PATH, {"fitting[inside]": None, "fitting[outside]": None}, case="upright"
    )
    assert found.verdict is Verdict.FAILS
    assert found.margin is None


def test_one_dead_unit_is_advice_for_each() -> None:
    found = asked(PATH, a_doorway())
    for unit in ("outside", "inside"):
        one = found[None, f"upright, {unit} dead"]
        assert one.weight is Weight.ADVICE
        assert one.stricter
        assert one.verdict is Verdict.FAILS


@pytest.mark.parametrize(
    ("gap", "verdict", "because"),
    [
        ("0 mm", Verdict.HOLDS, "near_closed.never"),
        (None, Verdict.NOT_SHOWN, "near_closed.unknown"),
        ("150 mm", Verdict.NOT_SHOWN, "near_closed.no_figure"),
    ],
)
def test_near_closed_without_a_figure(
    gap: str | None, verdict: Verdict, because: str
) -> None:
    found = ask(PATH, {"presence_ignored_below": gap}, case="near closed")
    assert (found.verdict, found.because.key) == (verdict, because)


@pytest.mark.parametrize(
    ("gap", "verdict"),
    [
        ("152 mm", Verdict.HOLDS),
        ("152.4 mm", Verdict.HOLDS),
        ("200 mm", Verdict.FAILS),
        ("152 mm ± 3 mm", Verdict.NOT_SHOWN),
        ("100 mm, estimate", Verdict.NOT_SHOWN),
    ],
)
def test_near_closed_with_the_american_figure_of_six_inches(
    gap: str, verdict: Verdict
) -> None:
    """ANSI/BHMA A156.10-2005, 8.3.2.2: until within 6 in (152.4 mm) of closed."""
    found = ask(
        PATH,
        {"presence_ignored_below": gap},
        case="near closed",
        rules=book("us", "2005"),
    )
    assert found.verdict is verdict
    assert found.to_confirm is (verdict is Verdict.HOLDS)


def test_rows_that_pause_while_the_leaf_moves_are_a_case_of_their_own() -> None:
    rows = tuple(
        {"angle": f"{angle} deg", "spots": 24, "pauses_while_moving": angle == 0}
        for angle in (0, 4)
    )
    found = asked(PATH, a_doorway({"sheet.presence.rows": rows}))
    assert found[None, "upright"].verdict is Verdict.HOLDS
    moving = found[None, "upright, while the leaf moves"]
    assert moving.verdict is Verdict.FAILS


def test_a_reduced_width_is_a_case_of_its_own_that_the_whole_contains() -> None:
    changes = {"modes": ("automatic", "reduced"), "reduced_width": "1000 mm"}
    found = asked(PATH, a_doorway(changes))
    whole, reduced = found[None, "upright"], found[None, "upright, reduced width"]
    assert whole.verdict is reduced.verdict is Verdict.HOLDS


def test_a_fan_just_wide_enough_for_the_reduced_width_holds_there_only() -> None:
    changes = {
        "modes": ("automatic", "reduced"),
        "reduced_width": "1000 mm",
        "sheet.presence.fan.choices": {"wide": "1500 mm"},
    }
    found = asked(PATH, a_doorway(changes))
    assert found[None, "upright"].verdict is Verdict.FAILS
    assert found[None, "upright, reduced width"].verdict is Verdict.HOLDS


@pytest.mark.parametrize("hand", ["left", "right"])
def test_a_reduced_single_leaf_leaves_its_own_end_free(hand: str) -> None:
    changes = {
        "leaves.kind": "single", "leaves.hand": hand,
        "modes": ("automatic", "reduced"), "reduced_width": "800 mm",
        "fitting[outside].lens.along": "-400 mm",
        "fitting[inside].lens.along": "-400 mm",
        "sheet.presence.fan.choices": {"wide": "1500 mm"},
    }  # fmt: skip
    found = asked(PATH, a_doorway(changes))[None, "upright, reduced width"]
    assert (found.verdict is Verdict.HOLDS) is (hand == "right")


def test_a_row_that_is_off_does_not_count() -> None:
    changes = {
        "fitting[outside].settings.rows_on": (2,),
        "fitting[inside].settings.rows_on": (2,),
    }
    assert ask(PATH, changes, case="upright").verdict is Verdict.FAILS


def test_one_spot_of_each_unit_trips_nobody_who_needs_two() -> None:
    many = {"sheet.presence.spots_needed": 12}
    assert ask(PATH, many, case="upright").verdict is Verdict.FAILS


def test_spots_needed_that_are_not_stated_are_taken_as_two_and_listed() -> None:
    found = ask(PATH, {"sheet.presence.spots_needed": None}, case="upright")
    taken = [a.value for a in found.assumed if a.key.endswith("spots_needed")]
    assert set(taken) == {"2"}


def test_telescopic_planes_widen_what_must_be_reached() -> None:
    """Lens and rows keep their distance from the leaf face: the rows move apart."""
    changes = {"leaves.planes": ("-60 mm", "60 mm")}
    found = ask(PATH, changes, case="upright")
    assert found.verdict is Verdict.FAILS


def test_thin_telescopic_planes_hold_with_rows_nearer_the_leaf() -> None:
    near = {
        f"fitting[{side}].read.first_row": "40 mm" for side in ("outside", "inside")
    }
    changes = {"leaves.planes": ("-22 mm", "22 mm"), **near}
    assert ask(PATH, changes, case="upright").verdict is Verdict.HOLDS


def test_a_deep_reveal_hides_what_is_behind_it() -> None:
    """A unit 300 mm left of the opening's end looks at the jamb."""
    changes = {
        "reveal.outside": "400 mm",
        "fitting[outside].lens.along": "1150 mm",
        "fitting[outside].lens.from_leaf": "120 mm",
    }
    found = ask(PATH, changes, case="upright")
    assert found.verdict is Verdict.FAILS


def test_two_narrow_units_a_side_reach_what_one_wide_one_does() -> None:
    doorway = a_doorway({"sheet.presence.fan.choices": {"wide": "1400 mm"}})
    assert asked(PATH, doorway)[None, "upright"].verdict is Verdict.FAILS
    pairs = tuple(
        fitting.model_copy(
            update={
                "id": f"{fitting.id}-{name}",
                "lens": fitting.lens.model_copy(update={"along": length(along)}),
            }
        )
        for fitting in doorway.fitting
        if fitting.lens
        for name, along in (("left", -0.5), ("right", 0.5))
    )
    found = asked(PATH, doorway.model_copy(update={"fitting": pairs}))
    assert found[None, "upright"].verdict is Verdict.HOLDS
    assert (None, "upright, outside-left dead") in found


def test_a_unit_out_of_the_middle_reaches_only_its_own_end() -> None:
    changes = {"fitting[outside].lens.along": "700 mm"}
    found = ask(PATH, changes, case="upright")
    assert found.verdict is Verdict.FAILS
    assert found.witness
    assert found.witness.pose
    assert found.witness.pose.x < -0.4


def test_a_barrier_alone_leaves_a_body_that_does_not_cross_it() -> None:
    doorway = with_barrier("0 mm")
    found = asked(PATH, doorway)[None, "upright"]
    assert found.verdict is Verdict.FAILS


def test_a_barrier_on_each_face_reaches_whoever_is_in_the_path() -> None:
    """A body that meets the path is cut by a beam in one of the faces or is thinner."""
    doorway = with_barrier("10 mm", both=True)
    assert asked(PATH, doorway)[None, "upright"].verdict is Verdict.HOLDS


def test_a_barrier_above_a_lying_body_does_not_reach_it() -> None:
    doorway = with_barrier("10 mm", both=True, height="350 mm")
    found = asked(PATH, doorway)
    assert found[None, "upright"].verdict is Verdict.HOLDS
    assert found[None, "on its edge"].verdict is Verdict.FAILS
