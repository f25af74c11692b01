"""Two who save the same site: put together by key, taken, or both kept; history."""

from importlib.resources import files
from typing import Any

import pytest
from starlette.testclient import TestClient

WHOLE = files("limen").joinpath("demo", "alder-quay-as-found.toml").read_text("utf-8")
DEMO = WHOLE.partition("# --- The staff door")[0]
PAGE = {"Accept": "text/html"}
HTMX = {**PAGE, "HX-Request": "true"}
THEIRS = DEMO.replace('sway = "5 mm"', 'sway = "8 mm"', 1).replace(
    'mass = "75 kg"', 'mass = "80 kg"', 1
)
MINE = DEMO.replace('sway = "5 mm"', 'sway = "7 mm"', 1).replace(
    'reduced_width = "900 mm" ', 'reduced_width = "950 mm" ', 1
)
SWAY = '["doorway", "[main]", "leaves", "sway"]'


@pytest.fixture
def site(client: TestClient) -> str:
    added = client.post("/sites", content=DEMO.encode()).json()["id"]
    _put(client, added, THEIRS, 1)
    return added


def _put(client: TestClient, site: str, text: str, base: int) -> Any:
    head = {"If-Match": str(base), "Content-Type": "application/toml"}
    return client.put(f"/sites/{site}/text", content=text.encode(), headers=head)


def _form(**more: str) -> dict[str, str]:
    return {"base": "1", "version": "2", "mine": MINE, **more}


def _text(client: TestClient, site: str) -> str:
    return client.get(f"/sites/{site}/site.toml").text


def test_a_late_save_of_the_text_asks_only_what_both_changed(
    client: TestClient, site: str
) -> None:
    head = {**HTMX, "If-Match": "1"}
    panel = client.put(f"/sites/{site}/text", data={"text": MINE}, headers=head)
    assert panel.status_code == 412
    assert panel.text.count("<fieldset") == 1
    assert "Mine: 7 mm" in panel.text
    assert "Theirs: 8 mm" in panel.text
    assert "950 mm" in panel.text
    assert "80 kg" in panel.text


@pytest.mark.parametrize(("side", "sway"), [("mine", "7 mm"), ("theirs", "8 mm")])
def test_both_are_put_together_as_chosen(
    client: TestClient, site: str, side: str, sway: str
) -> None:
    form = _form(**{SWAY: side})
    reply = client.post(f"/sites/{site}/merge", data=form, headers=HTMX)
    assert reply.status_code == 200
    assert "limen-merged" in reply.headers["HX-Trigger"]
    text = _text(client, site)
    assert f'sway = "{sway}"' in text
    assert 'mass = "80 kg"' in text
    assert 'reduced_width = "950 mm"             # the winter position' in text


def test_the_result_is_shown_before_it_is_saved(client: TestClient, site: str) -> None:
    shown = client.post(f"/sites/{site}/merge/shown", data=_form()).json()
    assert shown["asked"] == [["doorway", "[main]", "leaves", "sway"]]
    assert 'reduced_width = "950 mm"' in shown["text"]
    assert _text(client, site) == THEIRS


def test_both_can_be_kept_as_two_sites(client: TestClient, site: str) -> None:
    form = _form(name="The other quay")
    reply = client.post(f"/sites/{site}/merge/both", data=form)
    assert reply.status_code == 201
    assert reply.json()["name"] == "The other quay"
    kept = _text(client, reply.json()["id"])
    assert kept == MINE.replace("Alder Quay Library", "The other quay", 2).replace(
        "# The other quay", "# Alder Quay Library", 1
    )
    assert _text(client, site) == THEIRS


def test_whoever_saves_in_between_is_shown_too(client: TestClient, site: str) -> None:
    _put(client, site, THEIRS.replace('"80 kg"', '"81 kg"'), 2)
    reply = client.post(f"/sites/{site}/merge", data=_form(), headers=HTMX)
    assert reply.status_code == 412
    assert "81 kg" in reply.text
    assert 'name="version" value="3"' in reply.text
    assert 'mass = "81 kg"' in _text(client, site)


