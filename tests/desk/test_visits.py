"""The next visit starts from the last record, and sees what is not as it was."""

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from builders.visit_events import STARTED, name, raw, step
from limen.desk.library import Desk, open_desk, open_site, study_of
from limen.desk.library_sites import add_demo
from limen.desk.refusal import Refusal
from limen.desk.visits import (
    Folded,
    NoSuchVisitError,
    folded,
    last,
    last_record,
    visits,
)
from limen.desk.visits_changes import record_before, since, turned
from limen.desk.visits_intake import take_in
from limen.desk.visits_settling import Choice, reopen, settle
from limen.desk.visits_titles import titles_of
from limen.exchange.recorded import recorded
from limen.quantity import Show
from limen.store.database import Stored
from limen.store.database.records import KeptRecord, keep_record

DAY = date(2026, 11, 26)
DOOR = "main"


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """One desk for all: a study is made once."""
    path = tmp_path_factory.mktemp("desk") / "library.db"
    opened = open_desk(path, today=lambda: DAY)
    yield opened
    opened.library.close()


@pytest.fixture
def site(desk: Desk) -> Stored:
    return add_demo(desk, "corrected")


def _visit(site: Stored, number: int = 1) -> str:
    """Id of a visit that no other site has."""
    return name(site.id, number)


def _id(site: Stored, phone: str, seq: int) -> str:
    return name(f"{phone}-{site.id}", seq)


def _tap(
    desk: Desk, site: Stored, *said: tuple[str, dict[str, Any]], **at: Any
) -> None:
    phone, visit = f"{at.get('phone', 'a')}-{site.id}", at.get("visit", _visit(site))
    known = {"site": site.id, "doorway": DOOR, "visit": visit}
    events = [
        raw(phone, at.get("first", 1) + place, kind, told, **known)
        for place, (kind, told) in enumerate(said)
    ]
    done = take_in(desk, json.dumps({"events": events}).encode())
    assert done.bad is None
    assert not done.clashes


def _seal(desk: Desk, site: Stored, one: Folded, *parents: str) -> KeptRecord:
    """A record as it is kept; nobody looks at its seal here."""
    opened = open_site(desk, site.id)
    said, _ = recorded(study_of(desk, opened, DOOR), site=opened.site.name)
    table = {
        "files": {"site.toml": opened.stored.digest},
        "study": said,
        "tests": [{"id": "box.left", "title": "As the card said", "minimum": True}],
        "visit": one.json,
        "parents": list(parents),
    }
    digest = name(one.visit, len(parents)).replace("-", "") * 2
    return keep_record(
        desk.library,
        site.id,
        DOOR,
        digest=digest,
        sealed=json.dumps({"record": table}).encode(),
        visit=one.visit,
        upto=one.upto,
    )


def _row(out: str) -> dict[str, Any]:
    return {
        "fitting": "inside",
        "reading": {"kind": "row line", "out": out, "along": "0 mm", "row": 1},
    }


def test_where_nobody_was_there_is_nothing_to_start_from(
    desk: Desk, site: Stored
) -> None:
    found = last(desk, site.id, DOOR)
    assert (found.visit, found.parents) == (None, ())
    assert last_record(desk, site.id, DOOR) is None


def test_the_next_visit_starts_from_the_one_that_was_sealed_last(
    desk: Desk, site: Stored
) -> None:
    _tap(desk, site, ("started", STARTED))
    record = _seal(desk, site, folded(desk, site.id, _visit(site)))
    _tap(desk, site, ("started", STARTED), phone="b", visit=_visit(site, 2))
    found = last(desk, site.id, DOOR)
    assert found.visit is not None
    assert found.visit["visit"] == _visit(site)
    assert found.parents == (record.digest,)


def test_the_parents_are_the_records_that_no_other_names(
    desk: Desk, site: Stored
) -> None:
    _tap(desk, site, ("started", STARTED))
    first = _seal(desk, site, folded(desk, site.id, _visit(site)))
    _tap(desk, site, ("started", STARTED), phone="b", visit=_visit(site, 2))
    second = _seal(desk, site, folded(desk, site.id, _visit(site, 2)), first.digest)
    assert last(desk, site.id, DOOR).parents == (second.digest,)


