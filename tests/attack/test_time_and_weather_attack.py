"""Answers, hold times, weather and marks that once looked better than they were."""

import pytest

from builders.doorways import a_doorway
from limen.findings import Finding, Verdict
from limen.model.doorway import Doorway
from questions.asking import ask, asked, book

FAILS, HOLDS, NOT_SHOWN = Verdict.FAILS, Verdict.HOLDS, Verdict.NOT_SHOWN
NOT_ASKED = Verdict.NOT_ASKED


def keys(finding: Finding) -> list[str]:
    return [one.key for one in finding.lacking]


def without_sheet(**changes: object) -> Doorway:
    """The reference doorway, of whose inside unit nobody knows which it is."""
    door = a_doorway({key.replace("__", "."): v for key, v in changes.items()})
    fittings = tuple(
        one.model_copy(update={"unit": None}) if one.id == "inside" else one
        for one in door.fitting
    )
    return door.model_copy(update={"fitting": fittings})


@pytest.mark.parametrize(
    ("question", "case"),
    [
        ("presence.response", None),
        ("presence.hold_time", None),
        ("mounting.exposure", "steadiness"),
        ("wiring.supply", "voltage"),
        ("wiring.voltage", None),
        ("wiring.fail_safe", "presence"),
        ("wiring.inputs", "presence"),
    ],
)
def test_a_unit_without_a_sheet_is_asked_about_all_the_same(
    question: str, case: str | None
) -> None:
    door = without_sheet(exposure__windy=True)
    found = asked(question, door, book("us", "2005"))["inside", case]
    assert found.verdict is NOT_SHOWN
    assert "fitting[inside].sheet" in keys(found)


# Answers --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("manual", "stopwatch"), [("0.05 s", "0.6 s"), ("0.6 s", "0.05 s")]
)
def test_of_manual_and_stopwatch_the_quicker_is_not_taken(
    manual: str, stopwatch: str
) -> None:
    """0.25 m/s for 0.7 s: 175 mm."""
    changes = {"operator.reacts_in": manual, "motion.reversal_delay": stopwatch}
    found = ask("presence.response", dict(changes), fitting="inside")
    assert found.verdict is FAILS


@pytest.mark.parametrize(
    ("barrier", "verdict"),
    [({"response": "0.05 s"}, HOLDS), ({"response": "2 s"}, FAILS), ({}, NOT_SHOWN)],
)
def test_of_two_senses_the_quicker_is_not_taken(
    barrier: dict[str, object], verdict: Verdict
) -> None:
    changes: dict[str, object] = {"sheet.barrier": barrier}
    assert ask("presence.response", changes, fitting="inside").verdict is verdict


@pytest.mark.parametrize("reacts", ["0.31 s", "0.47 s", "0.71 s", "2.9 s"])
def test_the_speed_that_is_printed_mends_it(reacts: str) -> None:
    changes: dict[str, object] = {"operator.reacts_in": reacts}
    found = ask("presence.response", changes, fitting="inside")
    assert found.verdict is FAILS
    assert found.remedy
    speed = getattr(found.remedy.message.values["speed"], "value", 0.0)
    slower = {"motion.closing_speed": f"{speed:.3f} m/s", "motion.closing_time": None}
    mended = changes | slower
    assert ask("presence.response", mended, fitting="inside").verdict is HOLDS


# Hold times -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("learns", "verdict"),
    [
        ("30 s", HOLDS),
        ("35 s ± 5 s", HOLDS),
        ("30 s ± 5 s", NOT_SHOWN),
        ("31 s ± 5 s", NOT_SHOWN),
        ("20 s", NOT_SHOWN),
    ],
)
def test_a_setting_does_not_outdo_a_manual_that_may_be_shorter(
    learns: str, verdict: Verdict
) -> None:
    changes: dict[str, object] = {
        "fitting[inside].settings.hold": "30 s",
        "sheet.presence.learns_after": learns,
    }
    us = book("us", "2005")
    found = ask("presence.hold_time", changes, fitting="inside", rules=us)
    assert found.verdict is verdict


# Weather --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("outside", "coldest", "verdict"),
    [
        ("indoors", "-30 °C", FAILS),
        ("indoors", "5 °C", HOLDS),
        ("indoors", None, HOLDS),
        ("open", "-30 °C", HOLDS),
    ],
)
def test_indoors_is_not_warm_where_somebody_measured_cold(
    outside: str, coldest: str | None, verdict: Verdict
) -> None:
    """A cold store is indoors."""
    changes: dict[str, object] = {
        "exposure.outside": outside,
        "exposure.coldest": coldest,
    }
    found = ask("mounting.exposure", changes, fitting="inside", case="weather")
    assert found.verdict is verdict


def test_what_is_common_practice_holds_to_be_confirmed() -> None:
    found = ask("mounting.exposure", fitting="outside", case="weather")
    assert found.verdict is HOLDS
    assert found.to_confirm


@pytest.mark.parametrize(
    ("steps", "set_to", "verdict"),
    [
        (["low", "high"], "low", FAILS),
        (["low", "high"], "high", HOLDS),
        (["low", "high"], "High", NOT_SHOWN),
        (["fixed"], "fixed", NOT_ASKED),
    ],
)
def test_a_step_that_the_sheet_does_not_know_is_not_taken_for_a_steady_one(
    steps: list[str], set_to: str, verdict: Verdict
) -> None:
    changes: dict[str, object] = {
        "exposure.windy": True,
        "sheet.steadiness": steps,
        "fitting[inside].settings.steadiness": set_to,
    }
    found = ask("mounting.exposure", changes, fitting="inside", case="steadiness")
    assert found.verdict is verdict


# Marks ----------------------------------------------------------------------------


def test_signs_that_are_read_from_both_sides_of_a_door_without_a_sign() -> None:
    us = book("us", "2005")
    found = ask("site.marking", {"marking.signs": []}, case="signs", rules=us)
    assert found.verdict is NOT_SHOWN
    assert keys(found) == ["marking.signs"]


@pytest.mark.parametrize(
    ("sealing", "verdict"),
    [("IP54", HOLDS), ("IP53", FAILS), ("IP5X", NOT_SHOWN), ("IPX4", HOLDS)],
)
def test_a_numeral_left_open_says_neither_tight_nor_leaky(
    sealing: str, verdict: Verdict
) -> None:
    changes: dict[str, object] = {
        "sheet.environment.sealing": sealing,
        "fitting[outside].covered": False,
    }
    found = ask("mounting.exposure", changes, fitting="outside", case="weather")
    assert found.verdict is verdict


def test_a_coldest_day_hotter_than_the_hottest_shows_nothing() -> None:
    changes: dict[str, object] = {
        "exposure.coldest": "50 °C",
        "exposure.hottest": "10 °C",
    }
    found = ask("mounting.exposure", changes, fitting="outside", case="weather")
    assert found.verdict is NOT_SHOWN
    assert keys(found) == ["exposure.coldest", "exposure.hottest"]
