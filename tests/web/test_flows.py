"""The page of flows: figures, hours drawn and told, settings asked about, weather."""

import re
from importlib.resources import files

import pytest
from starlette.testclient import TestClient

from limen.store.weatherfile import find_weather

DEMO = files("limen").joinpath("demo", "alder-quay-as-found.toml").read_text("utf-8")
PEOPLE = {"Accept": "text/html"}
PIECE = {**PEOPLE, "HX-Request": "true"}


@pytest.fixture
def site(client: TestClient) -> str:
    reply = client.post("/sites", content=DEMO.encode())
    return f"/sites/{reply.json()['id']}"


@pytest.fixture
def flows(site: str) -> str:
    return f"{site}/doorways/main/flows"


def shown(client: TestClient, address: str) -> str:
    reply = client.get(address, headers=PEOPLE)
    assert reply.status_code == 200
    return reply.text


def test_the_drawing_leads_there_and_back(client: TestClient, site: str) -> None:
    door = f"{site}/doorways/main"
    assert f'href="{door}/flows"' in shown(client, door)
    assert f'href="{door}"' in shown(client, f"{door}/flows")


def test_the_hours_are_drawn_and_stand_below_as_a_table(
    client: TestClient, flows: str
) -> None:
    page = shown(client, flows)
    assert page.count('<svg class="hours"') == 2
    for kind in ("hours-through", "hours-idle", "hours-maybe"):
        assert f'class="{kind}"' in page
    rows = re.findall(r'<th scope="row">(\d+) h</th>', page)
    assert rows == [str(hour) for hour in range(9, 20)]
    assert page.count('aria-hidden="true"') >= 3
    assert "style=" not in page


def test_a_setting_is_asked_about_without_a_script_and_nothing_changes(
    client: TestClient, flows: str, site: str
) -> None:
    page = shown(client, f"{flows}?setting=outside.reach&to=60+%25")
    assert "the reach of the outside unit at 60" in page
    assert "Fewer needless openings" in page
    assert "Whether the door opens in time" in page or "Opens in time" in page
    assert client.get(site).json()["version"] == 1


@pytest.mark.parametrize(
    ("asked", "kept"),
    [
        ("setting=outside.reach&to=blue", "blue"),
        ("setting=outside.reach&to=150+%25", "150 %"),
        ("setting=nothing&to=1+s", "1 s"),
        ("setting=hold_open&to=", ""),
        ("setting=hold_open&to=%3Cb%3E1", "&lt;b&gt;1"),
    ],
)
def test_what_cannot_be_reckoned_is_said_and_what_was_typed_stays(
    client: TestClient, flows: str, asked: str, kept: str
) -> None:
    page = shown(client, f"{flows}?{asked}")
    assert 'aria-invalid="true"' in page
    assert f'value="{kept}"' in page
    assert "<b>1" not in page
    told = client.get(f"{flows}?{asked}")
    assert told.status_code == 422
    assert told.json()["lines"]


def test_programs_get_both_ends(client: TestClient, flows: str) -> None:
    found = client.get(f"{flows}?setting=hold_open&to=1+s").json()
    (door,) = found["doorways"]
    low, high = door["a_year"][0]["let_out_kwh"]
    assert 0 < low < high
    assert door["saved"][0]["setting"] == "hold_open"


def test_a_doorway_of_which_nothing_is_known_says_what_to_fill_in(
    client: TestClient, site: str
) -> None:
    page = shown(client, f"{site}/doorways/staff/flows")
    assert "traffic.through" in page
    assert "All facts" in page
    assert '<svg class="hours"' not in page


def test_another_year_that_ships_can_be_tried(client: TestClient, flows: str) -> None:
    page = shown(client, f"{flows}?weather=703165TY.csv")
    assert "Sand Point" in page
    assert client.get(f"{flows}?weather=../library.db").status_code == 422


def test_a_weather_file_is_added_kept_and_found_again(
    client: TestClient, flows: str
) -> None:
    found = find_weather("703165TY.csv", ())
    assert found is not None
    data = found.read_bytes()
    sent = {"file": ("../Our town (2).csv", data, "text/csv")}
    reply = client.post(f"{flows}/weather", files=sent)
    assert reply.status_code == 201
    name = reply.json()["weather"]
    assert re.fullmatch(r"weather/[A-Za-z0-9_.-]+\.csv", name)
    assert "Sand Point" in shown(client, f"{flows}?weather={name}")
    assert client.post(f"{flows}/weather", files=sent).status_code == 201
    other = data.replace(b"SAND POINT", b"LAND POINT")
    clash = {"file": ("Our town (2).csv", other, "text/csv")}
    assert client.post(f"{flows}/weather", files=clash).status_code == 422
    by_page = client.post(f"{flows}/weather", files=sent, headers=PIECE)
    assert by_page.status_code == 204
    assert by_page.headers["HX-Redirect"].endswith(name)


@pytest.mark.parametrize(
    ("name", "data"),
    [("a.epw", b"hello"), ("a.exe", b"MZ"), ("...", b"x"), ("", b"x" * 10)],
)
def test_a_weather_file_that_cannot_be_used_is_refused_with_why(
    client: TestClient, flows: str, name: str, data: bytes
) -> None:
    sent = {"file": (name, data, "text/plain")}
    reply = client.post(f"{flows}/weather", files=sent, headers=PIECE)
    assert reply.status_code == 422
    assert 'role="alert"' in reply.text
    assert client.post(f"{flows}/weather", files=sent).status_code == 422


def test_a_program_sends_the_file_as_it_is_with_its_name(
    client: TestClient, flows: str
) -> None:
    found = find_weather("703165TY.csv", ())
    assert found is not None
    reply = client.post(f"{flows}/weather?name=fell.csv", content=found.read_bytes())
    assert reply.status_code == 201
    assert reply.json() == {"weather": "weather/fell.csv"}
    assert client.post(f"{flows}/weather", content=b"x").status_code == 422


def test_no_file_at_all_is_refused(client: TestClient, flows: str) -> None:
    assert client.post(f"{flows}/weather", data={"x": "1"}).status_code == 422


def test_a_doorway_that_is_not_there_is_said_so(client: TestClient, site: str) -> None:
    assert client.get(f"{site}/doorways/nope/flows").status_code == 422


def test_the_weather_named_in_the_text_is_that_of_the_library(
    client: TestClient, flows: str
) -> None:
    """A kept file is named by a site's text and hung on when that is read."""
    found = find_weather("703165TY.csv", ())
    assert found is not None
    sent = {"file": ("fjord.csv", found.read_bytes(), "text/csv")}
    name = client.post(f"{flows}/weather", files=sent).json()["weather"]
    text = DEMO.replace("723170TYA.CSV", name)
    made = client.post("/sites", content=text.encode()).json()["id"]
    assert "Sand Point" in shown(client, f"/sites/{made}/doorways/main/flows")
