"""How a unit is mounted."""

import pytest

from builders.doorways import a_doorway
from limen.findings import Verdict
from limen.study import apply
from questions.asking import ask, asked

HEIGHT, PLACE = "mounting.height", "mounting.position"


@pytest.mark.parametrize(
    ("height", "verdict"),
    [
        ("1800 mm", Verdict.HOLDS),
        ("1799 mm", Verdict.FAILS),
        ("3500 mm", Verdict.HOLDS),
        ("3501 mm", Verdict.FAILS),
        ("1805 mm ± 10 mm", Verdict.NOT_SHOWN),
        ("2200 mm, estimate", Verdict.NOT_SHOWN),
    ],
)
def test_a_height_against_the_range_of_the_sheet(height: str, verdict: Verdict) -> None:
    found = ask(HEIGHT, {"fitting[inside].lens.height": height}, fitting="inside")
    assert found.verdict is verdict


@pytest.mark.parametrize(
    ("missing", "key"),
    [
        ("fitting[inside].lens", "lack.lens"),
        ("sheet.mounting.most_height", "lack.height_range"),
    ],
)
def test_what_is_missing_is_named(missing: str, key: str) -> None:
    found = ask(HEIGHT, {missing: None}, fitting="inside")
    assert found.verdict is Verdict.NOT_SHOWN
    assert [lack.message.key for lack in found.lacking] == [key]


@pytest.mark.parametrize(
    ("most", "verdict"),
    [
        ("10 deg", Verdict.HOLDS),
        ("-1 deg", Verdict.NOT_SHOWN),
        ("-3 deg", Verdict.FAILS),
    ],
)
def test_the_scale_reaches_the_target_or_not(most: str, verdict: Verdict) -> None:
    """The rows ask for -1.46 degrees, and mounting leaves about 1 degree open."""
    found = ask(PLACE, {"sheet.presence.tilt.most": most}, fitting="outside")
    assert found.verdict is verdict
    assert found.margin
    assert (found.margin.value >= 0) is (verdict is Verdict.HOLDS)


@pytest.mark.parametrize("most", ["-1 deg", "-2 deg", "-3 deg", "-6 deg"])
@pytest.mark.parametrize("read", [None, "64 mm"])
def test_the_lens_mounted_as_told_reaches_the_target(
    most: str, read: str | None
) -> None:
    changes: dict[str, object] = {"sheet.presence.tilt.most": most}
    if read:
        changes["fitting[outside].read.first_row"] = read
    doorway = a_doorway(changes)
    remedy = asked(PLACE, doorway)["outside", None].remedy
    assert remedy
    assert remedy.message.key == "remedy.lens_place"
    after = asked(PLACE, apply(doorway, remedy.changes))["outside", None]
    assert after.verdict is Verdict.HOLDS


def test_a_scale_too_short_for_the_mounting_asks_for_another_one() -> None:
    short = {"least": "-1.5 deg", "most": "-1.4 deg"}
    found = ask(PLACE, {"sheet.presence.tilt": short}, fitting="outside")
    assert found.remedy
    assert found.remedy.message.key == "remedy.no_lens_place"


def test_a_height_out_of_range_says_between_which_it_belongs() -> None:
    found = ask(HEIGHT, {"fitting[inside].lens.height": "4 m"}, fitting="inside")
    assert found.remedy
    assert found.remedy.message.key == "remedy.height"


def test_a_unit_that_nobody_placed_is_not_shown() -> None:
    found = ask(PLACE, {"fitting[inside].lens": None}, fitting="inside")
    assert found.verdict is Verdict.NOT_SHOWN
    assert [lack.message.key for lack in found.lacking] == ["lack.lens"]


def test_an_estimated_mounting_never_holds() -> None:
    changes = {"fitting[inside].mount.plumb": "0.3 deg, estimate"}
    assert ask(PLACE, changes, fitting="inside").verdict is Verdict.NOT_SHOWN


def test_each_unit_has_its_own_finding() -> None:
    for question in (HEIGHT, PLACE):
        assert {name for name, _ in asked(question, a_doorway())} == {
            "outside",
            "inside",
        }
