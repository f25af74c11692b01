"""All facts of a doorway: shown, set, added, taken out; what is open; origins."""

import re
from importlib.resources import files
from typing import Any

import pytest
from starlette.testclient import TestClient

DEMO = files("limen").joinpath("demo", "alder-quay-as-found.toml").read_text("utf-8")
PAGE = {"Accept": "text/html"}
HTMX = {**PAGE, "HX-Request": "true"}
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
def site(client: TestClient) -> str:
    return client.post("/sites", content=DEMO.encode()).json()["id"]


def _facts(site: str, door: str = "main") -> str:
    return f"/sites/{site}/doorways/{door}/facts"


def _text(client: TestClient, site: str) -> str:
    return client.get(f"/sites/{site}/site.toml").text


def _set(
    client: TestClient, site: str, facts: dict[str, Any], version: int = 1, **more: str
) -> Any:
    form = {"-version": str(version), **{f"-{k}": v for k, v in more.items()}, **facts}
    return client.post(_facts(site), data=form, headers=HTMX)


def test_every_fact_has_a_field_with_its_name_and_help(
    client: TestClient, site: str
) -> None:
    page = client.get(_facts(site), headers=PAGE).text
    for key in ("clear_width", "leaves.sway", "fitting.0.lens.height", "use.public"):
        assert f'name="{key}"' in page
    facts = client.get(_facts(site)).json()["facts"]
    shown = set(re.findall(r'data-fact="([a-z0-9_.]+)"', page))
    assert set(facts) <= shown
    assert facts["clear_width"] == "2000 mm"
    assert facts["edition"] is None


def test_the_page_keeps_to_its_policy(client: TestClient, site: str) -> None:
    page = client.get(_facts(site), headers=PAGE).text
    assert not re.search(r"\sstyle=", page)
    assert not re.search(r"\son\w+=", page)
    assert not re.search(r"<script(?![^>]*\ssrc=)", page)


def test_a_fact_is_set_and_nothing_else_of_the_text(
    client: TestClient, site: str
) -> None:
    reply = _set(client, site, {"leaves.sway": "7 mm"}, part="leaves")
    assert reply.status_code == 200
    assert "Saved as version 2" in reply.text
    assert _text(client, site) == DEMO.replace('sway = "5 mm"', 'sway = "7 mm"', 1)


def test_a_bare_number_counts_as_the_unit_that_the_field_shows(
    client: TestClient, site: str
) -> None:
    _set(client, site, {"leaves.sway": "7 ± 1"}, part="leaves")
    assert 'sway = "7 mm ± 1 mm"' in _text(client, site)
    client.cookies.set("limen_units", "feet")
    try:
        _set(client, site, {"leaves.sway": "0.25"}, version=2, part="leaves")
    finally:
        client.cookies.delete("limen_units")
    assert 'sway = "0.25 in"' in _text(client, site)


def test_what_is_refused_stays_in_its_field_with_what_would_be_accepted(
    client: TestClient, site: str
) -> None:
    reply = _set(client, site, {"leaves.thickness": "9 m"}, part="leaves")
    assert reply.status_code == 422
    assert 'value="9 m"' in reply.text
    assert "5 to 300 mm" in reply.text
    assert 'aria-invalid="true"' in reply.text
    assert _text(client, site) == DEMO


def test_two_facts_that_need_each_other_are_set_together(
    client: TestClient, site: str
) -> None:
    alone = {"leaves.kind": "single", "leaves.hand": ""}
    assert _set(client, site, alone, part="leaves").status_code == 422
    both = {"use.escape_route": "true", "use.escape_from": ["", "inside"]}
    assert _set(client, site, both, part="use").status_code == 200
    assert 'escape_from = ["inside"]' in _text(client, site)


def test_an_emptied_field_is_not_known_any_more(client: TestClient, site: str) -> None:
    _set(client, site, {"leaves.sway": ""}, part="leaves")
    assert client.get(_facts(site)).json()["facts"]["leaves.sway"] is None


