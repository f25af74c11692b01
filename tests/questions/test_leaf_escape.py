"""Escape routes: open soon enough, open without power, never locked by anybody."""

from datetime import date

import pytest

from limen.findings import Measure, Verdict
from questions.leaf import lacks, leaf

OPENS, POWER, MODES = "leaf.escape_opening", "leaf.power_loss", "leaf.modes"
HOLDS, FAILS, DOUBT = Verdict.HOLDS, Verdict.FAILS, Verdict.NOT_SHOWN


def escape(**more: object) -> dict[str, object]:
    named = {"does": "power_loss.does", "tried": "power_loss.tried"}
    named |= {"breaks_out": "use.breaks_out", "hand_force": "power_loss.hand_force"}
    named |= {"escape_from": "use.escape_from"}
    given = {named.get(key, key): value for key, value in more.items()}
    return {"use.escape_route": True, **given}


@pytest.mark.parametrize(
    ("timed", "verdict"),
    [
        ("2.9 s", HOLDS),
        ("3 s", HOLDS),
        ("3.1 s", FAILS),
        ("3 s ± 0.2 s", DOUBT),
        ("2.5 s, estimate", DOUBT),
    ],
)
def test_a_timed_opening_is_held_against_3_s(timed: str, verdict: Verdict) -> None:
    found = leaf(OPENS, {**escape(), "motion.time_to_most": timed}, rules="en")
    assert found.verdict is verdict
    assert lacks(found) == (["motion.time_to_most"] if verdict is DOUBT else [])


@pytest.mark.parametrize(
    ("speed", "time", "verdict"),
    [
        ("0.5 m/s", "2.4 s", HOLDS),
        ("0.25 m/s", "4.2 s", FAILS),
        ("0.3 m/s ± 0.06 m/s", None, DOUBT),
        (None, "3.6 s", HOLDS),
        (None, "3.7 s", DOUBT),
        (None, "5.3 s", FAILS),
    ],
)
def test_untimed_it_is_computed_with_all_bounds(
    speed: str | None, time: str | None, verdict: Verdict
) -> None:
    changes = {
        "motion.time_to_most": None,
        "motion.opening_speed": speed,
        "motion.opening_time": time,
    }
    found = leaf(OPENS, {**escape(), **changes}, rules="en")
    assert found.verdict is verdict


def test_too_slow_a_door_names_the_speed_its_leaves_need() -> None:
    slow = {**escape(), "motion.time_to_most": "4 s"}
    found = leaf(OPENS, slow, rules="en")
    assert found.remedy
    speed = found.remedy.message.values["speed"]
    assert getattr(speed, "value", None) == pytest.approx(0.27)


def test_without_a_time_it_asks_for_the_stopwatch() -> None:
    keys = ("time_to_most", "opening_time", "opening_speed")
    unknown = {f"motion.{key}": None for key in keys}
    found = leaf(OPENS, {**escape(), **unknown}, rules="en")
    assert (found.verdict, lacks(found)) == (DOUBT, ["motion.time_to_most"])


# Without power ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "verdict", "lacking"),
    [
        (escape(), HOLDS, []),
        (escape(tried=None), DOUBT, ["power_loss.tried"]),
        (escape(does="stays", breaks_out=True), HOLDS, []),
        (escape(does="stays", breaks_out=False), FAILS, []),
        (escape(does="closes"), DOUBT, ["use.breaks_out"]),
        (escape(power_loss=None), DOUBT, ["power_loss.does"]),
    ],
)
def test_the_way_out_is_open_without_power(
    changes: dict[str, object], verdict: Verdict, lacking: list[str]
) -> None:
    found = leaf(POWER, changes, rules="en", case="by itself")
    assert (found.verdict, lacks(found)) == (verdict, lacking)
    assert (found.remedy is not None) is (verdict is FAILS)


