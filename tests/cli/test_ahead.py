"""`limen ahead`: what is planned, owed and on order over the library."""

import json
from pathlib import Path

import pytest

from builders.lived import DOOR, TODAY, lived_door
from cli.conftest import Run
from limen.desk.between import follow_up, part, plan, refuse
from limen.desk.spoken import At

NAME = "Alder Quay Library, as corrected"


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("home")
    with lived_door(folder / "library.db", records=False) as one:
        desk, at = one.desk, At(one.site, DOOR, "R. Okafor")
        said = {"day": "2026-11-20", "what": "check", "who": "M. Lind"}
        made = plan(desk, at, said)
        refuse(desk, at, made.words.about, {"by": "A. Keeper", "because": "Fair"})
        plan(desk, at, {"day": "2027-03-17", "what": "change"})
        follow_up(desk, at, {"text": "Paint the mark", "day": "2027-01-31"})
        part(desk, at, {"name": "Guide", "number": "G-4"})
    return folder


@pytest.fixture(autouse=True)
def _at_home(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LIMEN_HOME", str(home))


def test_it_lists_what_is_ahead_and_says_what_is_overdue(run: Run) -> None:
    found = run("ahead", "--on", TODAY.isoformat())
    assert found.exit_code == 0
    lines = [line.strip() for line in found.output.splitlines() if line.strip()]
    place = f"{NAME}, Main entrance, on the quay"
    assert lines == [
        "Ahead on 2026-11-26",
        "Planned",
        f"2026-11-20: Check · {place}",
        "Overdue by 6 days",
        "M. Lind comes",
        "Refused by A. Keeper: Fair",
        f"2027-03-17: Change · {place}",
        "Nobody is named",
        "Still to be done",
        f"Paint the mark · {place}",
        "By 2027-01-31",
        f"Floor guide is loose · {place}",
        "Nobody said by when.",
        "On order",
        f"1 × Guide, number G-4 · {place}",
    ]


def test_it_is_of_one_site_and_of_one_person_where_that_is_asked(run: Run) -> None:
    found = json.loads(run("ahead", NAME, "--who", "m. lind", "--json").output)
    (one,) = found["planned"]
    assert (one["day"], one["who"], one["state"]) == (
        "2026-11-20",
        "M. Lind",
        "refused",
    )
    assert one["doorway"] == DOOR
    assert [one["text"] for one in found["owed"]] == [
        "Paint the mark",
        "Floor guide is loose",
    ]
    assert [one["number"] for one in found["awaited"]] == ["G-4"]


def test_a_site_that_is_not_there_is_said(run: Run) -> None:
    found = run("ahead", "Nowhere")
    assert found.exit_code == 2
    assert "Nowhere" in found.output
