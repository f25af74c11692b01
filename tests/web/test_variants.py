"""Variants on the page: kept, held side by side, taken, undone."""

import re
from importlib.resources import files
from typing import Any

import pytest
from starlette.testclient import TestClient

DEMO = files("limen").joinpath("demo", "alder-quay-as-found.toml").read_text("utf-8")
TILTS = {f"fitting[{side}].settings.tilt": "-2.5 deg" for side in ("outside", "inside")}
PEOPLE = {"Accept": "text/html"}
PIECE = {"HX-Request": "true"}


@pytest.fixture
def site(client: TestClient) -> str:
    reply = client.post("/sites", content=DEMO.encode())
    return f"/sites/{reply.json()['id']}"


@pytest.fixture
def door(site: str) -> str:
    return f"{site}/doorways/main"


def _keep(client: TestClient, door: str, name: str) -> dict[str, Any]:
    reply = client.post(f"{door}/variants", data={"name": name})
    assert reply.status_code == 201
    return reply.json()


def _turned(client: TestClient, door: str) -> str:
    """As found kept as a variant, then the rows brought nearer; its id."""
    kept = _keep(client, door, "As found")["id"]
    saved = {"version": 1, "edits": TILTS}
    assert client.post(f"{door}/save", json=saved).status_code == 200
    return kept


def test_a_variant_keeps_the_settings_of_every_unit_as_the_text_has_them(
    client: TestClient, door: str
) -> None:
    kept = _keep(client, door, "  As  found ")
    assert kept["name"] == "As found"
    assert '"fitting[outside].settings.tilt" = "-1.3 deg"\n' in kept["text"]
    assert '"fitting[inside].lens.height" = "2200 mm"\n' in kept["text"]
    assert client.get(f"{door}/variants").json() == [kept]


def test_two_of_one_name_are_told_apart_and_one_without_a_name_gets_one(
    client: TestClient, door: str
) -> None:
    names = [_keep(client, door, name)["name"] for name in ("A", "A", "", "")]
    assert len(set(names)) == 4


def test_a_name_that_is_none_is_refused_and_what_was_typed_stays(
    client: TestClient, door: str
) -> None:
    long = "x" * 150
    reply = client.post(f"{door}/variants", data={"name": long}, headers=PIECE)
    assert reply.status_code == 422
    assert f'value="{long}"' in reply.text
    assert "Accepted" in reply.text
    assert client.get(f"{door}/variants").json() == []


def test_side_by_side_shows_what_differs_and_nothing_else(
    client: TestClient, door: str
) -> None:
    kept = _turned(client, door)
    page = client.get(f"{door}/compare", params={"right": kept}, headers=PEOPLE).text
    assert page.count('class="limen-drawing"') == 4
    settings = page[page.index("Settings that differ") :]
    settings = settings[: settings.index("Verdicts that differ")]
    assert settings.count('<th scope="row">') == 2
    assert "−2.5°" in settings
    assert "−1.3°" in settings
    verdicts = page[page.index("Verdicts that differ") :]
    assert "27\N{NO-BREAK SPACE}mm short" in verdicts or "27 mm short" in verdicts


@pytest.mark.parametrize("view", ["plan", "front", "section"])
def test_both_drawings_have_one_scale(client: TestClient, door: str, view: str) -> None:
    kept = _turned(client, door)
    what = {"right": kept, "view": view}
    page = client.get(f"{door}/compare", params=what, headers=PEOPLE).text
    bars = re.findall(
        r'<path d="M([\d.]+) [\d.]+L([\d.]+) [\d.]+" fill="none" '
        r'stroke="#56616A" stroke-width="1.2"/>',
        page,
    )
    lengths = [round(float(b) - float(a), 1) for a, b in bars]
    half = len(lengths) // 2
    assert lengths
    assert lengths[:half] == lengths[half:]


def test_a_variant_that_is_taken_changes_its_settings_alone_and_can_be_undone(
    client: TestClient, site: str, door: str
) -> None:
    kept = _turned(client, door)
    before = client.get(f"{site}/site.toml").text
    stale = client.post(f"{door}/variants/{kept}/take", headers={"If-Match": '"1"'})
    assert stale.status_code == 412
    bare = client.post(f"{door}/variants/{kept}/take")
    assert bare.status_code == 428
    taken = client.post(f"{door}/variants/{kept}/take", headers={"If-Match": '"2"'})
    assert taken.json()["version"] == 3
    text = client.get(f"{site}/site.toml").text
    assert text.count('tilt = "-1.3 deg"') == DEMO.count('tilt = "-1.3 deg"')
    assert client.post(f"{door}/undo", json={"version": 3}).status_code == 200
    assert client.get(f"{site}/site.toml").text == before


def test_taking_what_is_there_already_is_refused_and_saves_nothing(
    client: TestClient, door: str
) -> None:
    kept = _keep(client, door, "As found")["id"]
    reply = client.post(f"{door}/variants/{kept}/take", headers={"If-Match": '"1"'})
    assert reply.status_code == 422
    assert "Nothing was changed" in reply.text


def test_a_unit_that_was_taken_out_is_named_and_left_out(
    client: TestClient, site: str, door: str
) -> None:
    kept = _keep(client, door, "As found")["id"]
    text = DEMO.replace('id = "inside"', 'id = "indoors"', 1)
    put = client.put(f"{site}/text", content=text.encode(), headers={"If-Match": '"1"'})
    assert put.status_code == 200
    page = client.get(f"{door}/compare", params={"right": kept}, headers=PEOPLE)
    assert page.status_code == 200
    assert "no more here" in page.text


def test_what_is_put_away_comes_back(client: TestClient, door: str) -> None:
    kept = _keep(client, door, "As found")["id"]
    for way, away in (("away", True), ("back", False)):
        reply = client.post(f"{door}/variants/{kept}/{way}")
        assert reply.json()["away"] is away
        assert client.get(f"{door}/variants").json()[0]["away"] is away


def test_a_variant_that_is_not_there_is_said(client: TestClient, door: str) -> None:
    page = client.get(f"{door}/compare", params={"right": "none"}, headers=PEOPLE)
    assert page.status_code == 422
    assert "no such variant" in page.text


def test_without_a_variant_the_page_says_how_to_come_by_one(
    client: TestClient, door: str
) -> None:
    page = client.get(f"{door}/compare", headers=PEOPLE)
    assert page.status_code == 200
    assert "nothing to compare yet" in page.text


def test_what_is_typed_stands_in_the_page_as_text(
    client: TestClient, door: str
) -> None:
    script = "<script>alert(1)</script>"
    _keep(client, door, script)
    for path in ("variants", "compare"):
        piece = client.get(f"{door}/{path}", headers={**PEOPLE, **PIECE})
        assert script not in piece.text
