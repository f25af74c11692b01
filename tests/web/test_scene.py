"""The doorway page in space, and its walks: what a page is sent."""

import re
from importlib.resources import files
from typing import Any

import pytest
from starlette.testclient import TestClient

DEMO = files("limen").joinpath("demo", "alder-quay-as-found.toml").read_text("utf-8")
TILT = "fitting[outside].settings.tilt"
LATE = "approach.opens_in_time~~outside, reduced width"
MISSED = "presence.threshold~~upright"


@pytest.fixture(scope="module")
def door(client: TestClient) -> str:
    reply = client.post("/sites", content=DEMO.encode())
    return f"/sites/{reply.json()['id']}/doorways/main"


def _try(client: TestClient, door: str, edits: dict[str, str], **more: Any) -> Any:
    what = {"version": 1, "edits": edits, "view": "space", "width": 900, **more}
    reply = client.post(f"{door}/preview", json=what)
    assert reply.status_code == 200
    return reply.json()


def _walk(client: TestClient, door: str, **more: Any) -> Any:
    return client.get(f"{door}/walk", params={"finding": LATE, **more})


def test_3_d_stands_beside_the_other_drawings(client: TestClient, door: str) -> None:
    page = client.get(door, params={"view": "space"}).text
    assert re.search(r'name="view" value="space" checked', page)
    assert 'data-view="space"' in page
    assert "WebGL is not there" in page


def test_at_rest_the_doorway_is_sent_in_space_and_in_words(
    client: TestClient, door: str
) -> None:
    rested = _try(client, door, {}, rests=True, finding=MISSED)
    space = rested["space"]
    assert rested["view"] == "space"
    assert rested["svg"] == ""
    assert space["says"] in rested["says"]
    plan = _try(client, door, {}, rests=True, finding=MISSED, view="plan")
    assert plan["space"] is None
    assert space["says"] in plan["says"]
    assert any(one["part"] == "cross" for one in space["posts"])


def test_what_is_turned_is_moved_in_space_too(client: TestClient, door: str) -> None:
    before = _try(client, door, {}, rests=True, finding=MISSED)["space"]
    after = _try(client, door, {TILT: "-2.5 deg"}, finding=MISSED)["space"]
    named = [{one["text"] for one in scene["named"]} for scene in (before, after)]
    assert "row 1, 59 mm" not in named[0]
    assert "row 1, 59 mm" in named[1]


def test_while_something_is_turned_no_walk_is_said_to_be_there(
    client: TestClient, door: str
) -> None:
    assert "walk" not in _try(client, door, {TILT: "-2.5 deg"}, finding=LATE)
    assert _try(client, door, {}, rests=True, finding=LATE)["walk"] == LATE
    assert _try(client, door, {}, rests=True, finding=MISSED)["walk"] == ""


def test_a_walk_is_sent_for_the_plan_with_where_the_door_lies_in_it(
    client: TestClient, door: str
) -> None:
    sent = _walk(client, door, view="plan", width=900).json()
    assert sent["finding"] == LATE
    drawn = sent["svg"].replace("\N{NO-BREAK SPACE}", " ")
    assert "0.4 s, noticed" in drawn
    assert sent["scale"] > 0
    assert 0 < sent["zero"][0] < 900
    # A unit is taken hold of where it is drawn: its lens is on the middle.
    wide = sent["zero"][0] / 9
    assert [one["x"] for one in sent["grips"]] == pytest.approx([wide] * 2, abs=0.01)
    assert sent["per_metre"] == pytest.approx(sent["scale"] / 9)
    assert "\N{REPLACEMENT CHARACTER}" not in sent["svg"] + sent["html"]


def test_for_someone_inside_the_walk_is_turned_with_the_plan(
    client: TestClient, door: str
) -> None:
    straight = _walk(client, door, view="plan", width=900).json()["scale"]
    client.cookies.set("limen_side", "inside")
    turned = _walk(client, door, view="plan", width=900).json()["scale"]
    client.cookies.clear()
    assert turned == pytest.approx(-straight)


def test_a_walk_is_sent_for_the_drawing_in_space(client: TestClient, door: str) -> None:
    sent = _walk(client, door, view="space").json()
    assert "svg" not in sent
    assert any("noticed" in one["text"] for one in sent["space"]["named"])
    assert sent["course"]["told"] < sent["course"]["arrives"] < sent["course"]["ends"]


def test_the_text_of_a_walk_is_a_short_table(client: TestClient, door: str) -> None:
    html = _walk(client, door).json()["html"]
    assert len(re.findall(r"<tr data-at=", html)) == 6
    assert "<th scope=" in html
    assert "Noticed: the operator is told to open." in html


def test_lengths_on_a_walk_are_in_the_readers_units(
    client: TestClient, door: str
) -> None:
    client.cookies.set("limen_units", "feet")
    sent = _walk(client, door).json()
    client.cookies.clear()
    assert not any("mm" in one for one in sent["course"]["words"])
    assert "mm" not in re.sub(r"<[^>]*>", "", sent["html"])


@pytest.mark.parametrize("finding", [MISSED, "approach.opens_in_time", "no such thing"])
def test_a_finding_without_a_walk_is_refused_in_plain_words(
    client: TestClient, door: str, finding: str
) -> None:
    reply = client.get(f"{door}/walk", params={"finding": finding})
    assert reply.status_code == 422
    assert reply.json()["lines"] == ["This finding shows no walk."]


@pytest.mark.parametrize(
    "odd", [{"view": "ceiling"}, {"width": "-3"}, {"finding": "x" * 300}]
)
def test_an_odd_question_for_a_walk_is_refused(
    client: TestClient, door: str, odd: dict[str, str]
) -> None:
    assert _walk(client, door, **odd).status_code == 422
