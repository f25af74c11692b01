"""Does the door open in time: what is said of doorways, and that it is so."""

from collections.abc import Mapping
from dataclasses import replace
from math import ceil, cos, hypot, sin

import numpy as np
import pytest

from builders.doorways import a_doorway
from limen.findings import (
    Finding,
    Measure,
    Message,
    Polygon,
    Role,
    Stroke,
    Verdict,
)
from limen.model.doorway import Doorway
from limen.model.people import Side
from limen.physics.in_time_worst import worst
from limen.physics.leaf import Opening, opening_of
from limen.physics.plan import sign
from limen.physics.radar import Radar
from limen.questions.approach_field import fields_of
from limen.questions.asking import Asked
from limen.questions.in_time_given import Given, given
from limen.questions.settled import settle
from limen.rules import Rule
from limen.words import say
from questions.asking import RANK, ask, asked, book

QUESTION = "approach.opens_in_time"
REDUCED = "outside, reduced width"
OUTSIDE = "fitting[outside]"
WALKED = {"lit_ahead": ["2.4 m", "2.4 m", "2.4 m"], "lit_speed": "1 m/s"}
NARROWED = {
    "modes": ["automatic", "reduced"],
    "reduced_width": "820 mm",
    "use.fastest": "1.05 m/s",
}
STEP = 0.001  # m
SIDES: tuple[Side, ...] = ("outside", "inside")


def of(changes: Mapping[str, object] | None = None, case: str = "outside") -> Finding:
    return ask(QUESTION, changes, case=case)


def settled(changes: dict[str, object], width: float | None = None) -> Given:
    doorway = a_doorway(changes)
    rule = book().rule_for(QUESTION, {})
    assert isinstance(rule, Rule)
    one = given(Asked(doorway, settle(doorway), rule), "outside", width)
    assert isinstance(one, Given)
    return one


# What is said -----------------------------------------------------------------------


def test_the_reference_door_opens_in_time_on_figures_of_the_trade() -> None:
    found = of()
    assert found.verdict is Verdict.HOLDS
    assert found.to_confirm
    assert found.margin
    assert found.margin.value > found.margin.u >= 0


def test_there_is_one_answer_a_side_and_one_more_for_a_reduced_width() -> None:
    assert set(asked(QUESTION, a_doorway())) == {(None, "outside"), (None, "inside")}
    narrowed = asked(QUESTION, a_doorway(NARROWED))
    cases = {"outside", "inside", REDUCED, "inside, reduced width"}
    assert {case for _, case in narrowed} == cases


def test_inside_and_outside_of_the_same_make_are_answered_alike() -> None:
    changes = {"use.fastest": "3 m/s"}
    outside, inside = of(changes), of(changes, "inside")
    assert outside.verdict is inside.verdict
    assert outside.margin
    assert inside.margin
    assert outside.margin.value == pytest.approx(inside.margin.value, abs=1e-6)
    assert outside.witness
    assert inside.witness
    turned = -inside.witness.printed["start_along"]
    assert outside.witness.printed["start_along"] == pytest.approx(turned)


def test_the_faster_people_walk_the_worse_the_answer() -> None:
    found = [of({"use.fastest": f"{v} m/s"}) for v in (0.6, 0.9, 1.2, 1.6, 2.5, 4.0)]
    ranks = [RANK[one.verdict] for one in found]
    assert ranks == sorted(ranks, reverse=True)
    margins = [one.margin.value for one in found if one.margin]
    assert margins == sorted(margins, reverse=True)
    assert {one.verdict for one in found} == {
        Verdict.HOLDS,
        Verdict.NOT_SHOWN,
        Verdict.FAILS,
    }


def test_between_holding_and_failing_it_says_what_would_settle_it() -> None:
    found = of({"use.fastest": "1.2 m/s"})
    assert found.verdict is Verdict.NOT_SHOWN
    keys = {one.key for one in found.lacking}
    assert "fitting[outside].read.lit_ahead" in keys
    assert "motion.opening_acceleration" not in keys  # is stated: leaves nothing open