def test_two_records_side_by_side_are_both_parents(desk: Desk, site: Stored) -> None:
    kept: list[str] = []
    for phone, visit in (("a", _visit(site)), ("b", _visit(site, 2))):
        _tap(desk, site, ("started", STARTED), phone=phone, visit=visit)
        kept.append(_seal(desk, site, folded(desk, site.id, visit)).digest)
    assert last(desk, site.id, DOOR).parents == tuple(sorted(kept))


def test_what_comes_in_after_the_seal_is_late_and_shown(
    desk: Desk, site: Stored
) -> None:
    _tap(desk, site, ("started", STARTED))
    record = _seal(desk, site, folded(desk, site.id, _visit(site)))
    sealed = {"digest": record.digest, "key": "0" * 64, "by": "device"}
    _tap(desk, site, ("sealed", sealed), ("note", {"text": "x"}), first=2)
    assert folded(desk, site.id, _visit(site)).late == {_id(site, "a", 3)}


def test_nothing_is_settled_once_it_is_sealed(desk: Desk, site: Stored) -> None:
    _tap(desk, site, ("step", step("touched")))
    _tap(desk, site, ("step", step("stayed open")), phone="b")
    choice = Choice(_id(site, "a", 1), "R. Okafor")
    settled = settle(desk, site.id, _visit(site), choice)
    (act,) = settled.json["acts"]
    assert act["device"] == f"desk-{_visit(site)}"
    _seal(desk, site, settled)
    for ask in (
        lambda: settle(desk, site.id, _visit(site), choice),
        lambda: reopen(desk, site.id, _visit(site), act["id"]),
    ):
        with pytest.raises(Refusal, match="sealed"):
            ask()


def test_a_visit_that_is_not_there_is_missed(desk: Desk, site: Stored) -> None:
    with pytest.raises(NoSuchVisitError):
        folded(desk, site.id, _visit(site))
    assert visits(desk, site.id) == ()


def test_every_event_stands_once_in_what_is_sealed(desk: Desk, site: Stored) -> None:
    _tap(
        desk,
        site,
        ("started", STARTED),
        ("precaution", {"step": "barrier"}),
        ("as_found", _row("1 ft 9 in")),
        ("step", step("touched")),
        ("step", step("stayed open")),
        ("work", {"step": "aim", "done": True}),
        ("undone", {"event": _id(site, "a", 6)}),
        ("defect", {"text": "loose"}),
        ("handed_over", {"state": "out of use"}),
    )
    told = folded(desk, site.id, _visit(site)).json
    entries = [
        entry
        for section, entries in told.items()
        if section not in {"people", "devices", "conflicts"}
        and isinstance(entries, list)
        for entry in entries
    ]
    assert sorted(one["seq"] for one in entries) == list(range(1, 10))
    assert [one["counts"] for one in told["tests"]] == [False, True]
    assert [one["why"] for one in told["apart"]] == ["taken back"]
    # What was typed stays as it was typed.
    assert told["as_found"][0]["said"]["reading"]["out"] == "1 ft 9 in"


# Since the last record -----------------------------------------------------------


def _changed(desk: Desk, site: Stored, old: str, new: str) -> None:
    stored = desk.library.read(site.id)
    assert old in stored.text
    text = stored.text.replace(old, new, 1)
    desk.library.save(site.id, text, stored.version)


def test_where_nothing_changed_nothing_is_said(desk: Desk, site: Stored) -> None:
    _tap(desk, site, ("started", STARTED))
    record = _seal(desk, site, folded(desk, site.id, _visit(site)))
    found = since(desk, open_site(desk, site.id), DOOR, record, None)
    assert (found.settings, found.findings, found.readings) == ((), (), ())


def test_a_setting_that_was_turned_is_named_with_what_it_reopens(
    desk: Desk, site: Stored
) -> None:
    _tap(desk, site, ("started", STARTED))
    record = _seal(desk, site, folded(desk, site.id, _visit(site)))
    opened = open_site(desk, site.id)
    door = opened.doorway(DOOR)
    width = f"{round(door.clear_width.value * 1000)} mm"
    _changed(desk, site, f'clear_width = "{width}', 'clear_width = "3400 mm')
    found = since(desk, open_site(desk, site.id), DOOR, record, None)
    assert found.settings is not None
    assert [one.key[-1] for one in found.settings] == ["clear_width"]
    assert any(one.reopened for one in found.findings)
    reopened = [one.reopened for one in found.findings]
    assert reopened == sorted(reopened, reverse=True)


