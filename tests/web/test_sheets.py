"""Sensor sheets on their pages: shown, typed from a manual, kept, handed out."""

from html.parser import HTMLParser

import pytest
from httpx2 import Response
from starlette.testclient import TestClient

from limen.desk.sheets import sheets

PEOPLE = {"Accept": "text/html"}
TOML = {"Content-Type": "application/toml"}
TWO_ROW = next(one.text for one in sheets("two-row"))
LEAST = {
    "act": "keep",
    "name": "Our unit",
    "has.presence": "yes",
    "presence.rows.1.angle": "0",
    "presence.rows.1.spots": "24",
    "presence.fan.form": "unknown",
    "presence.tilt.least": "-6",
    "presence.tilt.most": "6",
}


class _Form(HTMLParser):
    """What a browser would send of the sheet's form as it stands."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.sent: dict[str, list[str]] = {}
        self.select = ""
        begin = page.index('id="sheet-form"')
        self.feed(page[begin : page.index("</form>", begin)])

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = {key: value or "" for key, value in attrs}
        ticked = told.get("type") not in ("radio", "checkbox") or "checked" in told
        if tag == "input" and told.get("name") and ticked:
            self.sent.setdefault(told["name"], []).append(told.get("value", ""))
        if tag == "select":
            self.select = told["name"]
        if tag == "option" and "selected" in told:
            self.sent.setdefault(self.select, []).append(told["value"])


def _added(client: TestClient, name: str, text: str = TWO_ROW) -> Response:
    return client.post("/sheets", params={"name": name}, content=text, headers=TOML)


# Shown -----------------------------------------------------------------------------


def test_every_sheet_is_listed_with_what_it_can_do(client: TestClient) -> None:
    page = client.get("/sheets", headers=PEOPLE).text
    assert page.count('class="sheet-side"') == len(client.get("/sheets").json())
    assert "presence: 2 rows, 24 + 24 spots" in page
    assert "light barrier" in page


def test_search_finds_words_in_what_it_can_do(client: TestClient) -> None:
    found = [one["name"] for one in client.get("/sheets?q=old single").json()]
    assert found == ["old-single-row"]
    assert "No sheet matches." in client.get("/sheets?q=xyz", headers=PEOPLE).text


def test_a_sheet_shows_what_its_manual_does_not_say(client: TestClient) -> None:
    page = client.get("/sheets/old-single-row", headers=PEOPLE).text
    assert "the manual does not say" in page
    assert "60" in page
    assert "from the sensor&#39;s manual" in page


@pytest.mark.parametrize("name", [one.name for one in sheets()])
@pytest.mark.parametrize("units", ["metric", "feet"])
def test_every_sheet_can_be_shown_and_copied(
    client: TestClient, name: str, units: str
) -> None:
    wishes = {**PEOPLE, "Cookie": f"limen_units={units}"}
    for address in (f"/sheets/{name}", f"/sheets/new?from={name}"):
        reply = client.get(address, headers=wishes)
        assert reply.status_code == 200
        assert "\N{REPLACEMENT CHARACTER}" not in reply.text


def test_a_site_names_its_sheets_and_a_sheet_its_sites(client: TestClient) -> None:
    site = client.post("/sites", data={"demo": "corrected"}).json()
    page = client.get(f"/sites/{site['id']}", headers=PEOPLE).text
    assert 'href="/sheets/two-row"' in page
    used = client.get("/sheets/two-row", headers=PEOPLE).text
    assert f'href="/sites/{site["id"]}"' in used
    assert f'href="/sites/{site["id"]}/doorways/main"' in used


@pytest.mark.parametrize("name", ["nowhere", "NOWHERE", "..%2fx", "a" * 61])
def test_what_is_no_sheet_is_not_found(client: TestClient, name: str) -> None:
    assert client.get(f"/sheets/{name}").status_code in (404, 422)
    assert client.get(f"/sheets/{name}/sheet.toml").status_code in (404, 422)


# In and out ------------------------------------------------------------------------


def test_a_sheet_goes_out_as_it_came_in(client: TestClient) -> None:
    text = TWO_ROW.replace("\n", "\r\n") + "# ours\r\n"
    reply = _added(client, "in-and-out", text)
    assert reply.status_code == 201
    out = client.get("/sheets/in-and-out/sheet.toml")
    assert out.content == text.encode()
    assert "in-and-out.toml" in out.headers["Content-Disposition"]


def test_a_name_that_is_there_stays_as_it_is(client: TestClient) -> None:
    _added(client, "twice")
    assert _added(client, "twice", f"{TWO_ROW}# two\n").status_code == 422
    assert _added(client, "two-row").status_code == 422
    assert client.get("/sheets/twice").json()["text"] == TWO_ROW


def test_a_text_that_is_refused_stays_in_the_form(client: TestClient) -> None:
    sent = {"text": "name = <b>", "name": "torn"}
    reply = client.post("/sheets", data=sent, headers={"HX-Request": "true"})
    assert reply.status_code == 422
    assert "name = &lt;b&gt;" in reply.text
    assert 'value="torn"' in reply.text
    assert "Not added" in reply.text


def test_a_text_is_saved_only_over_the_one_it_was_made_from(
    client: TestClient,
) -> None:
    tag = _added(client, "saved").headers["ETag"]
    address = "/sheets/saved/text"
    first = client.put(
        address, content=f"{TWO_ROW}# 1\n", headers={**TOML, "If-Match": tag}
    )
    assert first.status_code == 200
    second = client.put(
        address, content=f"{TWO_ROW}# 2\n", headers={**TOML, "If-Match": tag}
    )
    assert second.status_code == 412
    assert second.json()["theirs"] == f"{TWO_ROW}# 1\n"
    assert second.json()["mine"] == f"{TWO_ROW}# 2\n"
    assert client.put(address, content=TWO_ROW, headers=TOML).status_code == 428


def test_a_generic_sheet_is_not_changed(client: TestClient) -> None:
    tag = {"If-Match": '"x"', **TOML}
    reply = client.put("/sheets/two-row/text", content=TWO_ROW, headers=tag)
    assert reply.status_code == 422
    assert client.get("/sheets/two-row/change").status_code == 422


# Typed from a manual -----------------------------------------------------------------


def test_a_sheet_is_typed_with_the_units_that_stand_in_the_fields(
    client: TestClient,
) -> None:
    given = LEAST | {
        "as": "typed",
        "presence.tilt.least": "−6",
        "presence.lowest_height": "50",
        "mounting.width": "8 1/2 in",
        "environment.coldest": "-20",
        "mounting.places": "header face",
    }
    assert client.post("/sheets/new", data=given).status_code == 201
    text = client.get("/sheets/typed/sheet.toml").text
    assert 'least = "-6 deg"' in text
    assert 'lowest_height = "50 mm"' in text
    assert 'width = "8 1/2 in"' in text
    assert 'coldest = "-20 °C"' in text
    assert "response" not in text


def test_in_feet_a_bare_length_is_in_inches(client: TestClient) -> None:
    given = LEAST | {"as": "inches", "units": "feet", "presence.lowest_height": "2"}
    assert client.post("/sheets/new", data=given).status_code == 201
    text = client.get("/sheets/inches/sheet.toml").text
    assert 'lowest_height = "2 in"' in text


def test_a_fault_stands_at_its_field_and_what_was_typed_stays(
    client: TestClient,
) -> None:
    given = LEAST | {"as": "faulty", "presence.response": "quick <i>"}
    told = client.post("/sheets/new", data=given).json()
    assert set(told["by_field"]) == {"presence.response"}
    page = client.post("/sheets/new", data=given, headers=PEOPLE)
    assert page.status_code == 422
    assert 'value="quick &lt;i&gt;"' in page.text
    assert 'id="f-presence.response-fault"' in page.text
    assert client.get("/sheets/faulty").status_code == 404


def test_a_sheet_needs_a_name_of_its_own(client: TestClient) -> None:
    for name in ("", "two-row", "new"):
        reply = client.post("/sheets/new", data=LEAST | {"as": name})
        assert set(reply.json()["by_field"]) == {"as"}


def test_a_form_that_is_sent_back_unchanged_changes_nothing(
    client: TestClient,
) -> None:
    _added(client, "same")
    page = client.get("/sheets/same/change", headers=PEOPLE).text
    sent = _Form(page).sent | {"act": ["keep"]}
    assert client.post("/sheets/same/change", data=sent).status_code == 200
    assert client.get("/sheets/same/sheet.toml").text == TWO_ROW


def test_a_form_made_from_an_older_text_is_shown_both(client: TestClient) -> None:
    tag = _added(client, "older").headers["ETag"]
    sent = _Form(client.get("/sheets/older/change", headers=PEOPLE).text).sent
    newer = f"{TWO_ROW}# newer\n"
    client.put("/sheets/older/text", content=newer, headers={**TOML, "If-Match": tag})
    changed = sent | {"act": ["keep"], "presence.spots_needed": ["3"]}
    reply = client.post("/sheets/older/change", data=changed)
    assert reply.status_code == 412
    assert "spots_needed = 3" in reply.json()["mine"]
    assert client.get("/sheets/older/sheet.toml").text == newer


@pytest.mark.parametrize("key", ["presence.rows", "outputs", "mounting.holes"])
def test_a_list_grows_and_shrinks_with_all_that_was_typed(
    client: TestClient, key: str
) -> None:
    given = LEAST | {"as": "lists", "act": f"more:{key}", "note": "kept"}
    page = client.post("/sheets/new", data=given, headers=PEOPLE).text
    more = _Form(page).sent
    assert more["note"] == ["kept"]
    count = int(more[f"count.{key}"][0])
    fewer = client.post(
        "/sheets/new", data=more | {"act": [f"fewer:{key}"]}, headers=PEOPLE
    )
    assert int(_Form(fewer.text).sent.get(f"count.{key}", ["0"])[0]) == count - 1


def test_a_plain_form_of_a_browser_is_kept_as_well(client: TestClient) -> None:
    request = client.build_request(
        "POST",
        "/sheets/new",
        data=LEAST | {"as": "plain"},
        headers={**PEOPLE, "Sec-Fetch-Site": "same-origin"},
    )
    del request.headers["Limen-Desk"]
    reply = client.send(request)
    assert reply.status_code == 303
    assert reply.headers["Location"] == "/sheets/plain"
