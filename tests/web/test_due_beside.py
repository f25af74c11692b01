"""A doorway's page, its JSON and the lists tell one truth of when it is due."""

import re
from datetime import date
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from starlette.testclient import TestClient

from builders.records import events
from desk.record_cases import sealed
from limen.exchange import findings_schema
from limen.store.database.records import keep_record
from limen.store.starter import starter_text

PEOPLE = {"Accept": "text/html"}
COMMISSIONED = "commissioned = 2020-06-01"
FORM = {"Content-Type": "application/x-www-form-urlencoded"}


@pytest.fixture(scope="module")
def site(client: TestClient) -> str:
    """A site of whose doorway no text says when it was checked, and a record does."""
    desk: Any = client.app.state.desk  # type: ignore[attr-defined]
    # The day after the check that is sealed.
    object.__setattr__(desk, "day", lambda: date(2026, 11, 27))
    text = starter_text().replace(COMMISSIONED, f"{COMMISSIONED}\nkept = {{}}")
    made: str = client.post("/sites", content=text).json()["id"]
    one = sealed(events(state="in use"))
    keep_record(desk.library, made, "main", digest=one.digest, sealed=one.sealed)
    # Whatever is changed next brings the lists up to it.
    client.post(f"/sites/{made}/rename", content="name=Clinic", headers=FORM)
    return made


def _due(client: TestClient, site: str) -> dict[str, Any]:
    body = client.get(f"/sites/{site}/doorways/main/findings").json()
    Draft202012Validator(findings_schema()).validate(body)
    (door,) = body["doorways"]
    return {"findings": door["findings"], **door["due"]}


def test_the_page_says_who_says_so_and_leads_there(
    client: TestClient, site: str
) -> None:
    page = client.get(f"/sites/{site}/doorways/main", headers=PEOPLE).text
    said = page.replace("\N{NO-BREAK SPACE}", " ")
    assert "(record 1); the next check is due by" in said
    beside = re.search(r"<li [^>]*data-due-beside>(.*?)</li>", said, re.DOTALL)
    assert beside is not None
    assert "By what is kept here: Checked on 2026-11-26 (record 1);" in beside[1]
    assert "text alone: When a competent person" in beside[1]
    links = re.findall(r'href="([^"]+)">([^<]+)<', beside[1])
    assert [name for _, name in links] == ["record 1", "What is due"]
    assert all(client.get(href).status_code == 200 for href, _ in links)
    assert "from all that is kept here" in said


def test_programs_are_given_the_text_and_what_is_known_beside_it(
    client: TestClient, site: str
) -> None:
    due = _due(client, site)
    assert (due["state"], due["due"]) == ("in time", "2027-11-26")
    assert due["text_alone"]
    regular = next(one for one in due["findings"] if one["question"] == "keeping.due")
    assert regular["verdict"] == "not shown"
    address = f"/sites/{site}/doorways/main/findings"
    taken = client.get(address, params={"how": "file"}).json()
    assert "due" not in taken["doorways"][0]


def test_the_page_that_rests_says_the_same(client: TestClient, site: str) -> None:
    version = client.get(f"/sites/{site}").json()["version"]
    address = f"/sites/{site}/doorways/main/preview"
    body = client.post(address, json={"version": version, "rests": True}).json()
    assert body["due"]["due"] == "2027-11-26"
    assert "data-due-beside" in body["findings_html"]


def test_where_its_figures_come_from_is_told_of_the_same_answer(
    client: TestClient, site: str
) -> None:
    address = f"/sites/{site}/doorways/main/origins"
    told = client.get(address, params={"finding": "keeping.due~~"}).json()
    assert told["verdict"] == "holds"


def test_all_lists_have_one_day(client: TestClient, site: str) -> None:
    day = _due(client, site)["due"]
    (check,) = client.get("/due", params={"q": "clinic"}).json()["checks"]
    (row,) = client.get("/doors", params={"site": site}).json()["doorways"]
    assert check["due"] == row["due_day"] == day
