"""The best settings on their page: looked for, looked at, set, undone.

What is shown comes from choices made by hand (`builders.tuned`), so that each of them
is known; that the search finds the best is asked in `tests/tune`.
"""

import re
from collections.abc import Iterator
from datetime import date
from html import unescape
from itertools import count
from pathlib import Path
from time import sleep
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from starlette.testclient import TestClient

from builders import tuned as made
from limen.desk.exporting import Told
from limen.desk.tuning_kept import Tunings
from limen.exchange.tuning import tuning_schema
from limen.findings.tuned import Tuned
from limen.model.doorway import Doorway
from limen.web.app import create_app
from web.conftest import HERE, OURS
from web.test_doorway import SHORT

DEMO = made.AS_FOUND.read_text("utf-8")
PEOPLE = {"Accept": "text/html"}
PIECE = {"HX-Request": "true"}
NUMBERS = count()
PATIENCE = 300  # looks, 0.02 s apart
KNOWN = {
    "main": made.three,
    "staff": made.unknown,
    "vestibule": made.nothing,
    "reading-room": made.single,
}


def search(
    door: Doorway, _book: object, _site: object, _on: object, told: Told
) -> Tuned:
    for done in range(3):
        told(done, 3, "")
    return KNOWN[door.id]()


@pytest.fixture(scope="module")
def client(
    static: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[TestClient]:
    path = tmp_path_factory.mktemp("library") / "library.db"
    app = create_app(path, today=lambda: date(2026, 11, 25), static=static)
    app.state.tunings = Tunings(search)
    with TestClient(app, base_url=HERE, headers=OURS, follow_redirects=False) as asked:
        yield asked
    app.state.desk.library.close()


@pytest.fixture
def site(client: TestClient) -> str:
    """A site whose text was not searched before: what is known goes by the text."""
    own = f"# {next(NUMBERS)}\n{DEMO}"
    reply = client.post("/sites", content=own.encode())
    return f"/sites/{reply.json()['id']}"


@pytest.fixture
def door(site: str) -> str:
    return f"{site}/doorways/main"


def page_of(client: TestClient, door: str, **asked: str) -> str:
    reply = client.get(f"{door}/tuning", params={"wait": "1", **asked}, headers=PEOPLE)
    assert reply.status_code == 200
    return reply.text


def words(html: str) -> str:
    """What a person reads of a piece of a page."""
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", html)))


# Looked for ---------------------------------------------------------------------


def test_the_doorways_page_leads_there(client: TestClient, door: str) -> None:
    page = client.get(door, headers=PEOPLE).text
    assert f'href="{door}/tuning"' in page


def test_a_page_that_knows_nothing_yet_begins_by_itself_and_reads_without_a_script(
    client: TestClient, door: str
) -> None:
    page = client.get(f"{door}/tuning", headers=PEOPLE).text
    assert f'hx-post="{door}/tuning" hx-trigger="load"' in page
    assert f'href="{door}/tuning?wait=1"' in page
    assert "data-tuning>" not in page


def test_a_search_tells_how_far_it_is_and_leads_to_what_it_found(
    client: TestClient, door: str
) -> None:
    begun = client.post(f"{door}/tuning", headers=PIECE)
    for _ in range(PATIENCE):
        work = re.search(r'hx-get="([^"]+/search/\w+)"', begun.text)
        if begun.status_code == 204:
            break
        assert work is not None, begun.text
        sleep(0.02)
        begun = client.get(work[1], headers=PIECE)
    assert begun.headers["HX-Redirect"] == f"{door}/tuning"
    assert "Bring row 1" in client.get(f"{door}/tuning", headers=PEOPLE).text
    again = client.post(f"{door}/tuning", headers=PIECE)
    assert again.headers["HX-Redirect"] == f"{door}/tuning"


def test_a_search_is_given_up_and_can_be_begun_again(
    static: Path, tmp_path: Path
) -> None:
    def endless(
        _door: Doorway, _book: object, _site: object, _on: object, told: Told
    ) -> Tuned:
        for done in range(10_000):
            told(done, 10_000, "")
            sleep(0.01)
        raise AssertionError

    app = create_app(tmp_path / "library.db", static=static)
    app.state.tunings = Tunings(endless)
    with TestClient(app, base_url=HERE, headers=OURS, follow_redirects=False) as client:
        kept = client.post("/sites", content=DEMO.encode()).json()["id"]
        door = f"/sites/{kept}/doorways/main"
        begun = client.post(f"{door}/tuning", headers=PIECE).text
        work = re.search(r'hx-delete="([^"]+)"', begun)
        assert work is not None
        ended = client.delete(work[1], headers=PIECE).text
        assert "Given up. Nothing was changed." in ended
        assert f'hx-post="{door}/tuning"' in ended
        assert 'hx-trigger="load' not in ended
    app.state.jobs.close()
    app.state.desk.library.close()


def test_a_program_gets_work_to_look_at_and_a_file(
    client: TestClient, door: str
) -> None:
    begun = client.post(f"{door}/tuning")
    assert begun.status_code == 202
    job: dict[str, Any] = begun.json()
    for _ in range(PATIENCE):
        job = client.get(begun.headers["Location"]).json()
        if job["state"] == "done":
            break
        sleep(0.02)
    assert job["name"] == "alder-quay-library-main-tuning.json"
    assert client.get(job["file"]).json() == client.get(f"{door}/tuning").json()


def test_work_that_is_not_there_is_no_work(client: TestClient, door: str) -> None:
    for ask in (client.get, client.delete):
        assert ask(f"{door}/tuning/search/nothing", headers=PIECE).status_code == 404


# Looked at ----------------------------------------------------------------------


def test_target_lines_come_first_in_floor_millimetres_with_window_and_turn(
    client: TestClient, door: str
) -> None:
    said = words(page_of(client, door))
    line = said.index("Bring row 1 of the outside unit to 64 mm from the leaf face.")
    assert "Good from 58 mm to 70 mm." in said
    assert "Now it lands at 125 mm. On the scale about 1.2°, towards the leaf." in said
    assert line < said.index("The choices") < said.index("What each choice changes")
    assert said.index("What each choice changes") < said.index(
        "Why it cannot be better"
    )


def test_lengths_are_said_in_feet_and_inches_to_whoever_reads_them(
    client: TestClient, door: str
) -> None:
    client.cookies.set("limen_units", "feet")
    try:
        said = words(page_of(client, door))
    finally:
        client.cookies.delete("limen_units")
    assert "to 2 1/2 in from the leaf face" in said
    assert "64 mm" not in said


def test_each_choice_is_looked_at_at_its_own_address(
    client: TestClient, door: str
) -> None:
    for letter in "ABC":
        page = page_of(client, door, choice=letter)
        assert f'name="choice" value="{letter}"' in page
        current = re.findall(
            r'data-choice="(\w)" aria-label="[^"]*" aria-current', page
        )
        assert set(current) == {letter}


def test_every_choice_stands_in_the_picture_and_in_the_table(
    client: TestClient, door: str
) -> None:
    page = page_of(client, door)
    for letter in "ABC":
        # On a wide screen, on a phone, in the table.
        assert page.count(f'data-choice="{letter}"') == 3
    table = words(page[page.index('class="tuning-table"') :])
    for value in ("140", "60", "210", "2 %", "5 %", "12 mm", "9 mm", "4 mm"):
        assert f" {value} " in table
    assert "outside: row tilt −2.5°, now −1.3°." in table
    assert "All choices change this:" not in page


def test_what_all_choices_change_is_said_once(client: TestClient, site: str) -> None:
    page = page_of(client, f"{site}/doorways/reading-room")
    assert "All choices change this:" not in page
    page = page_of(client, f"{site}/doorways/staff")
    above = words(page[page.index('id="tuning-each"') : page.index("tuning-table")])
    table = words(page[page.index('class="tuning-table"') :])
    change = "inside: channel 2, now 1."
    assert "All choices change this:" in above
    assert change in above
    assert change not in table


def test_what_is_set_now_is_shown_and_bears_a_cross_where_it_fails_and_they_do_not(
    client: TestClient, door: str
) -> None:
    page = page_of(client, door)
    picture = page[page.index("choices-wide") : page.index("choices-narrow")]
    (now,) = re.findall(r'<g role="img" aria-label="(now:[^"]*)"', picture)
    assert "A must fails with it." in now
    assert picture.count("#D55E00") == 1


def test_a_measure_that_is_not_known_is_no_axis_but_is_named_with_what_settles_it(
    client: TestClient, site: str
) -> None:
    page = page_of(client, f"{site}/doorways/staff")
    said = words(page)
    assert "Not known: Needless openings a day." in said
    assert "What would settle it: which unit the outside one is" in said
    picture = page[page.index("choices-wide") : page.index("choices-narrow")]
    assert "needless openings a day, fewer is better" not in picture
    assert "late openings, fewer is better" in picture
    assert "room to spare, more is better" in picture


def test_with_one_choice_there_is_a_line_and_no_picture(
    client: TestClient, site: str
) -> None:
    page = page_of(client, f"{site}/doorways/reading-room")
    assert "One choice is the best in everything that is known" in page
    assert 'class="limen-drawing choices"' not in page
    assert "Set this" in page


def test_where_nothing_is_better_nothing_can_be_set(
    client: TestClient, site: str
) -> None:
    page = page_of(client, f"{site}/doorways/vestibule")
    assert "no settings do better than those that are set now" in page
    assert "tuning/set" not in page
    reply = client.post(
        f"{site}/doorways/vestibule/tuning/set",
        data={"choice": "A"},
        headers={"If-Match": '"1"'},
    )
    assert reply.status_code == 422


def test_why_it_cannot_be_better_names_what_binds_and_what_lifts_it(
    client: TestClient, door: str
) -> None:
    said = words(page_of(client, door))
    why = said[said.index("Why it cannot be better") :]
    assert "Set the fan of the outside unit to wide." in why
    assert "27 mm short" in why


def test_before_and_after_are_both_drawn_with_the_target_lines(
    client: TestClient, door: str
) -> None:
    page = page_of(client, door)
    two = page[page.index('class="compare-two"') :]
    assert two.count('class="limen-drawing"') == 4
    assert two.count("Bring row 1 of outside to 64 mm from the leaf face") == 4
    asked = {"choice": "B", "view": "section"}
    section = page_of(client, door, **asked)
    assert "section across the door" in section[section.index('class="compare-two"') :]
    assert "Verdicts that differ" in two


def test_a_choice_that_is_none_is_refused(client: TestClient, door: str) -> None:
    asked = {"choice": "Q", "wait": "1"}
    reply = client.get(f"{door}/tuning", params=asked, headers=PEOPLE)
    assert reply.status_code == 422
    assert "There is no choice “Q” here." in reply.text


def test_a_doorway_in_the_short_form_is_said_to_have_nothing_to_turn(
    client: TestClient,
) -> None:
    kept = client.post("/sites", content=SHORT.encode()).json()
    page = page_of(client, f"/sites/{kept['id']}/doorways/main")
    assert "written in the short form: it has no settings to turn" in page
    assert "tuning/set" not in page


def test_a_doorway_without_units_is_said_to_have_nothing_to_turn(
    client: TestClient,
) -> None:
    bare = re.sub(r"(?ms)^\[\[doorway\.fitting\]\].*?(?=^\[\[doorway\]\]|\Z)", "", DEMO)
    kept = client.post("/sites", content=bare.encode())
    assert kept.status_code == 201, kept.text
    page = page_of(client, f"/sites/{kept.json()['id']}/doorways/main")
    assert "This doorway has no units yet" in page


def test_a_search_that_left_something_out_says_so(
    client: TestClient, site: str
) -> None:
    exact = "Nothing better was left out."
    assert exact in page_of(client, f"{site}/doorways/main")
    near = words(page_of(client, f"{site}/doorways/staff"))
    assert "Something better by up to 2 mm may have been left out." in near
    assert exact not in near


# Set ----------------------------------------------------------------------------


def set_to(
    client: TestClient, door: str, letter: str, version: int, **more: str
) -> Any:
    return client.post(
        f"{door}/tuning/set",
        data={"choice": letter},
        headers={"If-Match": f'"{version}"', **more},
    )


def test_setting_a_choice_is_one_version_and_undo_takes_all_of_it_back(
    client: TestClient, site: str, door: str
) -> None:
    before = client.get(f"{site}/site.toml").text
    page_of(client, door)
    kept = set_to(client, door, "B", 1)
    assert kept.status_code == 200
    assert kept.json()["version"] == 2
    text = client.get(f"{site}/site.toml").text
    assert text.count('tilt = "-2.6 deg') == 2
    assert text.count('reach = "50 %"') == 2
    assert client.post(f"{door}/undo", json={"version": 2}).status_code == 200
    assert client.get(f"{site}/site.toml").text == before


def test_people_come_back_to_the_doorway(client: TestClient, door: str) -> None:
    page_of(client, door)
    kept = set_to(client, door, "A", 1, **PIECE)
    assert kept.status_code == 204
    assert kept.headers["HX-Redirect"] == door


def test_whoever_comes_too_late_gets_both_texts_and_overwrites_nothing(
    client: TestClient, site: str, door: str
) -> None:
    page_of(client, door)
    edits = {"fitting[outside].settings.tilt": "-1.9 deg"}
    saved = client.post(f"{door}/save", json={"version": 1, "edits": edits})
    assert saved.status_code == 200
    late = set_to(client, door, "A", 1)
    assert late.status_code == 412
    assert '"-2.5 deg' in late.json()["mine"]
    assert '"-1.9 deg' in late.json()["theirs"]
    people = set_to(client, door, "A", 1, **PIECE)
    assert people.status_code == 412
    assert "merging-form" in people.text
    assert '"-2.5 deg' not in client.get(f"{site}/site.toml").text


def test_a_change_must_name_the_version_that_was_seen(
    client: TestClient, door: str
) -> None:
    assert client.post(f"{door}/tuning/set", data={"choice": "A"}).status_code == 428
    unnamed = client.post(f"{door}/tuning/set", headers={"If-Match": '"1"'})
    assert unnamed.status_code == 422
    page_of(client, door)
    assert set_to(client, door, "Q", 1).status_code == 422
    assert set_to(client, door, "A", 999).status_code == 404


# For programs -------------------------------------------------------------------


def test_a_program_gets_what_the_description_says(
    client: TestClient, door: str
) -> None:
    described = client.get("/openapi.json").json()
    path = "/sites/{site_id}/doorways/{door}/tuning"
    answer = described["paths"][path]["get"]["responses"]["200"]["content"]
    assert answer["application/json"]["schema"]["$ref"].endswith("/Tuned")
    assert "Tuned.choice" in described["components"]["schemas"]
    found = client.get(f"{door}/tuning").json()
    Draft202012Validator(tuning_schema()).validate(found)
    (only,) = found["doorways"]
    assert only["id"] == "main"
    assert len(only["front"]) == 3