def test_a_trial_counts_from_its_day_on() -> None:
    for day, verdict in ((11, DOUBT), (12, HOLDS)):
        on = date(2026, 1, day)
        found = leaf(POWER, escape(), rules="en", case="by itself", on=on)
        assert found.verdict is verdict


@pytest.mark.parametrize(
    ("force", "verdict"), [("222 N", HOLDS), ("223 N", FAILS), (None, DOUBT)]
)
def test_in_america_opening_by_hand_is_a_way_out(
    force: str | None, verdict: Verdict
) -> None:
    changes = escape(does="stays", breaks_out=False, hand_force=force)
    assert leaf(POWER, changes, case="by itself").verdict is verdict


@pytest.mark.parametrize(
    ("rules", "force", "verdict"),
    [
        ("en", "220 N", HOLDS),
        ("en", "221 N", FAILS),
        ("en", "218 N ± 5 N", DOUBT),
        ("us", "50 lbf", HOLDS),
        ("us", "51 lbf", FAILS),
        ("us", "60 N, estimate", DOUBT),
    ],
)
def test_everywhere_a_leaf_opens_by_hand(
    rules: str, force: str, verdict: Verdict
) -> None:
    changes = {"power_loss.hand_force": force}
    found = leaf(POWER, changes, rules=rules, case="by hand")
    assert found.verdict is verdict
    assert bool(found.lacking) is (verdict is DOUBT)


# Modes ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "case", "verdict"),
    [
        (escape(), None, HOLDS),
        (
            escape(modes=["automatic", "night"], mode_switch="key or code"),
            "night",
            HOLDS,
        ),
        (escape(modes=["automatic", "night"], mode_switch="free"), "night", FAILS),
        (escape(modes=["automatic", "night"]), "night", DOUBT),
        (escape(modes=["exit only"], escape_from=["inside"]), None, HOLDS),
        (escape(modes=["exit only"]), "exit only", DOUBT),
        (
            escape(modes=["exit only"], escape_from=["outside"], mode_switch="free"),
            "exit only",
            FAILS,
        ),
        (escape(modes=["reduced"], reduced_width="1600 mm"), "reduced", HOLDS),
        (escape(modes=["reduced"], reduced_width="1590 mm"), "reduced", FAILS),
        (escape(modes=["reduced"], reduced_width="1600 mm ± 5 mm"), "reduced", DOUBT),
    ],
)
def test_a_mode_neither_locks_nor_narrows_the_way_out(
    changes: dict[str, object], case: str | None, verdict: Verdict
) -> None:
    found = leaf(MODES, changes, rules="en", case=case)
    assert found.verdict is verdict
    assert bool(found.lacking) is (verdict is DOUBT)
    assert (found.remedy is not None) is (verdict is FAILS)


@pytest.mark.parametrize(
    ("question", "case", "changes", "gap", "key"),
    [
        (
            MODES,
            "reduced",
            escape(
                modes=["reduced"],
                reduced_width="1200 mm",
                clear_width="1905 mm ± 7 mm",
            ),
            "limit",
            "reduced_width",
        ),
        (
            POWER,
            "by hand",
            escape(hand_force="300 N"),
            "limit",
            "power_loss.hand_force",
        ),
        (
            OPENS,
            None,
            {**escape(), "motion.time_to_most": "4 s"},
            "time",
            "motion.time_to_most",
        ),
    ],
)
def test_a_remedy_made_as_printed_mends(
    question: str, case: str | None, changes: dict[str, object], gap: str, key: str
) -> None:
    found = leaf(question, changes, rules="en", case=case)
    assert found.verdict is FAILS
    assert found.remedy
    measure = found.remedy.message.values[gap]
    assert isinstance(measure, Measure)
    unit = {"length": "m", "force": "N", "time": "s"}[measure.dimension]
    mended = {**changes, key: f"{measure.value:.12g} {unit}"}
    assert leaf(question, mended, rules="en", case=case).verdict is HOLDS
