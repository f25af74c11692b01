"""What cards send is kept before it is answered, and shown as it was said."""

import json
import re
from hashlib import sha256
from typing import Any
from uuid import uuid4

import pytest
from starlette.testclient import TestClient

from builders.pictures import jpeg, png
from builders.visit_events import STARTED, name, raw, step
from limen.store.faults import Fault, FileFaults
from limen.store.starter import starter_text

PEOPLE = {"Accept": "text/html"}
PICTURE = png(40, 30)
DIGEST = sha256(PICTURE).hexdigest()


class Door:
    """A doorway on a server of its own site, and what is tapped there."""

    def __init__(self, client: TestClient) -> None:
        self.client = client
        self.site = client.post("/sites", content=starter_text()).json()["id"]
        self.door = client.get(f"/sites/{self.site}/doorways").json()[0]["id"]
        self.visit = str(uuid4())
        self.phones = {which: f"{which}-{uuid4()}" for which in "ab"}
        self.address = f"/sites/{self.site}/doorways/{self.door}/visits"

    @property
    def one(self) -> str:
        """Address of the visit."""
        return f"{self.address}/{self.visit}"

    def event(self, phone: str, seq: int, kind: str, said: Any) -> dict[str, Any]:
        """An event of this visit."""
        made = raw(self.phones[phone], seq, kind, said, doorway=self.door)
        return made | {"site": self.site, "visit": self.visit}

    def id_of(self, phone: str, seq: int) -> str:
        """Id of a phone's event."""
        return name(self.phones[phone], seq)

    def send(self, *events: Any) -> Any:
        """Hand events in."""
        body = json.dumps({"events": events})
        return self.client.post("/visits/events", content=body)

    def told(self) -> Any:
        """The visit as a program is told."""
        return self.client.get(self.one).json()["folded"]

    def page(self) -> str:
        """The visit as people read it, without its tags."""
        found = self.client.get(self.one, headers=PEOPLE)
        assert found.status_code == 200
        text = re.sub(r"<title>.*?</title>|<[^>]+>", " ", found.text)
        return re.sub(r"\s+", " ", text)


@pytest.fixture
def door(client: TestClient) -> Door:
    return Door(client)


@pytest.fixture
def contradicted(door: Door) -> Door:
    """A visit of two phones that say different things of one test."""
    door.send(
        door.event("a", 1, "started", STARTED),
        door.event("a", 2, "step", step("touched")),
    )
    door.send(door.event("b", 1, "step", step("stayed open")))
    return door


def test_events_are_answered_with_what_is_kept_of_their_device(door: Door) -> None:
    events = [door.event("a", seq, "note", {"text": "x"}) for seq in (1, 2, 4)]
    reply = door.send(*events)
    assert reply.status_code == 200
    assert (reply.json()["new"], reply.json()["again"]) == (3, 0)
    (device,) = reply.json()["devices"]
    assert device == {
        "device": door.phones["a"],
        "kept": 2,
        "id": door.id_of("a", 2),
        "highest": 4,
        "missing": [[3, 3]],
    }
    assert door.client.get(f"/visits/devices/{door.phones['a']}").json() == device
    again = door.send(*events).json()
    assert (again["new"], again["again"]) == (0, 3)


def test_nothing_is_kept_yet_of_a_device_that_sent_nothing(client: TestClient) -> None:
    said = client.get("/visits/devices/never-met").json()
    nothing = {"kept": 0, "id": None, "highest": 0, "missing": []}
    assert said == {"device": "never-met"} | nothing


def test_a_batch_is_kept_up_to_the_first_that_cannot_be_used(door: Door) -> None:
    good, after = (door.event("a", seq, "note", {"text": "x"}) for seq in (1, 3))
    bad = door.event("a", 2, "step", step("cannot") | {"because": "  "})
    reply = door.send(good, bad, after)
    assert reply.status_code == 422
    said = reply.json()
    assert (said["new"], said["bad"]["place"], said["bad"]["seq"]) == (1, 1, 2)
    assert "because" in said["bad"]["lines"][0]
    assert said["devices"][0]["highest"] == 1


