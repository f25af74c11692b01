"""The page of a doorway's life: what is ahead is said by forms, nothing gets lost."""

import json
import re
from importlib.resources import files
from typing import Any
from uuid import uuid4

import pytest
from starlette.testclient import TestClient

from builders.visit_events import STARTED, name, raw, step
from limen.store.database.keeping import keep_event
from limen.store.starter import starter_text
from limen.web.plain_form import plain_form

PEOPLE = {"Accept": "text/html"}
HOST = "127.0.0.1:8765"
NOBODY = "0f8b3f0e-2f0c-4f0e-8f00-0123456789ab"
"""What nobody ever planned."""
CHECK = {"day": "2026-12-01", "what": "check", "who": "M. Lind"}


class Door:
    """A doorway on a server of its own site."""

    def __init__(self, client: TestClient) -> None:
        self.client = client
        self.site = client.post("/sites", content=starter_text()).json()["id"]
        self.door = client.get(f"/sites/{self.site}/doorways").json()[0]["id"]
        self.at = f"/sites/{self.site}/doorways/{self.door}/life"

    def say(self, to: str, person: str = "R. Okafor", **said: str) -> Any:
        """Say something as a person's form does."""
        typed = {"person": person, **said}
        return self.client.post(f"{self.at}/{to}", data=typed, headers=PEOPLE)

    def told(self) -> Any:
        """Its life as a program is told."""
        return self.client.get(self.at).json()

    def page(self, query: str = "", *, status: int = 200) -> str:
        """Its page as people read it, without its tags."""
        found = self.client.get(f"{self.at}{query}", headers=PEOPLE)
        assert found.status_code == status
        return words(found.text)

    def plan(self, **more: str) -> str:
        """Id of a plan."""
        about = str(uuid4())
        assert self.say("plan", about=about, **CHECK | more).status_code == 303
        return about

    def visit(self, state: str) -> str:
        """A visit of 26 November with a defect."""
        visit, phone = str(uuid4()), f"phone-{uuid4()}"
        said = [
            ("started", STARTED),
            ("step", step("touched", "box.left")),
            ("defect", {"text": "Guide loose", "told": "A. Keeper"}),
            ("handed_over", {"state": state, "told": "A. Keeper"}),
        ]
        events = [
            raw(phone, seq, *one, doorway=self.door, site=self.site, visit=visit)
            for seq, one in enumerate(said, 1)
        ]
        sent = self.client.post(
            "/visits/events", content=json.dumps({"events": events})
        )
        assert sent.status_code == 200
        self.defect = name(phone, 3)
        return visit


def words(text: str) -> str:
    """A page without its tags."""
    return re.sub(r"\s+", " ", re.sub(r"<title>.*?</title>|<[^>]+>", " ", text))


@pytest.fixture
def door(client: TestClient) -> Door:
    return Door(client)


def test_where_nothing_was_said_the_page_says_so_and_looking_keeps_nothing(
    door: Door,
) -> None:
    page = door.page()
    assert "Nothing is planned, owed or ordered." in page
    assert "First text kept" in page
    assert [one["kind"] for one in door.told()["entries"]] == ["texts"]


def test_a_visit_is_planned_refused_and_tried_again(door: Door) -> None:
    about = door.plan()
    done = door.say(f"{about}/refused", known="1", by="A. Keeper", because="Fair")
    assert done.headers["location"] == f"{door.at}#a-{about}"
    page = door.page()
    assert "Refused by A. Keeper: Fair" in page
    assert "Visit of 2026-12-01 refused by A. Keeper" in page
    door.say(f"{about}/moved", known="2", day="2026-12-08")
    (plan,) = door.told()["plans"]
    assert (plan["state"], plan["day"], plan["known"]) == ("planned", "2026-12-08", 3)
    assert "Visit moved to 2026-12-08" in door.page()


def test_what_is_overdue_says_so_in_words(door: Door) -> None:
    door.plan(day="2026-11-20")
    assert "Overdue by 5 days" in door.page()


def test_what_cannot_be_kept_stays_typed_and_says_what_is_accepted(door: Door) -> None:
    found = door.say("plan", person="", day="soon", what="check", note="Long ladder")
    assert found.status_code == 422
    page = words(found.text)
    assert "Nothing was kept" in page
    assert "The day: year, month, day" in page
    assert "Who says so: a name" in page
    assert ">Long ladder</textarea>" in found.text
    assert door.told()["plans"] == []