def test_a_text_that_is_none_is_refused_and_kept_in_the_form(
    client: TestClient, site: str
) -> None:
    form = _form(mine="name = # mine")
    reply = client.post(f"/sites/{site}/merge", data=form, headers=HTMX)
    assert reply.status_code == 422
    assert "name = # mine" in reply.text
    both = client.post(f"/sites/{site}/merge/both", data=form | {"name": "x"})
    assert both.status_code == 422
    assert _text(client, site) == THEIRS


def test_what_makes_no_site_together_is_refused(client: TestClient, site: str) -> None:
    mine = DEMO.replace('modes = ["automatic", "reduced"]', 'modes = ["reduced"]')
    theirs = DEMO.replace(
        'reduced_width = "900 mm"             # the winter position\n', ""
    ).replace('modes = ["automatic", "reduced"]', 'modes = ["automatic"]')
    added = client.post("/sites", content=DEMO.encode()).json()["id"]
    assert _put(client, added, theirs, 1).status_code == 200
    key = '["doorway", "[main]", "modes"]'
    form = {"base": "1", "version": "2", "mine": mine, key: "mine"}
    reply = client.post(f"/sites/{added}/merge", data=form, headers=HTMX)
    assert reply.status_code == 422
    assert "reduced width" in reply.text
    assert _text(client, added) == theirs


@pytest.mark.parametrize(
    "form", [{}, {"base": "x", "version": "2"}, {"base": "9" * 12, "version": "1"}]
)
def test_a_form_without_both_versions_is_refused(
    client: TestClient, site: str, form: dict[str, str]
) -> None:
    assert client.post(f"/sites/{site}/merge", data=form).status_code == 422


def test_a_version_that_never_was_is_not_found(client: TestClient, site: str) -> None:
    form = _form(base="77")
    assert client.post(f"/sites/{site}/merge", data=form).status_code == 404


def test_the_way_back_stays_on_this_server(client: TestClient, site: str) -> None:
    form = _form(back="https://elsewhere.example/", **{SWAY: "mine"})
    reply = client.post(f"/sites/{site}/merge", data=form, headers=HTMX)
    assert "elsewhere" not in reply.text


# History -----------------------------------------------------------------------


def test_the_history_names_what_each_version_changed(
    client: TestClient, site: str
) -> None:
    page = client.get(f"/sites/{site}/history", headers=PAGE).text
    assert "Leaves · Sway" in page
    assert "5 mm → 8 mm" in page
    newest, first = client.get(f"/sites/{site}/history").json()
    assert ["doorway", "[main]", "leaves", "mass"] in newest["keys"]
    assert (first["number"], first["keys"]) == (1, None)


def test_lengths_are_read_in_feet_and_inches_too(client: TestClient, site: str) -> None:
    client.cookies.set("limen_units", "feet")
    try:
        page = client.get(f"/sites/{site}/history", headers=PAGE).text
    finally:
        client.cookies.delete("limen_units")
    assert "8 mm (5/16 in)" in page


def test_an_earlier_version_is_looked_at_and_taken_back_as_a_new_one(
    client: TestClient, site: str
) -> None:
    look = client.get(f"/sites/{site}/history/1", headers=PAGE).text
    assert "8 mm → 5 mm" in look
    where = f"/sites/{site}/history/1/take"
    assert client.post(where).status_code == 428
    assert client.post(where, headers={"If-Match": "1"}).status_code == 412
    taken = client.post(where, headers={"If-Match": "2"})
    assert taken.json()["version"] == 3
    assert _text(client, site) == DEMO
    page = client.get(f"/sites/{site}/history?taken=1", headers=PAGE).text
    assert "Version 1 was taken back" in page


def test_a_change_of_wording_alone_is_said_to_be_one(
    client: TestClient, site: str
) -> None:
    _put(client, site, THEIRS + "# more\n", 2)
    page = client.get(f"/sites/{site}/history", headers=PAGE).text
    assert "Comments, order or spacing only." in page


def test_many_versions_stand_on_several_pages(client: TestClient, site: str) -> None:
    for number in range(2, 24):
        _put(client, site, f"{THEIRS}# {number}\n", number)
    page = client.get(f"/sites/{site}/history", headers=PAGE).text
    assert "?upto=4" in page
    older = client.get(f"/sites/{site}/history?upto=4").json()
    assert [one["number"] for one in older] == [4, 3, 2, 1]
    assert client.get(f"/sites/{site}/history?upto=0").status_code == 422
