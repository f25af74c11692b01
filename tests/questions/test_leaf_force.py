"""Measured forces of a closing leaf: by gap, by time, by a valid calibration."""

from datetime import date

import pytest

from limen.findings import Verdict
from limen.rules import Weight
from questions.leaf import lacks, leaf

FORCE = "leaf.closing_force"
HOLDS, FAILS, DOUBT = Verdict.HOLDS, Verdict.FAILS, Verdict.NOT_SHOWN
AFTER = "0.75 s after"


def impact(**more: str) -> dict[str, str]:
    return {
        "gap": "150 mm",
        "peak": "390 N",
        "after": "140 N",
        "instrument": "Force gauge 7",
        "calibrated": "2027-03-01",
        "measured": "2026-01-12",
        **more,
    }


def measured(*each: dict[str, str]) -> dict[str, object]:
    return {"impact": list(each)}


@pytest.mark.parametrize(
    ("gap", "peak", "verdict"),
    [
        ("200 mm", "400 N", HOLDS),
        ("200 mm", "401 N", FAILS),
        ("200.1 mm", "700 N", HOLDS),
        ("500 mm", "701 N", FAILS),
        ("500.1 mm", "1400 N", HOLDS),
        ("500.1 mm", "1401 N", FAILS),
        ("200 mm ± 5 mm", "390 N", HOLDS),
        ("200 mm ± 5 mm", "500 N", DOUBT),
        ("200 mm ± 5 mm", "701 N", FAILS),
        ("150 mm", "395 N ± 10 N", DOUBT),
        ("150 mm", "300 N, estimate", DOUBT),
    ],
)
def test_the_peak_is_held_against_the_figure_of_its_gap(
    gap: str, peak: str, verdict: Verdict
) -> None:
    one = measured(impact(gap=gap, peak=peak))
    found = leaf(FORCE, one, rules="en", case="peak")
    assert found.verdict is verdict
    assert bool(found.lacking) is (verdict is DOUBT)
    assert (found.remedy is not None) is (verdict is FAILS)


def test_the_gap_is_to_be_measured_again_where_it_decides() -> None:
    one = measured(impact(gap="200 mm ± 5 mm", peak="500 N"))
    assert lacks(leaf(FORCE, one, rules="en", case="peak")) == ["impact[1].gap"]


def test_the_worst_of_several_measurements_speaks() -> None:
    two = measured(impact(peak="100 N"), impact(gap="300 mm", peak="800 N"))
    found = leaf(FORCE, two, rules="en", case="peak")
    assert found.verdict is FAILS
    assert found.witness
    assert found.witness.gap == pytest.approx(0.3)


def test_a_force_that_holds_says_that_it_is_no_pass_for_closing() -> None:
    from limen.words import say

    found = leaf(FORCE, measured(impact()), rules="en", case="peak")
    assert found.to_confirm
    assert "neither presence protection" in say(found.because)
    assert found.weight is Weight.ADVICE


def test_an_instrument_out_of_calibration_counts_for_nothing() -> None:
    old = impact(calibrated="2026-01-11")
    found = leaf(FORCE, measured(old), rules="en", case="peak")
    assert (found.verdict, lacks(found)) == (DOUBT, ["impact[1].calibrated"])
    both = leaf(FORCE, measured(old, impact()), rules="en", case="peak")
    assert both.verdict is HOLDS


@pytest.mark.parametrize(
    ("on", "verdict"),
    [(date(2026, 1, 11), DOUBT), (date(2026, 1, 12), HOLDS), (None, HOLDS)],
)
def test_a_measurement_counts_from_its_day_on(
    on: date | None, verdict: Verdict
) -> None:
    found = leaf(FORCE, measured(impact()), rules="en", case="peak", on=on)
    assert found.verdict is verdict


def test_nothing_measured_is_not_shown() -> None:
    for case in ("peak", AFTER, "5 s after"):
        found = leaf(FORCE, measured(), rules="en", case=case)
        assert found.verdict is DOUBT
        assert lacks(found)[0] == "impact"


def test_a_part_that_was_not_measured_is_asked_for() -> None:
    one = impact()
    del one["after"]
    found = leaf(FORCE, measured(one), rules="en", case=AFTER)
    assert (found.verdict, lacks(found)) == (DOUBT, ["impact[1].after"])


def test_what_the_rulebook_has_no_figure_for_is_advice() -> None:
    for case in ("peak", "5 s after"):
        assert leaf(FORCE, case=case).weight is Weight.ADVICE
    assert leaf(FORCE, case=AFTER).weight is Weight.MUST