def test_an_act_that_cannot_be_kept_stays_open_with_what_was_typed(door: Door) -> None:
    about = door.plan()
    found = door.say(f"{about}/refused", known="1", by="A. Keeper")
    assert found.status_code == 422
    form = found.text.partition(f"{about}/refused")[2].partition("</form>")[0]
    assert 'value="A. Keeper"' in form
    assert "Why: a few words" in words(found.text)


def test_who_has_not_read_the_last_word_is_told_and_nothing_is_kept(door: Door) -> None:
    about = door.plan()
    door.say(f"{about}/moved", known="1", day="2026-12-08")
    found = door.say(f"{about}/called_off", known="1")
    assert found.status_code == 422
    assert "Somebody else has said something of this meanwhile" in words(found.text)
    assert door.told()["plans"][0]["state"] == "planned"


def test_the_same_form_sent_twice_is_one_plan(door: Door) -> None:
    about = str(uuid4())
    for _ in range(2):
        assert door.say("plan", about=about, **CHECK).status_code == 303
    assert len(door.told()["plans"]) == 1


def test_a_word_is_taken_back_and_stays_to_be_read(door: Door) -> None:
    about = door.plan()
    door.say(f"{about}/called_off", known="1", because="Sold")
    event = door.told()["plans"][0]["events"][-1]["id"]
    assert door.say(f"{about}/undone", known="2", event=event).status_code == 303
    assert door.told()["plans"][0]["state"] == "planned"
    page = door.page()
    assert "Visit of 2026-12-01 called off (taken back)" in page
    assert "R. Okafor took a word back" in page


def test_defects_of_a_visit_are_owed_until_somebody_says_they_are_done(
    door: Door,
) -> None:
    visit = door.visit("in use with defects")
    page = door.page()
    assert "Guide loose" in page
    assert "Found at the visit of 2026-11-26, told to A. Keeper" in page
    (owed,) = door.told()["follow_ups"]
    assert (owed["about"], owed["visit"], owed["known"]) == (door.defect, visit, 0)
    done = door.say(f"{door.defect}/mended", known="0", note="New guide")
    assert done.status_code == 303
    assert door.told()["follow_ups"][0]["state"] == "mended"
    assert "Done: Guide loose" in door.page()


def test_defects_of_a_door_that_was_left_in_use_are_owed_by_nobody(door: Door) -> None:
    door.visit("in use")
    assert door.told()["follow_ups"] == []
    assert "One test failed · One defect" in door.page()


def test_a_visit_is_offered_to_its_plan_and_joined_only_by_choice(door: Door) -> None:
    about = door.plan()
    visit = door.visit("in use")
    page = door.client.get(door.at, headers=PEOPLE).text
    form = page.partition(f"{about}/done")[2].partition("</form>")[0]
    assert f'<option value="{visit}">' in form
    assert 'value="" selected' in form
    assert door.told()["plans"][0]["state"] == "planned"
    door.say(f"{about}/done", known="1", visit=visit)
    (plan,) = door.told()["plans"]
    assert (plan["state"], plan["visit"]) == ("done", visit)


def test_parts_are_ordered_and_fitted(door: Door) -> None:
    door.say("part", name="Guide", number="G-4", count="2", state="ordered")
    assert "On order: 2 × Guide, number G-4" in door.page()
    about = door.told()["parts"][0]["about"]
    door.say(f"{about}/fitted", known="1", name="Guide", number="G-5", count="2")
    (part,) = door.told()["parts"]
    assert (part["state"], part["number"]) == ("fitted", "G-5")
    door.say("part", name="Cable", count="1", state="fitted")
    assert [one["state"] for one in door.told()["parts"]] == ["fitted", "fitted"]


def test_a_follow_up_is_said_and_moved(door: Door) -> None:
    door.say("follow_up", text="Paint the mark", day="2027-01-31")
    about = door.told()["follow_ups"][0]["about"]
    door.say(f"{about}/moved", known="1", day="2027-02-28")
    assert door.told()["follow_ups"][0]["day"] == "2027-02-28"
    assert "To be done by 2027-02-28: Paint the mark" in door.page()


def test_only_entries_of_one_kind_are_shown_where_that_is_asked(door: Door) -> None:
    door.plan()
    door.visit("in use")
    line = door.page("?show=visits").partition("Time line")[2]
    assert "R. Okafor" in line
    assert "Visit planned for" not in line
    assert door.client.get(f"{door.at}?show=tea", headers=PEOPLE).status_code == 422


