"""What leaves the desk as a file, and what programs are told."""

import io
import json
import re
from collections.abc import Callable
from time import sleep
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from pypdf import PdfReader
from starlette.testclient import TestClient

from limen.desk.exporting import Exported, Told
from limen.desk.jobs import Jobs, NoSuchJobError
from limen.desk.refusal import Refusal
from limen.exchange import findings_schema
from limen.store.starter import starter_text

DOOR = "main"
PATIENCE = 600  # looks, 0.1 s apart
HTMX = {"HX-Request": "true"}


@pytest.fixture(scope="module")
def site(client: TestClient) -> str:
    """Where the site to begin with is kept."""
    kept = client.post("/sites", content=starter_text())
    return f"/sites/{kept.json()['id']}"


@pytest.fixture(scope="module")
def door(client: TestClient, site: str) -> str:
    """Where its first doorway is."""
    return f"{site}/doorways/{client.get(f'{site}/doorways').json()[0]['id']}"


def test_findings_are_those_of_the_command_line(
    client: TestClient, site: str, door: str
) -> None:
    whole = client.get(f"{site}/findings").json()
    one = client.get(f"{door}/findings").json()
    Draft202012Validator(findings_schema()).validate(whole)
    assert one["doorways"] == whole["doorways"][:1]
    feet = client.get(f"{site}/findings", params={"units": "feet"}).json()
    assert feet != whole
    assert _numbers(feet) == _numbers(whole)


def _numbers(of: dict[str, Any]) -> list[Any]:
    return [
        finding["margin"] and finding["margin"]["value"]
        for door in of["doorways"]
        for finding in door["findings"]
    ]


def test_a_drawing_is_ink_on_paper_with_the_finding_that_was_chosen(
    client: TestClient, door: str
) -> None:
    reply = client.get(f"{door}/drawing.svg", params={"view": "front", "width": 900})
    assert reply.headers["content-type"] == "image/svg+xml"
    assert re.search(r'filename="[a-z0-9-]+-front\.svg"', _named(reply))
    assert reply.text.startswith("<svg")
    assert "<style" not in reply.text
    found = client.get(f"{door}/findings").json()["doorways"][0]["findings"]
    wanted = next(one for one in found if one["verdict"] != "not asked")
    key = f"{wanted['question']}~{wanted['fitting'] or ''}~{wanted['case'] or ''}"
    shown = {"finding": key, "how": "shown"}
    other = client.get(f"{door}/drawing.svg", params=shown)
    assert other.headers["content-disposition"].startswith("inline")


def _named(reply: Any) -> str:
    return str(reply.headers["content-disposition"])


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_template_is_set_on_the_paper_asked_for(
    client: TestClient, site: str, paper: str
) -> None:
    reply = client.get(f"{site}/template.pdf", params={"paper": paper})
    assert reply.status_code == 200, reply.text
    assert re.search(r'filename="[a-z0-9-]+-template-2026-11-25\.pdf"', _named(reply))
    first = PdfReader(io.BytesIO(reply.content)).pages[0].mediabox
    sides = sorted(round(float(side) / 72 * 25.4) for side in first[2:])
    assert sides == ([210, 297] if paper == "a4" else [216, 279])  # ISO 216; ANSI A


def test_a_report_is_made_while_its_progress_is_looked_at(
    client: TestClient, site: str
) -> None:
    begun = client.post(f"{site}/out", data={"what": "report", "paper": "a4"})
    assert begun.status_code == 202
    where = begun.headers["location"]
    seen = [client.get(where).json()]
    while seen[-1]["state"] in ("waits", "works"):
        assert len(seen) < PATIENCE
        sleep(0.1)
        seen.append(client.get(where).json())
    assert seen[-1]["state"] == "done", seen[-1]
    shares = [one["percent"] for one in seen]
    assert shares == sorted(shares)
    assert shares[-1] == 100
    made = client.get(seen[-1]["file"])
    assert PdfReader(io.BytesIO(made.content)).pages
    assert seen[-1]["name"] in _named(made)
    assert "attachment" in _named(made)
    assert "download" in client.get(where, headers=HTMX).text


