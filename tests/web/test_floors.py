"""Floor plans of a site with several floors: chosen, named, added, all of them."""

import re
from typing import Any

import pytest
from starlette.testclient import TestClient

from builders.pictures import png
from builders.two_doors import two_doors

PEOPLE = {"Accept": "text/html"}
FORM = {**PEOPLE, "Sec-Fetch-Site": "same-origin"}
PICTURE = png(40, 30)


class Floors:
    """The floor plans of a site of two doorways of its own."""

    def __init__(self, client: TestClient) -> None:
        self.client = client
        site = client.post("/sites", content=two_doors()).json()["id"]
        self.at = f"/sites/{site}/plan"

    def add(self, name: str, data: bytes = PICTURE, **more: Any) -> Any:
        """Hand the plan of another floor in."""
        sent = {"picture": ("plan.png", data)}
        return self.client.post(
            f"{self.at}/add", data={"name": name}, files=sent, **more
        )

    def pin(self, doorway: str, **more: str) -> Any:
        """Set the pin of a doorway."""
        said = {"doorway": doorway, "x": "10", "y": "20", **more}
        return self.client.post(f"{self.at}/pin", data=said)

    def page(self, **asked: str) -> str:
        """The page as people see it."""
        reply = self.client.get(self.at, params=asked, headers=PEOPLE)
        assert reply.status_code == 200
        return reply.text

    @property
    def told(self) -> Any:
        """The plans as a program is told."""
        return self.client.get(self.at).json()

    @property
    def ids(self) -> dict[str, str]:
        """The ids of the plans by name."""
        return {one["name"]: one["id"] for one in self.told["plans"]}


@pytest.fixture
def floors(client: TestClient) -> Floors:
    return Floors(client)


@pytest.fixture
def two(floors: Floors) -> Floors:
    """Two floors; the picture of the second is another."""
    floors.add("Level 1")
    floors.add("Level 2", png(30, 40))
    return floors


def test_programs_are_told_every_plan_and_on_which_a_pin_is(two: Floors) -> None:
    level = two.ids["Level 2"]
    two.pin("side", plan=level)
    told = two.told
    assert [one["name"] for one in told["plans"]] == ["Level 1", "Level 2"]
    assert told["picture"] == told["plans"][0]["picture"] != told["plans"][1]["picture"]
    assert [one["pin"] for one in told["doorways"]] == [
        None,
        {"plan": level, "x": 0.1, "y": 0.2},
    ]


def test_where_no_plan_is_named_it_is_the_one_with_the_pin_or_the_first(
    two: Floors,
) -> None:
    two.pin("side", plan=two.ids["Level 2"])
    two.pin("side", x="30")
    two.pin("main")
    pins = {one["id"]: one["pin"] for one in two.told["doorways"]}
    assert pins["side"] == {"plan": two.ids["Level 2"], "x": 0.3, "y": 0.2}
    assert pins["main"]["plan"] == two.ids["Level 1"]
    two.client.post(two.at, files={"picture": ("plan.png", png(9, 9))})
    first, second = (one["picture"] for one in two.told["plans"])
    assert two.told["picture"] == first
    assert first != second


@pytest.mark.parametrize("step", ["", "/pin", "/name", "/gone"])
def test_a_plan_that_is_not_there_is_not_found_in_words(two: Floors, step: str) -> None:
    said = {"plan": "0123456789ab", "doorway": "main", "name": "x"}
    for accept in ("text/html", "application/json"):
        headers = {"Accept": accept}
        reply = (
            two.client.post(two.at + step, data=said, headers=headers)
            if step
            else two.client.get(two.at, params=said, headers=headers)
        )
        assert reply.status_code == 404
        assert "There is no such plan at this site" in reply.text


