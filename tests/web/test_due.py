"""What is due, as a page and as a calendar to subscribe to (RFC 5545, RFC 9110)."""

import re
from typing import Any

import pytest
import vobject
from icalendar import Calendar
from starlette.testclient import TestClient

from limen.store.starter import starter_text
from web.conftest import HERE

PEOPLE = {"Accept": "text/html"}
COMMISSIONED = "commissioned = 2020-06-01"
SITES = {
    "Clinic": 'checked = 2025-11-13, by = "R. Okafor", route = "North"',
    "School": 'checked = 2025-12-01, by = "L. Brandt", route = "North"',
    "Arcade": 'by = "L. Brandt & Söhne", route = "South"',
    "Station": "checked = 2026-11-01, fault = 2026-11-20",
}
"""Kept on 25 November 2026: overdue by 12 days, due in 6, not known, at once."""


@pytest.fixture(scope="module")
def kept(client: TestClient) -> dict[str, str]:
    """By name the ids of four sites."""
    made: dict[str, str] = {}
    for name, said in SITES.items():
        text = starter_text().replace("My site", name)
        text = text.replace(COMMISSIONED, f"{COMMISSIONED}\nkept = {{ {said} }}")
        made[name] = client.post("/sites", content=text).json()["id"]
    return made


def page(client: TestClient, **asked: Any) -> str:
    found = client.get("/due", params=asked, headers=PEOPLE)
    assert found.status_code == 200
    return found.text


def feed(client: TestClient, **asked: Any) -> Any:
    found = client.get("/due.ics", params=asked)
    assert found.status_code == 200
    assert found.headers["content-type"] == "text/calendar; charset=utf-8"
    Calendar.from_ical(found.content)
    calendar = vobject.readOne(found.text)
    assert calendar.validate(raiseException=True)
    return calendar


@pytest.mark.usefixtures("kept")
def test_what_is_most_urgent_stands_first_and_in_words(client: TestClient) -> None:
    said = page(client)
    heads = re.findall(r'<h2 id="due-(\w+)">', said)
    assert heads[:4] == ["at_once", "overdue", "not_known", "soon"]
    assert "OVERDUE by 12 days" in said
    assert "due in 6 days" in said


def test_a_row_leads_to_the_doorway_and_to_planning_a_visit(
    client: TestClient, kept: dict[str, str]
) -> None:
    said = page(client, q="clinic")
    door = f"/sites/{kept['Clinic']}/doorways/main"
    assert f'href="{door}"' in said
    assert f'href="{door}/life#plan"' in said
    assert "School" not in said


@pytest.mark.parametrize(
    ("asked", "names"),
    [
        ({"person": "L. Brandt"}, {"School"}),
        ({"route": "North"}, {"Clinic", "School"}),
        # What is not known is never left out.
        ({"within": "0"}, {"Clinic", "Arcade", "Station"}),
        ({"within": "7", "route": "North"}, {"Clinic", "School"}),
        ({"q": "söhne"}, {"Arcade"}),
    ],
)
@pytest.mark.usefixtures("kept")
def test_a_filter_shows_what_it_says(
    client: TestClient, asked: dict[str, str], names: set[str]
) -> None:
    rows = client.get("/due", params=asked).json()["checks"]
    assert {one["site"] for one in rows} == names
    said = page(client, **asked)
    assert {one for one in SITES if f">{one}</a>" in said} == names


@pytest.mark.usefixtures("kept")
def test_nothing_that_is_asked_for_is_refused_with_reason(client: TestClient) -> None:
    assert "Nothing like that is due." in page(client, person="Nobody")
    assert client.get("/due", params={"within": "soon"}).status_code == 422
    assert client.get("/due", params={"start": "-1"}).status_code == 422


@pytest.mark.usefixtures("kept")
def test_the_page_hands_on_the_filter_to_its_calendars(client: TestClient) -> None:
    said = page(client, person="L. Brandt & Söhne")
    address = "/due.ics?person=L.+Brandt+%26+S%C3%B6hne"
    assert f'href="{address}&amp;save=true&amp;remind=14"' in said
    assert f">{HERE}{address}</a>" in said


def test_the_feed_has_every_day_under_a_name_that_stays(
    client: TestClient, kept: dict[str, str]
) -> None:
    events = {one.url.value: one for one in feed(client).vevent_list}
    assert len(events) == 3  # of one no day is known
    door = f"/sites/{kept['School']}/doorways/main"
    before = events[HERE + door]
    assert before.dtstart.value.isoformat() == "2026-12-01"
    at = f"/sites/{kept['School']}"
    text = client.get(f"{at}/site.toml").text
    moved = text.replace("2025-12-01", "2025-12-02")
    put = client.put(f"{at}/text", content=moved, headers={"If-Match": '"1"'})
    assert put.status_code == 200
    after = {one.url.value: one for one in feed(client).vevent_list}[HERE + door]
    assert after.dtstart.value.isoformat() == "2026-12-02"
    assert after.uid.value == before.uid.value
    assert int(after.sequence.value) >= int(before.sequence.value)
    assert after.last_modified.value >= before.last_modified.value
    client.put(f"{at}/text", content=text, headers={"If-Match": '"2"'})


@pytest.mark.usefixtures("kept")
def test_what_is_late_stands_on_today(client: TestClient) -> None:
    """25 November: nobody looks for it in the past."""
    days = {
        one.summary.value.partition(":")[0]: one.dtstart.value.isoformat()
        for one in feed(client).vevent_list
    }
    assert days["OVERDUE, check the door"] == "2026-11-25"
    assert days["AT ONCE, check before further use"] == "2026-11-25"


@pytest.mark.usefixtures("kept")
def test_the_feed_is_asked_for_by_person_with_reminders(client: TestClient) -> None:
    (event,) = feed(client, person="L. Brandt", remind=3).vevent_list
    assert event.valarm.trigger.value.days == -3
    assert not hasattr(feed(client, person="L. Brandt").vevent, "valarm")


@pytest.mark.usefixtures("kept")
def test_what_was_not_changed_is_not_sent_again(client: TestClient) -> None:
    """RFC 9110, 13.1.2 and 15.4.5: If-None-Match, by weak comparison."""
    first = client.get("/due.ics")
    tag = first.headers["etag"]
    for stated in (tag, f"W/{tag}", f'"other", {tag}'):
        again = client.get("/due.ics", headers={"If-None-Match": stated})
        assert (again.status_code, again.content) == (304, b"")
        assert again.headers["etag"] == tag
    other = client.get("/due.ics", params={"route": "North"})
    assert other.headers["etag"] != tag


@pytest.mark.usefixtures("kept")
def test_a_file_is_offered_to_be_saved(client: TestClient) -> None:
    found = client.get("/due.ics", params={"save": "true"})
    assert "due.ics" in found.headers["content-disposition"]
    assert "content-disposition" not in client.get("/due.ics").headers


@pytest.mark.usefixtures("kept")
def test_a_calendar_with_half_of_the_days_is_not_given(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("limen.web.routes_due.MOST_WAIT", -1.0)
    memory: Any = client.app.state.desk.dues  # type: ignore[attr-defined]
    memory.sites.clear()
    memory.whole = None
    found = client.get("/due.ics")
    assert found.status_code == 503
    assert found.headers["retry-after"] == "2"
    assert "Ask again" in found.json()["lines"][0]


def test_looking_at_it_changes_nothing(client: TestClient) -> None:
    for method in ("post", "put", "delete"):
        assert getattr(client, method)("/due").status_code == 405
        assert getattr(client, method)("/due.ics").status_code == 405
