"""How quickly presence answers, and for how long a still body stays found."""

import pytest

from builders.doorways import a_doorway
from limen.findings import Finding, Verdict
from limen.store.bookshelf import open_shelf
from limen.words import say
from questions.asking import ask, asked, book

RESPONSE, HOLD = "presence.response", "presence.hold_time"
FAILS, HOLDS, NOT_SHOWN = Verdict.FAILS, Verdict.HOLDS, Verdict.NOT_SHOWN
STILL_TEST = 5.0  # s, stand still at least so long: common practice, no source


@pytest.mark.parametrize(
    ("speed", "unit", "operator", "verdict"),
    [
        ("0.25 m/s", "0.1 s", "0.15 s", HOLDS),  # 62 mm
        ("0.4 m/s", "0.1 s", "0.15 s", HOLDS),  # 100 mm
        ("0.5 m/s", "0.1 s", "0.15 s", FAILS),  # 125 mm
        ("0.25 m/s", "0.1 s", "0.31 s", FAILS),  # 102 mm
        ("0.25 m/s", "0.26 s", "0.15 s", FAILS),  # 102 mm
        ("0.4 m/s ± 0.05 m/s", "0.1 s", "0.15 s", NOT_SHOWN),
        ("0.25 m/s, estimate", "0.1 s", "0.15 s", NOT_SHOWN),
    ],
)
def test_what_a_leaf_covers_until_the_operator_acts(
    speed: str, unit: str, operator: str, verdict: Verdict
) -> None:
    """Engineering check: at most half the thinnest side of the body, 100 mm."""
    changes = {
        "motion.closing_speed": speed,
        "sheet.presence.response": unit,
        "operator.reacts_in": operator,
    }
    found = ask(RESPONSE, changes, fitting="inside")
    assert found.verdict is verdict
    assert bool(found.lacking) is (verdict is NOT_SHOWN)


def test_the_printed_speed_makes_it_hold() -> None:
    changes: dict[str, object] = {"motion.closing_speed": "0.6 m/s"}
    found = ask(RESPONSE, changes, fitting="inside")
    assert found.remedy
    speed = found.remedy.message.values["speed"]
    changes["motion.closing_speed"] = f"{speed.value:.4f} m/s"  # pyright: ignore[reportAttributeAccessIssue, reportUnknownMemberType]
    assert ask(RESPONSE, changes, fitting="inside").verdict is HOLDS


@pytest.mark.parametrize("key", ["sheet.presence.response", "operator.reacts_in"])
def test_a_time_that_nobody_stated_is_named(key: str) -> None:
    door = a_doorway({key: None})
    motion = door.motion.model_copy(update={"reversal_delay": None})
    found = asked(RESPONSE, door.model_copy(update={"motion": motion}))["inside", None]
    assert found.verdict is NOT_SHOWN
    assert [lack.key for lack in found.lacking] == [key]


def test_a_timed_reversal_stands_in_for_the_operators_manual() -> None:
    changes = {"operator.reacts_in": None, "motion.reversal_delay": "0.15 s"}
    assert ask(RESPONSE, changes, fitting="inside").verdict is HOLDS


# A body that keeps still --------------------------------------------------------------


def held(
    learns: str | None, setting: str | None = None, book_name: str = "us"
) -> Finding:
    edition = "2005" if book_name == "us" else "2012"
    changes: dict[str, object] = {"sheet.presence.learns_after": learns}
    if setting is not None:
        changes["fitting[inside].settings.hold"] = setting
    rules = book(book_name, edition)
    return ask(HOLD, changes, fitting="inside", rules=rules)


@pytest.mark.parametrize(
    ("learns", "setting", "verdict"),
    [
        ("29.9 s", None, FAILS),
        ("30.0 s", None, HOLDS),
        (None, None, NOT_SHOWN),
        ("120 s", "29.9 s", FAILS),
        ("120 s", "30 s", HOLDS),
        (None, "30 s", HOLDS),
        ("20 s", "60 s", NOT_SHOWN),
        ("20 s", "25 s", FAILS),
        ("30 s ± 1 s", None, NOT_SHOWN),
        ("60 s, estimate", None, NOT_SHOWN),
    ],
)
def test_the_hold_time_against_the_american_figure(
    learns: str | None, setting: str | None, verdict: Verdict
) -> None:
    """ANSI/BHMA A156.10-2005, 8.1.3: 30 s, from memory."""
    found = held(learns, setting)
    assert found.verdict is verdict
    assert bool(found.lacking) is (verdict is NOT_SHOWN)
    assert bool(found.remedy) is (verdict is FAILS)


@pytest.mark.parametrize("rules", ["us", "en"])
@pytest.mark.parametrize("learns", ["20 s", "30 s", "120 s"])
def test_it_is_said_that_the_door_closes_on_a_body_when_the_time_is_over(
    learns: str, rules: str
) -> None:
    """Also where it holds: a time that is long enough is still only a time."""
    words = say(held(learns, book_name=rules).because)
    assert "lies still" in words
    assert f"for {learns}" in words.replace("only ", "")
    assert "after that the door closes on it" in words


def test_a_setting_is_named_as_one() -> None:
    words = say(held("120 s", "30 s").because)
    assert "held for 30 s, by its setting; after that the door closes on it" in words


def test_without_a_figure_the_own_copy_is_asked_for() -> None:
    found = held("120 s", book_name="en")
    assert found.verdict is NOT_SHOWN
    assert [lack.message.key for lack in found.lacking] == ["lack.hold_rule"]


def test_a_still_body_is_tried_for_longer_than_a_moment() -> None:
    """Common practice, no source: five seconds at least; no rulebook asks for less."""
    shelf = open_shelf()
    figures = [
        rule.limit("hold").value
        for each in shelf.books
        for rule in shelf.edition(*each.key).rules
        if rule.question == HOLD and rule.has("hold")
    ]
    assert figures
    assert all(figure >= STILL_TEST for figure in figures)


def test_a_service_pause_comes_to_an_end_by_itself() -> None:
    """Common practice, no source: up to 15 min, and presence comes back by itself.

    A pause is a time on the sheet; no setting of a fitting can leave presence off.
    """
    door = a_doorway()
    pauses = [fitting.unit.service_pause for fitting in door.fitting if fitting.unit]
    assert all(pause is not None and 0 < pause.value <= 15 * 60 for pause in pauses)
    switches = type(door.fitting[0].settings).model_fields
    assert not {name for name in switches if "off" in name or "pause" in name}
