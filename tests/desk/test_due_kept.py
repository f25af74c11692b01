"""What is due at the desk's sites: by text, records, visits, reports; quick again."""

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builders.records import VISIT, events
from desk.record_cases import sealed
from limen.desk.due import DueThere, Wanted
from limen.desk.due_kept import due_kept
from limen.desk.due_memory import DueMemory, SiteDue, as_plain, from_plain
from limen.desk.library import Desk, open_desk
from limen.desk.library_known import due_remembered, note_down
from limen.desk.library_sites import put_away, rename, save_text
from limen.findings import Lack, Measure, Message
from limen.keep.due import Due
from limen.keep.folding import Said
from limen.quantity import Dimension
from limen.store.database import Stored, listed
from limen.store.database.keeping import keep_event
from limen.store.database.records import keep_record
from limen.store.database.visits import ToKeep, keep_events
from limen.store.database.witnesses import Seen
from limen.store.starter import starter_text

TODAY = date(2026, 11, 27)
COMMISSIONED = "commissioned = 2020-06-01"


class Day:
    """What day it is, as a test says."""

    now = TODAY

    def __call__(self) -> date:
        return self.now


@pytest.fixture
def day() -> Day:
    return Day()


@pytest.fixture
def desk(tmp_path: Path, day: Day) -> Iterator[Desk]:
    made = open_desk(tmp_path / "library.db", today=day)
    # Everything comes in after the visit of the records, and before the day.
    clock = lambda: datetime(2026, 11, 26, 12, tzinfo=UTC)  # noqa: E731
    object.__setattr__(made.library, "clock", clock)
    yield made
    made.library.close()


def text(kept: str = "", name: str = "A site") -> str:
    said = f"{COMMISSIONED}\nkept = {{ {kept} }}"
    return starter_text().replace("My site", name).replace(COMMISSIONED, said)


def add(desk: Desk, kept: str = "", name: str = "A site") -> Stored:
    return desk.library.add(name, text(kept, name))


def only(desk: Desk) -> DueThere:
    (one,) = due_kept(desk).told.every
    return one


def seal(desk: Desk, stored: Stored, raws: list[dict[str, Any]], **more: Any) -> None:
    made = sealed(raws)
    keep_record(
        desk.library, stored.id, "main", digest=made.digest, sealed=made.sealed, **more
    )


def report(desk: Desk, stored: Stored, kind: str, **said: Any) -> None:
    words = {"at": "2026-11-27T08:00:00Z", "said": said}
    keep_event(
        desk.library,
        about="0a0b0c0d",
        site=stored.id,
        doorway="main",
        kind=kind,
        text=json.dumps(words),
    )


def test_the_day_is_counted_from_the_file_until_a_record_comes(desk: Desk) -> None:
    stored = add(desk, "checked = 2025-01-10")
    assert only(desk).due.state == "overdue"
    seal(desk, stored, events(state="in use"))
    found = only(desk).due
    assert (found.state, found.day) == ("in time", date(2027, 11, 26))
    assert [one.key for one in found.beside] == ["due.beside.record_later"]


def test_a_fault_that_was_reported_stands_until_it_is_settled(desk: Desk) -> None:
    stored = add(desk, "checked = 2026-11-20")
    report(desk, stored, "reported", text="Closes on trolleys")
    found = only(desk).due
    assert found.state == "at once"
    assert found.because.values["text"] == "Closes on trolleys"
    report(desk, stored, "report_settled", because="Written by mistake")
    assert only(desk).due.state == "in time"


@pytest.mark.parametrize(
    ("said", "key"),
    [
        ({"struck": True, "text": "Hit a child"}, "due.said.struck"),
        ({"struck": False, "symptom": "stays-open"}, "trace.answer.does.stays-open"),
    ],
)
def test_that_somebody_was_struck_or_what_the_door_does_is_said(
    desk: Desk, said: dict[str, Any], key: str
) -> None:
    report(desk, add(desk, "checked = 2026-11-20"), "reported", **said)
    assert only(desk).due.because.values["text"] == Message(key)


