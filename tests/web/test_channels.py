"""The channels of a site: shown, drawn, written as one version, undone."""

from importlib.resources import files
from xml.etree import ElementTree as ET

import jsonschema
import pytest
from starlette.testclient import TestClient

from limen.exchange.channels import channels_schema

DEMO = files("limen").joinpath("demo", "alder-quay-as-found.toml").read_text("utf-8")
PEOPLE = {"Accept": "text/html"}


@pytest.fixture
def site(client: TestClient) -> str:
    reply = client.post("/sites", content=DEMO.encode())
    return f"/sites/{reply.json()['id']}"


def test_the_page_says_what_to_set_and_shows_every_unit(
    client: TestClient, site: str
) -> None:
    page = client.get(f"{site}/channels", headers=PEOPLE).text
    assert "Set the inside unit of doorway main to channel" in page
    assert "The inside unit of doorway reading-room: channel" in page
    assert page.count('class="limen-drawing"') == 2


def test_the_page_of_the_site_leads_there(client: TestClient, site: str) -> None:
    assert f'href="{site}/channels"' in client.get(site, headers=PEOPLE).text


def test_programs_get_what_the_schema_describes(client: TestClient, site: str) -> None:
    told = client.get(f"{site}/channels").json()
    jsonschema.validate(told, channels_schema())
    assert len(told["units"]) == 10
    assert told["radars"] == [{"doorway": "escape", "fitting": "radar-inside"}]
    (sure,) = [pair for pair in told["pairs"] if pair["how"] == "meets"]
    assert sure["one"] == {"doorway": "main", "fitting": "inside"}
    assert sure["shared_before"]
    assert not sure["shares"]


def test_all_channels_are_written_as_one_version_that_can_be_undone(
    client: TestClient, site: str
) -> None:
    wanted = {
        (one["doorway"], one["fitting"]): one["channel"]
        for one in client.get(f"{site}/channels").json()["units"]
    }
    done = client.post(f"{site}/channels/set", headers={"If-Match": "1"})
    assert done.status_code == 200
    assert done.json()["version"] == 2
    after = client.get(f"{site}/channels").json()["units"]
    assert {(u["doorway"], u["fitting"]): u["was"] for u in after} == wanted
    assert not any(one["changes"] for one in after)
    nothing = client.post(f"{site}/channels/set", headers={"If-Match": "2"})
    assert nothing.status_code == 422
    client.post(f"{site}/undo", headers={"If-Match": "2"})
    assert client.get(f"{site}/site.toml").text == DEMO


def test_a_plan_of_an_older_text_is_not_written(client: TestClient, site: str) -> None:
    text = DEMO.replace("Alder Quay Library", "Alder Quay Reading House")
    saved = client.put(f"{site}/text", content=text.encode(), headers={"If-Match": "1"})
    assert saved.status_code == 200
    late = client.post(f"{site}/channels/set", headers={"If-Match": "1"})
    assert late.status_code == 412
    assert client.post(f"{site}/channels/set").status_code == 428


def test_fewest_channels_are_another_plan_never_with_more(
    client: TestClient, site: str
) -> None:
    one = client.get(f"{site}/channels").json()
    two = client.get(f"{site}/channels", params={"first": "channels"}).json()
    assert two["harm"] == one["harm"]
    assert two["used"] <= one["used"]


def test_the_drawing_tells_every_channel_by_number_and_pattern(
    client: TestClient, site: str
) -> None:
    told = client.get(f"{site}/channels").json()["units"]
    drawn = ET.fromstring(client.get(f"{site}/channels.svg").text)  # noqa: S314  # our own
    texts = [one.text or "" for one in drawn.iter("{http://www.w3.org/2000/svg}text")]
    boxes = list(drawn.iter("{http://www.w3.org/2000/svg}rect"))
    for unit in told:
        assert any(text.endswith(str(unit["channel"])) for text in texts)
    filled = {one.get("fill") for one in boxes if "url(" in (one.get("fill") or "")}
    assert len(filled) == len({one["channel"] for one in told})
