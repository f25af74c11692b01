"""The owner's page and reported faults at the desk, for people and for programs."""

import re
from importlib.resources import files
from typing import Any

import pytest
from starlette.testclient import TestClient

from limen.exchange.fault_mail import Door, mail_body

PEOPLE = {"Accept": "text/html"}
STATED = files("limen").joinpath("demo", "alder-quay-corrected.toml").read_text("utf-8")
DEMO = re.sub(r"(?m)^faults = .*\n", "", STATED)
"""The invented building, without the addresses that it states."""
TO = '[faults]\nmail = "doors@firm.example"\n\n[[doorway]]'
SAID = {"act": "keep", "struck": "no", "symptom": "stays-open", "text": "since <rain>"}


@pytest.fixture(scope="module")
def site(client: TestClient) -> str:
    text = DEMO.replace("[[doorway]]", TO, 1)
    return client.post("/sites", content=text).json()["id"]


@pytest.fixture
def door(site: str) -> str:
    """Address of a doorway."""
    return f"/sites/{site}/doorways/main"


def _people(client: TestClient, address: str) -> str:
    found = client.get(address, headers=PEOPLE)
    assert found.status_code == 200
    return found.text


def test_the_page_shows_the_code_and_how_it_reads(
    client: TestClient, door: str
) -> None:
    text = _people(client, f"{door}/owner")
    assert "qrline" in text
    assert "Nobody steps into the way of a leaf" in text
    assert f'href="{door}/owner.pdf?language=en"' in text
    assert "style=" not in text


def test_it_is_offered_in_another_language_and_as_files(
    client: TestClient, door: str
) -> None:
    text = _people(client, f"{door}/owner?language=de&also=fr&paper=letter")
    address = f"{door}/owner.pdf?language=de&amp;also=fr&amp;paper=letter"
    assert address in text
    made = client.get(f"{door}/owner.html?language=de")
    assert made.headers["Content-Type"].startswith("text/html")
    assert "attachment" in made.headers["Content-Disposition"]
    assert '<html lang="de">' in made.text
    printed = client.get(f"{door}/owner.pdf?paper=letter")
    assert printed.content.startswith(b"%PDF")
    assert client.get("/owner.css").headers["Content-Type"].startswith("text/css")


def test_programs_are_told_the_steps_and_the_addresses(
    client: TestClient, door: str
) -> None:
    told = client.get(f"{door}/owner").json()
    assert told["faults"][0].startswith("mailto:doors@firm.example?")
    assert told["page"]["parts"][0][0] == "Look first"


def test_where_no_address_is_stated_the_page_leads_to_where_one_is_typed(
    client: TestClient,
) -> None:
    site = client.post("/sites", content=DEMO).json()["id"]
    text = _people(client, f"/sites/{site}/doorways/main/owner")
    assert "qrline" not in text
    assert f'href="/sites/{site}/facts#f-faults-mail"' in text
    there = _people(client, f"/sites/{site}/facts")
    assert 'id="f-faults-mail"' in there


def test_the_doorway_page_leads_there(client: TestClient, door: str) -> None:
    text = _people(client, door)
    assert f'href="{door}/owner"' in text
    assert f'href="{door}/report"' in text


# Faults that are reported --------------------------------------------------------


def _sent(client: TestClient, door: str, **more: str) -> Any:
    return client.post(f"{door}/report", data={**SAID, **more}, headers=PEOPLE)


def test_a_fault_is_kept_and_leads_to_its_page(client: TestClient, door: str) -> None:
    made = _sent(client, door, by="A. Keeper")
    assert made.status_code == 303
    text = _people(client, made.headers["Location"])
    assert "since &lt;rain&gt;" in text
    assert f'href="{door}/trace?does=stays-open"' in text
    listed = client.get(f"{door}/report").json()
    assert listed[0]["reported"]["said"]["by"] == "A. Keeper"


def test_where_somebody_was_struck_no_cause_is_looked_for(
    client: TestClient, door: str
) -> None:
    made = _sent(client, door, struck="yes")
    text = _people(client, made.headers["Location"])
    for one in ("out of use", "Photograph", "Touch nothing"):
        assert one in text
    assert "/trace" not in text


def test_whether_somebody_was_struck_has_to_be_said(
    client: TestClient, door: str
) -> None:
    made = _sent(client, door, struck="")
    assert made.status_code == 422
    assert "yes or no" in made.text
    assert "since &lt;rain&gt;" in made.text  # nothing typed is lost


def test_a_form_sent_twice_makes_one_report(client: TestClient, door: str) -> None:
    page = _people(client, f"{door}/report")
    drawn = re.search(r'name="about" value="([0-9a-f-]{36})"', page)
    assert drawn
    made = {_sent(client, door, about=drawn[1]).headers["Location"] for _ in range(2)}
    assert made == {f"{door}/report/{drawn[1]}"}


def test_it_is_seen_and_settled(client: TestClient, door: str) -> None:
    one = _sent(client, door).headers["Location"]
    for said in (
        {"act": "seen", "person": "B. Reader"},
        {"act": "settled", "because": "mat moved back"},
    ):
        assert client.post(one, data=said, headers=PEOPLE).status_code == 303
    text = _people(client, one)
    assert "settled: mat moved back" in text
    assert "<form" not in text.partition('class="page report"')[2]
    again = client.post(one, data={"act": "seen"}, headers=PEOPLE)
    assert again.status_code == 422


def test_a_pasted_mail_fills_in_the_form_and_keeps_nothing(
    client: TestClient, site: str, door: str
) -> None:
    before = len(client.get(f"{door}/report").json())
    told = {"does": "stays open", "since": "", "struck": "no", "who": "A. Keeper"}
    mail = mail_body(Door(site, "main", record=7), told)  # pyright: ignore[reportArgumentType]
    sent = client.post(
        f"{door}/report", data={"act": "read", "mail": mail}, headers=PEOPLE
    )
    assert sent.status_code == 200
    assert re.search(r'value="stays-open"[^>]* checked', sent.text)
    assert re.search(r'name="struck" value="no"[^>]* checked', sent.text)
    assert 'value="A. Keeper"' in sent.text
    assert 'value="7"' in sent.text
    assert len(client.get(f"{door}/report").json()) == before


def test_a_mail_that_cannot_be_read_stays_in_its_field(
    client: TestClient, door: str
) -> None:
    sent = client.post(
        f"{door}/report", data={"act": "read", "mail": "It sticks."}, headers=PEOPLE
    )
    assert sent.status_code == 422
    assert "limen-fault" in sent.text
    assert ">It sticks.</textarea>" in sent.text


def test_a_report_that_is_not_there_is_not_found(client: TestClient, door: str) -> None:
    assert client.get(f"{door}/report/0123456789ab").status_code == 404


def test_the_form_works_without_a_script(client: TestClient, door: str) -> None:
    """As a browser sends it by itself: no header of ours."""
    own = {"Limen-Desk": "", "Sec-Fetch-Site": "same-origin", **PEOPLE}
    made = client.post(f"{door}/report", data=SAID, headers=own)
    assert made.status_code == 303
    away = {**own, "Sec-Fetch-Site": "cross-site", "Origin": "http://evil.example"}
    assert client.post(f"{door}/report", data=SAID, headers=away).status_code == 403
