"""The field of the radar against what a rule asks of it."""

from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builders.doorways import a_doorway
from limen.findings import Finding, Polygon, Role, Stroke, Verdict
from limen.findings.message import Measure
from limen.physics.radar import PatchBeam
from limen.quantity import Grade
from limen.questions.approach_field import FieldFacts, fields_of
from limen.questions.settled import settle
from limen.rules import Weight
from limen.study import apply
from questions.asking import RANK, ask, asked, book

ZONE, SLOW = "approach.minimum_zone", "approach.slow_walker"
OUT = "fitting[outside]."
US = book("us", "2005")
NO_SPREAD = {"sheet.motion.spread": None}
WALKS = {OUT + "read.lit_ahead": ["1850 mm", "1900 mm", "1880 mm"]}


def zone(
    changes: Mapping[str, object] | None = None, case: str = "outside", us: bool = False
) -> Finding:
    return ask(ZONE, changes, case=case, rules=US if us else None)


def field(changes: Mapping[str, object], *, child: bool = False) -> FieldFacts:
    doorway = a_doorway(changes)
    (facts,) = fields_of(doorway, settle(doorway).plan, "outside", child=child)
    return facts


def keys(finding: Finding) -> set[str]:
    return {lack.key for lack in finding.lacking}


def reach(facts: FieldFacts, *, inner: bool = True) -> float:
    radar = facts.inner if inner else facts.outer
    assert radar
    return radar.contours[0].ahead


# The middle and the width --------------------------------------------------------


def test_each_side_has_a_finding_for_the_middle_and_one_for_the_width() -> None:
    found = asked(ZONE, a_doorway())
    assert {case for _, case in found} == {
        "outside",
        "outside, width",
        "inside",
        "inside, width",
    }
    assert {finding.verdict for finding in found.values()} == {Verdict.HOLDS}


def test_both_sides_of_a_door_that_is_the_same_inside_say_the_same() -> None:
    found = asked(ZONE, a_doorway())
    for part in ("", ", width"):
        one, other = found[None, "outside" + part], found[None, "inside" + part]
        assert one.margin == other.margin


@pytest.mark.parametrize(
    ("tilt", "verdict"),
    [("25 deg", Verdict.HOLDS), ("40 deg", Verdict.NOT_SHOWN)],
)
def test_a_radar_tilted_out_may_begin_too_far_from_the_leaf(
    tilt: str, verdict: Verdict
) -> None:
    found = zone({OUT + "settings.radar_tilt": tilt}, us=True)
    assert found.verdict is verdict
    assert found.because.key.startswith(
        "approach.zone" if verdict is Verdict.HOLDS else "approach.start"
    )


def test_a_radar_that_looks_at_the_horizon_has_no_field() -> None:
    found = zone({OUT + "settings.radar_tilt": "85 deg"}, us=True)
    assert found.verdict is Verdict.FAILS
    assert found.remedy


def test_without_a_figure_for_the_start_the_field_must_begin_within_the_zone() -> None:
    narrow = {
        "sheet.motion.lobe": {"across": "80 deg", "ahead": "25 deg"},
        "sheet.motion.field_depth": "2600 mm",
        "sheet.motion.field_width": "3000 mm",
        "sheet.motion.at_tilt": "42 deg",
    }
    for tilt, verdict in (("45 deg", Verdict.HOLDS), ("55 deg", Verdict.NOT_SHOWN)):
        found = zone({**narrow, OUT + "settings.radar_tilt": tilt})
        assert found.verdict is verdict
    assert found.because.key == "approach.start.not_shown"


def test_a_wide_door_asks_for_a_wide_field() -> None:
    wide = {"clear_width": "5000 mm"}
    assert zone(wide, "outside, width", us=True).verdict is Verdict.FAILS
    assert zone(wide, us=True).verdict is Verdict.HOLDS


def test_a_unit_out_of_the_middle_covers_one_end_less() -> None:
    aside = {OUT + "lens.along": "700 mm ± 5 mm"}
    middle = zone({}, "outside, width").margin
    moved = zone(aside, "outside, width").margin
    assert middle
    assert moved
    assert moved.least == pytest.approx(middle.least - 0.7, abs=0.02)


def test_the_field_is_drawn_with_the_zone_that_is_asked() -> None:
    found = zone()
    drawn = {
        figure.role: figure for figure in found.figures if isinstance(figure, Polygon)
    }
    assert drawn.keys() == {Role.FIELD, Role.ZONE}
    assert max(y for _, y in drawn[Role.ZONE].corners) == pytest.approx(1.02)
    assert max(y for _, y in drawn[Role.FIELD].corners) > 1.02


