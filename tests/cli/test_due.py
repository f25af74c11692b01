"""`limen due`: which doors are due, and a calendar that other programs read.

The calendar is read back by vobject, which has no part in writing it (RFC 5545, 2009,
is its format).  Days: T80 to T82 of the table of worked rows (France: order of
21 December 1993, article 9, read second hand; Germany: DGUV 208-022, section 10.2; that
a month without such a day ends the interval on its last one is a design rule).
"""

import json
from collections.abc import Callable
from datetime import date, timedelta
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
import tomlkit
import vobject
from typer.testing import CliRunner

from limen.cli.main import app

DEMO = Path(str(files("limen").joinpath("demo", "alder-quay-corrected.toml")))
RUN = CliRunner(env={"COLUMNS": "100"})
Kept = Callable[..., str]


@pytest.fixture
def kept(tmp_path: Path) -> Kept:
    """A site file whose first doorway was kept as is said, under one rulebook."""

    def write(rulebook: str = "en", name: str = "site.toml", **said: date) -> str:
        text = tomlkit.parse(DEMO.read_text("utf-8"))
        doors: Any = text["doorway"]
        del doors[1:]
        doors[0].pop("facing", None)
        doors[0].pop("beside", None)
        doors[0]["commissioned"] = date(2015, 5, 1)
        text["rulebook"] = rulebook
        doors[0]["kept"] = dict(said)
        path = tmp_path / name
        path.write_text(tomlkit.dumps(text), encoding="utf-8")
        return str(path)

    return write


def told(*asked: str) -> dict[str, Any]:
    done = RUN.invoke(app, ["due", *asked, "--json"])
    assert done.exit_code == 0, done.output
    return json.loads(done.stdout)


@pytest.mark.parametrize(
    ("rulebook", "checked", "day"),
    [
        ("fr", date(2026, 1, 31), "2026-07-31"),
        ("fr", date(2026, 8, 31), "2027-02-28"),
        ("de", date(2024, 2, 29), "2025-02-28"),
    ],
)
def test_the_day_is_that_of_country_and_last_check(
    rulebook: str, checked: date, day: str, kept: Kept
) -> None:
    (check,) = told(kept(rulebook, checked=checked), "--on", "2026-09-01")["checks"]
    assert check["due"] == day


def test_what_befell_the_door_makes_a_check_due_at_once(kept: Kept) -> None:
    site = kept(checked=date(2026, 3, 1), fault=date(2026, 4, 1))
    (check,) = told(site, "--on", "2026-05-01")["checks"]
    assert check["state"] == "at once"


def test_overdue_stands_out_in_words_and_first(kept: Kept) -> None:
    late = kept(name="late.toml", checked=date(2025, 1, 1))
    soon = kept(name="soon.toml", checked=date(2026, 3, 1))
    unknown = kept(name="unknown.toml")
    done = RUN.invoke(app, ["due", soon, unknown, late, "--on", "2026-05-01"])
    assert done.exit_code == 0
    assert "OVERDUE by 120 days" in done.stdout
    states = [
        one["state"]
        for one in told(soon, unknown, late, "--on", "2026-05-01")["checks"]
    ]
    assert states == ["overdue", "not known", "in time"]


def test_what_has_longer_is_left_out_but_never_what_is_not_known(kept: Kept) -> None:
    soon = kept(name="soon.toml", checked=date(2026, 3, 1))
    unknown = kept(name="unknown.toml")
    near = told(soon, unknown, "--on", "2026-05-01", "--within", "30")["checks"]
    assert [one["state"] for one in near] == ["not known"]


def test_the_calendar_is_read_by_another_library(kept: Kept, tmp_path: Path) -> None:
    sites = [
        kept("fr", name="één, très; long.toml", checked=date(2026, 8, 31)),
        kept(name="old.toml", checked=date(2024, 1, 1)),
        kept(name="unknown.toml"),
    ]
    out = tmp_path / "checks.ics"
    done = RUN.invoke(app, ["due", *sites, "--on", "2026-09-01", "--ics", str(out)])
    assert done.exit_code == 0
    data = out.read_bytes()
    calendar = vobject.readOne(data.decode("utf-8"))
    assert calendar.validate(raiseException=True)
    events = calendar.vevent_list
    days = {one.dtstart.value for one in events}
    assert days == {date(2027, 2, 28), date(2026, 9, 1)}
    assert len({one.uid.value for one in events}) == len(events) == 2
    for one in events:
        assert one.dtend.value - one.dtstart.value == timedelta(days=1)
        assert "Alder Quay Library" in one.summary.value
    late, ahead = sorted(events, key=lambda one: one.dtstart.value)
    assert ahead.valarm.trigger.value == -timedelta(days=14)
    assert late.summary.value.startswith("OVERDUE")
    assert not hasattr(late, "valarm")  # nothing is left to be reminded of
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))


def test_the_same_check_keeps_its_name_in_the_calendar(
    kept: Kept, tmp_path: Path
) -> None:
    out = tmp_path / "checks.ics"

    def name(checked: date) -> str:
        site = kept(checked=checked)
        RUN.invoke(app, ["due", site, "--on", "2026-09-01", "--ics", str(out)])
        return vobject.readOne(out.read_text("utf-8")).vevent.uid.value

    assert name(date(2026, 1, 1)) == name(date(2026, 2, 2))


def test_files_that_cannot_be_used_are_told_all_together(tmp_path: Path) -> None:
    one, other = tmp_path / "one.toml", tmp_path / "other.toml"
    one.write_text("name = ", encoding="utf-8")
    other.write_text("colour = 1", encoding="utf-8")
    done = RUN.invoke(app, ["due", str(one), str(other)])
    assert done.exit_code == 2
    assert "one.toml" in done.output
    assert "other.toml" in done.output


def test_a_day_that_is_none_is_refused(kept: Kept) -> None:
    done = RUN.invoke(app, ["due", kept(), "--on", "tomorrow"])
    assert done.exit_code == 2
    assert "2026-03-01" in done.output
