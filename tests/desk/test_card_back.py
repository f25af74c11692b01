"""What a card saved comes back: all of it once, and what is broken is named."""

import json
from base64 import b64encode
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest

from browsing.server import demo_text
from builders.pictures import png
from builders.visit_events import STARTED, VISIT, raw, step
from limen.desk.card_back import MARK, TakenIn, take_in_file, take_in_text
from limen.desk.library import Desk, open_desk
from limen.desk.library_sites import import_text
from limen.desk.refusal import Refusal
from limen.desk.visits import folded

PHOTO = png(8, 6)
NAME = sha256(PHOTO).hexdigest()


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """A desk with the invented building."""
    one = open_desk(tmp_path / "library.db")
    yield one
    one.library.close()


@pytest.fixture
def site(desk: Desk) -> str:
    return import_text(desk, demo_text()).id


def _events(site: str) -> list[dict[str, Any]]:
    said = [
        ("started", dict(STARTED)),
        ("precaution", {"step": "barrier"}),
        ("step", step("stayed open")),
        ("step", step("touched", "box-middle")),
    ]
    return [
        raw("phone-a", seq, kind, what, site=site)
        for seq, (kind, what) in enumerate(said, 1)
    ]


def _saved(events: list[Any], *photos: object, **more: object) -> bytes:
    return json.dumps({MARK: 1, "events": events, "photos": photos, **more}).encode()


def _photo(data: bytes = PHOTO, name: str = NAME) -> dict[str, str]:
    return {"sha256": name, "file": b64encode(data).decode()}


def test_what_was_tapped_is_a_visit_at_the_desk(
    desk: Desk, site: str, tmp_path: Path
) -> None:
    file = tmp_path / "limen-visit.json"
    file.write_bytes(_saved(_events(site), _photo()))
    assert take_in_file(desk, file) == TakenIn(new=4, photos=1, doors=((site, "main"),))
    visit = folded(desk, site, VISIT)
    assert visit.doorway == "main"
    assert len(visit.found.events) == 4


def test_the_same_file_again_changes_nothing(desk: Desk, site: str) -> None:
    file = _saved(_events(site), _photo())
    take_in_text(desk, file, "a")
    before = folded(desk, site, VISIT).json
    assert take_in_text(desk, file, "a") == TakenIn(
        again=4, photos=1, doors=((site, "main"),)
    )
    assert folded(desk, site, VISIT).json == before


def test_a_longer_file_later_brings_the_rest(desk: Desk, site: str) -> None:
    take_in_text(desk, _saved(_events(site)[:2]), "a")
    done = take_in_text(desk, _saved(_events(site)), "a")
    assert (done.new, done.again) == (2, 2)


def test_more_events_than_one_batch_takes_are_all_taken(desk: Desk, site: str) -> None:
    notes = [
        raw("phone-a", seq, "note", {"text": f"{seq}"}, site=site, minute=1)
        for seq in range(1, 1202)
    ]
    assert take_in_text(desk, _saved(notes), "a").new == 1201


def test_what_cannot_be_used_is_named_and_what_came_before_is_kept(
    desk: Desk, site: str
) -> None:
    events = _events(site)
    events[2]["said"]["answer"] = "perhaps"
    done = take_in_text(desk, _saved(events), "a")
    assert done.new == 2
    (why,) = done.bad
    assert "Event 3 of the file" in why
    assert "answer" in why


def test_a_site_that_is_not_here_is_named(desk: Desk, site: str) -> None:
    done = take_in_text(desk, _saved(_events("elsewhere")), "a")
    assert site
    assert done.new == 0
    assert "elsewhere" in done.bad[0]


@pytest.mark.parametrize(
    "photo",
    [
        _photo(name="0" * 64),
        _photo(name="no digest"),
        _photo(b"no picture", sha256(b"no picture").hexdigest()),
        {"sha256": NAME, "file": "%%%"},
        {"sha256": NAME},
        "photo",
        None,
    ],
)
def test_a_broken_photo_is_left_and_the_events_are_taken(
    desk: Desk, site: str, photo: object
) -> None:
    done = take_in_text(desk, _saved(_events(site), photo, _photo()), "a")
    assert (done.new, done.photos) == (4, 1)
    assert len(done.bad) == 1


@pytest.mark.parametrize(
    "file",
    [
        b"",
        b"{",
        b"[]",
        b'"limen_visit"',
        b'{"events": []}',
        b'{"limen_visit": 2, "events": []}',
        b'{"limen_visit": true, "events": []}',
        b'{"limen_visit": 1, "events": {}}',
        b'{"limen_visit": 1, "events": [], "photos": {}}',
        b"[" * 100_000,
        b"\xff\xfe",
    ],
)
def test_another_file_is_refused_by_name(desk: Desk, file: bytes) -> None:
    with pytest.raises(Refusal, match=r"notes\.json is no file of a job card"):
        take_in_text(desk, file, "notes.json")


def test_a_file_that_is_not_there_is_refused(desk: Desk, tmp_path: Path) -> None:
    with pytest.raises(Refusal):
        take_in_file(desk, tmp_path / "none.json")


def test_a_card_without_a_tap_is_taken_in(desk: Desk) -> None:
    assert take_in_text(desk, _saved([]), "a") == TakenIn()