def test_a_holding_field_is_to_be_walked_until_somebody_did() -> None:
    assert [owed.key for owed in zone().owed] == ["approach.owed.walk"]
    assert zone(WALKS).owed == ()


# Escape --------------------------------------------------------------------------

ESCAPE = {"use.escape_route": True, "use.escape_from": ["outside"]}
NOT_DEEP = {OUT + "settings.radar_tilt": "5 deg", "sheet.motion.field_for": "child"}
SHALLOW = {**NOT_DEEP, OUT + "read.lit_ahead": ["1100 mm"] * 3}


def test_an_escape_route_asks_for_more_and_must_have_it() -> None:
    never = {**ESCAPE, "use.breaks_out": False}
    found = zone(never)
    assert found.weight is Weight.MUST
    assert found.needed
    assert found.needed.values["limit"] == Measure(1.5, found.margin.dimension)  # pyright: ignore[reportOptionalMemberAccess]
    assert zone({}).weight is Weight.SHOULD


@pytest.mark.parametrize(
    ("changes", "verdict", "lacking"),
    [
        ({}, Verdict.HOLDS, set[str]()),
        ({**ESCAPE, "use.breaks_out": False}, Verdict.FAILS, set[str]()),
        ({**ESCAPE, "use.breaks_out": True}, Verdict.HOLDS, set[str]()),
        (
            {"use.escape_route": True, "use.escape_from": ["inside"]},
            Verdict.HOLDS,
            set[str](),
        ),
        (ESCAPE, Verdict.NOT_SHOWN, {"use.breaks_out"}),
        (
            {"use.escape_route": True},
            Verdict.NOT_SHOWN,
            {"use.breaks_out", "use.escape_from"},
        ),
    ],
)
def test_a_field_deep_enough_for_daily_use_only(
    changes: dict[str, object], verdict: Verdict, lacking: set[str]
) -> None:
    """Walked by a grown person: 1100 mm chalked, so a field of some 1200 mm."""
    found = zone({**SHALLOW, **changes})
    assert found.verdict is verdict
    assert keys(found) == lacking


# What is not known ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("missing", "key"),
    [
        (OUT + "settings.radar_tilt", OUT + "settings.radar_tilt"),
        (OUT + "lens", OUT + "lens"),
        ("sheet.motion.field_depth", "sheet.motion.field_depth"),
        ("sheet.motion.field_width", "sheet.motion.field_width"),
        ("sheet.motion.at_height", "sheet.motion.at_height"),
        ("sheet.motion.at_tilt", "sheet.motion.at_tilt"),
    ],
)
def test_what_the_field_needs_is_named(missing: str, key: str) -> None:
    for case in ("outside", "outside, width"):
        found = zone({missing: None}, case)
        assert found.verdict is Verdict.NOT_SHOWN
        assert keys(found) == {key}
    assert keys(ask(SLOW, {missing: None}, case="outside")) == {key}


@pytest.mark.parametrize(
    ("missing", "settles"),
    [
        ("sheet.motion.spread", OUT + "read.lit_ahead"),
        (OUT + "settings.reach", OUT + "settings.reach"),
    ],
)
def test_what_is_only_estimated_never_holds_and_is_listed(
    missing: str, settles: str
) -> None:
    found = zone({missing: None})
    assert found.verdict is Verdict.NOT_SHOWN
    assert keys(found) == {settles}
    assert [one.grade for one in found.assumed] == [Grade.ESTIMATE]


def test_three_walks_settle_a_spread_that_nobody_stated() -> None:
    assert zone(NO_SPREAD).verdict is Verdict.NOT_SHOWN
    two = {OUT + "read.lit_ahead": ["1850 mm", "1900 mm"]}
    assert zone({**NO_SPREAD, **two}).verdict is Verdict.NOT_SHOWN
    assert zone({**NO_SPREAD, **WALKS}).verdict is Verdict.HOLDS


def test_a_speed_of_walking_that_nobody_timed_is_listed() -> None:
    (listed,) = zone(WALKS).assumed
    assert listed.key == OUT + "read.lit_speed"
    assert listed.grade is Grade.PRACTICE


def test_a_manual_that_is_silent_on_the_beam_has_several_contours() -> None:
    facts = field({"sheet.motion.lobe": None})
    assert facts.inner
    assert len(facts.inner.contours) > 1
    assert [one.key for one in facts.assumed] == ["sheet.motion.lobe"]


