"""The page of all doorways: filters, states, counts, a table to take along."""

import re
import time
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from builders.many_doors import filled
from limen.web.app import create_app
from web.conftest import HERE, OURS

DAY = date(2026, 11, 25)
PEOPLE = {"Accept": "text/html"}
FORM = {"Content-Type": "application/x-www-form-urlencoded"}


@pytest.fixture(scope="module")
def many(
    static: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[TestClient]:
    """A server with 120 doorways at 12 sites, as they were studied and visited."""
    path = tmp_path_factory.mktemp("many") / "library.db"
    filled(path, 12, 120, 300, DAY).library.close()
    app = create_app(path, today=lambda: DAY, static=static)
    with TestClient(app, base_url=HERE, headers=OURS, follow_redirects=False) as asked:
        yield asked
    app.state.studying.close()
    app.state.desk.library.close()


def _page(client: TestClient, address: str) -> str:
    reply = client.get(address, headers=PEOPLE)
    assert reply.status_code == 200, address
    return reply.text


def _counts(client: TestClient, address: str = "/doors") -> dict[str, int]:
    return client.get(address).json()["counts"]


def test_a_hundred_stand_on_a_page_and_the_rest_on_the_next(many: TestClient) -> None:
    first, second = _page(many, "/doors"), _page(many, "/doors?start=100")
    assert (first.count('<th scope="row">'), second.count('<th scope="row">')) == (
        100,
        20,
    )
    assert 'rel="next" href="/doors?start=100"' in first
    assert 'rel="prev"' in second


def test_a_state_shows_as_many_as_it_counts(many: TestClient) -> None:
    counts = _counts(many)
    assert counts["all"] == 120
    for state, count in counts.items():
        text = _page(many, f"/doors?state={state}")
        shown = text.count('<th scope="row">')
        assert shown == min(count, 100), state
        assert _counts(many, f"/doors?state={state}") == counts


def test_filters_narrow_and_each_can_be_left_out(many: TestClient) -> None:
    row = many.get("/doors").json()["doorways"][0]
    address = f"/doors?site={row['site']}&place={row['place']}".replace(" ", "+")
    text = _page(many, address)
    assert text.count('<th scope="row">') == 10
    assert text.count("Leave out this filter") == 2
    assert _counts(many, address)["all"] == 10


def test_the_address_holds_all_that_is_seen(many: TestClient) -> None:
    asked = "q=door&state=mend&rulebook=en&sort=mend&down=1"
    text = _page(many, f"/doors?{asked}")
    table = re.search(r'href="(/doors\.csv\?[^"]+)"', text)
    assert table is not None
    said = set(table[1].partition("?")[2].replace("&amp;", "&").split("&"))
    assert said == set(asked.split("&"))
    assert 'value="door"' in text
    assert 'aria-sort="descending"' in text


def test_the_table_holds_all_pages_of_what_is_shown(many: TestClient) -> None:
    reply = many.get("/doors.csv?sort=name")
    assert reply.headers["content-type"] == "text/csv; charset=utf-8"
    lines = reply.content.decode("utf-8-sig").splitlines()
    assert len(lines) == 121
    assert lines[0].startswith("Site,Id,Doorway,")


def test_what_fails_most_leads_to_the_doorways_it_counts(many: TestClient) -> None:
    text = _page(many, "/doors?view=fails")
    cell = re.search(r'<a href="(/doors\?[^"]+)" aria-label="[^"]+">(\d+)</a>', text)
    assert cell is not None
    found = _counts(many, cell[1].replace("&amp;", "&"))
    assert found["all"] == int(cell[2])


def test_what_is_due_where_leads_to_the_doorways_it_counts(many: TestClient) -> None:
    for by in ("site", "place", "route", "person"):
        text = _page(many, f"/doors?view=due&by={by}")
        cells = re.findall(
            r'<a href="(/doors\?[^"]+)" aria-label="[^"]+">(\d+)</a>', text
        )
        assert cells
        for address, count in cells[:: max(1, len(cells) // 6)]:
            assert _counts(many, address.replace("&amp;", "&"))["all"] == int(count)


def test_looking_reads_no_text_and_writes_nothing(
    many: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*_: object, **__: object) -> None:
        raise AssertionError

    monkeypatch.setattr("limen.desk.library.open_site", never)
    monkeypatch.setattr("limen.store.database.connecting.writing", never)
    for view in ("list", "fails", "due"):
        _page(many, f"/doors?view={view}")


@pytest.mark.parametrize(
    "wrong", ["state=ours", "sort=key", "due=soon", "start=-1", "view=map", "by=moon"]
)
def test_what_nobody_can_ask_is_refused(many: TestClient, wrong: str) -> None:
    assert many.get(f"/doors?{wrong}").status_code == 422


def test_what_is_not_studied_is_said_and_studied_beside_the_answers(
    client: TestClient,
) -> None:
    demo = Path(__file__).parents[2] / "src" / "limen" / "store" / "starter.toml"
    client.post("/sites", content=demo.read_bytes())
    assert _counts(client)["unknown"] >= 1
    assert "not studied yet" in _page(client, "/doors")
    reply = client.post("/doors/study", headers={**PEOPLE, **FORM})
    assert (reply.status_code, reply.headers["location"]) == (303, "/doors")
    told: dict[str, str] = {}
    for _ in range(600):
        told = client.get("/doors/study").json()
        if told["state"] not in ("waits", "works"):
            break
        time.sleep(0.1)
    assert told["state"] == "done"
    assert _counts(client)["unknown"] == 0
    assert client.post("/doors/study/stop").status_code == 404
