"""The list of doorways follows what is changed, studied, tapped and reported."""

import csv
import json
from collections.abc import Iterator
from datetime import date
from io import StringIO
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest

from builders.studies import failing, finding, not_shown, study
from builders.visit_events import STARTED, name, raw
from limen.desk import doors
from limen.desk import doors_work as work
from limen.desk import library_sites as sites
from limen.desk.doors import Asked, DoorFound, Wanted
from limen.desk.doors_kept import write_all
from limen.desk.library import Desk, open_desk
from limen.desk.studied import said_of
from limen.desk.visits_intake import take_in
from limen.findings import Message, Verdict
from limen.rules import Weight
from limen.store.database.keeping import keep_event
from limen.store.starter import starter_text

DAY = date(2026, 11, 25)


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    one = open_desk(tmp_path / "library.db", today=lambda: DAY)
    yield one
    one.library.close()


@pytest.fixture
def site(desk: Desk) -> str:
    kept = sites.import_text(desk, starter_text())
    write_all(desk)
    return kept.id


def _only(desk: Desk, **wanted: Any) -> DoorFound:
    (found,) = doors.rows(desk, Asked(Wanted(**wanted)))
    return found


# What a study comes to -----------------------------------------------------------


def test_of_a_question_the_worst_answer_counts_and_a_must_before_all() -> None:
    told = study(
        not_shown("x", question="leaf.gaps"),
        failing(question="leaf.gaps", case="left"),
        failing(question="site.marking", weight=Weight.ADVICE),
        not_shown("y", question="site.marking"),
        finding(question="mounting.height"),
    )
    said = said_of(told, "digest", "key", DAY)
    assert said.answers == {"leaf.gaps": "fails", "site.marking": "not shown"}
    assert (said.mend, said.measure) == (1, 2)


def test_a_check_that_is_overdue_is_left_to_the_day_on_which_one_looks() -> None:
    late = failing(question="keeping.due", because=Message("keeping.nothing"))
    said = said_of(study(late), "digest", "key", DAY)
    assert (said.mend, said.due_must, said.answers) == (0, True, {})
    assert late.verdict is Verdict.FAILS


# Kept fresh ------------------------------------------------------------------------


def test_a_doorway_is_listed_once_its_site_is_kept_and_unstudied_until_it_is(
    desk: Desk, site: str
) -> None:
    found = _only(desk)
    assert (found.site, found.known, found.visits) == (site, False, 0)
    assert found.due == "not known"
    told: list[tuple[int, int, str]] = []
    work.study_all(desk, lambda *how: told.append(how))
    after = _only(desk)
    assert after.known
    assert after.mend + after.measure > 0
    assert told[-1][:2] == (0, 1)
    assert doors.fails_most(desk, Wanted())
    told.clear()
    work.study_all(desk, lambda *how: told.append(how))
    assert told == []


def test_a_new_text_is_listed_after_the_change_and_studied_anew(
    desk: Desk, site: str
) -> None:
    work.study_all(desk, lambda *_: None)
    text = starter_text().replace("Main entrance", "Harbour door")
    sites.save_text(desk, site, text, 1)
    assert doors.to_read(desk).stale == 1
    write_all(desk)
    found = _only(desk, words=("harbour",))
    assert (found.known, found.mend) == (False, 0)
    assert doors.to_read(desk).stale == 0


def test_a_text_that_cannot_be_read_is_named_and_not_listed(
    desk: Desk, site: str
) -> None:
    desk.library.save(site, "nonsense = [", 1)
    write_all(desk)
    assert doors.rows(desk, Asked()) == ()
    assert [one[0] for one in doors.to_read(desk).unread] == [site]


def test_work_that_is_ended_keeps_what_is_done_and_goes_on_there(
    desk: Desk, site: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = sites.import_text(desk, starter_text().replace("My site", "Another"))
    asked: list[str] = []
    real = work.study_of

    def counted(at: Desk, opened: Any, door: str) -> Any:
        asked.append(opened.stored.id)
        return real(at, opened, door)

    def told(done: int, of: int, doing: str) -> None:
        if of and doing and done:
            raise KeyboardInterrupt

    monkeypatch.setattr(work, "study_of", counted)
    write_all(desk)
    with pytest.raises(KeyboardInterrupt):
        work.study_all(desk, told)
    assert len(asked) == 1
    work.study_all(desk, lambda *_: None)
    assert sorted(asked) == sorted([site, other.id])
    assert doors.counted(desk, Wanted()).states["unknown"] == 0


# Visits and what was said between them ---------------------------------------------


def _tapped(
    site: str, *said: tuple[str, dict[str, Any]], day: str = "2026-10-01"
) -> bytes:
    visit, phone = str(uuid4()), f"phone-{uuid4()}"
    events = [
        raw(phone, seq, kind, what, site=site, doorway="main", visit=visit)
        | {"at": f"{day}T10:{seq:02}:00Z"}
        for seq, (kind, what) in enumerate(said, 1)
    ]
    return json.dumps({"events": events}).encode()


def _over(state: str) -> tuple[str, dict[str, Any]]:
    return "handed_over", {"state": state, "told": "A. Keeper"}


def test_the_visit_that_began_last_says_how_a_doorway_was_left(
    desk: Desk, site: str
) -> None:
    began = ("started", STARTED)
    take_in(desk, _tapped(site, began, _over("out of use"), day="2026-10-02"))
    write_all(desk)
    assert _only(desk, state="defects").left_as == "out of use"
    take_in(desk, _tapped(site, began, _over("in use"), day="2026-09-01"))
    write_all(desk)
    found = _only(desk)
    assert (found.visits, found.left_as, found.begun[:10]) == (
        2,
        "out of use",
        "2026-10-02",
    )


def test_a_hand_over_that_was_taken_back_is_not_said(desk: Desk, site: str) -> None:
    sent = json.loads(_tapped(site, ("started", STARTED), _over("out of use")))
    last = sent["events"][-1]
    phone = last["device"]
    gone = {**last, "id": name(phone, 3), "seq": 3, "kind": "undone"}
    gone["said"] = {"event": name(phone, 2)}
    sent["events"].append(gone)
    take_in(desk, json.dumps(sent).encode())
    write_all(desk)
    found = _only(desk)
    assert (found.visits, found.left_as) == (1, "")


def test_what_was_reported_is_open_until_it_is_settled(desk: Desk, site: str) -> None:
    def said(kind: str, about: str, of: str = "") -> str:
        text = json.dumps({"said": {"event": of}})
        row = keep_event(
            desk.library, about=about, site=site, doorway="main", kind=kind, text=text
        )
        write_all(desk)
        return row.id

    said("reported", "fault-1")
    owed = said("owed", "owed-1")
    assert _only(desk, state="open").open == 2
    settled = said("report_settled", "fault-1")
    said("undone", "owed-1", owed)
    assert _only(desk).open == 0
    said("undone", "fault-1", settled)
    assert _only(desk).open == 1


# Taken along -----------------------------------------------------------------------


def test_the_table_has_every_doorway_that_is_asked_for_and_no_formula(
    desk: Desk, site: str
) -> None:
    named = starter_text().replace("Main entrance", "=HYPERLINK(1)")
    sites.import_text(desk, named.replace("My site", "+Another"))
    write_all(desk)
    text = doors.written(desk, Asked()).decode("utf-8-sig")
    head, *rows = csv.reader(StringIO(text))
    assert len(head) == len(doors.COLUMNS)
    assert len(rows) == 2
    assert {row[2] for row in rows} == {"Main entrance", "'=HYPERLINK(1)"}
    assert site