def test_a_field_that_no_beam_makes_is_not_shown() -> None:
    changes = {"sheet.motion.field_width": "7000 mm"}
    found = zone(changes)
    assert found.verdict is Verdict.NOT_SHOWN
    assert found.because.key == "approach.zone.no_beam"


def test_a_walk_that_cannot_be_is_told() -> None:
    changes = {OUT + "read.lit_ahead": ["9 m"] * 3}
    assert zone(changes).because.key == "approach.zone.walk_differs"


def test_a_side_without_a_radar_asks_what_opens_it() -> None:
    changes = {"fitting[inside]": None}
    found = zone(changes, "inside")
    assert found.verdict is Verdict.NOT_SHOWN
    assert keys(found) == {"fitting"}
    one_way = {**changes, "use.one_way": "outside"}
    assert zone(one_way, "inside").verdict is Verdict.NOT_ASKED


def test_a_door_that_nothing_opens_by_motion_is_not_asked() -> None:
    doorway = a_doorway({"sheet.motion": None})
    assert asked(ZONE, doorway) == {}
    assert asked(SLOW, doorway) == {}


# Reach ---------------------------------------------------------------------------


def test_spread_makes_the_inner_field_smaller_and_the_outer_larger() -> None:
    exact = field({"sheet.motion.spread": "0 %"}, child=True)
    loose = field({"sheet.motion.spread": "20 %"}, child=True)
    assert reach(loose) == pytest.approx(0.8 * reach(exact))
    assert reach(loose, inner=False) == pytest.approx(1.2 * reach(exact, inner=False))


@pytest.mark.parametrize(
    ("law", "least", "most"),
    [("field", 0.5, 0.5), ("power", 0.25**0.25, 0.25**0.25), (None, 0.5, 0.25**0.25)],
)
def test_a_reach_setting_counts_by_the_worse_law_until_one_is_told(
    law: str | None, least: float, most: float
) -> None:
    whole, quarter = (
        field({"sheet.motion.reach_law": law, OUT + "settings.reach": setting})
        for setting in ("100 %", "25 %")
    )
    assert reach(quarter) == pytest.approx(least * reach(whole))
    outer = reach(quarter, inner=False) / reach(whole, inner=False)
    assert outer == pytest.approx(most)


def test_a_child_is_reached_less_far_than_who_the_field_was_drawn_for() -> None:
    grown = {"sheet.motion.field_for": "adult"}
    facts = field(grown, child=True)
    assert reach(facts) == pytest.approx(10 ** (-6 / 40) * reach(field(grown)))
    assert Grade.ESTIMATE in facts.grades
    assert Grade.ESTIMATE not in field({}, child=True).grades


def test_a_walk_puts_the_contour_one_response_further_out() -> None:
    """Chalked at 1.90 m at 1 m/s with 0.1 s of response: the contour is at 2.00 m."""
    changes = {
        OUT + "read.lit_ahead": ["1900 mm"] * 3,
        OUT + "read.lit_speed": "1 m/s",
    }
    facts = field(changes)
    found = zone(changes).because.values["depth"]
    assert isinstance(found, Measure)
    assert found.value == pytest.approx(2.0, abs=0.005)
    assert set(facts.grades) <= {Grade.MEASURED, Grade.SHEET}


def test_a_larger_antenna_reaches_further_by_the_root_of_its_patches() -> None:
    """Six patches instead of three: reach ahead by √2, and narrower."""
    arrays = {
        "sheet.motion.lobe": None,
        "sheet.motion.patches": {"columns": 1, "rows": 3},
        "sheet.motion.arrays": {
            "wide": {"columns": 1, "rows": 3},
            "narrow": {"columns": 2, "rows": 3},
        },
    }
    wide = field({**arrays, OUT + "settings.array": "wide"})
    narrow = field({**arrays, OUT + "settings.array": "narrow"})
    assert reach(narrow) == pytest.approx(2**0.5 * reach(wide))
    assert Grade.ESTIMATE in narrow.grades
    assert Grade.ESTIMATE not in wide.grades
    assert {one.key for one in field(arrays).lacks} == {OUT + "settings.array"}


def test_lobes_beside_the_main_one_may_open_and_never_surely_do() -> None:
    patches = {
        "sheet.motion.lobe": None,
        "sheet.motion.patches": {"columns": 1, "rows": 4},
    }
    facts = field(patches)
    assert facts.inner
    assert facts.outer
    beams = [radar.contours[0].beam for radar in (facts.inner, facts.outer)]
    assert [isinstance(b, PatchBeam) and b.lobes for b in beams] == [False, True]


