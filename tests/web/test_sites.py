"""Sites come in, are changed and go out; what was typed is never lost."""

from typing import Any, cast

import pytest
from starlette.testclient import TestClient

from limen.store.starter import starter_text

PAGE = {"Accept": "text/html"}
HTMX = {"HX-Request": "true", **PAGE}
STARTER = starter_text()
SCRIPT = '<script>alert("x")</script>'


@pytest.fixture
def site(client: TestClient) -> dict[str, Any]:
    reply = client.post("/sites", content=STARTER.encode())
    assert reply.status_code == 201
    return reply.json()


def _put(client: TestClient, site: dict[str, Any], text: str, **more: str) -> Any:
    headers = {"If-Match": '"1"', **more}
    return client.put(
        f"/sites/{site['id']}/text", content=text.encode(), headers=headers
    )


def test_a_file_goes_out_as_it_came_in(client: TestClient) -> None:
    data = STARTER.replace("\n", "\r\n").encode()
    reply = client.post("/sites", content=data)
    out = client.get(f"{reply.headers['Location']}/site.toml")
    assert out.content == data
    assert out.headers["Content-Type"].startswith("application/toml")
    assert "attachment" in out.headers["Content-Disposition"]


def test_a_file_of_a_form_is_kept_byte_for_byte(client: TestClient) -> None:
    data = STARTER.replace("\n", "\r\n").encode()
    reply = client.post("/sites", files={"file": ("door.toml", data)})
    assert client.get(f"{reply.headers['Location']}/site.toml").content == data


def test_a_site_that_was_added_is_opened(client: TestClient) -> None:
    reply = client.post("/sites", data={"text": STARTER}, headers=HTMX)
    assert reply.status_code == 204
    assert client.get(reply.headers["HX-Redirect"], headers=PAGE).status_code == 200


def test_a_refused_text_stays_in_the_form_with_its_faults(client: TestClient) -> None:
    typed = f"# mine {SCRIPT}\nname = 3\n"
    reply = client.post("/sites", data={"text": typed}, headers=HTMX)
    assert reply.status_code == 422
    assert "line 2" in reply.text
    assert "# mine &lt;script&gt;" in reply.text
    assert SCRIPT not in reply.text


def test_programs_are_told_the_faults_by_line(client: TestClient) -> None:
    reply = client.post("/sites", content=b"name = 3\n")
    assert reply.status_code == 422
    assert reply.json()["faults"][0]["line"] == 1


@pytest.mark.parametrize("data", [b"<svg/>", b"<html></html>", b"\xff\xfe", b"\0", b""])
def test_what_is_no_site_file_is_refused(client: TestClient, data: bytes) -> None:
    assert client.post("/sites", content=data).status_code == 422


def test_the_page_of_sites_lists_and_searches(
    client: TestClient, site: dict[str, Any]
) -> None:
    whole = client.get("/", headers=PAGE)
    assert f"/sites/{site['id']}" in whole.text
    assert "<html" in whole.text
    piece = client.get("/", params={"q": "no such word"}, headers=HTMX)
    assert "<html" not in piece.text
    assert site["id"] not in piece.text


def test_a_row_that_waits_asks_for_what_is_to_be_done(
    client: TestClient, site: dict[str, Any]
) -> None:
    reply = client.get(f"/sites/{site['id']}/row")
    assert "before use" in reply.text
    assert "hx-get" not in reply.text
    mend = client.get("/", params={"show": "mend"}, headers=HTMX)
    assert mend.status_code == 200


def test_the_list_is_narrowed_to_sites_with_a_check_that_is_due(
    client: TestClient,
) -> None:
    def added(name: str, checked: str) -> str:
        text = STARTER.replace('name = "', f'name = "{name} ', 1)
        lines = text.replace("clear_width", f"kept.checked = {checked}\nclear_width", 1)
        reply = client.post("/sites", content=lines.encode())
        assert reply.status_code == 201, reply.text
        client.get(f"/sites/{reply.json()['id']}/row")
        return str(reply.json()["id"])

    late, early = added("Late", "2025-11-24"), added("Early", "2025-11-25")
    listed = client.get("/", params={"show": "due"}, headers=HTMX).text
    assert late in listed
    assert "check due" in listed
    assert early not in listed


def test_a_saved_text_is_the_next_version(
    client: TestClient, site: dict[str, Any]
) -> None:
    reply = _put(client, site, STARTER + "# more\n")
    assert (reply.status_code, reply.json()["version"]) == (200, 2)
    assert reply.headers["ETag"] == '"2"'


def test_a_save_that_names_no_version_is_refused(
    client: TestClient, site: dict[str, Any]
) -> None:
    for stated in ("", "*", "later"):
        assert _put(client, site, STARTER, **{"If-Match": stated}).status_code == 428