@pytest.mark.parametrize(
    "change",
    [
        {"kind": "remark"},
        {"site": "nowhere"},
        {"said": {"text": "x" * 3000}},
        {"said": {"text": "\ud800"}},
        {"said": {"text": 2**60}},
        {"at": "2026-13-01T00:00:00Z"},
        {"further": True},
    ],
    ids=lambda one: next(iter(one)),
)
def test_an_event_that_cannot_be_used_says_why(
    door: Door, change: dict[str, Any]
) -> None:
    reply = door.send(door.event("a", 1, "note", {"text": "x"}) | change)
    assert reply.status_code == 422
    assert reply.json()["bad"]["place"] == 0
    assert all(reply.json()["lines"])


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"no",
        b"[]",
        b"{}",
        b'{"events": {}}',
        b'{"events": []}',
        b"[" * 100_000,
        b"\xff",
        b'{"events": [' + b"1," * 500 + b"1]}",
    ],
    ids=range(9),
)
def test_a_body_that_is_no_batch_is_refused(client: TestClient, body: bytes) -> None:
    reply = client.post("/visits/events", content=body)
    assert reply.status_code == 422
    assert reply.json()["lines"]


@pytest.mark.parametrize("body", [b'{"events": [1]}', b'{"events": [null, {}]}'])
def test_what_is_no_event_is_refused(client: TestClient, body: bytes) -> None:
    reply = client.post("/visits/events", content=body)
    assert reply.status_code == 422
    assert reply.json()["bad"]["seq"] is None


def test_another_event_under_a_number_is_kept_and_shown_and_does_not_count(
    door: Door,
) -> None:
    door.send(door.event("a", 1, "note", {"text": "the first"}))
    clash = door.event("a", 1, "note", {"text": "another"})
    reply = door.send(clash | {"id": str(uuid4())}).json()
    assert [one["seq"] for one in reply["clashes"]] == [1]
    notes = [one["said"]["text"] for one in door.told()["notes"]]
    assert notes == ["the first"]
    assert "has this number already" in door.page()


def test_no_other_page_may_hand_events_in(door: Door) -> None:
    body = {"events": [door.event("a", 1, "note", {"text": "x"})]}
    reply = door.client.post(
        "/visits/events", json=body, headers={"Origin": "http://elsewhere.example"}
    )
    assert reply.status_code == 403
    assert door.client.get(f"/visits/devices/{door.phones['a']}").json()["kept"] == 0


# Photos --------------------------------------------------------------------------


def test_a_photo_comes_in_pieces_and_is_given_out_whole(client: TestClient) -> None:
    address, whole = f"/visits/photos/{DIGEST}", len(PICTURE)
    for first, last in ((0, 29), (0, 29), (30, whole - 1)):
        assert client.get(address).status_code == 404
        reply = client.put(
            address,
            content=PICTURE[first : last + 1],
            headers={"Content-Range": f"bytes {first}-{last}/{whole}"},
        )
        assert reply.json()["kept"] == last + 1
    assert client.get(f"{address}/kept").json() == {
        "sha256": DIGEST,
        "kept": whole,
        "whole": True,
    }
    found = client.get(address)
    assert (found.content, found.headers["content-type"]) == (PICTURE, "image/png")
    assert found.headers["x-content-type-options"] == "nosniff"
    assert client.put(address, content=PICTURE).json()["whole"]


@pytest.mark.parametrize(
    "data",
    [b"", b"<svg onload='x'/>", jpeg(9, 9, (0xE1, b"Exif\0\0")), png(9, 9)[:-1] + b"x"],
    ids=["nothing", "no picture", "says where", "other bytes"],
)
def test_a_photo_that_is_not_taken_in_says_why(client: TestClient, data: bytes) -> None:
    known = png(9, 9) if data.endswith(b"x") else data
    address = f"/visits/photos/{sha256(known).hexdigest()}"
    reply = client.put(address, content=data)
    assert reply.status_code == 422
    assert reply.json()["lines"]
    assert client.get(f"{address}/kept").json()["kept"] == 0


@pytest.mark.parametrize("said", ["bytes 0-5/9", "bytes 5-0/9", "0-3/9", "bytes 0-3/0"])
def test_a_piece_whose_place_cannot_be_read_is_refused(
    client: TestClient, said: str
) -> None:
    address = f"/visits/photos/{'1' * 64}"
    reply = client.put(address, content=b"abcd", headers={"Content-Range": said})
    assert reply.status_code == 400


