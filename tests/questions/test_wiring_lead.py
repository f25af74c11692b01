"""Voltage at the unit, and what the operator's supply gives."""

import pytest

from builders.doorways import a_doorway
from limen.findings import Finding, Verdict
from limen.quantity import Grade, Quantity
from limen.questions.wiring_supply import draws_at_most
from questions.asking import ask, asked

VOLTAGE, SUPPLY = "wiring.voltage", "wiring.supply"
FAILS, HOLDS, NOT_SHOWN = Verdict.FAILS, Verdict.HOLDS, Verdict.NOT_SHOWN
CABLE = "fitting[inside].cable"
SHORT_LEAD = "10 m"  # common practice, no source
# A 12 V supply and a unit of 10.8 V at the end of 50 m of 0.22 mm².
LONG: dict[str, object] = {
    "operator.supply": "12 V",
    "sheet.supply.least": "10.8 V",
    f"{CABLE}.length": "50 m",
    f"{CABLE}.area": "0.22 mm²",
    f"{CABLE}.hottest": "20 °C",
}


def lead(changes: dict[str, object] | None = None) -> Finding:
    return ask(VOLTAGE, changes, fitting="inside")


@pytest.mark.parametrize(
    ("length", "asked_of"),
    [(SHORT_LEAD, False), ("3 m", False), ("10.1 m", True), ("9.9 m ± 0.2 m", True)],
)
def test_only_of_long_leads_is_it_asked(length: str, *, asked_of: bool) -> None:
    found = lead({f"{CABLE}.length": length})
    assert (found.verdict is not Verdict.NOT_ASKED) is asked_of
    if not asked_of:
        assert found.because.key == "voltage.short"


def test_a_12_v_supply_fails_a_10_8_v_unit_at_the_end_of_50_m() -> None:
    """From 78 ohm/km, pure copper, to 99, the worst that is listed: 9.5 to 10.1 V."""
    found = lead(LONG)
    assert found.verdict is FAILS
    assert found.margin
    assert -1.3 < found.margin.value < -0.7
    assert found.remedy


def test_the_margin_is_an_interval_from_pure_copper_to_the_worst_core() -> None:
    """24 V less 2 × 12 m × 0.25 A × ohm/m, at 20 °C."""
    found = lead({f"{CABLE}.hottest": "20 °C"})
    assert found.margin
    best = 12.0 - 2 * 12 * 0.25 * 17.241e-3 / 0.5
    worst = 12.0 - 2 * 12 * 0.25 * 40.1e-3
    assert found.margin.value + found.margin.u == pytest.approx(best)
    assert found.margin.least == pytest.approx(worst)


def test_between_the_bounds_the_loop_is_to_be_measured() -> None:
    changes = LONG | {"sheet.supply.least": "9.8 V"}
    found = lead(changes)
    assert found.verdict is NOT_SHOWN
    assert [lack.key for lack in found.lacking] == [f"{CABLE}.loop"]
    assert lead(changes | {f"{CABLE}.loop": "7.9 ohm"}).verdict is HOLDS
    assert lead(changes | {f"{CABLE}.loop": "9.8 ohm"}).verdict is FAILS


def test_a_measured_loop_is_taken_as_at_20_degrees_and_says_so() -> None:
    found = lead({f"{CABLE}.loop": "1 ohm"})
    assert [one.key for one in found.assumed] == [f"{CABLE}.loop"]
    assert found.assumed[0].grade is Grade.PRACTICE


def test_an_unstated_heat_is_assumed_listed_and_never_better_than_a_stated_one() -> (
    None
):
    changes: dict[str, object] = {f"{CABLE}.hottest": None, "exposure.hottest": None}
    found = lead(changes)
    assert [one.key for one in found.assumed] == [f"{CABLE}.hottest"]
    stated = lead({f"{CABLE}.hottest": "60 °C"})
    assert found.margin
    assert stated.margin
    assert found.margin.least == pytest.approx(stated.margin.least)


def test_a_lead_that_cannot_carry_the_power_starves_the_unit() -> None:
    """12 V carry 3 W over 12 ohm at most: Vs²/4P."""
    power: dict[str, object] = {
        "sheet.supply.current": None,
        "sheet.supply.power": "3 W",
        f"{CABLE}.loop": "12.5 ohm",
    }
    found = lead(LONG | power)
    assert found.verdict is FAILS
    assert found.because.key == "voltage.starved"