def test_a_doorway_that_is_no_longer_in_the_text_keeps_its_life(door: Door) -> None:
    door.plan()
    stored = door.client.get(f"/sites/{door.site}").json()
    other = starter_text().replace(f'id = "{door.door}"', 'id = "elsewhere"', 1)
    saved = door.client.put(
        f"/sites/{door.site}/text",
        content=other,
        headers={"If-Match": f'"{stored["version"]}"'},
    )
    assert saved.status_code in {200, 204}, saved.text
    page = door.page()
    assert "no longer in the site's text" in page.replace("&#39;", "'")
    assert "Visit planned for 2026-12-01" in page


def test_what_is_not_there_is_said(door: Door) -> None:
    assert door.client.get("/sites/no/doorways/x/life").status_code == 404
    other = f"/sites/{door.site}/doorways/cellar/life"
    assert door.client.get(other, headers=PEOPLE).status_code == 404
    found = door.say(f"{uuid4()}/moved", day="2026-12-08")
    assert found.status_code == 404
    assert door.say(f"{door.plan()}/eaten").status_code == 422


def test_what_was_typed_is_text_and_no_markup(door: Door) -> None:
    door.plan(note="<script>alert(1)</script>")
    page = door.client.get(door.at, headers=PEOPLE).text
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert(1)" in page


@pytest.mark.parametrize("to", ["plan", "follow_up", "part", f"{NOBODY}/called_off"])
def test_its_forms_are_sent_without_a_script(to: str) -> None:
    headers = {
        "content-type": "application/x-www-form-urlencoded",
        "sec-fetch-site": "same-origin",
        "origin": f"http://{HOST}",
    }
    path = f"/sites/0123456789ab/doorways/main/life/{to}"
    assert plain_form(path, "POST", headers, HOST)
    assert not plain_form(path, "POST", headers | {"origin": "http://evil"}, HOST)


def test_the_page_is_linked_from_the_doorway_and_its_visits(door: Door) -> None:
    visits = f"{door.at.removesuffix('/life')}/visits"
    found = door.client.get(visits, headers=PEOPLE)
    assert f'href="{door.at}"' in found.text
    folder = files("limen.web").joinpath("templates")
    doorway = folder.joinpath("doorway.html").read_text("utf-8")
    assert 'href="{{ address }}/life"' in doorway


def _keep(door: Door, about: str, kind: str, said: object) -> None:
    app: Any = door.client.app
    keep_event(
        app.state.desk.library,
        about=about,
        site=door.site,
        doorway=door.door,
        kind=kind,
        text=json.dumps(said),
    )


def test_faults_call_outs_and_what_nobody_knows_stand_on_the_line_too(
    door: Door,
) -> None:
    told = {"struck": False, "symptom": "stays-open", "by": "A. Keeper"}
    _keep(door, "0123456789aa", "reported", {"said": told})
    because = {"because": "Guide was loose"}
    _keep(door, "0123456789aa", "report_settled", {"said": because})
    _keep(door, "0123456789ab", "called_out", {})
    answered = {"question": "does", "answer": "reopens"}
    _keep(door, "0123456789ab", "answered", answered)
    _keep(door, "0123456789ac", "sung_at", {})
    _keep(door, "plan", "pin", {"x": 0.5, "y": 0.5})
    page = door.page("?show=reports")
    assert "Fault reported" in page
    assert "told by A. Keeper" in page
    assert "settled: Guide was loose" in page
    assert "Said of this door: sung_at" in page
    assert "Call-out: " in page
    html = door.client.get(door.at, headers=PEOPLE).text
    address = door.at.removesuffix("/life")
    for link in ("report/0123456789aa", "trace/0123456789ab"):
        assert f'href="{address}/{link}"' in html
    kinds = [one.get("said") for one in door.told()["entries"]]
    assert kinds.count("pin") == 0


def test_the_visits_of_a_site_begin_with_what_is_ahead_of_its_doors(door: Door) -> None:
    about = door.plan(day="2026-11-20")
    found = door.client.get(f"/sites/{door.site}/visits", headers=PEOPLE)
    assert f'href="{door.at}#a-{about}"' in found.text
    assert "Overdue by 5 days" in words(found.text)
