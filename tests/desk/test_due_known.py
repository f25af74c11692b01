"""The page of a doorway and the lists say one thing of when it is due."""

import json
from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest

from builders.records import VISIT, events
from desk.record_cases import sealed
from limen.desk import doors, doors_kept
from limen.desk import library_lines as lines
from limen.desk.doors import Asked, DoorFound
from limen.desk.doors_kept import write_all
from limen.desk.due import DueThere
from limen.desk.due_kept import due_at, due_kept
from limen.desk.due_known import KnownStudy, known_study_of
from limen.desk.library import Desk, open_desk, open_site, study_of
from limen.findings import Finding, Verdict
from limen.store.database import Stored
from limen.store.database.keeping import keep_event
from limen.store.database.records import keep_record
from limen.store.database.witnesses import sealed_text
from limen.store.starter import starter_text

TODAY = date(2026, 11, 27)
COMMISSIONED = "commissioned = 2020-06-01"
DUE = "keeping.due"


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    made = open_desk(tmp_path / "library.db", today=lambda: TODAY)
    clock = lambda: datetime(2026, 11, 26, 12, tzinfo=UTC)  # noqa: E731
    object.__setattr__(made.library, "clock", clock)
    yield made
    made.library.close()


def add(desk: Desk, kept: str = "", name: str = "A site") -> Stored:
    said = f"{COMMISSIONED}\nkept = {{ {kept} }}"
    text = starter_text().replace("My site", name).replace(COMMISSIONED, said)
    return desk.library.add(name, text)


def seal(desk: Desk, stored: Stored, visit: str | None = VISIT) -> str:
    """A whole check of 26 November 2026, sealed; nothing was tapped here."""
    made = sealed(events(state="in use"))
    keep_record(
        desk.library,
        stored.id,
        "main",
        digest=made.digest,
        sealed=made.sealed,
        visit=visit,
    )
    return made.digest


def report(desk: Desk, stored: Stored) -> None:
    said = {"at": "2026-11-27T08:00:00Z", "said": {"text": "Closes on trolleys"}}
    keep_event(
        desk.library,
        about="0a0b0c0d",
        site=stored.id,
        doorway="main",
        kind="reported",
        text=json.dumps(said),
    )


def known(desk: Desk, stored: Stored) -> KnownStudy:
    return known_study_of(desk, open_site(desk, stored.id), "main")


def checks(found: Any) -> list[Finding]:
    return [one for one in found.findings if one.question == DUE]


def row(desk: Desk) -> DoorFound:
    (found,) = doors.rows(desk, Asked())
    return found


def only(desk: Desk) -> DueThere:
    (found,) = due_kept(desk).told.every
    return found


# The page ------------------------------------------------------------------------


def test_the_page_counts_from_a_record_and_says_what_the_text_says(desk: Desk) -> None:
    stored = add(desk)
    digest = seal(desk, stored)
    found = known(desk, stored)
    regular, _ = checks(found.study)
    assert regular.verdict is Verdict.HOLDS
    assert regular.because.key == "due.known.in_time"
    assert [one.because.key for one in found.own] == ["keeping.unknown"]
    (told,) = found.told
    assert (told.kind, told.of, told.visit) == ("record", digest, VISIT)


def test_the_study_and_what_was_sealed_stay_as_they_were(desk: Desk) -> None:
    stored = add(desk)
    opened = open_site(desk, stored.id)
    before = study_of(desk, opened, "main")
    digest = seal(desk, stored)
    text = sealed_text(desk.library, digest)
    shown = known(desk, stored).study
    after = study_of(desk, opened, "main")
    assert after is before
    assert [one for one in shown.findings if one.question != DUE] == [
        one for one in before.findings if one.question != DUE
    ]
    assert sealed_text(desk.library, digest) == text
    assert checks(before)[0].verdict is Verdict.NOT_SHOWN


def test_where_the_text_says_all_that_is_known_nothing_stands_beside(
    desk: Desk,
) -> None:
    stored = add(desk, "checked = 2026-03-17")
    found = known(desk, stored)
    opened = open_site(desk, stored.id)
    assert found.study == study_of(desk, opened, "main")
    assert (found.own, found.told) == ((), ())