def test_not_known_and_none_are_told_apart(client: TestClient, site: str) -> None:
    _set(client, site, {"marking.signed": [""]}, part="marking")
    assert "signed = []" in _text(client, site)
    _set(client, site, {"marking.signed": ["", "?"]}, version=2, part="marking")
    assert "signed" not in _text(client, site).partition("[[doorway.impact]]")[0]


def test_a_thing_is_added_and_taken_out(client: TestClient, site: str) -> None:
    thing = {
        "thing.1.name": "plant",
        "thing.1.side": "inside",
        "thing.1.along": "1000",
        "thing.1.out": "300",
        "thing.1.width": "400",
        "thing.1.depth": "400",
        "thing.1.height": "900",
        "thing.1.moves": "",
    }
    reply = _set(client, site, thing, part="thing.1", place="list")
    assert reply.status_code == 200
    assert "Thing: plant" in reply.text
    assert 'name = "plant"' in _text(client, site)
    form = {"-version": "2", "-part": "thing.1", "-place": "list"}
    gone = client.post(f"{_facts(site)}/gone", data=form, headers=HTMX)
    assert "Thing: plant" not in gone.text
    assert "plant" not in _text(client, site)


def test_what_a_new_thing_lacks_is_said_and_what_was_typed_stays(
    client: TestClient, site: str
) -> None:
    typed = {"thing.1.name": "plant", "thing.1.side": ""}
    reply = _set(client, site, typed, part="thing.1", place="list")
    assert reply.status_code == 422
    assert 'value="plant"' in reply.text
    assert "Needed, and not written" in reply.text


def test_a_step_back_brings_the_facts_back(client: TestClient, site: str) -> None:
    _set(client, site, {"leaves.sway": "7 mm"}, part="leaves")
    reply = client.post(f"{_facts(site)}/undo", headers=HTMX)
    assert reply.headers["HX-Redirect"] == _facts(site)
    assert _text(client, site) == DEMO


def test_what_others_set_elsewhere_is_kept_beside_it(
    client: TestClient, site: str
) -> None:
    _set(client, site, {"leaves.mass": "80 kg"}, part="leaves")
    reply = _set(client, site, {"leaves.sway": "7 mm"}, part="leaves")
    assert "both are kept" in reply.text
    text = _text(client, site)
    assert 'mass = "80 kg"' in text
    assert 'sway = "7 mm"' in text


def test_what_both_set_differently_is_asked(client: TestClient, site: str) -> None:
    _set(client, site, {"leaves.sway": "8 mm"}, part="leaves")
    reply = _set(client, site, {"leaves.sway": "7 mm"}, part="leaves")
    assert reply.status_code == 412
    assert "Mine: 7 mm" in reply.text
    assert "Theirs: 8 mm" in reply.text
    assert 'sway = "8 mm"' in _text(client, site)


def test_programs_set_facts_as_json(client: TestClient, site: str) -> None:
    what = {"version": 1, "facts": {"use.public": None, "leaves.sway": "7 mm"}}
    reply = client.post(_facts(site), json=what)
    assert reply.json()["version"] == 2
    assert client.get(_facts(site)).json()["facts"]["use.public"] is None


@pytest.mark.parametrize(
    "facts",
    [
        {"nothing.such": "1"},
        {"leaves": "1"},
        {"thing.7.name": "x"},
        {"fitting.0.unit.name": "x"},
        {"../x": "1"},
    ],
)
def test_what_is_no_fact_is_refused(
    client: TestClient, site: str, facts: dict[str, str]
) -> None:
    reply = client.post(_facts(site), json={"version": 1, "facts": facts})
    assert reply.status_code == 422
    assert _text(client, site) == DEMO


@pytest.mark.parametrize("body", [b"{", b"[]", b'{"facts": 3}', b'{"version": "x"}'])
def test_what_is_no_form_is_refused(client: TestClient, site: str, body: bytes) -> None:
    kind = {"Content-Type": "application/json"}
    assert client.post(_facts(site), content=body, headers=kind).status_code == 422


