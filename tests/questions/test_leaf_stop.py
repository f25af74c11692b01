"""Somebody steps in right in front of a closing leaf."""

from math import radians, tan

import pytest

from limen.findings import Measure, Verdict
from questions.leaf import lacks, leaf

STOPS = "leaf.stops_in_time"
HOLDS, FAILS, DOUBT = Verdict.HOLDS, Verdict.FAILS, Verdict.NOT_SHOWN
EARLY: dict[str, object] = {
    "motion.closing_time": None,
    "sheet.presence.response": "0.01 s",
    "sheet.presence.lowest_height": "0 mm",
    "motion.reversal_delay": "0.01 s",
    "motion.closing_speed": "0.2 m/s",
    "motion.braking": "5 m/s²",
}


@pytest.mark.parametrize("side", ["outside", "inside"])
def test_a_leaf_that_stands_in_time_holds_whatever_may_be_allowed(side: str) -> None:
    """The second row looks about 0.2 m out: 0.12 s at 1.6 m/s; it takes 0.06 s."""
    found = leaf(STOPS, EARLY, rules="en", case=side)
    assert (found.verdict, found.because.key) == (HOLDS, "stops_in_time.stands")
    assert found.to_confirm


def test_how_far_it_runs_on_is_said() -> None:
    found = leaf(STOPS, case="outside")
    way = found.because.values["way"]
    assert isinstance(way, Measure)
    assert way.value == pytest.approx(0.25 * 0.2 + 0.25**2 / 3)


def test_what_is_left_of_the_speed_is_worked_out_from_the_outermost_row() -> None:
    """The lens hangs 140 mm out and 2.2 m up, the second row points out by 2.542°.

    It lands 238 mm out; less 23 mm of swayed leaf and 3 mm of aiming that is 212 mm,
    0.132 s at 1.6 m/s; after 0.02 s the leaf brakes at 5 m/s².
    """
    quick = {**EARLY, "motion.closing_speed": "0.9 m/s"}
    speed = leaf(STOPS, quick, case="outside").because.values["speed"]
    assert isinstance(speed, Measure)
    out = 0.140 + 2.2 * tan(radians(2.542)) - 0.023 - 0.003
    assert speed.value == pytest.approx(0.9 - 5 * (out / 1.6 - 0.02), abs=0.01)


@pytest.mark.parametrize(
    ("mass", "speed", "verdict"),
    [
        ("100 kg", "0.3 m/s", HOLDS),
        ("100 kg", "0.6 m/s", FAILS),
        ("80 kg ± 8 kg", "0.49 m/s", DOUBT),
        ("60 kg, estimate", "0.3 m/s", DOUBT),
    ],
)
def test_what_is_left_of_its_energy_is_held_against_the_figure(
    mass: str, speed: str, verdict: Verdict
) -> None:
    changes = {"leaves.mass": mass, "motion.closing_speed": speed}
    found = leaf(STOPS, changes, case="inside")
    assert found.verdict is verdict
    assert bool(found.lacking) is (verdict is DOUBT)
    assert (found.witness is not None) is (verdict is FAILS)


def test_rows_that_may_pause_notice_nobody_early() -> None:
    rows = [
        {"angle": f"{a} deg", "spots": 24, "pauses_while_moving": True} for a in (0, 4)
    ]
    found = leaf(STOPS, {**EARLY, "sheet.presence.rows": rows}, case="outside")
    assert found.because.key == "stops_in_time.holds"


def test_a_side_without_a_unit_is_noticed_in_the_path_only() -> None:
    found = leaf(STOPS, {**EARLY, "fitting[inside]": None}, case="inside")
    assert found.because.key == "stops_in_time.holds"
    outside = leaf(STOPS, {**EARLY, "fitting[inside]": None}, case="outside")
    assert outside.because.key == "stops_in_time.stands"


@pytest.mark.parametrize(
    ("key", "lacking"),
    [
        ("motion.braking", ["motion.braking"]),
        ("sheet.presence.response", ["sheet.presence.response"]),
        ("leaves.mass", ["leaves.mass"]),
    ],
)
def test_what_is_missing_is_named(key: str, lacking: list[str]) -> None:
    found = leaf(STOPS, {key: None}, case="outside")
    assert (found.verdict, lacks(found)) == (DOUBT, lacking)


def test_without_any_unit_nothing_is_shown() -> None:
    none = {"fitting[inside]": None, "fitting[outside]": None}
    found = leaf(STOPS, none, case="outside")
    assert (found.verdict, lacks(found)) == (DOUBT, ["fitting"])


def test_without_a_figure_what_strikes_is_not_shown() -> None:
    found = leaf(STOPS, rules="en", case="outside")
    assert lacks(found) == ["values: en.2012.leaf.stops_in_time contact_energy"]
    own = leaf(STOPS, rules="en", case="outside", own={"contact_energy": 2.0})
    assert own.verdict is HOLDS


@pytest.mark.parametrize("speed", ["0.6 m/s", "1.1 m/s ± 0.1 m/s"])
def test_the_remedy_made_as_printed_mends(speed: str) -> None:
    changes = {"leaves.mass": "100 kg ± 5 kg", "motion.closing_speed": speed}
    found = leaf(STOPS, changes, case="inside")
    assert found.verdict is FAILS
    assert found.remedy
    slow = found.remedy.message.values["speed"]
    assert isinstance(slow, Measure)
    mended = {**changes, "motion.closing_speed": f"{slow.value:.3f} m/s"}
    assert leaf(STOPS, mended, case="inside").verdict is HOLDS


@pytest.mark.parametrize(
    ("key", "worse"),
    [
        ("sheet.presence.response", "0.3 s"),
        ("motion.reversal_delay", "0.4 s"),
        ("motion.braking", "0.3 m/s²"),
        ("motion.closing_speed", "0.35 m/s"),
        ("sheet.presence.lowest_height", "600 mm"),
    ],
)
def test_slower_to_answer_or_quicker_to_close_never_strikes_less(
    key: str, worse: str
) -> None:
    said = leaf(STOPS, {**EARLY, key: worse}, case="outside").because.values
    before = leaf(STOPS, EARLY, case="outside").because.values
    for value in ("speed", "way"):
        now, then = said[value], before[value]
        assert isinstance(now, Measure)
        assert isinstance(then, Measure)
        assert now.value >= then.value