@pytest.mark.parametrize("digest", ["0" * 63, "G" * 64, "..%2F..%2Flibrary.db"])
def test_a_photo_is_asked_for_by_its_digest_alone(
    client: TestClient, digest: str
) -> None:
    assert client.get(f"/visits/photos/{digest}").status_code in {404, 422}


# Pages ---------------------------------------------------------------------------


def test_a_visit_says_what_was_done(door: Door) -> None:
    reading = {"kind": "row line", "out": "64 mm", "from_left": "1 ft 9 in", "row": 1}
    strokes = [[[1, 1], [40, 20.5]], [[7, 7]]]
    over = {"state": "in use with defects", "told": "A. Keeper", "signature": strokes}
    events = [
        ("started", STARTED),
        ("as_found", {"fitting": "inside", "reading": reading}),
        ("step", step("touched", "first")),
        ("step", step("stayed open", "first")),
        ("step", step("cannot", "second")),
        ("defect", {"text": "Guide <loose>", "told": "A. Keeper"}),
        ("note", {"text": "Mat is wet"}),
        ("handed_over", over),
    ]
    door.send(
        *(
            door.event("a", seq, kind, said)
            for seq, (kind, said) in enumerate(events, 1)
        )
    )
    text = door.page()
    for said in (
        "R. Okafor · existing door, yearly visit",
        "Left in use with defects. Told to A. Keeper.",
        "Guide &lt;loose&gt;",
        "first door stayed open or reopened Answered before: leaf touched the box",
        "second cannot be tested, the shop is open",
        "Row line, row 1, 64 mm from the leaf face, 1 ft 9 in from the left post",
        "Mat is wet",
    ):
        assert said in text
    html = door.client.get(door.one, headers=PEOPLE).text
    assert 'd="M1 1L40 20.5M7 7L7 7"' in html
    listed = door.client.get(door.address, headers=PEOPLE).text
    assert f'href="{door.one}"' in listed
    assert "1 defect" in listed


def test_a_visit_whose_beginning_is_missing_says_so(door: Door) -> None:
    door.send(door.event("a", 2, "note", {"text": "x"}))
    assert "The beginning of this visit has not come in" in door.page()


def test_what_has_not_come_in_is_named(door: Door) -> None:
    door.send(*(door.event("a", seq, "note", {"text": "x"}) for seq in (1, 5)))
    assert "number 2 to 4" in door.page()


def test_a_photo_that_has_not_come_in_is_said_to_be_waited_for(door: Door) -> None:
    said = {"name": "x.png", "sha256": "2" * 64, "bytes": 9, "width": 9, "height": 9}
    door.send(door.event("a", 1, "photo", said))
    assert "Not all of it has come in yet: x.png" in door.page()


def test_a_person_settles_what_two_phones_contradict(contradicted: Door) -> None:
    door = contradicted
    assert "To be settled: Test: box-left" in door.page()
    assert not any(one["counts"] for one in door.told()["tests"])
    form = {"stands": door.id_of("b", 1), "person": " R. Okafor "}
    done = door.client.post(f"{door.one}/settle", data=form, headers=PEOPLE)
    assert (done.status_code, done.headers["location"]) == (303, door.one)
    told = door.told()
    assert told["conflicts"] == []
    assert [one["said"]["answer"] for one in told["tests"]] == ["stayed open"]
    assert [one["why"] for one in told["apart"]] == ["set aside"]
    assert "R. Okafor chose: box-left: door stayed open or reopened" in door.page()
    (choice,) = told["acts"]
    door.client.post(f"{door.one}/reopen", data={"event": choice["id"]})
    assert len(door.told()["conflicts"]) == 1


@pytest.mark.parametrize(
    ("stands", "person"), [("", "R. Okafor"), ("b", " "), ("a1", "R. Okafor")]
)
def test_a_choice_that_names_nobody_or_nothing_is_refused(
    contradicted: Door, stands: str, person: str
) -> None:
    door = contradicted
    chosen = {"a1": door.id_of("a", 1), "b": door.id_of("b", 1)}.get(stands, "")
    reply = door.client.post(
        f"{door.one}/settle", data={"stands": chosen, "person": person}
    )
    assert reply.status_code == 422
    assert len(door.told()["conflicts"]) == 1


