"""The wiring page: drawing, faults, what to set and try; the same drawn and printed."""

import re
import tomllib
from importlib.resources import files
from xml.etree.ElementTree import fromstring

import pytest
from starlette.testclient import TestClient

DEMO = files("limen").joinpath("demo", "alder-quay-as-found.toml").read_text("utf-8")
BARE = re.sub(r"wires = (\[\n(?:.*\n)*?\]|\[\{.*?\}\])\n", "", DEMO)


@pytest.fixture(scope="module")
def site(client: TestClient) -> str:
    reply = client.post("/sites", content=DEMO.encode())
    return f"/sites/{reply.json()['id']}/doorways"


@pytest.fixture(scope="module")
def bare(client: TestClient) -> str:
    """The same building before a wire is drawn."""
    reply = client.post("/sites", content=BARE.encode())
    return f"/sites/{reply.json()['id']}/doorways"


def _page(client: TestClient, address: str) -> str:
    reply = client.get(address, headers={"Accept": "text/html"})
    assert reply.status_code == 200
    return reply.text


def test_the_fault_is_on_the_page_with_what_to_do(
    client: TestClient, site: str
) -> None:
    said = _page(client, f"{site}/main/wiring")
    assert "Wire 4: The operator does not test the inside unit" in said
    assert "Switch the test on in the operator" in said


def test_the_drawing_is_there_for_a_screen_and_for_a_phone(
    client: TestClient, site: str
) -> None:
    drawn = re.findall(
        r"<svg[^>]*limen-drawing wires.*?</svg>",
        _page(client, f"{site}/main/wiring"),
        re.S,
    )
    wide, narrow = (fromstring(one) for one in drawn)  # noqa: S314 - our own text
    assert float(wide.get("width", 0)) > 600 > float(narrow.get("width", 0))
    keys = [one.get("aria-labelledby") for one in (wide, narrow)]
    assert keys[0] != keys[1]


def test_every_wire_stands_in_words(client: TestClient, site: str) -> None:
    said = _page(client, f"{site}/staff/wiring")
    for number in range(1, 6):
        assert re.search(rf"{number}\. \w+ unit, \w+ output, to input", said)


def test_a_building_without_wires_gets_a_proposal_for_each_output(
    client: TestClient, bare: str
) -> None:
    said = _page(client, f"{bare}/main/wiring")
    assert said.count("Proposed: to input “closing protection”") >= 2
    assert "Proposed: to input “opening outside”" in said
    assert "/main/facts" in said


def test_the_doorway_page_leads_to_it(client: TestClient, site: str) -> None:
    assert f'href="{site}/main/wiring"' in _page(client, f"{site}/main")


def test_it_is_printed_and_drawn_as_files(client: TestClient, site: str) -> None:
    printed = client.get(f"{site}/main/wiring.pdf?paper=letter")
    assert printed.headers["content-type"] == "application/pdf"
    assert printed.content.startswith(b"%PDF")
    assert "wiring" in printed.headers["content-disposition"]
    drawn = client.get(f"{site}/main/wiring.svg")
    assert drawn.headers["content-type"].startswith("image/svg+xml")
    assert fromstring(drawn.text).tag.endswith("svg")  # noqa: S314 - our own text


def test_lengths_are_in_the_readers_units(client: TestClient, site: str) -> None:
    cookies = {"Cookie": "limen_units=feet", "Accept": "text/html"}
    said = client.get(f"{site}/main/wiring", headers=cookies).text
    assert re.search(r"lead \d+ ft", said)
    assert " mm" not in said


@pytest.mark.parametrize("what", ["wiring", "wiring.pdf", "wiring.svg"])
def test_what_is_not_there_is_refused_and_said(
    client: TestClient, site: str, what: str
) -> None:
    assert client.get(f"{site}/nowhere/{what}").status_code == 422
    assert client.get(f"/sites/none/doorways/main/{what}").status_code == 404


def test_a_paper_that_nobody_prints_on_is_refused(
    client: TestClient, site: str
) -> None:
    assert client.get(f"{site}/main/wiring.pdf?paper=napkin").status_code == 422


def test_what_is_proposed_is_written_and_then_stands_as_described(
    client: TestClient,
) -> None:
    made = client.post("/sites", content=BARE.encode()).json()
    address = f"/sites/{made['id']}/doorways/main"
    taken = client.post(f"{address}/wiring/take", headers={"If-Match": '"1"'})
    assert taken.status_code == 200
    text = client.get(f"/sites/{made['id']}/site.toml").text
    wires = tomllib.loads(text)["doorway"][0]["fitting"]
    assert [{one["output"]: one["to"] for one in each["wires"]} for each in wires] == [
        {"opening": "opening outside", "presence": "closing protection"},
        {"opening": "opening inside", "presence": "closing protection"},
    ]
    assert all("test_enabled" not in one for each in wires for one in each["wires"])
    assert "# --- The main entrance, on the quay" in text
    said = _page(client, f"{address}/wiring")
    assert "Proposed" not in said
    again = client.post(f"{address}/wiring/take", headers={"If-Match": '"2"'})
    assert again.status_code == 422


def test_proposals_of_another_version_are_not_written(client: TestClient) -> None:
    made = client.post("/sites", content=BARE.encode()).json()
    address = f"/sites/{made['id']}/doorways/main/wiring/take"
    assert client.post(address).status_code == 428
    assert client.post(address, headers={"If-Match": '"7"'}).status_code == 412
    assert client.get(f"/sites/{made['id']}/site.toml").text == BARE