def test_doorways_of_this_plan_stand_before_those_of_others_and_of_none(
    two: Floors,
) -> None:
    level = two.ids["Level 2"]
    two.pin("side", plan=level)
    groups = re.compile(r'data-group="(\w+)"|class="plan-name"[^>]*>([^<]+)<')
    seen = [a or b for a, b in groups.findall(two.page(plan=level))]
    assert seen == ["here", "Side door", "nowhere", "Main entrance"]
    page = two.page()
    seen = [a or b for a, b in groups.findall(page)]
    assert seen == ["here", "elsewhere", "Side door", "nowhere", "Main entrance"]
    assert f'href="{two.at}?plan={level}">Plan: Level 2</a>' in page
    assert two.page(door="side").count("Its pin is on another plan") == 0
    moving = two.page(plan=two.ids["Level 1"], door="side")
    assert "Its pin is on another plan: Level 2." in moving
    typed = re.compile(r'name="x"[^>]* value="([^"]*)"')
    assert typed.findall(moving) == [""]  # a place on another plan is none here
    assert typed.findall(two.page(door="side")) == ["10"]


def test_with_one_plan_there_is_nothing_to_choose(floors: Floors) -> None:
    floors.add("Level 1")
    page = floors.page()
    assert "plan-tabs" not in page
    assert re.findall(r'data-group="(\w+)"', page) == ["list"]
    assert "not on the plan" in page


def test_all_plans_stand_one_below_the_other_each_with_its_list(two: Floors) -> None:
    two.pin("side", plan=two.ids["Level 2"])
    page = two.page(plan="all")
    parts = re.split(r"<h2[^>]*>", page)
    told = {part.split("<")[0]: part for part in parts[1:]}
    assert list(told) == ["Level 1", "Level 2", "Without a pin"]
    assert [("Side door" in one, "Main entrance" in one) for one in told.values()] == [
        (False, False),
        (True, False),
        (False, True),
    ]
    assert page.count("<img") == 2
    assert "data-plan-form" not in page


def test_forms_without_a_script_lead_to_the_plan_that_was_changed(two: Floors) -> None:
    level = two.ids["Level 2"]
    reply = two.add("Level 3", headers=FORM)
    assert reply.status_code == 303
    assert reply.headers["location"] == f"{two.at}?plan={two.ids['Level 3']}"
    for step, more in (("name", {"name": "Attic"}), ("gone", {"doorway": "main"})):
        said = {"plan": level, **more}
        reply = two.client.post(f"{two.at}/{step}", data=said, headers=FORM)
        assert reply.headers["location"] == f"{two.at}?plan={level}"
    assert list(two.ids) == ["Attic", "Level 1", "Level 3"]
    reply = two.client.post(f"{two.at}/gone", data={"plan": level}, headers=FORM)
    assert reply.headers["location"] == f"{two.at}?plan={two.ids['Level 1']}"
    reply = two.client.post(f"{two.at}/back", headers=FORM)
    assert reply.headers["location"] == f"{two.at}?plan={level}"


def test_a_name_that_is_refused_comes_back_as_it_was_typed(two: Floors) -> None:
    reply = two.add(" level 2", headers=FORM)
    assert reply.status_code == 422
    assert "is called Level 2 already" in reply.text
    assert 'value=" level 2"' in reply.text
    assert reply.text.index('class="faults"') < reply.text.index("plan-stage")
    said = {"plan": two.ids["Level 1"], "name": "<b>" * 30}
    reply = two.client.post(f"{two.at}/name", data=said, headers=FORM)
    assert "this one has 90" in reply.text
    assert f'value="{"&lt;b&gt;" * 30}"' in reply.text
    by_script = {**PEOPLE, "HX-Request": "true"}
    reply = two.client.post(f"{two.at}/name", data=said, headers=by_script)
    assert reply.text.index('class="faults"') > reply.text.index("plan-stage")


def test_a_large_picture_is_taken_for_another_floor(floors: Floors) -> None:
    noise = (b"IDAT", b"\0" * 3_000_000)
    assert floors.add("Level 1", png(40, 30, noise)).status_code == 200


def test_by_script_the_address_names_the_plan_that_is_shown(two: Floors) -> None:
    reply = two.add("Level 3", headers={**PEOPLE, "HX-Request": "true"})
    assert reply.headers["HX-Replace-Url"] == f"{two.at}?plan={two.ids['Level 3']}"
    assert "Take back: plan Level 3" in reply.text


def test_a_plan_is_taken_away_by_its_name_where_no_pin_is_on_it(two: Floors) -> None:
    level = two.ids["Level 2"]
    assert "Take this plan away" in two.page(plan=level)
    two.pin("side", plan=level)
    page = two.page(plan=level)
    assert "Take the picture away" in page
    assert "Take back: pin of Side door, plan Level 2" in page
