"""What the desk was told of a door goes along to whoever goes there."""

from collections.abc import Iterator, Sequence
from datetime import timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from starlette.testclient import TestClient

from builders.visit_events import STARTED, raw
from limen.desk.clock import now
from limen.desk.keys import PASSPHRASE_FILE
from limen.store.starter import starter_text
from web.visited_desk import PEOPLE, SECRET, keyed, words

TOLD = {"mode": "automatic", "changed": "nothing", "lamp_presence": "sees"}


@pytest.fixture(scope="module")
def client(
    static: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[TestClient]:
    with keyed(tmp_path_factory.mktemp("desk"), static) as asked:
        yield asked


@pytest.fixture
def site(client: TestClient) -> str:
    return client.post("/sites", content=starter_text()).json()["id"]


def door_of(site: str) -> str:
    return f"/sites/{site}/doorways/main"


def called(client: TestClient, site: str, **given: str) -> str:
    """A call-out at the desk; its address."""
    first = {"does": "reopens", "person": "R. Okafor"}
    reply = client.post(f"{door_of(site)}/trace", data=first, headers=PEOPLE)
    call = reply.headers["location"]
    for question, answer in {**TOLD, **given}.items():
        client.post(call, data={"question": question, "answer": answer})
    return call


def told(client: TestClient, site: str) -> dict[str, Any] | None:
    return client.get(f"{door_of(site)}/card.json").json()["trace"].get("told")


def at_door(
    client: TestClient, site: str, later: timedelta, *said: tuple[str, Any]
) -> str:
    """A visit so long after now."""
    visit, phone = str(uuid4()), f"phone-{uuid4()}"
    events: list[dict[str, Any]] = []
    every: Sequence[tuple[str, Any]] = [("started", started(client, site)), *said]
    for seq, (kind, one) in enumerate(every, 1):
        at = now() + later + timedelta(seconds=seq)
        made = raw(phone, seq, kind, one, site=site, visit=visit)
        events.append(made | {"at": f"{at:%Y-%m-%dT%H:%M:%SZ}"})
    sent = client.post("/visits/events", json={"events": events})
    assert sent.status_code == 200, sent.text
    return visit


def started(client: TestClient, site: str) -> dict[str, Any]:
    kept = client.get(f"/sites/{site}").json()
    return STARTED | {"digest": kept["digest"], "version": kept["version"]}


def seal(client: TestClient, site: str, visit: str) -> None:
    address = f"{door_of(site)}/visits/{visit}/record"
    assert client.post(address, data={"passphrase": SECRET}).status_code == 200


def test_the_card_carries_what_was_answered_when_and_who_noted_it(
    client: TestClient, site: str
) -> None:
    assert told(client, site) is None
    called(client, site, mode="locked")
    call = called(client, site, cause="own_leaf")
    carried = told(client, site)
    assert carried is not None
    assert carried["call"] == call.split("/")[-1]
    assert carried["answers"] == {"does": "reopens", **TOLD}
    assert carried["cause"] == "own_leaf"
    assert "by R. Okafor, " in carried["says"]


def test_what_was_taken_over_is_told_apart_and_leads_back_to_the_call_out(
    client: TestClient, site: str
) -> None:
    call = called(client, site)
    assert client.get(call).json()["visits"] == []
    of = {"call": call.split("/")[-1]}
    over = [
        ("traced", {"question": "does", "answer": "reopens", **of}),
        ("traced", {"question": "leaf_held", "answer": "gone"}),
    ]
    visit = at_door(client, site, timedelta(hours=1), *over)
    assert client.get(call).json()["visits"] == [visit]
    page = client.get(call, headers=PEOPLE).text
    assert f'href="{door_of(site)}/visits/{visit}"' in page
    shown = words(client, f"{door_of(site)}/visits/{visit}")
    assert "taken over from the desk: What does the door do? turns back" in shown
    assert "asked: Hold the leaf still" in shown
    handed = words(client, f"{door_of(site)}/visits/{visit}/description")
    assert "turns back while closing" in handed


@pytest.mark.parametrize("later", [-1, 1], ids=["before it", "since"])
def test_a_visit_that_was_sealed_since_ends_it(
    later: int,
    client: TestClient,
    site: str,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delenv(PASSPHRASE_FILE, raising=False)
    called(client, site)
    visit = at_door(client, site, timedelta(hours=later))
    assert told(client, site) is not None  # not sealed: somebody may go there again
    seal(client, site, visit)
    assert (told(client, site) is None) == (later > 0)


def test_a_call_out_is_named_by_its_own_name_or_not_at_all(
    client: TestClient, site: str
) -> None:
    said = {"question": "does", "answer": "reopens", "call": "Tuesday's"}
    event = raw("wrong", 1, "traced", said, site=site, visit=str(uuid4()))
    reply = client.post("/visits/events", json={"events": [event]})
    assert "said.call" in reply.text
