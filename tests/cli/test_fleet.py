"""`limen fleet check`: what is printed, and the exit status."""

from contextlib import contextmanager
from io import StringIO
from pathlib import Path
from typing import Any

import pytest

from builders.fleets import FAULTY, write_bare
from desk.fleet_hands import Here
from limen.cli import fleet_told
from limen.cli.paper import paper
from limen.desk import fleet
from limen.desk.fleet_told import Progress, pace, seldom
from limen.findings import Message
from limen.words import read_as, say

DAY = ("--on", "2026-11-26")


@pytest.fixture
def sites(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Four doorways, studied in this process."""
    _hands(monkeypatch, Here())
    write_bare(tmp_path / "sites" / "a.toml", 1000, 1100, 1200)
    write_bare(tmp_path / "sites" / "b.toml", 1300)
    return tmp_path / "sites"


def _hands(monkeypatch: pytest.MonkeyPatch, hands: Here) -> None:
    @contextmanager
    def given(*_: object) -> Any:
        yield hands

    monkeypatch.setattr(fleet, "hands_of", given)


def test_it_says_what_fails_most_what_is_not_shown_and_what_is_due(
    run: Any, sites: Path, tmp_path: Path
) -> None:
    done = run("fleet", "check", sites, "--out", tmp_path / "out", *DAY)
    assert done.exit_code == 0, done.output
    lines = done.stdout.splitlines()
    assert lines[0].startswith("4 doorways · in 4 doorways a must fails")
    assert lines[lines.index("What fails most") + 1].split() == [
        *("4", "What", "is", "due", "keeping.due")
    ]
    assert "  4 overdue" in lines
    assert any(line.startswith("Written to ") for line in lines)


SETTLES = {
    "en": ("your own copy's figure for", "rulebook en 2012", "your firm's values file"),
    "de": ("Zahl Ihres eigenen Exemplars", "Regelwerk en 2012", "Wertedatei"),
    "fr": ("valeur de votre", "référentiel en 2012", "fichier de valeurs"),
}


@pytest.mark.parametrize("language", SETTLES)
def test_a_figure_that_would_settle_most_is_said_in_words(
    language: str, capsys: pytest.CaptureFixture[str]
) -> None:
    key = "values: en.2012.presence.hold_time hold"
    figure = {"rulebook": "en 2012", "title": "A standard"}
    with read_as(language):
        what = say(Message("lack.hold_rule"))
        one = {"what": what, "key": key, "figure": figure, "doorways": 40}
        paper().put(fleet_told.settles([one], None))
    told = capsys.readouterr().out
    assert f"40  {what}" in told
    assert f"({key})" in told
    assert all(words in told for words in (*SETTLES[language], "A standard"))


def test_files_that_cannot_be_read_are_counted_and_are_no_failure(
    run: Any, sites: Path, tmp_path: Path
) -> None:
    (sites / "bad.toml").write_text(FAULTY, encoding="utf-8")
    (sites / "other.toml").write_text("a = 1\n", encoding="utf-8")
    done = run("fleet", "check", sites, "--out", tmp_path / "out", *DAY)
    assert done.exit_code == 0
    assert "1 file cannot be read" in done.stdout
    assert "1 TOML file is no site file" in done.stdout


def test_a_second_run_says_that_all_was_done(
    run: Any, sites: Path, tmp_path: Path
) -> None:
    asked = ("fleet", "check", sites, "--out", tmp_path / "out", *DAY)
    run(*asked)
    done = run(*asked)
    assert "4 of 4 doorways were done before" in done.stdout


def test_doorways_that_were_given_up_are_named_and_the_status_says_so(
    run: Any, sites: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _hands(monkeypatch, Here(deadly={"door-2"}))
    done = run("fleet", "check", sites, "--out", tmp_path / "out", *DAY)
    assert done.exit_code == 70
    assert "1 doorway was given up" in done.stdout
    assert "a.toml door-2" in done.stdout


def test_a_run_that_was_stopped_says_how_to_go_on(
    run: Any, sites: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    @contextmanager
    def at_once() -> Any:
        yield lambda: True

    monkeypatch.setattr(fleet_told, "stopping_in_order", at_once)
    done = run("fleet", "check", sites, "--out", tmp_path / "out", *DAY)
    assert done.exit_code == 130
    assert "Stopped: 0 of 4 doorways are kept" in done.stderr
    assert done.stdout == ""
    monkeypatch.undo()
    _hands(monkeypatch, Here())
    done = run("fleet", "check", sites, "--out", tmp_path / "out")
    assert "As of 2026-11-26" in done.stdout
    assert "was not finished: this one went on as of 2026-11-26" in done.stdout


def test_workers_here_and_a_cluster_are_two_ways(
    run: Any, sites: Path, tmp_path: Path
) -> None:
    more = ("--workers", "2", "--cluster", "tcp://localhost:8786")
    done = run("fleet", "check", sites, "--out", tmp_path / "out", *more)
    assert done.exit_code == 2
    assert "choose one" in done.stderr


def test_without_parquet_it_says_how_to_get_it(
    run: Any, sites: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("limen.desk.fleet_results.can_write", lambda: False)
    done = run("fleet", "check", sites, "--out", tmp_path / "out", *DAY)
    assert "limen[fleet]" in done.stdout


@pytest.mark.parametrize("columns", [40, 80, 200])
def test_no_line_is_longer_than_the_terminal(
    columns: int, run: Any, sites: Path, tmp_path: Path
) -> None:
    done = run("fleet", "check", sites, "--out", tmp_path, *DAY, columns=columns)
    long = [line for line in done.stdout.splitlines() if len(line) > columns]
    assert [line for line in long if " " in line.strip()] == []


# How far it is ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("how", "said"),
    [
        (Progress(looked=1), "1 file looked at"),
        (Progress(looked=12), "12 files looked at"),
        (Progress(done=3, every=100), "3 of 100 doorways"),
        (
            Progress(done=40, every=100, rate=2.0),
            "40 of 100 doorways · 2.0 a second · less than a minute left",
        ),
        (
            Progress(done=100, every=1000, rate=2.0),
            "100 of 1000 doorways · 2.0 a second · 8 minutes left",
        ),
        (
            Progress(done=0, every=10**6, rate=12.0),
            "0 of 1000000 doorways · 12 a second · 23 hours left",
        ),
    ],
)
def test_the_line_says_how_far_how_fast_and_how_long(how: Progress, said: str) -> None:
    assert fleet_told.said_of(how) == said


def test_where_nobody_looks_no_line_is_drawn() -> None:
    assert fleet_told.on_a_line() is None


def test_a_line_takes_the_place_of_the_last_and_is_wiped_in_the_end(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    terminal = StringIO()
    monkeypatch.setattr(terminal, "isatty", lambda: True)
    monkeypatch.setattr("sys.stderr", terminal)
    monkeypatch.setattr("limen.desk.fleet_told.SELDOM", 0.0)
    told = fleet_told.on_a_line()
    assert told is not None
    for done in (900, 1000):
        told(Progress(done=done, every=1000))
    first, second = "900 of 1000 doorways", " " * len("900 of 1000 doorways")
    assert terminal.getvalue() == f"\r{first}\r{second}\r"


def test_what_nobody_could_read_is_not_drawn() -> None:
    told: list[Progress] = []
    sometimes = seldom(told.append)
    for done in range(11):
        sometimes(Progress(done=done, every=10))
    assert [one.done for one in told] == [0, 10]


def test_the_rate_counts_this_run_alone() -> None:
    told: list[Progress] = []
    measured = pace(100, 90, told.append)
    next(measured)
    measured.send(5)
    assert [one.done for one in told] == [90, 95]
    assert told[0].seconds_left is None
    left = told[1].seconds_left
    assert left is not None
    assert left * told[1].rate == pytest.approx(5)
