"""The margin map of the page: the layer, the same in words, one place at a time."""

import re
from importlib.resources import files

import pytest
from starlette.testclient import TestClient

DEMO = files("limen").joinpath("demo", "alder-quay-as-found.toml").read_text("utf-8")
PATH = "presence.leaf_path~~upright"


@pytest.fixture(scope="module")
def site(client: TestClient) -> str:
    reply = client.post("/sites", content=DEMO.encode())
    return f"/sites/{reply.json()['id']}/doorways"


def _map(client: TestClient, site: str, door: str, **what: str) -> dict[str, object]:
    reply = client.get(f"{site}/{door}/map", params={"finding": PATH, **what})
    assert reply.status_code == 200
    return reply.json()


def test_the_layer_lies_on_the_drawing_it_was_asked_for(
    client: TestClient, site: str
) -> None:
    what = {"version": 1, "view": "room", "finding": PATH, "width": 840, "rests": True}
    ground = client.post(f"{site}/main/preview", json=what).json()["svg"]
    layer = _map(client, site, "main", width="840")["svg"]
    assert isinstance(layer, str)
    boxes = [re.findall(r'viewBox="([^"]+)"', one) for one in (ground, layer)]
    assert boxes[0] == boxes[1]


def test_the_place_with_least_room_is_said_as_it_is_shown(
    client: TestClient, site: str
) -> None:
    found = _map(client, site, "main")
    column, row = found["worst"]  # type: ignore[misc]  # two numbers
    place = client.get(
        f"{site}/main/map/place", params={"finding": PATH, "column": column, "row": row}
    ).json()["says"]
    assert place in found["least"]  # type: ignore[operator]  # words
    assert "nearest beam between 26" in place
    assert "from the left post" in place


def test_feet_are_said_where_they_are_asked_for(client: TestClient, site: str) -> None:
    cookies = {"Cookie": "limen_units=feet"}
    reply = client.get(f"{site}/main/map", params={"finding": PATH}, headers=cookies)
    assert " in " in reply.json()["least"]
    assert "mm" not in " ".join(reply.json()["stretches"])


def test_where_nothing_is_known_no_place_is_said_to_be_reached(
    client: TestClient, site: str
) -> None:
    found = _map(client, site, "escape")
    assert [band for band, _ in found["key"]] == ["not-shown"]  # type: ignore[union-attr]


def test_a_finding_without_a_map_gives_that_of_the_line_of_the_leaves(
    client: TestClient, site: str
) -> None:
    found = _map(client, site, "staff", finding="wiring.inputs~~")
    assert "line of the leaves" in str(found["heading"])


def test_a_place_off_the_map_is_refused(client: TestClient, site: str) -> None:
    what = {"finding": PATH, "column": 9999, "row": 0}
    assert client.get(f"{site}/staff/map/place", params=what).status_code == 409


def test_a_case_that_is_not_there_is_said(client: TestClient, site: str) -> None:
    what = {"finding": "presence.leaf_path~~on its head"}
    reply = client.get(f"{site}/staff/map", params=what)
    assert reply.status_code == 422
    assert reply.json()["lines"]


def test_each_setting_is_asked_for_by_itself(client: TestClient, site: str) -> None:
    key = "fitting[outside].lens.height"
    found = client.get(
        f"{site}/staff/ranges", params={"unit": "outside", "key": key}
    ).json()
    assert set(found["windows"]) == {key}
    assert found["windows"][key]["least"] < 2200 < found["windows"][key]["most"]
    unknown = {"unit": "outside", "key": "fitting[outside].lens.width"}
    assert client.get(f"{site}/staff/ranges", params=unknown).status_code == 422
