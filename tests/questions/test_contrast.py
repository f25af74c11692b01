"""Bodies as bright as the floor."""

import pytest

from limen.findings import Verdict
from limen.words import say
from questions.asking import ask

CONTRAST = "presence.contrast"


def test_a_unit_that_goes_by_distance_is_not_asked() -> None:
    found = ask(CONTRAST, {"sheet.presence.decides_by": "distance"}, fitting="inside")
    assert found.verdict is Verdict.NOT_ASKED


@pytest.mark.parametrize(
    ("missing", "key"),
    [
        ("sheet.presence.decides_by", "lack.decides_by"),
        ("floor.reflectance", "lack.floor_reflectance"),
        ("sheet.presence.contrast_least", "lack.contrast_least"),
        ("fitting[inside].lens", "lack.lens"),
    ],
)
def test_what_is_missing_is_named(missing: str, key: str) -> None:
    found = ask(CONTRAST, {missing: None}, fitting="inside")
    assert found.verdict is Verdict.NOT_SHOWN
    assert [lack.message.key for lack in found.lacking] == [key]


def test_estimated_faces_never_hold_and_ask_for_the_own_copy() -> None:
    found = ask(CONTRAST, fitting="inside")
    assert found.verdict is Verdict.NOT_SHOWN
    assert found.margin
    assert found.margin.value > 0
    assert [lack.key for lack in found.lacking] == [
        "values: en.2012.presence.contrast body_dark_reflectance",
        "values: en.2012.presence.contrast body_bright_reflectance",
    ]
    assert "dark face of the body" in say(found.lacking[0].message)


def test_a_floor_that_a_dark_body_can_match_fails() -> None:
    """7.5 % ± 2.5 % on a floor of 16 %: blind at 7.4 % (Lambert, inverse square)."""
    dark = {"floor.reflectance": "16 %", "contrast_least": "50 %"}
    found = ask(CONTRAST, dark, fitting="inside")
    assert found.verdict is Verdict.FAILS
    assert found.because.values["percent"] == "7 %"
    assert found.remedy


def test_a_face_that_only_may_match_the_floor_is_not_shown() -> None:
    """At 5 % or 10 % the same body differs from the floor by a third."""
    found = ask(CONTRAST, {"floor.reflectance": "16 %"}, fitting="inside")
    assert found.verdict is Verdict.NOT_SHOWN
    keys = [lack.key for lack in found.lacking]
    assert "values: en.2012.presence.contrast body_dark_reflectance" in keys
