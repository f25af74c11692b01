"""What the desk makes of a visit is what the card makes of it, from one shared file."""

import json

import pytest

from builders.visit_folds import COUNT, SHARED, folded, written

VISITS = json.loads(SHARED.read_text("utf-8"))


def test_the_shared_file_is_what_the_desk_makes_today() -> None:
    """`python -m builders.visit_folds` in tests/ writes it anew."""
    assert SHARED.read_text("utf-8") == written()


@pytest.mark.parametrize("one", VISITS, ids=lambda one: one["name"])
def test_every_event_stands_under_one_heading(one: dict) -> None:
    headings = {"people", "devices", "conflicts"}
    told = {k: v for k, v in folded(one["events"]).items() if k not in headings}
    entries = [
        each for said in told.values() if isinstance(said, list) for each in said
    ]
    assert sorted(each["id"] for each in entries) == sorted(
        each["id"] for each in one["events"]
    )


def test_the_shared_visits_have_something_of_everything() -> None:
    assert len(VISITS) == COUNT
    told = [one["folded"] for one in VISITS]
    assert any(one["conflicts"] for one in told)
    assert any(each["why"] == "set aside" for one in told for each in one["apart"])
    assert any(each["why"] == "taken back" for one in told for each in one["apart"])
    assert any(each["kind"] == "undone" for one in told for each in one["apart"])
    assert any(each["not_here"] for one in told for each in one["devices"])
    assert any(len(one["people"]) > 1 for one in told)
    answered = [each for one in told for each in one.get("traced", ())]
    assert {each["counts"] for each in answered} == {True, False}
