"""The doorway page: what is turned is shown, asked, saved and can be undone."""

import re
from importlib.resources import files
from typing import Any

import pytest
from starlette.testclient import TestClient

DEMO = files("limen").joinpath("demo", "alder-quay-as-found.toml").read_text("utf-8")
TILT = "fitting[outside].settings.tilt"
INSIDE = "fitting[inside].settings.tilt"
THRESHOLD = "presence.threshold~~upright"
SHORT = """
name = "Corner shop"

[[short]]
id = "main"
name = "Main entrance"
commissioned = 2018-06-01
leaves = "bi-parting"
clear_width = "2045 mm"
lens_height = "2200 mm"
unit_outside = "two-row"
plumb_outside = "150 mm"
unit_inside = "not-known"
opening_runs = ["2.5 s", "2.6 s", "2.5 s"]
closing_runs = ["4.5 s", "4.6 s", "4.4 s"]
"""
SCRIPT = '<script>alert("x")</script>'


@pytest.fixture
def door(client: TestClient) -> str:
    reply = client.post("/sites", content=DEMO.encode())
    return f"/sites/{reply.json()['id']}/doorways/main"


def _try(client: TestClient, door: str, edits: dict[str, str], **more: Any) -> Any:
    what = {"version": 1, "edits": edits, "unit": "outside", "width": 900, **more}
    return client.post(f"{door}/preview", json=what)


def _save(client: TestClient, door: str, edits: dict[str, str], version: int) -> Any:
    what = {"version": version, "edits": edits}
    return client.post(f"{door}/save", json=what)


def _text(client: TestClient, door: str) -> str:
    return client.get(f"{door.rpartition('/doorways/')[0]}/site.toml").text


def test_the_page_can_be_read_without_a_script(client: TestClient, door: str) -> None:
    page = client.get(door, headers={"Accept": "text/html"})
    assert page.status_code == 200
    assert page.text.count('class="limen-drawing"') == 3
    assert "Bring the first row of both units" in page.text
    assert "First row lands 105\N{NO-BREAK SPACE}mm" in page.text or (
        "First row lands 105 mm" in page.text
    )


def test_the_page_keeps_to_its_policy(client: TestClient, door: str) -> None:
    page = client.get(door).text
    assert not re.search(r"\sstyle=", page)
    assert not re.search(r"\son\w+=", page)
    assert not re.search(r"<script(?![^>]*\ssrc=)", page)


def test_the_finding_of_a_link_is_the_one_that_is_drawn(
    client: TestClient, door: str
) -> None:
    wanted = "presence.leaf_path~~on its edge"
    page = client.get(door, params={"finding": wanted}).text
    assert f'data-drawn="{wanted}"' in page
    assert "test body, on its edge" in page


def test_a_row_that_is_turned_is_drawn_where_it_lands(
    client: TestClient, door: str
) -> None:
    before = _try(client, door, {}, rests=True).json()
    after = _try(client, door, {TILT: "-2.5 deg"}).json()
    assert before["reads"]["outside"] == "First row lands 105 mm from the leaf face"
    assert after["reads"]["outside"] == "First row lands 59 mm from the leaf face"
    assert "row 1, 59 mm" in after["svg"]
    assert "row 1, 105 mm" in after["svg"]
    assert "version" not in after


def test_what_is_tried_is_not_saved(client: TestClient, door: str) -> None:
    _try(client, door, {TILT: "-2.5 deg"})
    assert _text(client, door) == DEMO


def test_while_a_unit_moves_only_what_was_asked_has_an_answer(
    client: TestClient, door: str
) -> None:
    lines = _try(client, door, {TILT: "-1.4 deg"}).json()["lines"]
    assert lines[THRESHOLD]["verdict"] == "fails"
    assert all(name.startswith("presence.") for name in lines)


def test_the_field_of_a_radar_follows_its_tilt(client: TestClient, door: str) -> None:
    turned = {"fitting[outside].settings.radar_tilt": "35 deg"}
    lines = _try(client, door, turned, finding="approach.opens_in_time~~x").json()
    assert any(name.startswith("approach.minimum_zone") for name in lines["lines"])


