"""The survey on one page: judged as it is answered, kept as a doorway, nothing lost."""

from pathlib import Path
from typing import TYPE_CHECKING, cast

import pytest
from httpx2 import Request
from starlette.testclient import TestClient

from limen.desk.library import Desk
from limen.web.plain_form import plain_form
from limen.web.survey_form import Filled, answers_of

if TYPE_CHECKING:
    from fastapi import FastAPI

GIVEN = {
    "units": "metric",
    "site": "Harbour hall",
    "door": "Main entrance",
    "rulebook": "en",
    "commissioned": "2018-06-01",
    "leaves": "2",
    "clear_width": "1800",
    "lens_height": "2200 ± 10",
    "unit_outside": "two-row",
    "plumb_outside": "150",
    "unit_inside": "two-row",
    "plumb_inside": "140",
    "opening_runs_1": "2.5",
    "opening_runs_2": "2.6",
    "closing_runs_1": "4.5",
    "behind_left_space": "220",
    "behind_left_depth": "80",
    "behind_right_space": "140",
    "escape_route": "no",
    "many_frail_or_small": "yes",
}
BY_BROWSER = {
    "Accept": "text/html",
    "Sec-Fetch-Site": "same-origin",
    "Origin": "http://127.0.0.1:8765",
}


def _keep(client: TestClient, **changed: str) -> dict[str, object]:
    reply = client.post("/survey", data=GIVEN | changed | {"act": "keep"})
    assert reply.status_code == 201, reply.text
    return reply.json()


# What the fields mean --------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "units", "answer"),
    [
        ("1800", "metric", "1800 mm"),
        ("1800 ± 5", "metric", "1800 mm ± 5 mm"),
        ("2200 ± 10 mm", "metric", "2200 mm ± 10 mm"),
        ("1.8 m", "metric", "1.8 m"),
        ("6 ft 8 1/2 in", "metric", "6 ft 8 1/2 in"),
        ("80 1/2", "feet", "80 1/2 in"),
        ("80 1/2 ± 1/4", "feet", "80 1/2 in ± 1/4 in"),
        ("6 ft 8 1/2 in", "feet", "6 ft 8 1/2 in"),
        ("1800 mm", "feet", "1800 mm"),
        ("wide", "metric", "wide"),
    ],
)
def test_a_bare_number_has_the_unit_that_is_shown(
    typed: str, units: str, answer: str
) -> None:
    form = Filled({"clear_width": typed}, units)
    assert answers_of(form) == {"clear_width": answer}


def test_runs_and_spaces_are_answers_of_several_figures() -> None:
    answers = answers_of(Filled(GIVEN))
    assert answers["opening_runs"] == "2.5 s, 2.6 s"
    assert answers["behind_left"] == "220 mm, 80 mm"
    assert answers["behind_right"] == "140 mm, -"


def test_not_known_counts_more_than_what_is_still_in_the_field() -> None:
    form = Filled({"lens_height": "2200", "lens_height_not_known": "-"})
    assert answers_of(form) == {"lens_height": "-"}


def test_what_is_empty_is_no_answer() -> None:
    assert answers_of(Filled()) == {}


# A verdict at once -----------------------------------------------------------------


def test_two_answers_and_the_rulebook_give_a_first_verdict(client: TestClient) -> None:
    some = {key: GIVEN[key] for key in ("rulebook", "leaves", "clear_width")}
    said = client.post("/survey", data=some).json()
    assert "<svg" in said["verdict_html"]
    assert "Edition 2023 until" in said["verdict_html"]
    assert said["answered"] == 2
    assert said["of"] == 12


def test_before_that_it_is_said_what_lacks(client: TestClient) -> None:
    said = client.post("/survey", data={"rulebook": "en", "leaves": "2"}).json()
    assert "there lacks: Clear width" in said["verdict_html"]


def test_what_is_taken_is_said(client: TestClient) -> None:
    said = client.post("/survey", data=GIVEN).json()
    assert "the thickness of a leaf" in said["verdict_html"]
    assert "an estimate" in said["verdict_html"]


def test_nothing_is_kept_by_looking(client: TestClient) -> None:
    before = client.get("/sites").json()
    client.post("/survey", data=GIVEN)
    assert client.get("/sites").json() == before


def test_an_answer_that_is_not_taken_is_told_and_the_others_still_count(
    client: TestClient,
) -> None:
    said = client.post("/survey", data=GIVEN | {"lens_height": "high"}).json()
    assert set(said["faults"]) == {"lens_height"}
    assert "<svg" in said["verdict_html"]
    assert said["answered"] == 11


def test_questions_that_do_not_apply_are_not_asked(client: TestClient) -> None:
    one = {"leaves": "left", "unit_inside": "none"}
    said = client.post("/survey", data=GIVEN | one).json()
    assert {"behind_right", "plumb_inside", "edition"}.isdisjoint(said["applies"])
    assert "behind_left" in said["applies"]


def test_the_edition_is_asked_where_the_day_does_not_tell(client: TestClient) -> None:
    undated = {"commissioned": "", "commissioned_not_known": "-"}
    said = client.post("/survey", data=GIVEN | undated).json()
    assert "edition" in said["applies"]
    assert "edition" in said["missing"]
    assert '<option value="2012"' in said["edition_html"]


def test_a_sheet_that_cannot_be_read_is_told_and_nothing_is_kept(
    client: TestClient,
) -> None:
    sheet = _desk_of(client).sheets / "torn.toml"
    sheet.parent.mkdir(exist_ok=True)
    sheet.write_text("name = 1\n", "utf-8")
    torn = GIVEN | {"unit_outside": "torn"}
    said = client.post("/survey", data=torn).json()
    reply = client.post("/survey", data=torn | {"act": "keep"})
    sheet.unlink()
    assert "Nothing can be said" in said["verdict_html"]
    assert reply.status_code == 422
    assert reply.json()["by_question"]