def test_the_second_of_two_saves_is_given_both_texts(
    client: TestClient, site: dict[str, Any]
) -> None:
    _put(client, site, STARTER + "# theirs\n")
    late = _put(client, site, STARTER + "# mine\n")
    assert late.status_code == 412
    assert late.json()["mine"].endswith("# mine\n")
    assert late.json()["theirs"].endswith("# theirs\n")
    form = {"text": STARTER + "# mine\n"}
    headers = {**HTMX, "If-Match": "1"}
    page = client.put(f"/sites/{site['id']}/text", data=form, headers=headers)
    assert page.status_code == 412
    assert "# mine" in page.text
    assert "# theirs" in page.text
    assert 'name="version" value="2"' in page.text


def test_a_refused_save_keeps_what_was_typed(
    client: TestClient, site: dict[str, Any]
) -> None:
    headers = {**HTMX, "If-Match": "1"}
    form = {"text": "name = 3 # mine"}
    reply = client.put(f"/sites/{site['id']}/text", data=form, headers=headers)
    assert reply.status_code == 422
    assert "name = 3 # mine" in reply.text
    assert client.get(f"/sites/{site['id']}").json()["text"] == STARTER


def test_a_name_that_is_a_script_is_shown_as_text(
    client: TestClient, site: dict[str, Any]
) -> None:
    reply = client.post(f"/sites/{site['id']}/rename", data={"name": SCRIPT})
    assert reply.json()["name"] == SCRIPT
    for path in ("/", f"/sites/{site['id']}"):
        page = client.get(path, headers=PAGE)
        assert "&lt;script&gt;" in page.text
        assert SCRIPT not in page.text


def test_a_change_is_undone_and_brought_back(
    client: TestClient, site: dict[str, Any]
) -> None:
    _put(client, site, STARTER + "# more\n")
    where = f"/sites/{site['id']}"
    assert client.post(f"{where}/undo").json()["digest"] == site["digest"]
    assert client.post(f"{where}/redo").json()["version"] == 4
    assert client.post(f"{where}/redo").status_code == 409


def test_what_is_put_away_is_listed_apart_and_comes_back(
    client: TestClient, site: dict[str, Any]
) -> None:
    where = f"/sites/{site['id']}"
    gone = client.post(f"{where}/archive", headers=HTMX)
    assert f"{where}/restore" in gone.text
    assert site["id"] not in client.get("/", headers=HTMX).text
    away = client.get("/", params={"show": "away"}, headers=HTMX)
    assert site["id"] in away.text
    assert client.post(f"{where}/restore").json()["archived"] is False


def test_a_copy_is_a_site_of_its_own(client: TestClient, site: dict[str, Any]) -> None:
    reply = client.post(f"/sites/{site['id']}/copy")
    assert reply.status_code == 201
    assert reply.json()["id"] != site["id"]
    assert reply.json()["name"] != site["name"]


@pytest.mark.parametrize("path", ["", "/row", "/site.toml"])
def test_a_site_that_is_not_there_is_told(client: TestClient, path: str) -> None:
    for headers in ({}, PAGE):
        reply = client.get(f"/sites/none{path}", headers=headers)
        assert reply.status_code == 404
        assert "no such site" in reply.text


def test_reading_pages_changes_nothing(
    client: TestClient, site: dict[str, Any]
) -> None:
    before = client.get("/sites").json()
    for path in ("/", f"/sites/{site['id']}", f"/sites/{site['id']}/row", "/help"):
        assert client.get(path, headers=PAGE).status_code == 200
    assert client.get("/sites").json() == before


def test_pages_have_nothing_inline(client: TestClient, site: dict[str, Any]) -> None:
    for path in ("/", f"/sites/{site['id']}", "/help", "/nowhere"):
        text = client.get(path, headers=PAGE).text
        assert "style=" not in text
        assert "<style" not in text
        assert "onclick" not in text
        assert text.count("<script") == text.count('<script type="module" src=')


def test_every_earlier_text_can_be_fetched(
    client: TestClient, site: dict[str, Any]
) -> None:
    _put(client, site, STARTER + "# more\n")
    where = f"/sites/{site['id']}/versions"
    assert client.get(f"{where}/1.toml").text == STARTER
    assert client.get(f"{where}/3.toml").status_code == 404
    look = client.get(f"/sites/{site['id']}/history/1", headers=PAGE).text
    assert f"{where}/1.toml" in look


def test_the_demo_is_added_under_a_name_that_says_its_state(
    client: TestClient,
) -> None:
    first = client.post("/sites", data={"demo": "as-found"}).json()
    second = client.post("/sites", data={"demo": "as-found"}).json()
    assert first["name"] == "Alder Quay Library, as found"
    assert second["name"] == "Alder Quay Library, as found 2"
    assert first["can_undo"] is False


def test_a_site_whose_sheet_was_taken_away_is_still_shown_as_text(
    client: TestClient,
) -> None:
    desk = cast("Any", client.app).state.desk
    text = STARTER.replace('sheet = "two-row"', 'sheet = "gone"')
    site = desk.library.add("Old house", text)
    page = client.get(f"/sites/{site.id}", headers=PAGE)
    assert page.status_code == 200
    assert "no sensor sheet of this name" in page.text
    assert "can no longer be read" in client.get("/", headers=PAGE).text
    assert client.get(f"/sites/{site.id}/site.toml").text == text
    desk.library.put_away(site.id, archived=True)