def test_stated_doubt_of_tilt_and_height_counts_at_its_ends() -> None:
    sure = zone({OUT + "settings.radar_tilt": "25 deg"}).because.values["depth"]
    doubt = zone({OUT + "settings.radar_tilt": "25 deg ± 5 deg"}).because.values[
        "depth"
    ]
    assert isinstance(sure, Measure)
    assert isinstance(doubt, Measure)
    assert doubt.value < sure.value - 0.05


# Remedies ------------------------------------------------------------------------


def test_a_tilt_that_is_printed_mends() -> None:
    """Walked nothing, manual exact and for a child: a tilt of the scale serves."""
    doorway = a_doorway(
        {
            "sheet.motion.spread": "0 %",
            "sheet.motion.field_for": "child",
            OUT + "settings.radar_tilt": "-40 deg",
        }
    )
    failing = asked(ZONE, doorway, US)[None, "outside"]
    assert failing.verdict is Verdict.FAILS
    assert failing.remedy
    (change,) = failing.remedy.changes
    assert change.setting == "settings.radar_tilt"
    mended = asked(ZONE, apply(doorway, failing.remedy.changes), US)
    assert mended[None, "outside"].verdict is Verdict.HOLDS


# Slow people ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("least", "verdict"),
    [
        ("0.05 m/s", Verdict.HOLDS),
        ("0.09 m/s", Verdict.HOLDS),
        ("0.11 m/s", Verdict.NOT_SHOWN),
        ("0.16 m/s", Verdict.FAILS),
    ],
)
def test_somebody_at_6_in_per_s_shows_two_thirds_of_it(
    least: str, verdict: Verdict
) -> None:
    changes = {"sheet.motion.least_speed": least}
    assert ask(SLOW, changes, case="outside", rules=US).verdict is verdict
    assert ask(SLOW, changes, case="outside").verdict is verdict


def test_a_slow_walk_that_nobody_sees_is_told_as_it_is_walked() -> None:
    found = ask(SLOW, {"sheet.motion.least_speed": "0.16 m/s"}, case="inside")
    assert found.witness
    assert found.witness.kind == "walk"
    assert found.witness.printed["speed"] == pytest.approx(0.1524)
    (walk,) = [one for one in found.figures if isinstance(one, Stroke)]
    (x, y), end = walk.points
    assert end == (0.0, -0.02)
    assert (x, -y - 0.02) == pytest.approx(
        (found.witness.printed["start_along"], found.witness.printed["start_out"])
    )


def test_a_sheet_that_is_silent_on_the_least_speed_is_asked() -> None:
    found = ask(SLOW, {"sheet.motion.least_speed": None}, case="outside")
    assert found.verdict is Verdict.NOT_SHOWN
    assert keys(found) == {"sheet.motion.least_speed"}


def test_a_unit_mounted_higher_sees_less_of_a_slow_walk() -> None:
    margins = [
        ask(SLOW, {OUT + "lens.height": height}, case="outside").margin
        for height in ("2000 mm", "2200 mm", "2400 mm")
    ]
    least = [margin.least for margin in margins if margin]
    assert least == sorted(least, reverse=True)


# Towards the safer side -----------------------------------------------------------

SHARE = st.floats(0.3, 1.0)


@settings(max_examples=5)
@given(tilt=st.integers(10, 45), reach=SHARE, less=SHARE, spread=st.floats(0.0, 0.3))
def test_less_reach_and_more_spread_never_make_a_finding_better(
    tilt: int, reach: float, less: float, spread: float
) -> None:
    base: dict[str, object] = {
        OUT + "settings.radar_tilt": f"{tilt} deg",
        OUT + "settings.reach": f"{100 * reach:.2f} %",
    }
    worse = [
        {**base, OUT + "settings.reach": f"{100 * reach * less:.2f} %"},
        {**base, "sheet.motion.spread": f"{5 + 100 * spread:.2f} %"},
    ]
    for question in (ZONE, SLOW):
        now = asked(question, a_doorway(base), US)
        for changes in worse:
            then = asked(question, a_doorway(changes), US)
            for key, finding in then.items():
                assert RANK[finding.verdict] <= max(RANK[now[key].verdict], 1)


@settings(max_examples=6)
@given(near=st.integers(900, 1500), more=st.integers(0, 300))
def test_a_lamp_that_lights_further_out_shows_a_deeper_field(
    near: int, more: int
) -> None:
    depths = [
        zone({OUT + "read.lit_ahead": [f"{out} mm"] * 3}).because.values["depth"]
        for out in (near, near + more)
    ]
    assert all(isinstance(depth, Measure) for depth in depths)
    one, other = (depth.value for depth in depths if isinstance(depth, Measure))
    assert other >= one - 1e-9