def test_a_script_in_a_fact_is_text(client: TestClient, site: str) -> None:
    reply = _set(client, site, {"thing.0.name": SCRIPT}, part="thing.0")
    assert reply.status_code == 200
    assert SCRIPT not in reply.text
    assert SCRIPT not in client.get(_facts(site), headers=PAGE).text


def test_a_short_form_says_how_its_facts_can_be_changed(client: TestClient) -> None:
    site = client.post("/sites", content=SHORT.encode()).json()["id"]
    page = client.get(_facts(site), headers=PAGE).text
    assert "Write it in full" in page


# What is open ------------------------------------------------------------------


def test_what_musts_wait_for_comes_first_and_can_be_typed_in_place(
    client: TestClient, site: str
) -> None:
    door = _facts(site, "escape")
    rows = client.get(door).json()["open"]
    assert rows[0]["fact"] == "fitting.0.read.first_row"
    assert [row["musts"] for row in rows] == sorted(
        (row["musts"] for row in rows), reverse=True
    )
    form = {"-version": "1", "-place": "open", "fitting.0.read.first_row": "60"}
    reply = client.post(door, data=form, headers=HTMX)
    assert reply.status_code == 200
    assert "Nothing waits for it any more" in reply.text
    keys = [row["fact"] for row in client.get(door).json()["open"] if row["opens"]]
    assert "fitting.0.read.first_row" not in keys


def test_what_a_sheet_or_the_rulebook_lacks_says_where_it_is_stated(
    client: TestClient, site: str
) -> None:
    rows = client.get(_facts(site, "escape")).json()["open"]
    sheet = next(row for row in rows if row["where"] == "sheet")
    assert sheet["sheets"] == ["old-single-row"]
    assert sheet["sheet_key"]
    escape = client.get(_facts(site, "escape"), headers=PAGE).text
    assert 'href="/sheets/old-single-row"' in escape
    page = client.get(_facts(site), headers=PAGE).text
    assert "rule = &#34;en.2012.presence.hold_time&#34;" in page or (
        'rule = "en.2012.presence.hold_time"' in page
    )
    assert "values.toml" in page


# Origins -----------------------------------------------------------------------


def test_a_finding_says_what_it_was_held_against_and_what_it_rests_on(
    client: TestClient, site: str
) -> None:
    where = f"/sites/{site}/doorways/main/origins"
    asked = {"finding": "presence.threshold~~upright"}
    found = client.get(where, params=asked).json()
    limits = {one["name"]: one for one in found["limits"]}
    assert limits["body height"]["value"].replace("\N{NO-BREAK SPACE}", " ") == "700 mm"
    assert "EN 16005:2012" in limits["body height"]["origin"]
    assert any("taped" in one["name"] for one in found["assumed"])
    assert any(one["name"] == "Row tilt" for one in found["facts"])
    panel = client.get(where, params=asked, headers=HTMX).text
    assert panel.lstrip().startswith('<div class="origin-panel">')
    assert "±" in panel


def test_a_setting_says_where_it_stands_and_which_questions_look_at_it(
    client: TestClient, site: str
) -> None:
    where = f"/sites/{site}/doorways/main/origins"
    key = "fitting[outside].settings.tilt"
    found = client.get(where, params={"key": key}).json()
    (figure,) = found["figures"]
    assert "-1.3 deg" in figure["value"].replace("\N{NO-BREAK SPACE}", " ")
    assert figure["grade"] == "measured"
    names = [one[1] for one in found["rests"]]
    assert "Presence, line of the leaves" in names
    assert "Marks and signs" not in names


def test_what_has_no_origin_is_refused(client: TestClient, site: str) -> None:
    where = f"/sites/{site}/doorways/main/origins"
    for asked in ({"finding": "no.such~~"}, {"key": "no.such"}, {}):
        assert client.get(where, params=asked).status_code == 422


def test_the_doorway_page_leads_to_the_origin_of_each_figure(
    client: TestClient, site: str
) -> None:
    page = client.get(f"/sites/{site}/doorways/main", headers=PAGE).text
    assert page.count("data-origin ") >= 20
    assert 'data-origin-key="fitting[outside].settings.tilt"' in page
    assert f'href="/sites/{site}/doorways/main/facts"' in page
