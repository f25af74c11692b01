"""Other ways, as the doorway page asks for them."""

from pathlib import Path

import pytest
from starlette.testclient import TestClient

DEMO = Path(__file__).parents[2] / "src" / "limen" / "demo"
CHANNEL = "presence.neighbours~~inside and vestibule: outside"


@pytest.fixture(scope="module")
def address(client: TestClient) -> str:
    text = (DEMO / "alder-quay-as-found.toml").read_bytes()
    kept = client.post(
        "/sites", content=text, headers={"Content-Type": "application/toml"}
    )
    return f"/sites/{kept.json()['id']}/doorways/main"


def test_a_program_gets_what_can_be_set(client: TestClient, address: str) -> None:
    told = client.get(f"{address}/ways", params={"finding": CHANNEL})
    assert told.status_code == 200
    keys = [key for way in told.json()["ways"] for key, _ in way["edits"]]
    assert keys
    assert set(keys) == {"fitting[inside].settings.channel"}


def test_a_piece_has_a_button_for_each_way(client: TestClient, address: str) -> None:
    piece = client.get(
        f"{address}/ways", params={"finding": CHANNEL}, headers={"HX-Request": "true"}
    ).text
    assert piece.count("data-try=") == piece.count("<li>") > 0
    assert "<html" not in piece


def test_without_a_script_it_is_a_page_of_its_own(
    client: TestClient, address: str
) -> None:
    page = client.get(
        f"{address}/ways", params={"finding": CHANNEL}, headers={"Accept": "text/html"}
    ).text
    assert page.count("Set the inside unit to channel") > 1
    shown = client.get(address, params={"finding": CHANNEL}).text
    assert f"{address}/ways?finding=presence.neighbours" in shown


def test_the_finding_that_is_drawn_says_what_to_do(
    client: TestClient, address: str
) -> None:
    plain = client.get(address).text
    shown = client.get(address, params={"finding": CHANNEL}).text
    assert "Set the inside unit to channel 2." not in plain
    assert "Set the inside unit to channel 2." in shown


def test_a_finding_that_is_not_there_is_refused_with_its_name(
    client: TestClient, address: str
) -> None:
    told = client.get(f"{address}/ways", params={"finding": "nothing~~"})
    assert told.status_code == 422
    assert "nothing~~" in told.text
