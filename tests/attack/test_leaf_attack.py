"""Leaves that once seemed slower, lighter or wider open than they are."""

import pytest

from builders.doorways import Table, a_doorway, built, tables
from limen.findings import Finding, Verdict
from limen.model.doorway import Doorway
from limen.quantity import Grade
from limen.questions import QUESTIONS
from limen.questions.asking import Asked
from limen.questions.settled import settle
from limen.rules import Rule
from questions.asking import ask, book

FAILS, HOLDS, NOT_SHOWN = Verdict.FAILS, Verdict.HOLDS, Verdict.NOT_SHOWN
ESCAPE: dict[str, object] = {
    "use.escape_route": True,
    "use.breaks_out": False,
    "use.escape_from": ["inside"],
}
TIMED: dict[str, object] = {
    "motion.closing_speed": None,
    "motion.closing_acceleration": None,
    "motion.slow_zone": "0 mm",
}


def keys(finding: Finding) -> list[str]:
    return [one.key for one in finding.lacking]


def energy(changes: dict[str, object]) -> Finding:
    """The energy of a leaf of 60 kg on a way of 1 m, held against 9.49 J."""
    us = book("us", "2005")
    return ask("leaf.closing_energy", {"motion.closing_time": None} | changes, rules=us)


def escaping(question: str, changes: dict[str, object], case: str | None) -> Finding:
    return of_door(question, a_doorway(ESCAPE | changes), case)


def of_door(question: str, door: Doorway, case: str | None) -> Finding:
    rule = book().rule_for(question, {"escape_route": True, "public": True})
    assert isinstance(rule, Rule)
    found = QUESTIONS[question].ask(Asked(door, settle(door), rule))
    return next(one for one in found if one.case == case)


# How fast, how heavy ---------------------------------------------------------------


def test_a_speed_that_the_stopwatch_contradicts_is_not_believed() -> None:
    """1 m in 1.25 s is 0.8 m/s at the mean: 19 J at the least, not 1.2 J."""
    changes: dict[str, object] = {"motion.closing_speed": "0.2 m/s"}
    assert energy(changes).verdict is HOLDS
    for timed in (
        {"motion.closing_time": "1.25 s"},
        {"motion.closing_runs": ["1.25 s", "1.3 s"]},
    ):
        found = energy(changes | timed)
        assert found.verdict is NOT_SHOWN
        assert found.lacking


def test_a_speed_that_the_stopwatch_bears_out_is_believed() -> None:
    found = energy({"motion.closing_speed": "0.25 m/s", "motion.closing_time": "4.5 s"})
    assert found.verdict is HOLDS


@pytest.mark.parametrize(
    ("key", "nothing"),
    [
        ("motion.closing_speed", "0 m/s"),
        ("motion.closing_energy", "0 J"),
        ("leaves.mass", "0 kg"),
    ],
)
def test_a_leaf_without_speed_mass_or_energy_is_no_leaf(key: str, nothing: str) -> None:
    found = energy({key: nothing})
    assert found.verdict is NOT_SHOWN
    assert key in keys(found)


@pytest.mark.parametrize("side", ["outside", "inside"])
def test_a_leaf_without_speed_does_not_stand_in_time(side: str) -> None:
    changes: dict[str, object] = {
        "motion.closing_speed": "0 m/s",
        "motion.closing_time": None,
    }
    found = ask("leaf.stops_in_time", changes, case=side)
    assert found.verdict is NOT_SHOWN
    assert "motion.closing_speed" in keys(found)


@pytest.mark.parametrize("travel", ["0 mm", "100 mm"])
def test_a_way_too_short_for_the_opening_does_not_slow_the_leaf(travel: str) -> None:
    """Two leaves that free 2 m go 1 m each, whatever their travel is said to be."""
    timed = TIMED | {"motion.closing_time": "1.25 s"}
    honest = energy(timed)
    assert honest.verdict is FAILS
    found = energy(timed | {"leaves.travel": travel})
    assert found.verdict is not HOLDS


def test_a_mass_from_glass_alone_lets_nothing_hold() -> None:
    glass: dict[str, object] = {
        "leaves.mass": None,
        "leaves.glass": "8 mm",
        "leaves.width": "1000 mm",
        "leaves.height": "2100 mm",
    }
    found = energy(glass)
    assert found.verdict is NOT_SHOWN
    assert "leaves.mass" in keys(found)


# Escape ----------------------------------------------------------------------------