def test_what_was_never_begun_is_not_there(client: TestClient) -> None:
    for reply in (
        client.get("/jobs/none"),
        client.get("/jobs/none/file"),
        client.delete("/jobs/none"),
    ):
        assert reply.status_code == 404
        assert "no such piece of work" in reply.text


def test_a_doorway_that_is_not_there_is_told_before_anything_is_begun(
    client: TestClient, site: str
) -> None:
    reply = client.post(f"{site}/out", data={"what": "report", "doorway": "none"})
    assert reply.status_code == 422
    assert "none" in reply.json()["lines"][0]
    for path in ("findings", "drawing.svg"):
        assert client.get(f"{site}/doorways/none/{path}").status_code == 422


@pytest.mark.parametrize("what", ["", "?doorway={door}"])
def test_the_page_offers_every_file(
    client: TestClient, site: str, door: str, what: str
) -> None:
    asked = f"{site}/out{what.format(door=door.rpartition('/')[2])}"
    page = client.get(asked, headers={"Accept": "text/html"})
    assert page.status_code == 200
    for link in re.findall(
        r'href="(/sites/[^"]*(?:svg|toml|findings)[^"]*)"', page.text
    ):
        assert client.get(link.replace("&amp;", "&")).status_code == 200


def test_the_interface_describes_itself_with_the_shipped_schema(
    client: TestClient,
) -> None:
    said = client.get("/openapi.json").json()
    parts = said["components"]["schemas"]
    assert set(findings_schema()["$defs"]) <= {  # pyright: ignore[reportArgumentType]
        name.removeprefix("Findings.") for name in parts
    }
    assert "#/$defs/" not in json.dumps(said)
    shipped = client.get("/schemas/findings").json()
    assert shipped == findings_schema()
    assert {one["id"] for one in client.get("/rulebooks").json()} >= {"en", "us"}


# Work beside the answers ------------------------------------------------------------


def _until(ready: Callable[[], bool]) -> None:
    for _ in range(PATIENCE):
        if ready():
            return
        sleep(0.01)
    pytest.fail("it never came")


FILE = Exported("a.pdf", "application/pdf", b"%PDF")


def test_work_that_is_given_up_ends_at_its_next_step() -> None:
    jobs, steps = Jobs(), list[int]()

    def work(told: Told) -> Exported:
        for step in range(10_000):
            told(step, 10_000, "a doorway")
            steps.append(step)
            sleep(0.001)
        return FILE

    job = jobs.begin("site", work)
    _until(lambda: len(steps) > 2)
    assert jobs.look(job.id).state == "works"
    assert jobs.give_up(job.id).state == "given up"
    jobs.hands.shutdown(wait=True)
    assert len(steps) < 10_000
    assert jobs.look(job.id).state == "given up"
    assert jobs.look(job.id).made is None


def test_work_that_is_refused_says_why_and_a_mistake_is_owned_up_to(
    capsys: pytest.CaptureFixture[str],
) -> None:
    jobs = Jobs()

    def refusing(_: Told) -> Exported:
        raise Refusal(["no letter"])

    def broken(_: Told) -> Exported:
        raise ZeroDivisionError

    first, second = jobs.begin("site", refusing), jobs.begin("site", broken)
    jobs.hands.shutdown(wait=True)
    assert jobs.look(first.id).lines == ("no letter",)
    assert jobs.look(second.id).state == "broken"
    assert "ZeroDivisionError" in capsys.readouterr().err


def test_old_work_makes_room() -> None:
    jobs = Jobs()
    every = [jobs.begin("site", lambda _: FILE).id for _ in range(20)]
    _until(lambda: jobs.look(every[-1]).state == "done")
    every += [jobs.begin("site", lambda _: FILE).id for _ in range(20)]
    jobs.hands.shutdown(wait=True)
    assert jobs.look(every[-1]).made == FILE
    with pytest.raises(NoSuchJobError):
        jobs.look(every[0])