def test_a_report_is_heard_in_whatever_form_it_was_kept(desk: Desk) -> None:
    stored = add(desk, "checked = 2026-11-20")
    keep_event(
        desk.library,
        about="0a0b0c0d",
        site=stored.id,
        doorway="main",
        kind="reported",
        text="[]",
    )
    assert only(desk).due.state == "at once"


def test_a_visit_that_is_not_sealed_tells_of_faults_and_is_no_check(desk: Desk) -> None:
    stored = add(desk, "checked = 2025-12-01")
    raws = [one | {"site": stored.id} for one in events("main", state="out of use")]
    keep_events(desk.library, [_kept(one) for one in raws])
    found = only(desk).due
    assert found.state == "at once"
    assert found.because.key == "due.pending.fault_told"
    assert [one.key for one in found.beside] == ["due.doubt.unsealed"]


def _kept(raw: dict[str, Any]) -> ToKeep:
    names = ("id", "device", "seq", "visit", "site", "doorway", "kind")
    return ToKeep(**{name: raw[name] for name in names}, text=json.dumps(raw))


def test_a_setting_that_reads_otherwise_than_at_the_check_is_a_change(
    desk: Desk,
) -> None:
    stored = add(desk)
    raws = [one for one in events(state="in use") if one["kind"] != "as_found"]
    made = sealed(raws)
    record = json.loads(made.sealed)["record"]
    assert record["files"]
    _sealed_of(desk, stored, raws)
    assert only(desk).due.state == "in time"
    turned = stored.text.replace('tilt = "-0.5 deg"', 'tilt = "-0.6 deg"', 1)
    save_text(desk, stored.id, turned, 1)
    found = only(desk).due
    # The text was kept at noon of the visit's day, the visit was over before.
    assert (found.state, found.because.key) == ("at once", "due.pending.changed")
    said = turned.replace("kept = {  }", "kept = { changed = 2026-11-26 }")
    save_text(desk, stored.id, said, 2)
    assert only(desk).due.because.key != "due.pending.changed"


def test_what_was_not_known_before_and_is_written_now_is_no_change(desk: Desk) -> None:
    stored = add(desk)
    _sealed_of(desk, stored, events(state="in use"))
    more = stored.text.replace('# mass = "60 kg"', 'mass = "60 kg"')
    assert more != stored.text
    save_text(desk, stored.id, more, 1)
    assert only(desk).due.state == "in time"


def _sealed_of(desk: Desk, stored: Stored, raws: list[dict[str, Any]]) -> None:
    """A record that names the text of the site as it is."""
    from desk import record_cases
    from limen.desk.keys import Hand
    from limen.desk.records import made
    from record.signing import CERTIFICATE, DEVICE

    one = made(
        record_cases.PART | {"files": {"a.toml": stored.digest}},
        "",
        Hand(DEVICE, CERTIFICATE),
        claimed=record_cases.CLAIMED,
        number=1,
        parents=(),
        visit=record_cases.fold(raws),
    )
    keep_record(
        desk.library,
        stored.id,
        "main",
        digest=one.digest,
        sealed=one.sealed,
        visit=VISIT,
    )


def test_a_new_day_alone_asks_for_no_text(
    desk: Desk, day: Day, monkeypatch: pytest.MonkeyPatch
) -> None:
    add(desk, "checked = 2025-11-27")
    assert only(desk).due.left == 0
    monkeypatch.setattr("limen.desk.due_kept.open_site", None)
    day.now = date(2026, 11, 30)
    found = only(desk).due
    assert (found.state, found.left) == ("overdue", -3)
    assert found.because.key == "keeping.overdue"


def test_what_lies_ahead_is_asked_again_each_day(desk: Desk, day: Day) -> None:
    add(desk, "checked = 2026-11-28")
    assert only(desk).due.state == "not known"
    day.now = date(2026, 11, 28)
    assert only(desk).due.state == "in time"