def test_a_text_that_is_not_kept_here_is_not_compared(desk: Desk, site: Stored) -> None:
    _tap(desk, site, ("started", STARTED))
    kept = _seal(desk, site, folded(desk, site.id, _visit(site)))
    elsewhere = kept.sealed.replace(site.digest.encode(), b"0" * 64)
    record = replace(kept, sealed=elsewhere)
    found = since(desk, open_site(desk, site.id), DOOR, record, None)
    assert found.settings is None


def test_what_is_found_further_off_than_both_readings_are_known_is_named(
    desk: Desk, site: Stored
) -> None:
    hold = {"key": "motion.hold_open", "value": "1.5 s"}
    _tap(
        desk,
        site,
        ("as_found", _row("118 mm")),
        ("reading", _row("64 mm")),
        ("reading", hold),
    )
    record = _seal(desk, site, folded(desk, site.id, _visit(site)))
    _tap(
        desk,
        site,
        ("as_found", _row("3 1/2 in")),
        ("as_found", hold | {"value": "1.50 s"}),
        ("as_found", _row("64 mm") | {"fitting": "outside"}),
        phone="b",
        visit=_visit(site, 2),
    )
    now = folded(desk, site.id, _visit(site, 2))
    assert record_before(desk, now) == record
    found = since(desk, open_site(desk, site.id), DOOR, record, now)
    (one,) = found.readings
    assert (one.fitting, one.kind, one.moved) == ("inside", "row line", True)
    assert (one.by, one.within) == pytest.approx((0.0249, 0.010))


def test_what_is_found_within_both_readings_is_as_it_was(
    desk: Desk, site: Stored
) -> None:
    _tap(desk, site, ("reading", _row("64 mm")))
    record = _seal(desk, site, folded(desk, site.id, _visit(site)))
    visit = _visit(site, 2)
    _tap(desk, site, ("as_found", _row("71 mm")), phone="b", visit=visit)
    now = folded(desk, site.id, visit)
    found = since(desk, open_site(desk, site.id), DOOR, record, now)
    assert found.readings == ()


def test_the_record_of_a_visit_is_not_what_it_is_compared_with(
    desk: Desk, site: Stored
) -> None:
    _tap(desk, site, ("started", STARTED))
    _seal(desk, site, folded(desk, site.id, _visit(site)))
    assert record_before(desk, folded(desk, site.id, _visit(site))) is None


def _finding(question: str, verdict: str, weight: str = "must") -> dict[str, Any]:
    cases = [{"fitting": "inside"}]
    return {"question": question, "verdict": verdict, "weight": weight, "cases": cases}


def test_what_was_reopened_comes_first_then_musts_then_the_worst() -> None:
    was = [
        _finding("a", "holds", "should"),
        _finding("b", "holds"),
        _finding("c", "fails"),
        _finding("d", "holds"),
        _finding("gone", "holds"),
        _finding("same", "fails"),
    ]
    now = [
        _finding("a", "fails", "should"),
        _finding("b", "not shown"),
        _finding("c", "holds"),
        _finding("d", "fails"),
        _finding("new", "not shown"),
        _finding("same", "fails"),
    ]
    found = [(one.question, one.reopened) for one in turned(was, now)]
    assert found == [
        ("d", True),
        ("b", True),
        ("a", True),
        ("new", False),
        ("c", False),
        ("gone", False),
    ]


# Titles --------------------------------------------------------------------------


def test_tests_are_called_as_on_the_card_and_as_in_the_record(
    desk: Desk, site: Stored
) -> None:
    _tap(
        desk,
        site,
        ("step", step("touched", "box.left")),
        ("step", step("touched", "place.u540.m120.30")),
        ("step", step("touched", "place.u540.m120.m")),
        ("step", step("touched", "nobody-knows")),
        ("step", step("touched", "walk.straight")),
    )
    opened, one = open_site(desk, site.id), folded(desk, site.id, _visit(site))
    titles = titles_of(desk, opened, one, Show.METRIC)
    assert titles["box.left"] == "Box upright at the left post"
    assert "post" in titles["place.u540.m120.30"]
    assert titles["nobody-knows"] == "nobody-knows"
    assert titles["place.u540.m120.m"] == "place.u540.m120.m"
    _seal(desk, site, one)
    sealed = folded(desk, site.id, _visit(site))
    assert (
        titles_of(desk, opened, sealed, Show.METRIC)["box.left"] == "As the card said"
    )
