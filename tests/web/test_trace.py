"""The fault finder's pages: begun, asked, changed, ended and told."""

import re
from collections.abc import Mapping
from importlib.resources import files
from typing import Any

import pytest
from starlette.testclient import TestClient

from builders.visit_events import STARTED, raw

DEMO = (
    files("limen")
    .joinpath("demo", "alder-quay-as-found.toml")
    .read_text("utf-8")
    .replace('place = "Alder Quay"\n', 'latitude = "54 deg"\nlongitude = "10 deg"\n', 1)
    .replace("[doorway.exposure]\n", '[doorway.exposure]\nfaces = "220 deg"\n', 1)
)
PEOPLE = {"Accept": "text/html"}
PROGRAMS = {"Accept": "application/json"}
AT = "2026-10-14T15:10+00:00"
OWN_LEAF = {
    "mode": "automatic",
    "changed": "nothing",
    "lamp_presence": "sees",
    "lamp_motion": "quiet",
    "leaf_held": "gone",
    "presence_off": "gone",
    "rows": "too-near",
    "when": "always",
    "unit": "straight",
    "began": "always",
}
WITHOUT_SCRIPT = {
    "Accept": "text/html",
    "Sec-Fetch-Site": "same-origin",
    "Limen-Desk": "",
}


@pytest.fixture(scope="module")
def door(client: TestClient) -> str:
    reply = client.post("/sites", content=DEMO.encode())
    return f"/sites/{reply.json()['id']}/doorways/main"


def begun(client: TestClient, door: str, **more: str) -> str:
    reply = client.post(
        f"{door}/trace", data={"does": "reopens", **more}, headers=PEOPLE
    )
    assert reply.status_code == 303, reply.text
    return reply.headers["location"]


def answer(client: TestClient, call: str, given: Mapping[str, str]) -> str:
    """Where the last of these answers leads."""
    to = call
    for question, said in given.items():
        data = {"question": question, "answer": said}
        reply = client.post(call, data=data, headers=PEOPLE)
        assert reply.status_code == 303, reply.text
        to = reply.headers["location"]
    return to


def page(client: TestClient, address: str, status: int = 200) -> str:
    reply = client.get(address, headers=PEOPLE)
    assert reply.status_code == status, reply.text
    return reply.text


def asks(text: str) -> str:
    """The question that is put; empty if none is."""
    found = re.search(
        r'name="question" value="(\w+)">\s*<div class="trace-answers">', text
    )
    return found[1] if found else ""


def json_of(client: TestClient, call: str) -> dict[str, object]:
    return client.get(call, headers=PROGRAMS).json()


def test_a_symptom_in_the_address_is_chosen_and_nothing_is_written(
    client: TestClient, door: str
) -> None:
    before = client.get(f"{door}/trace", headers=PROGRAMS).json()
    said = page(client, f"{door}/trace?does=sticks")
    assert re.search(r'value="sticks" required autocomplete="off" checked', said)
    nothing = page(client, f"{door}/trace?does=nonsense")
    assert not re.search(r'name="does"[^>]* checked', nothing)
    assert client.get(f"{door}/trace", headers=PROGRAMS).json() == before


def test_a_call_out_asks_first_what_costs_nothing(
    client: TestClient, door: str
) -> None:
    call = begun(client, door)
    for question in ("mode", "changed", "lamp_presence", "lamp_motion"):
        assert asks(page(client, call)) == question
        answer(client, call, {question: "unknown"})


def test_every_question_can_be_left_open_in_two_ways(
    client: TestClient, door: str
) -> None:
    said = page(client, begun(client, door))
    assert 'value="unknown">I do not know' in said
    assert 'value="neither">None of these' in said


def test_likelihoods_are_words_on_the_page_and_numbers_for_programs(
    client: TestClient, door: str
) -> None:
    call = begun(client, door)
    said = page(client, call)
    assert re.search(r"<dt>(Quite likely|May be|Most likely)</dt>", said)
    assert not re.search(
        r"0\.\d\d|\d ?%", said.partition("trace-bands")[2].partition("</dl>")[0]
    )
    assert 0 < json_of(client, call)["ranked"][0]["p"] < 1  # pyright: ignore[reportIndexIssue]


