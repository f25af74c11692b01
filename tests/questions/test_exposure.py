"""Weather at the units."""

import pytest

from builders.doorways import a_doorway
from limen.findings import Finding, Verdict
from limen.rules import Weight
from questions.asking import ask, asked

QUESTION = "mounting.exposure"
FAILS, HOLDS, NOT_SHOWN = Verdict.FAILS, Verdict.HOLDS, Verdict.NOT_SHOWN
NOT_ASKED = Verdict.NOT_ASKED
OUTSIDE = "fitting[outside]"
HIGH = "2810 mm"  # above 2.8 m more steadiness: common practice, no source


def weather(changes: dict[str, object]) -> Finding:
    return ask(QUESTION, changes, fitting="outside", case="weather")


@pytest.mark.parametrize(
    ("around", "outdoors", "verdict"),
    [
        ("open", True, HOLDS),
        ("open", False, FAILS),
        ("open", None, NOT_SHOWN),
        ("sheltered", False, HOLDS),
        ("sheltered", None, HOLDS),
        ("indoors", False, HOLDS),
        (None, True, NOT_SHOWN),
    ],
)
def test_in_the_open_a_unit_must_be_meant_for_it(
    around: str | None, outdoors: bool | None, verdict: Verdict
) -> None:
    changes = {"exposure.outside": around, "sheet.environment.outdoors": outdoors}
    found = weather(changes)
    assert found.verdict is verdict
    assert bool(found.lacking) is (verdict is NOT_SHOWN)
    assert bool(found.remedy) is (verdict is FAILS)


@pytest.mark.parametrize(
    ("sealing", "covered", "verdict"),
    [
        ("IP54", False, HOLDS),
        ("IPX4", False, HOLDS),
        ("IP53", False, FAILS),
        ("IP5X", False, NOT_SHOWN),
        ("IP20", True, HOLDS),
        ("IP20", None, NOT_SHOWN),
        (None, False, NOT_SHOWN),
        (None, True, HOLDS),
    ],
)
def test_in_the_open_housing_or_cover_keeps_splashed_water_out(
    sealing: str | None, covered: bool | None, verdict: Verdict
) -> None:
    """IEC 60529, from memory: second numeral 4, splashed from any side."""
    changes = {"sheet.environment.sealing": sealing, f"{OUTSIDE}.covered": covered}
    assert weather(changes).verdict is verdict


@pytest.mark.parametrize(
    ("loop", "verdict"), [(True, HOLDS), (False, FAILS), (None, NOT_SHOWN)]
)
def test_water_drips_off_the_cable_before_the_unit(
    loop: bool | None, verdict: Verdict
) -> None:
    """Common practice, no source."""
    found = weather({f"{OUTSIDE}.cable.drip_loop": loop})
    assert found.verdict is verdict
    if verdict is NOT_SHOWN:
        keys = [lack.key for lack in found.lacking]
        assert keys == [f"{OUTSIDE}.cable.drip_loop"]


@pytest.mark.parametrize("around", ["open", "sheltered"])
@pytest.mark.parametrize(
    ("end", "met", "verdict"),
    [
        ("coldest", "-25 °C", HOLDS),
        ("coldest", "-26 °C", FAILS),
        ("coldest", "-25 °C ± 2 °C", NOT_SHOWN),
        ("hottest", "55 °C", HOLDS),
        ("hottest", "56 °C", FAILS),
        ("hottest", "50 °C, estimate", NOT_SHOWN),
        ("hottest", None, NOT_SHOWN),
    ],
)
def test_cold_and_heat_lie_within_what_the_unit_bears(
    around: str, end: str, met: str | None, verdict: Verdict
) -> None:
    """The reference unit bears -25 to 55 °C."""
    found = weather({"exposure.outside": around, f"exposure.{end}": met})
    assert found.verdict is verdict
    if verdict is NOT_SHOWN:
        assert [lack.key for lack in found.lacking] == [f"exposure.{end}"]


@pytest.mark.parametrize("around", ["open", "sheltered", "indoors"])
def test_where_it_holds_it_is_said_where_the_unit_hangs(around: str) -> None:
    found = weather({"exposure.outside": around})
    assert found.because.key == f"exposure.{around}"


def test_indoors_the_weather_is_not_asked_for() -> None:
    changes: dict[str, object] = {
        "exposure.outside": "indoors",
        "exposure.coldest": None,
        "exposure.hottest": None,
        f"{OUTSIDE}.covered": None,
    }
    assert weather(changes).verdict is HOLDS


def test_everything_that_is_not_known_is_named_at_once() -> None:
    found = weather({"sheet.environment": None, f"{OUTSIDE}.covered": None})
    keys = {lack.key for lack in found.lacking}
    names = ("outdoors", "sealing", "coldest", "hottest")
    assert keys == {f"sheet.environment.{name}" for name in names}


@pytest.mark.parametrize(
    ("windy", "step", "verdict"),
    [
        (False, "low", NOT_ASKED),
        (True, "low", FAILS),
        (True, "high", HOLDS),
        (None, "high", NOT_SHOWN),
        (True, None, NOT_SHOWN),
    ],
)
@pytest.mark.parametrize("height", ["2200 mm", HIGH])
def test_wind_asks_for_more_than_the_lowest_steadiness_at_any_height(
    windy: bool | None, step: str | None, verdict: Verdict, height: str
) -> None:
    """Common practice, no source; so is 2.8 m, above which it is asked everywhere."""
    changes = {
        "exposure.windy": windy,
        f"{OUTSIDE}.settings.steadiness": step,
        f"{OUTSIDE}.lens.height": height,
    }
    found = ask(QUESTION, changes, fitting="outside", case="steadiness")
    assert found.verdict is verdict
    assert found.weight is Weight.ADVICE


def test_each_unit_has_its_own_findings() -> None:
    cases = {(f, c) for f in ("outside", "inside") for c in ("weather", "steadiness")}
    assert set(asked(QUESTION, a_doorway())) == cases