def test_after_a_restart_it_is_known_what_was_known(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    add(desk, "checked = 2026-03-17")
    before = due_kept(desk)
    (one,) = listed(desk.library)
    assert one.known is None  # looking wrote nothing
    note_down(desk)
    again = replace(desk, dues=DueMemory(), noted={})
    monkeypatch.setattr("limen.desk.due_kept.open_site", None)
    assert due_kept(again).told == before.told


def test_what_another_version_wrote_down_is_worked_out_anew(desk: Desk) -> None:
    add(desk, "checked = 2026-03-17")
    due_kept(desk)
    (one,) = listed(desk.library)
    said = due_remembered(desk, one)
    assert said
    said.pop("every")
    desk.noted[one.id] = replace(desk.noted[one.id], said=json.dumps({"due": said}))
    again = replace(desk, dues=DueMemory())
    assert only(again).due.state == "in time"


def test_of_many_texts_only_some_are_read_at_one_look(desk: Desk) -> None:
    for name in "ABC":
        add(desk, name=name)
    first = due_kept(desk, most_read=2)
    assert (len(first.told.every), first.left) == (2, 1)
    second = due_kept(desk, most_read=2)
    assert (len(second.told.every), second.left) == (3, 0)


def test_a_site_that_was_put_away_is_in_no_list(desk: Desk) -> None:
    stored = add(desk)
    assert only(desk)
    put_away(desk, stored.id, archived=True)
    assert due_kept(desk).told.every == ()


def test_another_name_of_a_site_is_said_at_once(desk: Desk) -> None:
    stored = add(desk)
    only(desk)
    rename(desk, stored.id, "Another")
    assert only(desk).site == "Another"


def test_what_is_asked_for_by_person_route_and_words_is_found(desk: Desk) -> None:
    add(desk, 'by = "R. Okafor", route = "North"', "Clinic")
    add(desk, 'by = "L. Brandt", route = "North"', "School")

    def names(wanted: Wanted) -> list[str]:
        return [one.site for one in due_kept(desk, wanted).told.every]

    assert names(Wanted(person="R. Okafor")) == ["Clinic"]
    assert names(Wanted(route="North")) == ["Clinic", "School"]
    assert names(Wanted(words=("school", "north"))) == ["School"]
    assert due_kept(desk).people == ("L. Brandt", "R. Okafor")


VALUES = st.one_of(
    st.text(max_size=8),
    st.integers(-9, 9),
    st.builds(Measure, st.floats(-1, 1), st.just(Dimension.TIME)),
    st.builds(lambda: Message("inner", {"day": "2026-03-17"})),
)
MESSAGES = st.builds(
    Message, st.text(max_size=8), st.dictionaries(st.text(max_size=4), VALUES)
)
SAIDS = st.builds(
    Said,
    what=st.sampled_from(("checked", "tested", "changed", "fault")),
    day=st.dates(),
    source=MESSAGES,
    at=st.none() | st.datetimes(timezones=st.just(UTC)),
    text=st.text(max_size=4) | MESSAGES,
    of=st.text(max_size=4),
)
DUES = st.builds(
    Due,
    doorway=st.text(max_size=4),
    name=st.text(max_size=4),
    state=st.sampled_from(("at once", "overdue", "in time", "not known")),
    day=st.none() | st.dates(),
    left=st.none() | st.integers(-9, 9),
    because=MESSAGES,
    lacking=st.lists(st.builds(Lack, MESSAGES, st.text(max_size=4)), max_size=2).map(
        tuple
    ),
    beside=st.lists(MESSAGES, max_size=2).map(tuple),
    fixed=st.booleans(),
    last=st.none() | SAIDS,
    pending=st.none() | SAIDS,
)


@settings(max_examples=25)
@given(st.lists(DUES, max_size=3))
def test_what_is_written_down_reads_back_the_same(every: list[Due]) -> None:
    stamp = ("d" * 8, "b", Seen(1, 2, 3))
    one = SiteDue(TODAY, "2026-11-26T12:00:00+00:00", "Quay", tuple(every))
    assert from_plain(json.loads(json.dumps(as_plain(stamp, one)))) == (stamp, one)