def test_where_the_manual_tells_nothing_of_the_beam_that_is_what_would_settle_it() -> (
    None
):
    changes = {"sheet.motion.lobe": None, f"{OUTSIDE}.read": WALKED}
    found = of({**changes, "use.fastest": "1.2 m/s"})
    assert found.verdict is Verdict.NOT_SHOWN
    assert "sheet.motion.lobe" in {one.key for one in found.lacking}


def test_a_stopwatch_alone_asks_for_speed_and_acceleration() -> None:
    timed = {"motion.opening_speed": None, "motion.opening_acceleration": None}
    found = of({**timed, f"{OUTSIDE}.read": WALKED, "use.fastest": "1.3 m/s"})
    assert found.verdict is Verdict.NOT_SHOWN
    assert {one.key for one in found.lacking} == {"motion.opening_acceleration"}


def test_a_reduced_width_makes_a_door_late_that_is_in_time_when_wide_open() -> None:
    assert of({**NARROWED, "use.fastest": "0.95 m/s"}).verdict is Verdict.HOLDS
    reduced = of({**NARROWED, "use.fastest": "0.95 m/s"}, REDUCED)
    assert reduced.verdict is not Verdict.HOLDS
    assert reduced.margin
    assert reduced.margin.value < 0


def test_the_speeds_served_and_who_is_late_are_told() -> None:
    found = of()
    assert found.found
    text = say(found.found)
    assert text.startswith("in time for whoever walks at ")
    assert "% of adults" in text


# What is not known ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ("motion.start_delay", "motion.start_delay"),
        ("motion.reversal_delay", None),  # the operator's own stands in
        ("motion.braking", "motion.braking"),
        (
            "fitting[outside].settings.radar_tilt",
            "fitting[outside].settings.radar_tilt",
        ),
        ("sheet.motion.field_depth", "sheet.motion.field_depth"),
    ],
)
def test_what_is_missing_is_named(change: str, key: str | None) -> None:
    found = of({change: None})
    if key is None:
        assert not any(one.key == change for one in found.lacking)
        return
    assert found.verdict is Verdict.NOT_SHOWN
    assert key in {one.key for one in found.lacking}


def test_without_a_word_on_where_people_come_from_the_sides_are_in_doubt() -> None:
    found = of({"approach": []})
    assert found.verdict is Verdict.NOT_SHOWN
    assert "approach[outside]" in {one.key for one in found.lacking}
    assert "approach[outside]" in {one.key for one in found.assumed}


def test_late_straight_ahead_is_late_wherever_people_come_from() -> None:
    found = of({"approach": [], "use.fastest": "3 m/s"})
    assert found.verdict is Verdict.FAILS
    assert found.witness
    assert found.witness.printed["heading"] == pytest.approx(0.0, abs=0.02)


def test_where_no_speed_is_named_one_is_taken_and_listed() -> None:
    found = of({"use.fastest": None})
    assert "use.fastest" in {one.key for one in found.assumed}
    quick = of({"use.fastest": None, "use.groups": ["adults"]})
    (taken,) = [one for one in quick.assumed if one.key == "use.fastest"]
    assert say(taken.why) == "95 % of adults walk no faster"


def test_a_group_whose_speed_nobody_knows_is_asked_for() -> None:
    found = of({"use.fastest": None, "use.groups": ["skaters"]})
    assert found.verdict is Verdict.NOT_SHOWN
    assert "use.fastest" in {one.key for one in found.lacking}


def test_on_an_estimate_nothing_holds() -> None:
    found = of({"use.fastest": None, "use.groups": ["older"]})
    assert found.verdict is not Verdict.HOLDS
    slow = of({"motion.start_delay": "0.1 s, estimate"})
    assert slow.verdict is Verdict.NOT_SHOWN
    assert "motion.start_delay" in {one.key for one in slow.lacking}


def test_a_side_without_a_radar_is_not_known_to_open() -> None:
    found = of({"fitting[outside]": None})
    assert found.verdict is Verdict.NOT_SHOWN
    assert "fitting" in {one.key for one in found.lacking}


