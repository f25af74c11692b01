"""What agrees is let through, up to the very edge of it."""

import pytest

from builders.doorways import a_doorway, a_site
from limen.store.agreeing import Clash, clashes

OUTSIDE = "fitting[outside]"


def _clashes(changes: dict[str, object]) -> list[Clash]:
    return list(clashes(a_site(a_doorway(changes))))


def test_the_reference_doorway_agrees_with_itself() -> None:
    assert _clashes({}) == []


@pytest.mark.parametrize(
    ("key", "within", "beyond"),
    [
        (f"{OUTSIDE}.lens.from_leaf", "100 mm", "99.9 mm"),
        (f"{OUTSIDE}.lens.height", "2 m", "1999 mm"),
        (f"{OUTSIDE}.settings.tilt", "10 deg", "10.001 deg"),
        (f"{OUTSIDE}.settings.tilt", "-10 deg", "-10.001 deg"),
        (f"{OUTSIDE}.settings.channel", 4, 5),
        (f"{OUTSIDE}.settings.rows_on", [2, 1], [1, 2, 3]),
        (f"{OUTSIDE}.settings.steadiness", "high", "middle"),
        ("header.underside", "2100 mm", "2099 mm"),
        ("presence_ignored_below", "2 m", "2001 mm"),
    ],
)
def test_the_edge_is_let_through_and_what_lies_beyond_is_not(
    key: str, within: object, beyond: object
) -> None:
    assert _clashes({key: within}) == []
    (clash,) = _clashes({key: beyond})
    last = key.rpartition(".")[2]
    assert last in clash.path
    assert clash.accepted


@pytest.mark.parametrize(
    ("along", "from_leaf", "refused"),
    [
        ("0 mm", "3 mm", True),
        ("0 mm", "3.1 mm", False),
        ("999 mm", "0 mm", True),
        ("1000 mm", "0 mm", False),
    ],
)
def test_a_low_lens_clears_the_leaf_and_its_sway_within_the_opening(
    along: str, from_leaf: str, refused: bool
) -> None:
    found = _clashes(
        {
            f"{OUTSIDE}.place": "beside",
            f"{OUTSIDE}.lens": {
                "along": along,
                "from_leaf": from_leaf,
                "height": "2050 mm",
            },
        }
    )
    assert [clash.path[-1] for clash in found] == (["from_leaf"] if refused else [])


def test_what_goes_against_advice_only_is_for_a_question_to_find() -> None:
    assert _clashes({f"{OUTSIDE}.lens.height": "4 m"}) == []
    assert _clashes({"sheet.mounting.places": ["ceiling"]}) == []


def test_a_sheet_that_says_little_refuses_little() -> None:
    silent = {
        "sheet.presence.channels": None,
        "sheet.steadiness": None,
        "sheet.outputs": None,
    }
    settings: dict[str, object] = {
        f"{OUTSIDE}.settings.channel": 60,
        f"{OUTSIDE}.settings.steadiness": "anything",
    }
    assert _clashes({**silent, **settings}) == []


def test_a_fan_the_manual_does_not_tell_cannot_be_chosen() -> None:
    unknown: dict[str, object] = {"sheet.presence.fan": None}
    unknown |= {"sheet.presence": {"fan": {"form": "unknown"}}}
    found = _clashes(unknown)
    assert {clash.path[-1] for clash in found} == {"fan"}
    left_out: dict[str, object] = {
        f"fitting[{name}].settings.fan": None for name in ("outside", "inside")
    }
    assert _clashes({**unknown, **left_out}) == []


TURNS = {
    "sheet.motion.tilt": {"least": "15 deg", "most": "45 deg"},
    "sheet.motion.yaw": {"least": "-20 deg", "most": "20 deg"},
}


@pytest.mark.parametrize(
    ("setting", "within", "beyond"),
    [
        ("radar_tilt", "45 deg", "46 deg"),
        ("radar_tilt", "15 deg", "14 deg"),
        ("radar_yaw", "-20 deg", "-21 deg"),
    ],
)
def test_a_radar_is_turned_no_further_than_its_scale_goes(
    setting: str, within: str, beyond: str
) -> None:
    key = f"{OUTSIDE}.settings.{setting}"
    assert _clashes({**TURNS, key: within}) == []
    (clash,) = _clashes({**TURNS, key: beyond})
    assert clash.path[-1] == setting


def test_an_array_is_one_that_the_sheet_has() -> None:
    arrays: dict[str, object] = {
        "sheet.motion.arrays": {"wide": {"columns": 1, "rows": 2}}
    }
    key = f"{OUTSIDE}.settings.array"
    assert _clashes({**arrays, key: "wide"}) == []
    (clash,) = _clashes({**arrays, key: "narrow"})
    assert clash.path[-1] == "array"
    assert _clashes({key: "anything"}) == []
