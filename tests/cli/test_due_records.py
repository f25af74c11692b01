"""`limen due`: records beside the files, groups by person and route, the daily check.

That the owner checks the door every day: trade advice in the United States (2002 and
2013), common practice, no source that asks it elsewhere.
"""

import json
from collections.abc import Callable
from datetime import date
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
import tomlkit
import vobject
from typer.testing import CliRunner

from builders.records import events
from desk.record_cases import sealed
from limen.cli.main import app
from record.signing import FIRM, STRANGER

DEMO = Path(str(files("limen").joinpath("demo", "alder-quay-corrected.toml")))
RUN = CliRunner(env={"COLUMNS": "100"})
ON = ("--on", "2026-11-27")
VISITED = "2026-11-26"
"""The day of the visit in the record."""
Site = Callable[..., str]


@pytest.fixture
def site(tmp_path: Path) -> Site:
    """A site file of one doorway, kept as is said."""

    def write(name: str = "site.toml", book: str = "en", **said: Any) -> str:
        text = tomlkit.parse(DEMO.read_text("utf-8"))
        doors: Any = text["doorway"]
        del doors[1:]
        doors[0].pop("facing", None)
        doors[0].pop("beside", None)
        doors[0]["commissioned"] = date(2015, 5, 1)
        doors[0]["kept"] = {key: one for key, one in said.items() if key != "site"}
        text["rulebook"] = book
        if "site" in said:
            text["kept"] = said["site"]
        path = tmp_path / name
        path.write_text(tomlkit.dumps(text), encoding="utf-8")
        return str(path)

    return write


@pytest.fixture
def firm(tmp_path: Path) -> str:
    path = tmp_path / "firm.pub"
    path.write_text(f"# Weir & Söhne\n{FIRM.public}\n", encoding="utf-8")
    return str(path)


@pytest.fixture
def records(tmp_path: Path) -> Callable[..., str]:
    """A folder with the record of a yearly visit of 26 November 2026."""

    def write(state: str = "in use", text: bytes | None = None) -> str:
        folder = tmp_path / "records"
        folder.mkdir(exist_ok=True)
        made = text or sealed(events("main", state=state)).sealed
        (folder / "record.json").write_bytes(made)
        return str(folder)

    return write


def told(*asked: str) -> dict[str, Any]:
    done = RUN.invoke(app, ["due", *asked, *ON, "--json"])
    assert done.exit_code == 0, done.output
    return json.loads(done.stdout)


def text(*asked: str) -> str:
    done = RUN.invoke(app, ["due", *asked, *ON])
    assert done.exit_code == 0, done.output
    return done.stdout


def test_the_day_is_counted_from_the_last_record(
    site: Site, records: Callable[..., str], firm: str
) -> None:
    asked = (site(checked=date(2025, 1, 10)), "--records", records(), "--trust", firm)
    (check,) = told(*asked)["checks"]
    assert (check["state"], check["due"]) == ("in time", "2027-11-26")
    (beside,) = check["beside"]
    assert "2025-01-10" in beside
    assert VISITED in beside


def test_a_door_that_was_left_with_a_defect_is_due_at_once(
    site: Site, records: Callable[..., str], firm: str
) -> None:
    folder = records("in use with defects")
    (check,) = told(site(), "--records", folder, "--trust", firm)["checks"]
    assert check["state"] == "at once"
    assert "Header cover is loose." in check["because"]


@pytest.mark.parametrize(
    ("change", "why"),
    [(lambda raw: raw.replace(b"R. Okafor", b"R. Okafur", 1), "not as it was")],
)
def test_a_record_that_does_not_verify_is_named_and_not_used(
    site: Site,
    records: Callable[..., str],
    firm: str,
    change: Callable[[bytes], bytes],
    why: str,
) -> None:
    folder = records(text=change(sealed(events("main", state="in use")).sealed))
    asked = (site(checked=date(2025, 1, 10)), "--records", folder, "--trust", firm)
    found = told(*asked)
    assert found["checks"][0]["state"] == "overdue"
    (said,) = found["not_used"]
    assert "record.json" in said
    assert why in said


def test_a_record_of_nobody_who_is_known_is_named_and_not_used(
    site: Site, records: Callable[..., str], tmp_path: Path
) -> None:
    other = tmp_path / "other.pub"
    other.write_text(f"# Another\n{STRANGER.public}\n", encoding="utf-8")
    asked = (site(), "--records", records(), "--trust", str(other))
    assert "--trust" in told(*asked)["not_used"][0]
    assert "Not used: record.json" in text(*asked)


