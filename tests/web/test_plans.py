"""A floor plan: its picture is taken in bare, its pins are set and taken back."""

from typing import Any

import pytest
from starlette.testclient import TestClient

from builders.pictures import jpeg, png
from limen.store.starter import starter_text

PEOPLE = {"Accept": "text/html"}
PLAN = png(40, 30, (b"tEXt", b"Author\0somebody"))


class Plan:
    """The floor plan of a site of its own."""

    def __init__(self, client: TestClient) -> None:
        self.client = client
        self.site = client.post("/sites", content=starter_text()).json()["id"]
        self.at = f"/sites/{self.site}/plan"

    def picture(self, data: bytes = PLAN) -> Any:
        """Hand a picture in."""
        return self.client.post(self.at, files={"picture": ("plan.png", data)})

    def pin(self, x: str, y: str, **more: Any) -> Any:
        """Set the pin of the one doorway."""
        said = {"doorway": "main", "x": x, "y": y}
        return self.client.post(f"{self.at}/pin", data=said, **more)

    @property
    def told(self) -> Any:
        """The plan as a program is told."""
        return self.client.get(self.at).json()

    @property
    def spot(self) -> Any:
        """Where the pin is."""
        return self.told["doorways"][0]["pin"]


def _pin(x: float, y: float) -> dict[str, object]:
    return {"plan": "first", "x": x, "y": y}


@pytest.fixture
def plan(client: TestClient) -> Plan:
    return Plan(client)


def test_a_site_without_a_picture_lists_its_doorways(plan: Plan) -> None:
    text = plan.client.get(plan.at, headers=PEOPLE).text
    assert "has no floor plan yet" in text
    assert "Main entrance" in text
    assert "<img" not in text


def test_a_picture_is_kept_without_what_it_tells(plan: Plan) -> None:
    assert plan.picture().status_code == 200
    kept = plan.client.get(plan.told["picture"])
    assert kept.headers["content-type"] == "image/png"
    assert b"somebody" not in kept.content


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "JPEG, PNG, WebP"),
        (b"%PDF-1.7", "JPEG, PNG, WebP"),
        (b"", "No picture"),
        (png(20_000, 20_000), "million pixels"),
        (jpeg(9, 9)[:-1], "JPEG, PNG, WebP"),
    ],
    ids=["svg", "pdf", "nothing", "pixels", "torn"],
)
def test_what_is_no_picture_of_ours_is_refused_and_why(
    plan: Plan, data: bytes, says: str
) -> None:
    reply = plan.picture(data)
    assert reply.status_code == 422
    assert says in reply.json()["lines"][0]
    assert plan.told["picture"] is None


def test_a_large_picture_is_taken_and_one_too_large_is_not(plan: Plan) -> None:
    noise = (b"IDAT", b"\0" * 3_000_000)
    assert plan.picture(png(40, 30, noise)).status_code == 200
    assert plan.picture(b"\0" * 15_500_000).status_code == 413


@pytest.mark.parametrize("x", ["37.5", "37,5", " 37.5 %", "037.5"])
def test_a_pin_is_typed_in_percent(plan: Plan, x: str) -> None:
    plan.picture()
    reply = plan.pin(x, "20", headers={"Accept-Language": "de" if "," in x else "en"})
    assert reply.status_code == 200
    assert plan.spot == _pin(0.375, 0.2)


@pytest.mark.parametrize("x", ["", "-1", "101", "1e1", "a", "100.01"])
def test_what_is_no_part_of_the_picture_is_refused(plan: Plan, x: str) -> None:
    plan.picture()
    assert plan.pin(x, "20").status_code == 422
    text = plan.pin(x, "20", headers=PEOPLE).text
    assert "Accepted: 37 or 37.5" in text
    assert plan.spot is None


def test_steps_are_taken_back_one_by_one_and_nothing_is_lost(plan: Plan) -> None:
    plan.picture()
    plan.pin("10", "10")
    plan.pin("60", "70")
    plan.client.post(f"{plan.at}/gone", data={"doorway": "main"})
    seen = [plan.spot]
    for _ in range(3):
        plan.client.post(f"{plan.at}/back")
        seen.append(plan.spot)
    assert seen == [None, _pin(0.6, 0.7), _pin(0.1, 0.1), None]
    plan.client.post(f"{plan.at}/back")
    assert plan.told["picture"] is None
    assert plan.client.post(f"{plan.at}/back").status_code == 422


def test_another_picture_keeps_the_pins(plan: Plan) -> None:
    plan.picture()
    plan.pin("10", "10")
    plan.picture(png(80, 60))
    assert plan.spot == _pin(0.1, 0.1)
    plan.client.post(f"{plan.at}/gone")
    assert plan.told["picture"] is None
    assert plan.spot == _pin(0.1, 0.1)


def test_the_page_puts_mark_word_and_number_where_the_pin_is(plan: Plan) -> None:
    plan.picture()
    plan.pin("25", "75")
    text = plan.client.get(plan.at, headers=PEOPLE).text
    assert '<svg x="25.00%" y="75.00%"' in text
    assert 'aria-label="1: Main entrance. not studied yet"' in text


def test_a_form_without_a_script_leads_back_to_the_plan(plan: Plan) -> None:
    plan.picture()
    own = {**PEOPLE, "Sec-Fetch-Site": "same-origin"}
    reply = plan.pin("1", "2", headers=own)
    assert reply.status_code == 303
    assert reply.headers["location"] == plan.at


def test_a_doorway_that_is_not_there_has_no_pin(plan: Plan) -> None:
    said = {"doorway": "cellar", "x": "1", "y": "1"}
    assert plan.client.post(f"{plan.at}/pin", data=said).status_code == 422
    assert plan.client.get("/sites/nowhere/plan").status_code == 404
