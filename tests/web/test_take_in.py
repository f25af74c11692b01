"""A list of doors is sent, looked at, taken in, put away again, without a script."""

import csv
import re
from io import StringIO

from httpx2 import Response
from starlette.testclient import TestClient

HEAD = "site;place;door;type;width [mm];last check;escape"
LIST = "\n".join(
    [
        HEAD,
        "Harbour hall;Quay 1;T 1;double;1800;01.03.2025;ja",
        "Harbour hall;Quay 1;T 2;double;wide;2025-03-01;nein",
        "Harbour hall;Quay 1;=3;2 leaves;900;2025-03-01;x",
        "Mill;Quay 2;T 1;double;1200;2025-03-01;no",
    ]
)


def _send(client: TestClient, text: str | bytes, name: str = "doors.csv") -> Response:
    data = text.encode() if isinstance(text, str) else text
    return client.post("/take-in", files={"file": (name, data)})


def _begin(client: TestClient, text: str | bytes = LIST) -> str:
    answer = _send(client, text)
    assert answer.status_code == 303
    return answer.headers["Location"]


def _fields(page: str) -> dict[str, str]:
    """What a browser would send of the form as it stands."""
    found: dict[str, str] = {}
    for select in re.finditer(r'<select[^>]* name="([^"]+)".*?</select>', page, re.S):
        options = re.findall(r"<option([^>]*)>([^<]*)", select[0])
        chosen = next((one for one in options if " selected" in one[0]), options[0])
        value = re.search(r'value="([^"]*)"', chosen[0])
        found[select[1]] = value[1] if value else chosen[1]
    for field in re.finditer(r'<input[^>]* name="([^"]+)"[^>]*>', page):
        value = re.search(r' value="([^"]*)"', field[0])
        found[field[1]] = value[1] if value else ""
    return found


def _names(client: TestClient) -> list[str]:
    return [one["name"] for one in client.get("/sites").json() if not one["archived"]]


def test_a_list_is_looked_at_before_anything_of_it_is_kept(client: TestClient) -> None:
    before = _names(client)
    place = _begin(client)
    page = client.get(place).text
    assert "5 rows: 3 taken, 1 refused, 1 passed over." in page
    assert "It is not read as a measure: wide." in page
    assert _names(client) == before


def test_what_was_looked_at_is_taken_in_and_put_away_again(client: TestClient) -> None:
    before = _names(client)
    place = _begin(client)
    sent = _fields(client.get(place).text) | {"act": "take"}
    answer = client.post(place, data=sent)
    assert answer.status_code == 303, answer.text
    assert _names(client) == sorted([*before, "Harbour hall", "Mill"])
    page = client.get(place).text
    site = re.search(r"/sites/(\w+)", page)
    assert site is not None
    text = client.get(f"/sites/{site[1]}/site.toml").text
    assert 'clear_width = "1800 mm"' in text
    assert "kept = { checked = 2025-03-01 }" in text
    assert client.post(place, data=sent).headers["Location"] == place  # not twice
    assert len(_names(client)) == len(before) + 2
    assert "put away again" in client.post(f"{place}/back").text
    assert _names(client) == before


def test_doors_are_added_to_a_site_that_is_there_and_none_is_overwritten(
    client: TestClient,
) -> None:
    first = _begin(client, f"{HEAD}\nDepot;Quay 9;A1;double;900;;\n")
    client.post(first, data=_fields(client.get(first).text) | {"act": "take"})
    rows = f"{HEAD}\nDepot;Quay 9;A1;double;1500;;\nDepot;Quay 9;A2;double;1500;;\n"
    second = _begin(client, rows)
    page = client.get(second).text
    assert "The doorway a1 is there already, in Depot." in page
    client.post(second, data=_fields(page) | {"act": "take"})
    site = re.search(r"/sites/(\w+)", client.get(second).text)
    assert site is not None
    text = client.get(f"/sites/{site[1]}/site.toml").text
    assert text.count("[[short]]") == 2
    assert 'clear_width = "900 mm"' in text
    client.post(f"{second}/back")
    assert client.get(f"/sites/{site[1]}/site.toml").text.count("[[short]]") == 1


def test_what_was_changed_since_it_was_tried_is_tried_and_not_taken(
    client: TestClient,
) -> None:
    before = _names(client)
    place = _begin(client)
    page = client.get(place).text
    sent = _fields(page) | {"act": "take", "unit_4": "cm"}
    answer = client.post(place, data=sent)
    assert answer.status_code == 200
    assert "You have changed something since it was tried." in answer.text
    assert _names(client) == before


def test_a_mapping_that_is_refused_keeps_what_was_chosen(client: TestClient) -> None:
    place = _begin(client)
    sent = _fields(client.get(place).text)
    sent |= {
        "to_4": "size",
        "to_5": "clear_width",
        "every_kept.by": "Ada",
        "act": "take",
    }
    answer = client.post(place, data=sent)
    assert answer.status_code == 422
    again = _fields(answer.text)
    assert {key: again[key] for key in ("to_4", "to_5", "every_kept.by")} == {
        key: sent[key] for key in ("to_4", "to_5", "every_kept.by")
    }


def test_the_refused_rows_can_be_saved_mended_and_taken_in(client: TestClient) -> None:
    place = _begin(client, LIST.replace("Harbour hall", "Ferry").replace("Mill", "Inn"))
    page = client.get(place).text
    client.post(place, data=_fields(page) | {"act": "take"})
    rest = client.get(f"{place}/refused.csv").content.decode("utf-8-sig")
    rows = list(csv.reader(StringIO(rest)))
    assert rows[1][0] == "3"
    mended = _begin(client, rest.replace("wide", "1100"))
    again = client.get(mended).text
    assert "2 rows: 1 taken, 0 refused, 1 passed over." in again
    assert "Ferry, Quay 1: more, 1 doorway" in again


def test_a_file_that_is_no_list_says_what_would_be_accepted(client: TestClient) -> None:
    answer = _send(client, b"%PDF-1.7", "doors.pdf")
    assert answer.status_code == 422
    assert "Save the list as CSV or Excel" in answer.text
    assert _send(client, b"").status_code == 422


def test_a_list_that_is_no_longer_held_says_so(client: TestClient) -> None:
    for way in ("", "/refused.csv", "/map.toml"):
        assert client.get(f"/take-in/{'0' * 16}{way}").status_code == 404
    assert client.post(f"/take-in/{'0' * 16}", data={"act": "take"}).status_code == 404
    assert client.post(f"/take-in/{'0' * 16}/back").status_code == 404


def test_the_mapping_can_be_saved_for_the_command(client: TestClient) -> None:
    place = _begin(client)
    text = client.get(f"{place}/map.toml").text
    assert 'to = "clear_width"' in text


def test_another_separator_reads_other_columns(client: TestClient) -> None:
    place = _begin(client)
    sent = _fields(client.get(place).text) | {"separator": ",", "act": "look"}
    answer = client.post(place, data=sent)
    assert answer.status_code == 200
    assert "0 taken" in answer.text


def test_the_page_is_found_from_where_sites_are_added(client: TestClient) -> None:
    page = client.get("/", headers={"Accept": "text/html"}).text
    assert 'href="/take-in"' in page