def test_the_remedy_of_the_next_thing_makes_its_finding_hold(
    client: TestClient, door: str
) -> None:
    edits = {TILT: "-2.5 deg", INSIDE: "-2.5 deg"}
    assert _save(client, door, edits, 1).json()["version"] == 2
    rested = _try(client, door, {}, rests=True, version=2, finding=THRESHOLD).json()
    assert rested["drawn"] == THRESHOLD
    assert "Bring the first row" not in rested["next_html"]
    assert 'data-group="fails"' in rested["findings_html"]
    assert rested["can_undo"]


def test_a_save_changes_the_value_and_nothing_else(
    client: TestClient, door: str
) -> None:
    _save(client, door, {TILT: "-2.4°"}, 1)
    old, new = DEMO.splitlines(), _text(client, door).splitlines()
    changed = [(a, b) for a, b in zip(old, new, strict=True) if a != b]
    assert len(changed) == 1
    assert 'tilt = "-2.4 deg"' in changed[0][1]


def test_a_figure_keeps_its_uncertainty(client: TestClient) -> None:
    text = DEMO.replace('height = "2200 mm"', 'height = "2200 mm ± 3 mm"', 1)
    site = client.post("/sites", content=text.encode()).json()["id"]
    door = f"/sites/{site}/doorways/main"
    _save(client, door, {"fitting[outside].lens.height": "2210 mm"}, 1)
    assert 'height = "2210 mm ± 3 mm"' in _text(client, door)


def test_rows_fan_and_channel_are_chosen(client: TestClient, door: str) -> None:
    edits = {
        "fitting[outside].settings.rows_on": "2",
        "fitting[outside].settings.fan": "medium",
        "fitting[outside].settings.channel": "3",
    }
    assert _save(client, door, edits, 1).status_code == 200
    line = next(x for x in _text(client, door).splitlines() if 'fan = "medium"' in x)
    assert "rows_on = [2]" in line
    assert "channel = 3" in line


def test_undo_brings_the_text_back_and_redo_the_change(
    client: TestClient, door: str
) -> None:
    _save(client, door, {TILT: "-2.5 deg"}, 1)
    changed = _text(client, door)
    undone = client.post(f"{door}/undo", json={"version": 2}).json()
    assert _text(client, door) == DEMO
    assert undone["can_redo"]
    client.post(f"{door}/redo", json={"version": undone["version"]})
    assert _text(client, door) == changed


def test_nothing_to_undo_is_said(client: TestClient, door: str) -> None:
    reply = client.post(f"{door}/undo", json={"version": 1})
    assert reply.status_code == 409
    assert reply.json()["lines"]


def test_the_second_of_two_who_save_is_shown_both(
    client: TestClient, door: str
) -> None:
    _save(client, door, {TILT: "-2.5 deg"}, 1)
    clash = _save(client, door, {TILT: "-2.2 deg"}, 1)
    assert clash.status_code == 412
    both = clash.json()
    assert 'tilt = "-2.2 deg"' in both["mine"]
    assert 'tilt = "-2.5 deg"' in both["theirs"]
    assert "-2.5 deg" in both["html"]
    assert "-2.2 deg" in both["html"]
    assert _save(client, door, {TILT: "-2.2 deg"}, both["version"]).status_code == 200


@pytest.mark.parametrize(
    ("edits", "said"),
    [
        ({TILT: "5"}, "unit"),
        ({TILT: "60 deg"}, "45 deg"),
        ({"fitting[outside].wires.to": "x"}, "no setting"),
        ({"name": "x"}, "no setting"),
        ({"fitting[cellar].settings.tilt": "1 deg"}, "cellar"),
        ({"fitting[outside].settings.channel": "many"}, ""),
        ({TILT: SCRIPT}, ""),
    ],
)
def test_what_is_refused_is_told_why_and_nothing_is_saved(
    client: TestClient, door: str, edits: dict[str, str], said: str
) -> None:
    for reply in (_save(client, door, edits, 1), _try(client, door, edits)):
        assert reply.status_code == 422
        assert said in " ".join(reply.json()["lines"])
    assert _text(client, door) == DEMO


def test_more_settings_than_a_doorway_has_are_refused(
    client: TestClient, door: str
) -> None:
    edits = {f"fitting[u{n}].settings.tilt": "1 deg" for n in range(100)}
    assert _save(client, door, edits, 1).status_code == 422


def test_a_doorway_that_is_not_there_is_said(client: TestClient, door: str) -> None:
    reply = client.get(f"{door}x", headers={"Accept": "text/html"})
    assert reply.status_code in {404, 422}
    assert "mainx" in reply.text


