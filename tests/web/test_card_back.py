"""What a card saved as a file is taken in on a page, without a script."""

import json
from typing import Any

import pytest
from httpx2 import Response
from starlette.testclient import TestClient

from builders.visit_events import STARTED, name, raw, step
from limen.desk.card_back import MARK

HERE = "/visits/take-in"
PEOPLE = {"Accept": "text/html"}


@pytest.fixture
def site(client: TestClient) -> str:
    made = client.post("/sites", data={"demo": "as-found"})
    return str(made.json()["id"])


def _saved(site: str, device: str) -> bytes:
    events: list[dict[str, Any]] = [
        raw(device, 1, "started", dict(STARTED), site=site, visit=name(device, 0)),
        raw(device, 2, "step", step("stayed open"), site=site, visit=name(device, 0)),
    ]
    return json.dumps({MARK: 1, "events": events, "photos": []}).encode()


def _send(client: TestClient, data: bytes, **headers: str) -> Response:
    files = {"file": ("limen-visit.json", data)}
    return client.post(HERE, files=files, headers=headers)


def test_a_visit_comes_back_and_its_door_is_named(
    client: TestClient, site: str
) -> None:
    answer = _send(client, _saved(site, "phone-a"), **PEOPLE)
    assert answer.status_code == 200
    assert "2 events taken in." in answer.text
    at = f"/sites/{site}/doorways/main/visits"
    assert f'href="{at}"' in answer.text
    assert "Visit of" in client.get(at, headers=PEOPLE).text
    again = _send(client, _saved(site, "phone-a"), **PEOPLE)
    assert "2 events were known already." in again.text


@pytest.mark.parametrize("data", [b"", b"{}", b'{"limen_visit": 1}', b"\xff\xd8"])
def test_another_file_is_refused_and_the_form_stays(
    client: TestClient, data: bytes
) -> None:
    answer = _send(client, data, **PEOPLE)
    assert answer.status_code == 422
    assert 'role="alert"' in answer.text
    assert 'type="file"' in answer.text


def test_what_cannot_be_used_is_said_and_what_came_before_is_kept(
    client: TestClient, site: str
) -> None:
    whole = json.loads(_saved(site, "phone-b"))
    whole["events"][1]["kind"] = "sung"
    answer = _send(client, json.dumps(whole).encode())
    assert answer.status_code == 422
    assert answer.json()["new"] == 1
    assert "Event 2" in answer.json()["lines"][0]


def test_a_long_file_is_taken_and_one_that_is_too_long_is_not(
    client: TestClient, site: str
) -> None:
    padded = json.loads(_saved(site, "phone-c")) | {"more": "x" * 3_000_000}
    assert _send(client, json.dumps(padded).encode()).status_code == 200
    assert _send(client, b"x" * 60_100_000).status_code == 413