def test_where_people_pass_one_way_the_other_side_is_not_asked() -> None:
    found = asked(QUESTION, a_doorway({"use.one_way": "inside"}))
    assert found[None, "outside"].verdict is Verdict.NOT_ASKED
    assert found[None, "inside"].verdict is Verdict.HOLDS


def test_a_way_too_narrow_for_the_body_is_not_walked_straight() -> None:
    found = of({**NARROWED, "reduced_width": "650 mm"}, REDUCED)
    assert found.verdict is Verdict.NOT_SHOWN
    assert {one.key for one in found.lacking} == {"reduced_width"}


def test_a_corner_near_the_door_leaves_less_time() -> None:
    def near(start: str) -> list[dict[str, str]]:
        straight = {"from_left": "0 deg", "from_right": "0 deg", "starts": start}
        return [{"side": "outside", **straight}]

    far, close = of({"approach": near("5 m")}), of({"approach": near("1 m")})
    assert far.margin
    assert close.margin
    assert close.margin.value < far.margin.value


# That it is so ----------------------------------------------------------------------

LATE = (
    {"use.fastest": "3 m/s"},
    {"use.fastest": "1.8 m/s"},
    {"use.fastest": "3 m/s", "approach": []},
    {"use.fastest": "2.2 m/s", "motion.opening_speed": "0.7 m/s"},
)


@pytest.mark.parametrize("changes", LATE)
def test_the_printed_walk_walked_again_finds_the_door_too_narrow(
    changes: dict[str, object],
) -> None:
    for case in SIDES:
        found = of(changes, case)
        assert found.verdict is Verdict.FAILS
        assert found.witness
        assert found.witness.kind == "walk"
        assert _walks_into_the_leaf(a_doorway(changes), case, found.witness.printed)


def _walks_into_the_leaf(
    doorway: Doorway, side: Side, says: Mapping[str, float]
) -> bool:
    """Step by step, by the greater field and the quicker door."""
    plan = settle(doorway).plan
    (field,) = fields_of(doorway, plan, side)
    radar, opening = field.outer, opening_of(doorway, latest=False)
    assert isinstance(radar, Radar)
    assert isinstance(opening, Opening)
    out = sign(side)
    face = plan.side(side).face
    start = np.array([says["start_along"], out * (face + says["start_out"]), 1.0])
    end = np.array([says["target_along"], 0.0, 1.0])
    ahead = (end - start) / hypot(*(end - start)[:2])
    assert -ahead[0] == pytest.approx(sin(says["heading"]), abs=1e-9)
    assert -out * ahead[1] == pytest.approx(cos(says["heading"]), abs=1e-9)
    ways = np.arange(0.0, hypot(*(end - start)[:2]) + 0.5, STEP)
    places = start + ways[:, None] * ahead
    going = np.broadcast_to(ahead * says["speed"], places.shape)
    seen = radar.detects(places, going)
    need = ceil(radar.response * says["speed"] / STEP)
    runs = np.convolve(seen, np.ones(need + 1), mode="valid") >= need + 1
    signal = (int(np.argmax(runs)) + need) * STEP / says["speed"] if runs.any() else 1e9
    left, right = opening.free(ways / says["speed"] - signal)
    near = np.abs(places[:, 1]) <= 0.35
    x = places[:, 0]
    caught = (x + 0.35 > right + 1e-6) | (x - 0.35 < left - 1e-6)
    return bool((near & caught).any())


@pytest.mark.parametrize("changes", LATE)
def test_a_late_walk_is_told_with_the_lateness_of_the_margin(
    changes: dict[str, object],
) -> None:
    found = of(changes)
    assert found.margin
    assert found.witness
    said = found.because.values
    late, worse = said["late"], said["worse"]
    assert isinstance(late, Measure)
    assert isinstance(worse, Message)
    least, most = late.value, worse.values["late"]
    assert isinstance(most, Measure)
    assert least <= found.witness.printed["late"]
    assert most.value == pytest.approx(-found.margin.value, abs=5e-4)
    assert least <= most.value + found.margin.u


