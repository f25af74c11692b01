"""The page of what changed, and the card that asks for nothing but what is owed."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from builders.visit_events import STARTED
from limen.desk import between
from limen.desk.keys import PASSPHRASE_FILE
from limen.desk.spoken import At
from limen.store.starter import starter_text
from web.visited_desk import PEOPLE, SECRET, first_row, keyed, tap, words


@pytest.fixture(scope="module")
def client(
    static: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[TestClient]:
    with keyed(tmp_path_factory.mktemp("desk"), static) as asked:
        yield asked


def test_a_change_leads_from_the_visits_to_the_tests_it_owes(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv(PASSPHRASE_FILE, raising=False)
    kept = client.post("/sites", content=starter_text()).json()
    site, door = kept["id"], f"/sites/{kept['id']}/doorways/main"
    assert "has no record yet" in words(client, f"{door}/change")
    assert client.get(f"{door}/change").json() is None
    pack = client.get(f"{door}/card.json").json()
    assert "change" not in pack  # without a record there is nothing to compare

    started = STARTED | {"digest": kept["digest"], "version": kept["version"]}
    least = [one["id"] for one in pack["tests"] if one["minimum"]]
    good = [("step", {"step": one, "answer": "stayed open"}) for one in least]
    first = tap(
        client,
        site,
        ("started", started),
        ("reading", first_row("64 mm")),
        *good,
        first_minute=600,
    )
    sealed = client.post(f"{door}/visits/{first}/record", data={"passphrase": SECRET})
    assert sealed.status_code == 200
    page = words(client, f"{door}/change")
    assert "Compared with record 1" in page
    assert "No test is owed." in page
    assert f'href="{door}/change"' in client.get(f"{door}/visits", headers=PEOPLE).text

    text = client.get(f"/sites/{site}/site.toml").text
    turned = text.replace('clearance = "220 mm"', 'clearance = "21 cm"', 1)
    assert turned != text
    headers = {"If-Match": f'"{kept["version"]}"', "Content-Type": "application/toml"}
    saved = client.put(f"/sites/{site}/text", content=turned, headers=headers)
    assert saved.status_code == 200
    shown = client.get(f"{door}/change", headers=PEOPLE).text
    assert f'href="/card#/take/{site}/main/owed"' in shown
    page = words(client, f"{door}/change")
    assert re.search(r"Owed because this changed: Side space: left .* → 210 mm", page)
    said = client.get(f"{door}/change").json()
    owed = [one["id"] for one in said["owed"]]
    assert owed == ["trailing.left"]

    _carried(client, door, owed)
    tap(
        client,
        site,
        ("started", started),
        ("as_found", first_row("110 mm")),
        first_minute=600,
    )
    again = client.get(f"{door}/change").json()
    assert set(owed) < {one["id"] for one in again["owed"]}
    assert "moved 46 mm" in again["readings"][0]["says"]
    assert client.get(f"{door}/change?record=9").status_code == 422
    _fitted(client, site, door)


def _fitted(client: TestClient, site: str, door: str) -> None:
    """A part that was fitted since owes what rests on its unit."""
    app: Any = client.app
    said = {"name": "Radar", "fitting": "outside"}
    between.part(app.state.desk, At(site, "main", "R. Okafor"), said, fitted=True)
    found = client.get(f"{door}/change").json()
    assert "plug.outside" in {one["id"] for one in found["owed"]}
    assert found["done"] == ["part fitted: Radar"]


def _carried(client: TestClient, door: str, owed: list[str]) -> None:
    """The card is told what is owed, and asks for nothing else if it is to."""
    pack = client.get(f"{door}/card.json?owed=true").json()
    change = pack["change"]
    assert [one["id"] for one in change["owed"]] == owed
    assert change["only"] is True
    assert len(pack["tests"]) > len(owed)
    row = next(one for one in change["left"] if one["left"] == 0.064)
    assert (row["fitting"], row["row"], row["within"]) == ("inside", 1, 0.005)
    assert "box.middle" in row["owes"]
    assert not any(one.startswith("walk") for one in row["owes"])
    assert json.dumps(change)