def test_a_choice_that_does_not_stand_cannot_be_taken_back(contradicted: Door) -> None:
    reply = contradicted.client.post(
        f"{contradicted.one}/reopen", data={"event": contradicted.id_of("a", 1)}
    )
    assert reply.status_code == 422


def test_a_form_without_a_script_settles_too(contradicted: Door) -> None:
    door = contradicted
    bare = {
        "limen-desk": "",
        "Sec-Fetch-Site": "same-origin",
        "Content-Type": "application/x-www-form-urlencoded",
    }
    request = door.client.build_request(
        "POST",
        f"{door.one}/settle",
        content=f"stands={door.id_of('b', 1)}&person=R.+Okafor".encode(),
        headers=bare | PEOPLE,
    )
    del request.headers["limen-desk"]
    assert door.client.send(request).status_code == 303


@pytest.mark.parametrize("way", ["settle", "reopen"])
def test_another_page_settles_nothing(contradicted: Door, way: str) -> None:
    reply = contradicted.client.post(
        f"{contradicted.one}/{way}",
        data={"stands": "x", "person": "x", "event": "x"},
        headers={"Origin": "http://elsewhere.example"},
    )
    assert reply.status_code == 403


def test_a_visit_is_of_its_own_doorway_and_site(door: Door, client: TestClient) -> None:
    door.send(door.event("a", 1, "note", {"text": "x"}))
    other = Door(client)
    for address in (
        f"{other.address}/{door.visit}",
        f"/sites/{door.site}/doorways/elsewhere/visits/{door.visit}",
        f"{door.address}/{uuid4()}",
    ):
        assert client.get(address).status_code == 404
        for way in ("settle", "reopen"):
            said = {"stands": "x", "person": "x", "event": "x"}
            assert client.post(f"{address}/{way}", data=said).status_code == 404


def test_the_visits_of_all_doorways_stand_on_one_page(door: Door) -> None:
    door.send(door.event("a", 1, "started", STARTED))
    found = door.client.get(f"/sites/{door.site}/visits", headers=PEOPLE)
    assert f'href="{door.one}"' in found.text
    assert [one["visit"] for one in door.client.get(door.address).json()] == [
        door.visit
    ]


def test_a_doorway_without_a_visit_says_how_to_make_one(door: Door) -> None:
    found = door.client.get(door.address, headers=PEOPLE)
    assert "Take the doorway along on a phone" in found.text


def test_a_visit_is_read_though_the_text_of_its_site_is_not(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    door = Door(client)
    door.send(
        door.event("a", 1, "started", STARTED),
        door.event("a", 2, "step", step("touched", "box.left")),
    )
    fault = FileFaults("site", [Fault("", None, "", "a sheet was taken away")])

    def unreadable(*_: object) -> None:
        raise fault

    monkeypatch.setattr("limen.desk.library.open_site", unreadable)
    assert "leaf touched the box" in door.page()
    for address in (door.address, f"/sites/{door.site}/visits"):
        assert door.visit in client.get(address, headers=PEOPLE).text


def test_a_visit_of_a_doorway_that_was_taken_out_is_still_read(door: Door) -> None:
    gone = door.event("a", 1, "step", step("touched", "box.left"))
    door.send(gone | {"doorway": "gone"})
    found = door.client.get(
        f"/sites/{door.site}/doorways/gone/visits/{door.visit}", headers=PEOPLE
    )
    assert found.status_code == 200
    assert "Box upright" in found.text or "box.left" in found.text


def test_a_long_list_begins_with_what_came_in_last(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("limen.web.routes_visit_pages.MOST", 2)
    known: list[str] = []
    for seq in (1, 2, 3):
        known.append(str(uuid4()))
        event = door.event("a", seq, "note", {"text": "x"})
        door.send(event | {"visit": known[-1]})
    page = door.client.get(door.address, headers=PEOPLE).text
    assert [one in page for one in known] == [False, True, True]
    assert "and 1 more" in page
    every = door.client.get(f"{door.address}?every=true", headers=PEOPLE).text
    assert all(one in every for one in known)