@pytest.mark.parametrize("changes", LATE)
def test_the_figures_of_a_remedy_mend(changes: dict[str, object]) -> None:
    found, one = of(changes), settled(changes)
    assert found.remedy
    said = found.remedy.message.values
    fast = one.fastest.high
    sooner, further = said["sooner"], said["further"]
    quick = one.surely.edges.earlier(sooner.value)  # pyright: ignore[reportAttributeAccessIssue]
    deep = further.value  # pyright: ignore[reportAttributeAccessIssue]
    assert worst(replace(one.surely, edges=quick), fast, fast).high <= 0
    assert worst(replace(one.surely, further=deep), fast, fast).high <= 0


@pytest.mark.parametrize(
    ("speed", "key"), [("0.15 m/s", "further"), ("0.06 m/s", "other")]
)
def test_no_scale_is_said_to_reach_half_as_far_again(speed: str, key: str) -> None:
    changes: dict[str, object] = {
        "motion.opening_time": None,
        "motion.opening_speed": speed,
        "motion.opening_acceleration": "0.8 m/s²",
        f"{OUTSIDE}.read": WALKED,
    }
    found = of(changes)
    assert found.remedy
    assert found.remedy.message.key == f"in_time.remedy.{key}"


def test_the_reduced_width_that_a_remedy_names_mends() -> None:
    changes: dict[str, object] = {
        **NARROWED,
        "use.fastest": "1.1 m/s",
        "motion.opening_time": None,
        "motion.opening_speed": "0.9 m/s",
        "motion.opening_acceleration": "0.8 m/s²",
        f"{OUTSIDE}.read": WALKED,
    }
    assert of(changes).verdict is Verdict.HOLDS
    found = of(changes, REDUCED)
    assert found.verdict is Verdict.FAILS
    assert found.remedy
    width = found.remedy.message.values["width"]
    mended = f"{width.value * 1000:.0f} mm"  # pyright: ignore[reportAttributeAccessIssue]
    assert of({**changes, "reduced_width": mended}, REDUCED).verdict is Verdict.HOLDS


def test_the_field_the_walk_and_the_place_are_drawn_where_they_are() -> None:
    for case, out in (("outside", 1.0), ("inside", -1.0)):
        found = of({"use.fastest": "3 m/s"}, case)
        roles = [figure.role for figure in found.figures]
        assert roles == [Role.FIELD, Role.WALK, Role.WALK, Role.LATE]
        field, walk, body, late = found.figures
        assert isinstance(body, Polygon)
        assert min(out * y for _, y in body.corners) > 0.02
        assert isinstance(field, Polygon)
        assert isinstance(walk, Stroke)
        assert isinstance(late, Stroke)
        assert all(out * y > 0.019 for _, y in field.corners)
        assert out * walk.points[0][1] > 2.0
        assert late.points[0][0] < late.points[1][0] or out < 0
        assert late.points[0][1] == late.points[1][1] == walk.points[1][1]


def test_a_walk_to_the_lamp_settles_how_far_it_reaches() -> None:
    changes = {"use.fastest": "1.2 m/s", f"{OUTSIDE}.read": WALKED}
    keys = {one.key for one in of(changes).lacking}
    assert "fitting[outside].read.lit_ahead" not in keys


@pytest.mark.parametrize(
    ("key", "figure", "named"),
    [
        ("motion.opening_runs", ["2.5 s, estimate", "2.4 s"], "motion.opening_runs"),
        ("leaves.travel", "1000 mm, unsure", "leaves.travel"),
        ("clear_width", "2000 mm, estimate", "clear_width"),
    ],
)
def test_every_weak_figure_of_the_opening_is_named(
    key: str, figure: object, named: str
) -> None:
    """What lets nothing hold says so: a verdict that names nothing settles nothing."""
    found = of({"motion.closing_speed": None, key: figure})
    if found.verdict is Verdict.NOT_SHOWN:
        assert found.lacking
    weak = {one.key for one in found.lacking if one.message.key == "lack.grade"}
    assert named in weak
