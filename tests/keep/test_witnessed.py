"""What a visit says: a full check only where nothing of it lacks."""

from typing import Any

import pytest

from builders.records import events
from limen.desk.visits_folded import folded_json
from limen.desk.visits_intake import read_event
from limen.findings import Message
from limen.keep.witnessed import Witness, turned_in_text, witnessed
from limen.model.visited import visited
from limen.record.canonical import canonical

SOURCE = Message("due.source.record", {"number": 4})
LEAST = ("box.middle", "box.left", "box.right", "plug.inside")
TESTS = [{"id": one, "title": one, "minimum": True} for one in LEAST]
Raw = dict[str, Any]


def whole(state: str = "in use", budget: str = "yearly") -> list[Raw]:
    """A visit as it is tapped, left in a state, without the tap that undoes a note."""
    made = [one for one in events(state=state) if one["kind"] != "undone"]
    made[0]["said"]["budget"] = budget
    return made


def told(raws: list[Raw], tests: list[Raw] = TESTS, **more: Any) -> Witness:
    found = visited(read_event(canonical(one).decode()) for one in raws)
    by_id = {one["id"]: one for one in raws}
    return witnessed(folded_json(found, by_id), tests, SOURCE, **more)


def without(raws: list[Raw], kind: str) -> list[Raw]:
    return [one for one in raws if one["kind"] != kind]


def said_of(one: Witness) -> list[str]:
    return [each.what for each in one.said]


def test_a_yearly_visit_with_all_answers_handed_over_is_a_full_check() -> None:
    found = told(whole())
    assert said_of(found) == ["checked", "changed"]
    assert found.said[0].day.isoformat() == "2026-11-26"
    assert found.said[0].at == max(one.at for one in found.said if one.at)
    assert found.doubts == ()


def test_after_a_repair_it_was_tested_and_not_checked_in_full() -> None:
    assert said_of(told(whole(budget="after repair"))) == ["tested", "changed"]


@pytest.mark.parametrize("state", ["in use with defects", "out of use"])
def test_a_defect_that_is_left_is_a_fault_in_its_own_words(state: str) -> None:
    fault = next(one for one in told(whole(state)).said if one.what == "fault")
    assert fault.text == "Header cover is loose."


def test_a_defect_that_was_called_off_is_none_unless_the_door_is_out_of_use() -> None:
    raws = whole("in use with defects")
    off = {one["id"] for one in raws if one["kind"] == "defect"}
    assert "fault" not in said_of(told(raws, off=off))
    assert "fault" in said_of(told(whole("out of use"), off=off))


@pytest.mark.parametrize(
    ("raws", "tests", "why"),
    [
        (without(whole(), "handed_over"), TESTS, "not_handed"),
        (whole(), [*TESTS, {"id": "power", "minimum": True}], "unanswered"),
        (whole(), [], "unanswered"),
    ],
)
def test_what_lacks_something_is_no_check_and_says_what(
    raws: list[Raw], tests: list[Raw], why: str
) -> None:
    found = told(raws, tests)
    assert "checked" not in said_of(found)
    assert [one.because.key for one in found.doubts] == [f"due.doubt.{why}"]


def test_two_devices_that_differ_in_the_hand_over_make_a_fault_and_no_check() -> None:
    raws = whole()
    other = {**raws[-1], "device": "phone-b", "id": raws[-1]["id"][:-1] + "f"}
    other["said"] = {**other["said"], "state": "out of use"}
    found = told([*raws, other])
    assert said_of(found) == ["changed", "fault"]
    assert [one.because.key for one in found.doubts] == ["due.doubt.conflict"]


def test_a_test_that_ended_badly_is_a_fault_even_where_the_door_is_left_in_use() -> (
    None
):
    raws = whole()
    last = next(one for one in raws if one["said"].get("answer") == "stayed open")
    last["said"]["answer"] = "touched"
    assert "fault" in said_of(told(raws))


def test_what_is_not_sealed_is_no_check_yet() -> None:
    found = told(whole("out of use"), sealed=False)
    assert said_of(found) == ["changed", "fault"]
    assert [one.because.key for one in found.doubts] == ["due.doubt.unsealed"]


def test_looking_at_the_mechanics_or_writing_the_log_changes_nothing() -> None:
    raws = whole()
    for one in raws:
        if one["kind"] == "work":
            one["said"]["step"] = "log"
    assert said_of(told(raws)) == ["checked"]


def test_where_nobody_was_there_nothing_is_said() -> None:
    assert witnessed(None, TESTS, SOURCE) == Witness()


def test_only_what_tells_of_the_door_itself_makes_a_check_due() -> None:
    tilt = ("fitting", "[inside]", "settings", "tilt")
    ways = [
        tilt,
        ("note",),
        ("power_loss", "tried"),
        ("motion", "opening_runs"),
        ("fitting", "[inside]", "read", "first_row"),
        ("motion", "hold_open"),
    ]
    assert turned_in_text(ways, None) == (tilt, ("motion", "hold_open"))
    said = {
        "as_found": [],
        "readings": [{"said": {"key": "fitting.inside.settings.tilt"}}],
    }
    assert turned_in_text([tilt], said) == ()