def test_the_range_of_a_tilt_is_the_one_in_which_all_holds(
    client: TestClient, door: str
) -> None:
    _save(client, door, {TILT: "-2.5 deg", INSIDE: "-2.5 deg"}, 1)
    asked = {"unit": "outside", "key": TILT}
    found = client.get(f"{door}/ranges", params=asked).json()
    window = found["windows"][TILT]
    assert window["least"] < -2.5 < window["most"]
    for tilt, verdict in ((window["most"], "holds"), (window["most"] + 1.0, "fails")):
        edits = {TILT: f"{tilt} deg"}
        tried = _try(client, door, edits, version=2, finding=THRESHOLD).json()
        assert tried["lines"][THRESHOLD]["verdict"] == verdict
    assert "Hatched" in found["remarks"][TILT]


def test_rows_say_which_of_them_together_do(client: TestClient, door: str) -> None:
    _save(client, door, {TILT: "-2.5 deg", INSIDE: "-2.5 deg"}, 1)
    key = "fitting[outside].settings.rows_on"
    asked = {"unit": "outside", "key": key}
    found = client.get(f"{door}/ranges", params=asked).json()
    assert "holds with: 1+2." in found["remarks"][key]


def test_a_range_says_how_much_of_it_was_tried(client: TestClient, door: str) -> None:
    _save(client, door, {TILT: "-2.5 deg", INSIDE: "-2.5 deg"}, 1)
    asked = {"unit": "outside", "key": TILT}
    found = client.get(f"{door}/ranges", params=asked).json()
    assert "Every step from end to end was tried." in found["remarks"][TILT]


def test_feet_are_read_and_written(client: TestClient, door: str) -> None:
    cookies = {"Cookie": "limen_units=feet"}
    page = client.get(door, headers=cookies).text
    assert 'data-unit="in"' in page
    what = {"version": 1, "edits": {"fitting[outside].lens.along": "4.5 in"}}
    assert client.post(f"{door}/save", json=what, headers=cookies).status_code == 200
    assert 'along = "4.5 in"' in _text(client, door)


def test_a_unit_can_be_taken_hold_of_in_plan_and_front(
    client: TestClient, door: str
) -> None:
    for view in ("plan", "front"):
        grips = _try(client, door, {}, rests=True, view=view).json()["grips"]
        assert {grip["fitting"] for grip in grips} == {"outside", "inside"}
        assert all(0 < grip["x"] < 100 and 0 < grip["y"] < 100 for grip in grips)
    section = _try(client, door, {}, rests=True, view="section").json()
    assert section["grips"] == []


def test_a_unit_moved_right_is_drawn_further_right(
    client: TestClient, door: str
) -> None:
    def grip(along: str) -> dict[str, Any]:
        edits = {"fitting[outside].lens.along": along}
        grips = _try(client, door, edits).json()["grips"]
        return next(one for one in grips if one["fitting"] == "outside")

    middle, right = grip("0 mm"), grip("300 mm")
    assert right["x"] > middle["x"]
    assert right["y"] == pytest.approx(middle["y"], abs=3.0)
    assert right["says"] == "300 mm right of the middle, seen from outside"


def test_a_short_form_is_shown_and_its_settings_are_not_turned(
    client: TestClient,
) -> None:
    site = client.post("/sites", content=SHORT.encode()).json()["id"]
    door = f"/sites/{site}/doorways/main"
    page = client.get(door)
    assert page.status_code == 200
    assert "short form" in page.text
    assert "data-knob" not in page.text
    assert "data-grip" not in page.text
    assert "data-try" not in page.text
    assert _save(client, door, {TILT: "1 deg"}, 1).status_code == 422


@pytest.mark.parametrize(
    ("tilt", "step"), [("-1.3 deg", "0.1"), ("-1.33 deg", "0.01"), ("-2 deg", "0.1")]
)
def test_a_value_between_two_steps_is_shown_as_it_is(
    client: TestClient, door: str, tilt: str, step: str
) -> None:
    _save(client, door, {TILT: tilt}, 1)
    page = client.get(door).text
    slider = next(one for one in page.split("<input") if f'name="{TILT}"' in one)
    assert f'step="{step}"' in slider
    assert f'value="{float(tilt.split(maxsplit=1)[0])}"' in slider