def _desk_of(client: TestClient) -> Desk:
    desk = cast("FastAPI", client.app).state.desk
    assert isinstance(desk, Desk)
    return desk


# Kept ------------------------------------------------------------------------------


def test_what_is_kept_is_a_doorway_in_full_and_its_page_opens(
    client: TestClient,
) -> None:
    kept = _keep(client)
    assert kept["doorway"] == "main-entrance"
    assert kept["short"] is False
    text = client.get(f"/sites/{kept['site']}/site.toml").text
    assert "[[doorway]]" in text
    assert "[[short]]" not in text
    assert 'clear_width = "1800 mm"' in text
    assert "# assumed: " in text
    assert client.get(str(kept["address"])).status_code == 200


def test_where_no_lens_was_placed_the_short_form_is_kept(client: TestClient) -> None:
    """In full the unit would be left out, and *not shown* would become *fails*."""
    kept = _keep(client, plumb_inside="", plumb_inside_not_known="-")
    assert kept["short"] is True
    text = client.get(f"/sites/{kept['site']}/site.toml").text
    assert "[[short]]" in text
    assert client.get(str(kept["address"])).status_code == 200


def test_one_doorway_more_is_put_behind_what_is_kept(client: TestClient) -> None:
    kept = _keep(client)
    address = f"/sites/{kept['site']}/survey"
    before = client.get(f"/sites/{kept['site']}/site.toml").text
    assert client.get(address).status_code == 200
    more = client.post(address, data=GIVEN | {"door": "Yard", "act": "keep"})
    assert more.status_code == 201
    assert more.json()["doorway"] == "yard"
    again = client.post(address, data=GIVEN | {"door": "Yard", "act": "keep"})
    assert again.json()["doorway"] == "yard-2"
    after = client.get(f"/sites/{kept['site']}/site.toml").text
    assert after.startswith(before.rstrip("\n"))
    assert after.count("[[doorway]]") == 3


def test_what_must_be_known_is_asked_for_before_anything_is_kept(
    client: TestClient,
) -> None:
    before = client.get("/sites").json()
    reply = client.post("/survey", data={"rulebook": "en", "act": "keep"})
    assert reply.status_code == 422
    asked = set(reply.json()["by_question"])
    assert asked == {"site", "door", "edition", "leaves", "clear_width"}
    assert client.get("/sites").json() == before


def test_a_site_that_is_not_there_gets_no_doorway(client: TestClient) -> None:
    assert client.get("/sites/nowhere/survey").status_code == 404
    reply = client.post("/sites/nowhere/survey", data=GIVEN | {"act": "keep"})
    assert reply.status_code == 404


# By the browser alone --------------------------------------------------------------


def test_without_a_script_the_form_is_kept_as_well(client: TestClient) -> None:
    reply = client.send(_plain(client, GIVEN | {"act": "keep"}))
    assert reply.status_code == 303
    assert "/doorways/main-entrance" in reply.headers["Location"]


def test_without_a_script_a_refusal_keeps_what_was_typed(client: TestClient) -> None:
    typed = GIVEN | {"clear_width": "1,8 <b>", "act": "keep"}
    reply = client.send(_plain(client, typed))
    assert reply.status_code == 422
    assert 'value="1,8 &lt;b&gt;"' in reply.text
    assert 'value="Harbour hall"' in reply.text
    assert "Not kept yet" in reply.text


def _plain(client: TestClient, data: dict[str, str], **headers: str) -> Request:
    request = client.build_request(
        "POST", "/survey", data=data, headers=BY_BROWSER | headers
    )
    del request.headers["Limen-Desk"]
    return request


@pytest.mark.parametrize(
    "headers",
    [
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
        {"Sec-Fetch-Site": "none"},
        {"Origin": "http://evil.example"},
        {"Origin": "null"},
        {"Content-Type": "text/plain"},
    ],
)
def test_a_form_of_another_page_is_refused(
    client: TestClient, headers: dict[str, str]
) -> None:
    before = client.get("/sites").json()
    reply = client.send(_plain(client, GIVEN | {"act": "keep"}, **headers))
    assert reply.status_code == 403
    assert client.get("/sites").json() == before


@pytest.mark.parametrize(
    ("path", "method"),
    [
        ("/sites", "POST"),
        ("/survey", "PUT"),
        ("/sites/a/text", "POST"),
        ("/x/survey", "POST"),
    ],
)
def test_no_other_address_takes_a_form_without_our_header(
    path: str, method: str
) -> None:
    headers = {
        "content-type": "application/x-www-form-urlencoded",
        "sec-fetch-site": "same-origin",
        "origin": "http://127.0.0.1:8765",
    }
    assert not plain_form(path, method, headers, "127.0.0.1:8765")
    assert plain_form("/survey", "POST", headers, "127.0.0.1:8765")
    assert plain_form("/sites/a1/survey", "POST", headers, "127.0.0.1:8765")


# Where it is found ----------------------------------------------------------------


def test_an_empty_desk_offers_it_first(static: Path, tmp_path: Path) -> None:
    from limen.web.app import create_app

    app = create_app(tmp_path / "library.db", static=static)
    with TestClient(app, base_url="http://127.0.0.1:8765") as asked:
        page = asked.get("/").text
    app.state.desk.library.close()
    assert 0 < page.index('href="/survey"') < page.index("<form")


def test_a_barrier_is_not_offered_as_the_unit_above_the_door(
    client: TestClient,
) -> None:
    page = client.get("/survey").text
    assert 'value="two-row"' in page
    assert "edge-barrier" not in page