def test_a_power_leaves_less_than_its_nominal_current() -> None:
    """12 V, 3 W, 3.84 ohm: 10.948 V, and not 11.04 V."""
    power: dict[str, object] = {
        "sheet.supply.current": None,
        "sheet.supply.power": "3 W",
        f"{CABLE}.area": None,
        f"{CABLE}.loop": "3.84 ohm",
    }
    for least, verdict in (("10.9 V", HOLDS), ("11.0 V", FAILS)):
        changes = LONG | power | {"sheet.supply.least": least}
        assert lead(changes).verdict is verdict


@pytest.mark.parametrize(("awg", "verdict"), [(24, FAILS), (14, HOLDS)])
def test_a_core_may_be_marked_by_its_gauge(awg: int, verdict: Verdict) -> None:
    found = lead(LONG | {f"{CABLE}.area": None, f"{CABLE}.awg": awg})
    assert found.verdict is verdict


@pytest.mark.parametrize(
    ("missing", "key"),
    [
        ("operator.supply", "operator.supply"),
        ("sheet.supply.least", "sheet.supply.least"),
        ("sheet.supply.current", "sheet.supply.current"),
        (CABLE, f"{CABLE}.length"),
        (f"{CABLE}.area", f"{CABLE}.loop"),
    ],
)
def test_what_is_not_known_names_what_settles_it(missing: str, key: str) -> None:
    found = lead({missing: None})
    assert found.verdict is NOT_SHOWN
    assert [lack.key for lack in found.lacking] == [key]


def test_an_unlisted_size_asks_for_the_loop() -> None:
    found = lead({f"{CABLE}.area": "0.6 mm²"})
    assert [lack.key for lack in found.lacking] == [f"{CABLE}.loop"]


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("operator.supply", "24 V, estimate"),
        ("sheet.supply.current", "0.25 A, estimate"),
        (f"{CABLE}.length", "12 m, estimate"),
        (f"{CABLE}.area", "0.5 mm², estimate"),
        (f"{CABLE}.hottest", "40 °C, estimate"),
    ],
)
def test_an_estimate_never_holds_and_is_named(key: str, value: str) -> None:
    found = lead({key: value})
    assert found.verdict is NOT_SHOWN
    assert [lack.key for lack in found.lacking] == [key]


# Supply ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("given", "verdict"),
    [
        ("12 V", HOLDS),
        ("30 V", HOLDS),
        ("11.9 V", FAILS),
        ("30.1 V", FAILS),
        ("12 V ± 0.5 V", NOT_SHOWN),
        ("24 V, estimate", NOT_SHOWN),
    ],
)
def test_the_supply_lies_in_the_range_of_the_unit(given: str, verdict: Verdict) -> None:
    """The reference unit takes 12 to 30 V."""
    found = ask(SUPPLY, {"operator.supply": given}, fitting="inside", case="voltage")
    assert found.verdict is verdict
    assert bool(found.lacking) is (verdict is NOT_SHOWN)


@pytest.mark.parametrize(
    ("given", "verdict"), [("0.5 A", HOLDS), ("0.49 A", FAILS), (None, NOT_SHOWN)]
)
def test_all_units_together_draw_no_more_than_is_given(
    given: str | None, verdict: Verdict
) -> None:
    """Two units of 0.25 A each."""
    found = ask(SUPPLY, {"operator.current": given}, case="current")
    assert found.verdict is verdict


def test_a_unit_that_states_its_power_draws_most_at_its_least_voltage() -> None:
    power = {"sheet.supply.current": None, "sheet.supply.power": "3 W"}
    fitting = a_doorway(power).fitting[0]
    drawn = draws_at_most(fitting)
    assert drawn
    assert drawn.high == pytest.approx(3 / 12)


def test_what_is_known_alone_may_be_too_much_already() -> None:
    door = a_doorway({"operator.current": "0.2 A"})
    assert door.fitting[1].unit
    silent = door.fitting[1].unit.model_copy(
        update={
            "supply": door.fitting[1].unit.supply.model_copy(
                update={"current": None, "power": None}
            )
        }
    )
    second = door.fitting[1].model_copy(update={"unit": silent})
    door = door.model_copy(update={"fitting": (door.fitting[0], second)})
    assert asked(SUPPLY, door)[None, "current"].verdict is FAILS
    roomy = door.operator.model_copy(update={"current": Quantity(1.0)})
    door = door.model_copy(update={"operator": roomy})
    found = asked(SUPPLY, door)[None, "current"]
    assert found.verdict is NOT_SHOWN
    assert [lack.key for lack in found.lacking] == ["sheet.supply.current"]