def test_the_doors_own_figures_stand_there_with_their_finding(
    client: TestClient, door: str
) -> None:
    said = page(client, begun(client, door))
    assert "Units that see each other" in said
    assert f'href="{door}?finding=presence.neighbours~' in said


def test_where_the_sun_stood_is_said_with_the_hour(
    client: TestClient, door: str
) -> None:
    said = page(client, begun(client, door, at=AT))
    assert re.search(r"the sun stood \d+° high and \d+° from straight before", said)
    assert "15:10 (UTC+00:00)" in said
    assert "the sun stood" not in page(client, begun(client, door))


def test_an_answer_is_changed_and_taken_back_and_the_order_is_free(
    client: TestClient, door: str
) -> None:
    call = begun(client, door)
    answer(client, call, {"when": "wind", "mode": "open"})
    assert asks(page(client, f"{call}?ask=when")) == "when"
    assert 'value="wind" aria-current="true"' in page(client, f"{call}?ask=when")
    answer(client, call, {"when": "wet", "mode": ""})
    assert json_of(client, call)["answers"] == {"does": "reopens", "when": "wet"}
    assert asks(page(client, call)) == "mode"


def test_it_ends_with_the_cause_what_to_do_and_the_tests_owed(
    client: TestClient, door: str
) -> None:
    call = begun(client, door)
    answer(client, call, OWN_LEAF)
    said = page(client, call)
    assert "Found: The rows see their own leaf" in said
    assert "Move the inner row out" in said
    assert "Still box at every place of the minimum set" in said
    answer(client, call, {"cause": "own_leaf"})
    assert "Taken to be the cause: The rows see their own leaf" in page(client, call)
    assert json_of(client, call)["cause"] == "own_leaf"
    answer(client, call, {"cause": ""})
    assert json_of(client, call)["cause"] is None


def test_while_two_are_left_a_person_goes_on_or_acts(
    client: TestClient, door: str
) -> None:
    call = begun(client, door)
    answer(client, call, {**OWN_LEAF, "began": ""})
    said = page(client, call)
    assert "Two causes are left" in said
    assert asks(said)
    assert 'name="answer" value="own_leaf">Act on it' in said


def test_where_somebody_was_struck_nothing_is_asked(
    client: TestClient, door: str
) -> None:
    call = begun(client, door, does="struck")
    said = page(client, call)
    assert "Touch nothing" in said
    assert not asks(said)
    assert "trace-bands" not in said
    assert json_of(client, call)["struck"] is True
    answer(client, call, {"does": "reopens"})
    assert asks(page(client, call)) == "mode"


def test_none_of_these_leads_to_the_description(client: TestClient, door: str) -> None:
    call = begun(client, door, person="R. Okafor", at=AT)
    answer(client, call, OWN_LEAF)
    told = answer(client, call, {"cause": "none_of_these"})
    assert told == f"{call}/description"
    said = page(client, told)
    parts = re.findall(r'data-part="(\w+)"', said)
    assert parts[:4] == ["does", "door", "settings", "answers"]
    assert {"out", "fails", "not_shown", "record"} <= set(parts)
    plain = client.get(f"{told}.txt")
    assert plain.headers["content-type"] == "text/plain; charset=utf-8"
    assert "attachment" in plain.headers["content-disposition"]
    assert "by R. Okafor" in plain.text
    assert "Clear width" in plain.text
    assert "Hold the leaf still: does it stop happening? yes, it stops" in plain.text