def test_a_fault_that_was_reported_fails_at_once_and_is_named(desk: Desk) -> None:
    stored = add(desk, "checked = 2026-11-20")
    assert checks(known(desk, stored).study)[1].verdict is Verdict.NOT_ASKED
    report(desk, stored)
    found = known(desk, stored)
    after = checks(found.study)[1]
    assert after.verdict is Verdict.FAILS
    assert after.because == only(desk).due.because
    assert [(one.kind, one.of) for one in found.told] == [("report", "0a0b0c0d")]


def test_one_site_is_worked_out_as_the_list_of_all_has_it(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    stored = add(desk, "checked = 2025-01-10")
    seal(desk, stored)
    report(desk, stored)
    one = due_at(desk, stored.id)
    monkeypatch.setattr("limen.desk.due_kept.open_site", None)
    # Under the same name of all that it rests on: neither reads the text again.
    assert only(desk).due == one.every[0]
    assert due_at(desk, stored.id) == one


# The lists -----------------------------------------------------------------------


def test_a_doorway_that_was_not_studied_has_its_day_in_the_list(desk: Desk) -> None:
    stored = add(desk, "checked = 2026-03-17")
    write_all(desk)
    found = row(desk)
    assert not found.known
    assert (found.due, found.due_day) == ("day", "2027-03-17")
    # A record alone, of which nothing was tapped here, moves it.
    seal(desk, stored)
    write_all(desk)
    found, listed = row(desk), only(desk).due
    assert listed.day is not None
    assert found.due_day == listed.day.isoformat() == "2027-11-26"


def test_what_could_not_be_worked_out_yet_is_said_and_no_old_day_stands(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    stored = add(desk, "checked = 2026-03-17")
    write_all(desk)
    assert doors.counted(desk, doors.Wanted()).unreckoned == 0
    seal(desk, stored)
    monkeypatch.setattr(doors_kept, "SOME", 0)
    write_all(desk)
    found = row(desk)
    assert (found.due, found.due_day) == ("", None)
    assert doors.counted(desk, doors.Wanted()).unreckoned == 1
    monkeypatch.setattr(doors_kept, "SOME", 60)
    write_all(desk)
    assert row(desk).due_day == "2027-11-26"


def test_another_figure_of_the_firm_or_sheet_is_followed_at_the_next_change(
    desk: Desk,
) -> None:
    add(desk, "checked = 2026-03-17")
    write_all(desk)
    desk.sheets.mkdir()
    (desk.sheets / "own.toml").write_text("", "utf-8")
    assert row(desk).due == ""
    write_all(desk)
    assert row(desk).due_day == "2027-03-17"


def test_what_is_written_already_is_not_written_again(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    add(desk, "checked = 2026-03-17")
    write_all(desk)
    desk.studied.checks.clear()  # as after a start

    def never(*_: object, **__: object) -> None:
        raise AssertionError

    monkeypatch.setattr("limen.store.database.doors.update", never)
    write_all(desk)


@pytest.mark.parametrize("kept", ["", "checked = 2024-01-10", "checked = 2026-11-20"])
def test_counts_of_a_site_and_of_the_list_are_of_the_same_check(
    desk: Desk, kept: str
) -> None:
    stored = add(desk, kept)
    write_all(desk)
    lines.tallied(desk, stored.id)
    for change in (None, seal, report):
        if change is not None:
            change(desk, stored)
        write_all(desk)
        of_site = lines.tallied(desk, stored.id)
        (of_all,) = lines.overview(desk)
        late = only(desk).due.state in ("at once", "overdue")
        unknown = only(desk).due.state == "not known"
        assert of_site.tally is not None
        assert of_site.tally == of_all.tally == of_site.doors[0].tally
        assert of_site.tally.due == late
        found = row(desk)
        assert (found.mend, found.measure, found.office) == (
            of_site.tally.mend,
            of_site.tally.measure,
            of_site.tally.office,
        )
        assert (found.due == "not known") == unknown
