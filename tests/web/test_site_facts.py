"""What stands for all doorways of a site, set in a form that needs no script."""

import re

import pytest
from starlette.testclient import TestClient

HERE = "http://127.0.0.1:8765"
PAGE = {"Accept": "text/html"}
SITE = """name = "Corner shop"  # by the station

[[short]]
id = "main"
name = "Main entrance"
commissioned = 2018-06-01
leaves = "bi-parting"
clear_width = "2045 mm"
kept = { by = "M. Lind" }
"""
TYPED = {
    "kept.by": "R. Okafor",
    "kept.route": "North",
    "kept.daily": "",
    "faults.mail": "doors@firm.example",
    "faults.phone": "",
    "faults.web": "",
}


@pytest.fixture
def site(client: TestClient) -> str:
    return client.post("/sites", content=SITE.encode()).json()["id"]


@pytest.fixture
def browser(client: TestClient) -> TestClient:
    """A browser in which scripts are off: it has no header of ours."""
    said = {**PAGE, "Sec-Fetch-Site": "same-origin", "Origin": HERE}
    return TestClient(client.app, base_url=HERE, headers=said)


def _text(client: TestClient, site: str) -> str:
    return client.get(f"/sites/{site}/site.toml").text


def _send(
    browser: TestClient, site: str, typed: dict[str, str], version: int = 1
) -> tuple[int, str]:
    """Send the form, and go where it leads."""
    form = {"-version": str(version), **typed}
    reply = browser.post(f"/sites/{site}/facts", data=form)
    return reply.status_code, reply.text


def test_what_is_typed_goes_into_the_text_and_nothing_else_changes(
    client: TestClient, browser: TestClient, site: str
) -> None:
    page = client.get(f"/sites/{site}/facts", headers=PAGE).text
    assert set(re.findall(r'data-fact="([a-z.]+)"', page)) == set(TYPED)
    assert '<option value="M. Lind">' in page
    status, page = _send(browser, site, TYPED)
    assert status == 200
    assert "Saved as version 2" in page
    text = _text(client, site)
    assert all(line in text.splitlines() for line in SITE.splitlines())
    assert client.get(f"/sites/{site}/facts").json() == {
        "version": 2,
        "facts": {key: value or None for key, value in TYPED.items()},
    }
    status, page = _send(browser, site, TYPED, 2)
    assert "Nothing was changed" in page
    assert _text(client, site) == text


def test_an_emptied_field_leaves_no_empty_table(
    client: TestClient, browser: TestClient, site: str
) -> None:
    _send(browser, site, TYPED)
    status, _ = _send(browser, site, dict.fromkeys(TYPED, ""), 2)
    assert status == 200
    assert "faults" not in _text(client, site)
    assert set(client.get(f"/sites/{site}/facts").json()["facts"].values()) == {None}


def test_what_is_not_accepted_stays_with_its_reason(
    client: TestClient, browser: TestClient, site: str
) -> None:
    wrong = {**TYPED, "faults.mail": "doors at firm", "faults.web": "http://firm"}
    status, page = _send(browser, site, wrong)
    assert status == 422
    assert 'value="doors at firm"' in page
    assert 'value="R. Okafor"' in page
    assert "one mail address, in plain letters" in page
    assert "begins with https://" in page
    assert page.count('class="field-fault"') == 2
    assert _text(client, site) == SITE


def test_no_other_key_of_the_site_is_set_here(
    client: TestClient, browser: TestClient, site: str
) -> None:
    for key in ("name", "short.0.name", "kept.gone", "kept"):
        status, page = _send(browser, site, {key: "mine"})
        assert (status, key in page) == (422, True)
    assert _text(client, site) == SITE


def test_what_somebody_else_saved_meanwhile_is_shown_before_it_is_replaced(
    client: TestClient, browser: TestClient, site: str
) -> None:
    _send(browser, site, TYPED)
    mine = {**TYPED, "kept.route": "South"}
    status, page = _send(browser, site, mine, 1)
    assert status == 412
    assert "Saved meanwhile by somebody else: North" in page
    assert page.count('class="field-fault"') == 1
    assert 'name="-version" value="2"' in page
    status, _ = _send(browser, site, mine, 2)
    assert status == 200
    facts = client.get(f"/sites/{site}/facts").json()["facts"]
    assert facts["kept.route"] == "South"


def test_undo_brings_the_text_back_and_redo_the_facts(
    client: TestClient, browser: TestClient, site: str
) -> None:
    _send(browser, site, TYPED)
    facts = _text(client, site)
    nothing = {"Content-Type": "application/x-www-form-urlencoded"}
    for way, text in (("undo", SITE), ("redo", facts)):
        reply = browser.post(f"/sites/{site}/facts/{way}", headers=nothing)
        assert (reply.status_code, reply.url.path) == (200, f"/sites/{site}/facts")
        assert _text(client, site) == text
    assert client.post(f"/sites/{site}/facts/redo").status_code == 409


def test_programs_set_them_by_key(client: TestClient, site: str) -> None:
    said = {"version": 1, "facts": {"kept.by": "R. Okafor", "kept.daily": None}}
    assert client.post(f"/sites/{site}/facts", json=said).json()["version"] == 2
    late = {"version": 1, "facts": {"kept.by": "M. Lind"}}
    assert client.post(f"/sites/{site}/facts", json=late).status_code == 412
    wrong = {"version": 2, "facts": {"faults.phone": "ring us"}}
    reply = client.post(f"/sites/{site}/facts", json=wrong)
    assert reply.status_code == 422
    assert "telephone number" in " ".join(reply.json()["lines"])


def test_a_form_from_elsewhere_is_refused(browser: TestClient, site: str) -> None:
    form = {"-version": "1", **TYPED}
    elsewhere = {"Origin": "https://elsewhere.example"}
    reply = browser.post(f"/sites/{site}/facts", data=form, headers=elsewhere)
    assert reply.status_code == 403