def test_without_a_script_a_browsers_own_form_is_taken(
    client: TestClient, door: str
) -> None:
    data = {"does": "stays-open"}
    sent = client.post(f"{door}/trace", data=data, headers=WITHOUT_SCRIPT)
    assert sent.status_code == 303
    elsewhere = {**WITHOUT_SCRIPT, "Origin": "http://evil.example"}
    assert client.post(f"{door}/trace", data=data, headers=elsewhere).status_code == 403
    call = sent.headers["location"]
    given = {"question": "mode", "answer": "open"}
    assert client.post(call, data=given, headers=WITHOUT_SCRIPT).status_code == 303


def test_the_same_answer_twice_is_kept_once(client: TestClient, door: str) -> None:
    call = begun(client, door)
    answer(client, call, {"mode": "open"})
    answer(client, call, {"mode": "open"})
    app: Any = client.app
    library = app.state.desk.library
    from limen.store.database.keeping import events_about

    kinds = [one.kind for one in events_about(library, call.rsplit("/", 1)[1])]
    assert kinds == ["called_out", "answered", "answered"]


@pytest.mark.parametrize(
    ("question", "given"),
    [("colour", "blue"), ("mode", "blue"), ("mode", "struck"), ("cause", "mode")],
)
def test_what_is_no_question_or_no_answer_is_refused(
    client: TestClient, door: str, question: str, given: str
) -> None:
    call = begun(client, door)
    data = {"question": question, "answer": given}
    assert client.post(call, data=data).status_code == 422
    assert json_of(client, call)["answers"] == {"does": "reopens"}


def test_what_cannot_begin_is_refused_and_said(client: TestClient, door: str) -> None:
    for data in ({"does": ""}, {"does": "blue"}, {"does": "reopens", "at": "noon"}):
        reply = client.post(f"{door}/trace", data=data, headers=PEOPLE)
        assert reply.status_code == 422, data
    assert client.get(f"{door}/trace/00000000").status_code == 404
    assert client.get(f"{door}/trace/nothing!").status_code in (404, 422)
    other = door.replace("/main", "/staff")
    call = begun(client, door).rsplit("/", 1)[1]
    assert client.get(f"{other}/trace/{call}").status_code == 404
    assert client.get(f"{door}x/trace").status_code == 422


def test_the_doorway_page_and_the_list_lead_to_it(
    client: TestClient, door: str
) -> None:
    assert f'href="{door}/trace"' in page(client, door)
    call = begun(client, door, does="sticks")
    assert call in page(client, f"{door}/trace")


def test_what_was_answered_at_the_door_is_told_too(
    client: TestClient, door: str
) -> None:
    site, visit = door.split("/")[2], "4f0c7a52-9a1e-4c41-8d0a-6a2f3f2b7c11"
    told = [("does", "reopens"), ("mode", "automatic"), ("colour", "blue")]
    told += [("leaf_held", "gone"), ("cause", "own_leaf")]
    said: list[tuple[str, dict[str, Any]]] = [("started", STARTED)]
    said += [("traced", {"question": q, "answer": a}) for q, a in told]
    events = [
        raw("tracer", seq, kind, one, site=site, visit=visit)
        for seq, (kind, one) in enumerate(said, 1)
    ]
    sent = client.post("/visits/events", json={"events": events})
    assert sent.status_code == 200, sent.text
    at_door = page(client, f"{door}/visits/{visit}")
    assert (
        "asked: Hold the leaf still: does it stop happening? yes, it stops" in at_door
    )
    assert "asked: colour blue" in at_door
    address = f"{door}/visits/{visit}/description"
    assert f'href="{address}"' in at_door
    assert "Taken to be the cause: The rows see their own leaf" in page(client, address)
    plain = client.get(f"{address}.txt").text
    assert "by R. Okafor" in plain
    assert "colour" not in plain
    assert client.get(f"{door}x/visits/{visit}/description").status_code == 404
    other = visit.replace("4f0c", "5f0c")
    assert client.get(f"{door}/visits/{other}/description").status_code == 404


def test_a_call_out_stands_in_the_life_of_the_door(
    client: TestClient, door: str
) -> None:
    call = begun(client, door, does="sticks")
    assert f'href="{call}"' in page(client, f"{door}/life")
