"""A visit is sealed at the desk or at the door, once, and given out byte for byte."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from pypdf import PdfReader
from starlette.testclient import TestClient

from builders.records import events
from limen.desk import keys
from limen.desk.keys import PASSPHRASE_FILE
from limen.record import new_key, seal_record, verify_bytes
from limen.store.starter import starter_text
from limen.web.app import create_app
from web.conftest import HERE, OURS

PEOPLE = {"Accept": "text/html"}
SECRET = "three grey herons"  # noqa: S105 - opens keys of these tests alone


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("desk")
    keys.begin(folder / "keys", "Weir & Söhne", "Desk 1", lambda _: SECRET)
    return folder


@pytest.fixture(scope="module")
def client(static: Path, home: Path) -> Iterator[TestClient]:
    app = create_app(
        home / "library.db", today=lambda: date(2026, 11, 26), static=static
    )
    with TestClient(app, base_url=HERE, headers=OURS, follow_redirects=False) as asked:
        yield asked
    app.state.desk.library.close()


@pytest.fixture(autouse=True)
def asked_in_person(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(PASSPHRASE_FILE, raising=False)


class Visited:
    """A doorway at which a visit was tapped to its end."""

    def __init__(self, client: TestClient) -> None:
        self.client = client
        self.site = client.post("/sites", content=starter_text()).json()["id"]
        self.door = client.get(f"/sites/{self.site}/doorways").json()[0]["id"]
        self.visit, self.phone = str(uuid4()), f"phone-{uuid4()}"
        self.address = f"/sites/{self.site}/doorways/{self.door}/visits/{self.visit}"
        digest = client.get(f"/sites/{self.site}").json()["digest"]
        told = [self.mine(one) for one in events(self.door)]
        told[0]["said"] |= {"version": 1, "digest": digest}
        client.post("/visits/events", json={"events": told})

    def mine(self, one: dict[str, Any]) -> dict[str, Any]:
        ids = {"id": str(uuid4()), "device": self.phone, "visit": self.visit}
        if one["kind"] == "undone":
            one = {**one, "kind": "note", "said": {"text": "a word more"}}
        return {**one, **ids, "site": self.site}

    def seal(self, secret: str | None = SECRET, **headers: str) -> Any:
        data = {} if secret is None else {"passphrase": secret}
        return self.client.post(f"{self.address}/record", data=data, headers=headers)

    def page(self) -> str:
        return self.client.get(self.address, headers=PEOPLE).text


@pytest.fixture
def visited(client: TestClient) -> Visited:
    return Visited(client)


def test_a_visit_is_sealed_at_the_desk_and_given_out_byte_for_byte(
    visited: Visited, home: Path
) -> None:
    done = visited.seal()
    assert done.status_code == 200
    digest = done.json()["digest"]
    sealed = visited.client.get(f"/sites/{visited.site}/records/{digest}.json").content
    found = verify_bytes(sealed, firms=keys.trusted(home / "keys").firms)
    assert found.unchanged
    assert found.signer
    assert found.signer.trusted
    assert found.digest == digest
    assert found.record
    assert found.record["doorway"] == visited.door
    paper = visited.client.get(f"/sites/{visited.site}/records/{digest}.pdf")
    assert verify_bytes(paper.content).unchanged


def test_the_record_holds_the_visit_and_the_study_of_its_day(visited: Visited) -> None:
    digest = visited.seal().json()["digest"]
    record: Any = verify_bytes(_json(visited, digest)).record
    assert record["visit"]["visit"] == visited.visit
    assert record["study"]["on"] == "2026-11-26"
    assert record["number"] == 1
    titles = {one["id"]: one["title"] for one in record["tests"]}
    assert titles["box.middle"] == "Box upright in the middle"


def test_a_visit_has_one_record_however_often_it_is_asked_for(visited: Visited) -> None:
    first, second = visited.seal(), visited.seal()
    assert first.json() == second.json()
    listed = visited.client.get(f"/sites/{visited.site}/records").json()
    assert len(listed) == 1


def test_a_wrong_passphrase_seals_nothing_and_says_so(visited: Visited) -> None:
    refused = visited.seal("three grey geese")
    assert refused.status_code == 422
    assert "does not open" in refused.text
    assert "Seal this visit" in visited.page()


def test_without_a_passphrase_it_is_asked_for(visited: Visited) -> None:
    assert visited.seal(None).status_code == 422
    assert 'type="password"' in visited.page()


def test_a_passphrase_in_a_file_is_used_without_asking(
    visited: Visited, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "secret"
    file.write_text(SECRET)
    monkeypatch.setenv(PASSPHRASE_FILE, str(file))
    assert 'type="password"' not in visited.page()
    assert visited.seal(None).status_code == 200


def test_people_come_back_to_the_visit_and_find_its_record(visited: Visited) -> None:
    done = visited.seal(**PEOPLE)
    assert done.status_code == 303
    assert done.headers["Location"].endswith("#record")
    page = visited.page()
    assert "Record 1" in page
    assert ".pdf" in page
    assert "Seal this visit" not in page


def test_a_page_elsewhere_cannot_have_a_visit_sealed(visited: Visited) -> None:
    refused = visited.client.post(
        f"{visited.address}/record",
        data={"passphrase": SECRET},
        headers={"Origin": "http://elsewhere.example"},
    )
    assert refused.status_code == 403


def test_a_form_sent_without_a_script_is_taken(visited: Visited) -> None:
    with TestClient(visited.client.app, base_url=HERE, follow_redirects=False) as plain:
        done = plain.post(
            f"{visited.address}/record",
            data={"passphrase": SECRET},
            headers={"Origin": HERE, "Sec-Fetch-Site": "same-origin", **PEOPLE},
        )
    assert done.status_code == 303


def test_of_no_visit_and_of_another_doorway_nothing_is_sealed(visited: Visited) -> None:
    none = visited.address.replace(visited.visit, str(uuid4()))
    other = visited.address.replace(f"/doorways/{visited.door}/", "/doorways/other/")
    for address in (none, other):
        done = visited.client.post(f"{address}/record", data={"passphrase": SECRET})
        assert done.status_code == 404


def test_the_next_record_of_the_doorway_names_this_one(visited: Visited) -> None:
    digest = visited.seal().json()["digest"]
    visited.visit, visited.phone = str(uuid4()), f"phone-{uuid4()}"
    visited.address = visited.address.rpartition("/")[0] + f"/{visited.visit}"
    told = [visited.mine(one) for one in events(visited.door)]
    visited.client.post("/visits/events", json={"events": told})
    second = visited.seal().json()
    record: Any = verify_bytes(_json(visited, second["digest"])).record
    assert record["parents"] == [digest]
    assert second["number"] == 2


def test_number_and_digest_of_records_stand_on_the_page_of_the_doorway(
    visited: Visited,
) -> None:
    digest = visited.seal().json()["digest"]
    page = visited.client.get(visited.address.rpartition("/")[0], headers=PEOPLE).text
    assert "Record 1" in page
    assert " ".join(digest[at : at + 4] for at in range(0, 64, 4)) in page


# Sealed at the door ------------------------------------------------------------------


def _phone_sealed(visited: Visited, home: Path, **more: Any) -> tuple[str, Any]:
    """What a phone seals of the visit, once its firm vouched for it."""
    phone = new_key()
    said = keys.vouch(home / "keys", phone.public, "Phone 2", lambda _: SECRET)
    folded = visited.client.get(visited.address).json()["folded"]
    pack = visited.client.get(
        f"/sites/{visited.site}/doorways/{visited.door}/card.json"
    ).json()
    table = {
        **pack["record"],
        "claimed": "2026-11-26T10:40:00Z",
        "parents": [],
        "visit": folded,
        **more,
    }
    sealed = seal_record(table, phone, said.read_bytes())
    return sealed.decode(), phone


def test_what_a_phone_sealed_is_kept_as_it_is(visited: Visited, home: Path) -> None:
    text, _ = _phone_sealed(visited, home)
    put = visited.client.put
    first = put(f"{visited.address}/record", json={"text": text})
    again = put(f"{visited.address}/record", json={"text": text})
    assert first.status_code == again.status_code == 200
    assert first.json() == again.json()
    assert _json(visited, first.json()["digest"]) == text.encode()


def test_its_paper_is_made_at_the_desk(
    visited: Visited, home: Path, tmp_path: Path
) -> None:
    text, _ = _phone_sealed(visited, home)
    digest = visited.client.put(
        f"{visited.address}/record", json={"text": text}
    ).json()["digest"]
    address = f"/sites/{visited.site}/records/{digest}.pdf"
    assert visited.client.get(address).status_code == 404
    assert "Make its paper" in visited.page()
    assert visited.seal().json()["digest"] == digest
    paper = tmp_path / "paper.pdf"
    paper.write_bytes(visited.client.get(address).content)
    inside = PdfReader(paper).attachments
    assert inside["record.json"] == [text.encode()]
    assert "Phone 2" in PdfReader(paper).pages[0].extract_text()


def test_what_was_changed_on_the_way_is_not_kept(visited: Visited, home: Path) -> None:
    text, _ = _phone_sealed(visited, home)
    changed = text.replace("in use", "in Use", 1)
    done = visited.client.put(f"{visited.address}/record", json={"text": changed})
    assert done.status_code == 422
    assert "not what was sealed" in done.text


def test_a_stranger_and_a_withdrawn_phone_are_not_kept(
    visited: Visited, home: Path, tmp_path: Path
) -> None:
    text, phone = _phone_sealed(visited, home)
    other = tmp_path / "other"
    keys.begin(other, "Stranger", "Desk", lambda _: SECRET)
    said = keys.vouch(other, phone.public, "Phone 2", lambda _: SECRET)
    record: Any = verify_bytes(text.encode()).record
    foreign = seal_record(record, phone, said.read_bytes())
    put = visited.client.put
    done = put(f"{visited.address}/record", json={"text": foreign.decode()})
    assert done.status_code == 422
    keys.take_back(home / "keys", phone.public[:8], "lost", lambda _: SECRET)
    done = put(f"{visited.address}/record", json={"text": text})
    assert done.status_code == 422
    assert "answers for the device" in done.text


def test_a_record_of_another_visit_is_not_kept(visited: Visited, home: Path) -> None:
    text, _ = _phone_sealed(visited, home, visit={"visit": str(uuid4())})
    done = visited.client.put(f"{visited.address}/record", json={"text": text})
    assert done.status_code == 422
    assert "another visit" in done.text


@pytest.mark.parametrize(
    "more",
    [{"study": None}, {"study": {}}, {"tests": [1]}, {"claimed": "soon"}, {"name": 7}],
)
def test_what_is_sealed_and_no_record_is_not_kept(
    visited: Visited, home: Path, more: dict[str, Any]
) -> None:
    text, _ = _phone_sealed(visited, home, **more)
    done = visited.client.put(f"{visited.address}/record", json={"text": text})
    assert done.status_code == (200 if "name" in more else 422)
    assert visited.seal().status_code == 200


def test_a_sealed_visit_takes_no_second_record(visited: Visited, home: Path) -> None:
    digest = visited.seal().json()["digest"]
    text, _ = _phone_sealed(visited, home)
    done = visited.client.put(f"{visited.address}/record", json={"text": text})
    assert done.status_code == 422
    assert "has a record already" in done.text
    assert visited.seal().json()["digest"] == digest


def test_a_desk_without_keys_says_what_to_type(static: Path, tmp_path: Path) -> None:
    app = create_app(tmp_path / "library.db", static=static)
    with TestClient(app, base_url=HERE, headers=OURS, follow_redirects=False) as asked:
        one = Visited(asked)
        assert "limen keys new --firm" in one.page()
        assert one.seal().status_code == 422
    app.state.desk.library.close()


def _json(visited: Visited, digest: str) -> bytes:
    return visited.client.get(f"/sites/{visited.site}/records/{digest}.json").content


def test_two_who_seal_a_visit_at_once_get_one_record(visited: Visited) -> None:
    with ThreadPoolExecutor(4) as pool:
        done = [one.result() for one in [pool.submit(visited.seal) for _ in range(4)]]
    assert {one.status_code for one in done} == {200}
    assert len({one.json()["digest"] for one in done}) == 1
    listed = visited.client.get(f"/sites/{visited.site}/records").json()
    assert len(listed) == 1