MOST = "leaf.escape_opening"


def test_a_time_to_most_that_no_leaf_could_keep_is_not_believed() -> None:
    """1.6 m in 0.3 s, by leaves that are said to need 6 s for 2 m."""
    changes: dict[str, object] = {
        "motion.time_to_most": "0.3 s",
        "motion.opening_time": "6 s",
        "motion.opening_speed": "0.2 m/s",
        "motion.opening_acceleration": "1 m/s²",
    }
    found = escaping(MOST, changes, None)
    assert found.verdict is NOT_SHOWN
    assert found.lacking


@pytest.mark.parametrize(
    ("width", "verdict"), [("2000 mm", HOLDS), ("2000 mm ± 700 mm", NOT_SHOWN)]
)
def test_a_width_that_is_hardly_known_is_not_free_in_time(
    width: str, verdict: Verdict
) -> None:
    changes: dict[str, object] = {
        "motion.time_to_most": None,
        "motion.opening_time": None,
        "motion.opening_speed": "0.33 m/s",
        "motion.opening_acceleration": "5 m/s²",
        "clear_width": width,
    }
    assert escaping(MOST, changes, None).verdict is verdict


def test_leaves_that_open_by_nothing_do_not_open() -> None:
    loss = {"does": "opens", "by": "nothing", "tried": "2026-01-12"}
    found = escaping("leaf.power_loss", {"power_loss": loss}, "by itself")
    assert found.verdict is NOT_SHOWN
    assert keys(found) == ["power_loss.by"]


def test_modes_of_which_nobody_spoke_are_not_known_to_lock_nothing() -> None:
    door, sheets = tables("reference-two-row")
    told: Table = {"escape_route": True, "breaks_out": False, "escape_from": ["inside"]}
    silent = {key: value for key, value in door.items() if key != "modes"}
    found = of_door("leaf.modes", built({**silent, "use": told}, sheets), None)
    assert found.verdict is NOT_SHOWN
    assert keys(found) == ["modes"]
    found = of_door("leaf.modes", built({**door, "use": told}, sheets), None)
    assert found.verdict is HOLDS


# Force -----------------------------------------------------------------------------

FORCE: dict[str, object] = {
    "gap": "150 mm",
    "peak": "120 N",
    "after": "80 N",
    "instrument": "Gauge 7",
    "calibrated": "2026-06-01",
    "measured": "2026-01-12",
}


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [
        ({}, HOLDS),
        ({"calibrated": "2026-01-12"}, HOLDS),
        ({"calibrated": "2026-01-11"}, NOT_SHOWN),
        ({"peak": "120 N, estimate"}, NOT_SHOWN),
        ({"peak": "390 N ± 20 N"}, NOT_SHOWN),
        ({"gap": "200 mm ± 10 mm", "peak": "500 N"}, NOT_SHOWN),
        ({"gap": "200 mm ± 10 mm", "peak": "390 N"}, HOLDS),
    ],
)
def test_a_force_counts_as_it_was_measured(
    changes: dict[str, object], verdict: Verdict
) -> None:
    found = ask("leaf.closing_force", {"impact": [FORCE | changes]}, case="peak")
    assert found.verdict is verdict


def test_a_force_that_fails_is_not_hidden_by_a_measurement_that_is_incomplete() -> None:
    part = {key: value for key, value in FORCE.items() if key != "after"}
    every = [FORCE | {"after": "300 N"}, part]
    found = ask("leaf.closing_force", {"impact": every}, case="0.75 s after")
    assert found.verdict is FAILS


def test_an_estimated_speed_gives_no_holds() -> None:
    found = energy({"motion.closing_speed": "0.1 m/s, estimate"})
    assert found.verdict is NOT_SHOWN
    assert Grade.ESTIMATE.value in str(found.lacking)


def test_a_unit_whose_presence_output_goes_nowhere_stops_no_leaf() -> None:
    wired: dict[str, object] = {
        "sheet.presence.response": "0.01 s",
        "motion.reversal_delay": "0.01 s",
        "motion.braking": "5 m/s²",
    }
    apart = {f"fitting[{one}].wires[2].to": "not used" for one in ("inside", "outside")}
    us = book("us", "2005")
    held = ask("leaf.stops_in_time", wired, case="outside", rules=us)
    assert held.verdict is HOLDS
    found = ask("leaf.stops_in_time", wired | apart, case="outside", rules=us)
    assert found.verdict is NOT_SHOWN
    assert found.lacking