@pytest.fixture
def round_of(site: Site) -> list[str]:
    """Three sites: two people, one route that one of them shares."""
    office = {"by": "L. Brandt", "route": "South"}
    return [
        site("c.toml", checked=date(2026, 2, 1), by="R. Okafor", route="South"),
        site("b.toml", checked=date(2026, 2, 1), site=office),
        site("a.toml", checked=date(2025, 1, 1)),
    ]


def test_people_and_routes_are_groups_and_what_has_none_stands_last(
    round_of: list[str],
) -> None:
    said = text(*round_of, "--by", "person")
    heads = ("L. Brandt", "R. Okafor", "Nobody is named")
    places = [said.index(one) for one in heads]
    assert places == sorted(places)
    routes = text(*round_of, "--by", "route")
    assert routes.index("Route: South") < routes.index("On no route")


def test_a_doorway_says_otherwise_than_its_site(site: Site) -> None:
    office = {"by": "L. Brandt", "route": "South"}
    (check,) = told(site(by="R. Okafor", site=office))["checks"]
    assert (check["person"], check["route"]) == ("R. Okafor", "South")


@pytest.mark.parametrize(
    ("asked", "people"),
    [
        (("--person", "l. brandt"), ["L. Brandt"]),
        (("--route", "South", "--by", "route"), ["R. Okafor", "L. Brandt"]),
    ],
)
def test_one_person_or_route_can_be_asked_for(
    round_of: list[str], asked: tuple[str, ...], people: list[str]
) -> None:
    """On a route of one day the order is that of the files: limen knows no map."""
    checks = told(*round_of, *asked)["checks"]
    assert [one["person"] for one in checks] == people


def test_everybody_gets_a_calendar_of_their_own(
    round_of: list[str], tmp_path: Path
) -> None:
    folder = tmp_path / "calendars"
    text(*round_of, "--by", "person", "--ics", str(folder))
    names = sorted(one.name for one in folder.iterdir())
    assert names == ["l-brandt.ics", "no-person.ics", "r-okafor.ics"]
    for one in folder.iterdir():
        found = vobject.readOne(one.read_text("utf-8"))
        assert found.validate(raiseException=True)
        assert len(found.vevent_list) == 1


def test_two_names_that_make_one_file_name_are_refused(
    site: Site, tmp_path: Path
) -> None:
    files = [
        site(f"{n}.toml", checked=date(2026, 2, 1), by=name)
        for n, name in enumerate(("A. B", "a b"))
    ]
    folder = tmp_path / "calendars"
    done = RUN.invoke(app, ["due", *files, *ON, "--by", "person", "--ics", str(folder)])
    assert done.exit_code == 2
    assert "A. B, a b" in done.output
    assert not folder.exists()


def test_the_owners_daily_check_is_one_line_a_site_where_it_is_asked_for(
    site: Site,
) -> None:
    american, european = site("us.toml", "us"), site("en.toml")
    found = told(american, european)["daily"]
    assert [one["who"] for one in found] == [None]
    said = text(american, european)
    assert "Every day, by the owner" in said
    assert "practice" in said
    assert "Every day" not in text(european)


def test_who_does_the_daily_check_is_named_by_the_site_file(site: Site) -> None:
    said = text(site(site={"daily": "Front desk"}))
    assert "Front desk: Main entrance" in said
    assert "the rulebook does not ask" in said


@pytest.mark.parametrize("daily", [True, False])
def test_a_calendar_has_the_daily_check_only_where_it_is_wanted(
    site: Site, tmp_path: Path, daily: bool
) -> None:
    out = tmp_path / "checks.ics"
    more = ["--daily"] if daily else []
    text(site(book="us", checked=date(2026, 3, 1)), "--ics", str(out), *more)
    found = vobject.readOne(out.read_text("utf-8"))
    rules = [one.rrule.value for one in found.vevent_list if hasattr(one, "rrule")]
    assert rules == (["FREQ=DAILY"] if daily else [])


def test_a_calendar_that_is_to_remind_of_nothing_does_not(
    site: Site, tmp_path: Path
) -> None:
    out = tmp_path / "checks.ics"
    text(site(checked=date(2026, 3, 1)), "--ics", str(out), "--remind", "0")
    assert not hasattr(vobject.readOne(out.read_text("utf-8")).vevent, "valarm")
