"""A fleet: every doorway studied once, whatever happens meanwhile."""

import csv
import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from builders.fleets import FAULTY, write_bare, write_site
from desk.fleet_hands import DAY, Here, Runs
from limen.desk.checking import Checked, check
from limen.desk.fleet_kept import JOURNAL
from limen.desk.refusal import Refusal
from limen.exchange import contract

SIGNS = "=+-@\t\r"
"""By what a cell begins that a spreadsheet may reckon.

Source: OWASP, "CSV Injection".
"""


OWN = """
[[value]]
rule = "en.2012.keeping.due"
limit = "interval"
value = "6 months"
source = "own copy, page 12"
by = "R. Ahlgren"
on = 2026-03-02
"""


@pytest.fixture
def runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Runs:
    """Runs over two sites, one of three doorways and one of one."""
    found = Runs(monkeypatch, tmp_path)
    write_bare(found.sites / "a.toml", 1000, 1100, 1200, name="A")
    write_bare(found.sites / "b" / "b.toml", 1300, name="B")
    return found


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def _said(checked: Checked, language: str = "en") -> list[tuple[str, Any]]:
    """Doorway and finding, as they stand in the contract."""
    told: Any = contract(checked.studies, site="", language=language)
    return [(door["id"], one) for door in told["doorways"] for one in door["findings"]]


def _doors(runs: Runs) -> list[dict[str, str]]:
    return _rows(runs.out / "doorways.csv")


def _results(runs: Runs) -> dict[str, bytes]:
    return {
        one.name: one.read_bytes()
        for one in runs.out.iterdir()
        if one.name.startswith(("findings.csv", "doorways.csv", "summary"))
    }


# What is found ---------------------------------------------------------------------


def test_a_fleet_finds_what_the_check_of_each_site_finds(runs: Runs) -> None:
    write_site(runs.sites, "real", 1, 2)
    runs()
    told = _rows(runs.out / "findings.csv")
    for file in ("a.toml", "b/b.toml", "real.toml"):
        checked = check(runs.sites / file, on=DAY)
        findings = _said(checked)
        rows = [row for row in told if row["file"] == file]
        for row, (door, one) in zip(rows, findings, strict=True):
            assert (row["doorway"], row["question"]) == (door, one["question"])
            assert (row["verdict"], row["because"]) == (one["verdict"], one["because"])
            margin = one["margin"]["value"] if one["margin"] else None
            assert (float(row["margin"]) if row["margin"] else None) == margin


def test_a_doorway_has_one_row_in_the_order_of_the_files(runs: Runs) -> None:
    runs()
    named = [(row["file"], row["doorway"], row["state"]) for row in _doors(runs)]
    assert named == [
        ("a.toml", "door-0", "studied"),
        ("a.toml", "door-1", "studied"),
        ("a.toml", "door-2", "studied"),
        ("b/b.toml", "door-0", "studied"),
    ]
    assert {row["next_due"] for row in _doors(runs)} == {"2026-01-31"}


def test_what_cannot_be_read_is_a_row_and_ends_nothing(runs: Runs) -> None:
    (runs.sites / "faulty.toml").write_text(FAULTY * 2, encoding="utf-8")
    (runs.sites / "binary.toml").write_bytes(b"\xff\xfe\x00")
    (runs.sites / "broken.toml").write_text("[[doorway]\n", encoding="utf-8")
    undated = write_bare(runs.sites / "undated.toml", 1000)
    text = undated.read_text().replace("commissioned = 2018-06-01\n", "")
    undated.write_text(text, encoding="utf-8")
    done, _ = runs()
    states = {row["file"]: row["state"] for row in _doors(runs)}
    assert states == {
        "a.toml": "studied",
        "b/b.toml": "studied",
        "binary.toml": "not read",
        "broken.toml": "not read",
        "faulty.toml": "not read",
        "undated.toml": "not judged",
    }
    told = {row["file"]: row["told"] for row in _doors(runs)}
    with pytest.raises(Refusal) as refusal:
        check(runs.sites / "broken.toml")
    lines = [one.replace(f"{runs.sites}/", "") for one in refusal.value.lines]
    assert told["broken.toml"] == "\n".join(lines)
    assert done.written is not None
    assert done.written.summary["states"] == {
        "studied": 4,
        "not read": 3,
        "not judged": 1,
    }


def test_other_files_are_left_and_named(runs: Runs) -> None:
    (runs.sites / "other.toml").write_text("a = 1\n", encoding="utf-8")
    done, _ = runs()
    assert done.left == ("other.toml",)
    summary = json.loads((runs.out / "summary.json").read_text("utf-8"))
    assert summary["left"] == ["other.toml"]


def test_where_there_is_no_site_nothing_is_done(runs: Runs) -> None:
    with pytest.raises(Refusal, match="no site file"):
        runs(where=[runs.folder / "out"])


def test_rulebook_day_and_language_are_those_asked_for(runs: Runs) -> None:
    runs(rulebook="us", edition="2005", on=date(2026, 1, 1), language="de")
    row = _doors(runs)[0]
    assert (row["rulebook"], row["edition"], row["on"]) == ("us", "2005", "2026-01-01")
    english = check(runs.sites / "a.toml", rulebook="us", edition="2005")
    because = _said(english, "de")[0][1]["because"]
    told = _rows(runs.out / "findings.csv")[0]["because"]
    assert told == because


def test_a_firms_own_figures_go_along(runs: Runs) -> None:
    own = runs.folder / "own.toml"
    own.write_text(OWN, encoding="utf-8")
    expected = check(runs.sites / "a.toml", values=own, on=DAY)
    runs(values=own)
    told = _rows(runs.out / "findings.csv")
    said = [one["because"] for _, one in _said(expected)]
    assert [row["because"] for row in told if row["file"] == "a.toml"] == said
    before = _results(runs)
    runs()
    assert _results(runs) != before


# Not twice -------------------------------------------------------------------------


def test_what_is_done_is_not_done_again(runs: Runs) -> None:
    _, first = runs()
    before = _results(runs)
    done, second = runs()
    assert (len(first.taken), second.taken) == (4, [])
    assert (done.before, done.done, done.every) == (4, 4, 4)
    assert _results(runs) == before


def test_a_run_that_was_stopped_is_gone_on_with(runs: Runs, tmp_path: Path) -> None:
    stopped, first = runs(Here(stop_after=2))
    assert stopped.written is None
    assert not (runs.out / "findings.csv").exists()
    done, second = runs()
    assert len(first.taken) + len(second.taken) == 4
    assert (done.before, done.done) == (len(first.taken), 4)
    whole = Runs(runs.monkeypatch, tmp_path / "whole")
    whole(where=[runs.sites])
    assert _results(runs) == _results(whole)


def test_a_run_that_was_not_finished_keeps_its_day(runs: Runs) -> None:
    runs(Here(stop_after=2), on=date(2026, 3, 1))
    done, _ = runs(on=None)
    assert (done.on, done.before, done.kept_day) == (date(2026, 3, 1), 2, True)
    done, again = runs(on=None)
    assert done.on > date(2026, 3, 1)
    assert not done.kept_day
    assert len(again.taken) == 4


def test_only_what_was_changed_is_done_again(runs: Runs) -> None:
    write_site(runs.sites, "real", 1, 3)
    runs()
    write_bare(runs.sites / "b" / "b.toml", 1301, name="B")
    _, hands = runs()
    assert hands.taken == ["door-0"]
    sheet = runs.sites / "sheets" / "unit-2.toml"
    sheet.write_text(sheet.read_text("utf-8") + "\n# seen\n", encoding="utf-8")
    write_bare(runs.sites / "new.toml", 1400)
    _, hands = runs()
    assert hands.taken == ["door-0", "door-1", "door-2"]
    assert {row["file"] for row in _doors(runs)} == {
        "a.toml",
        "b/b.toml",
        "new.toml",
        "real.toml",
    }


def test_a_file_that_changes_under_way_is_taken_as_it_is_then(runs: Runs) -> None:
    class Changing(Here):
        def take(self, task: Any) -> Any:
            if not self.taken:
                write_bare(runs.sites / "b" / "b.toml", 1400, 1500, name="Two")
            return super().take(task)

        alone = take

    runs(Changing(room=1))
    named = [(row["site"], row["doorway"]) for row in _doors(runs)[3:]]
    assert named == [("Two", "door-0"), ("Two", "door-1")]


def test_a_journal_that_was_harmed_costs_its_line_alone(runs: Runs) -> None:
    runs()
    before = _results(runs)
    journal = runs.out / JOURNAL
    lines = journal.read_bytes().splitlines(keepends=True)
    lines[2] = lines[2].replace(b"fails", b"holds", 1)
    journal.write_bytes(b"".join(lines)[:-7])
    _, hands = runs()
    assert len(hands.taken) == 1
    assert _results(runs) == before


def test_days_that_are_over_do_not_pile_up(runs: Runs) -> None:
    sizes: list[int] = []
    for day in range(1, 7):
        runs(on=date(2026, 3, day))
        sizes.append((runs.out / JOURNAL).stat().st_size)
    assert max(sizes) < 2.5 * sizes[0]


# Workers that die ------------------------------------------------------------------


def test_a_doorway_over_which_workers_die_is_named_and_the_rest_is_done(
    runs: Runs,
) -> None:
    done, hands = runs(Here(deadly={"door-1"}))
    assert done.lost == (("a.toml", "door-1"),)
    states = {(row["file"], row["doorway"]): row["state"] for row in _doors(runs)}
    assert states.pop(("a.toml", "door-1")) == "lost"
    assert set(states.values()) == {"studied"}
    assert hands.taken.count("door-1") == 2
    assert hands.renewed == 2


def test_a_cluster_goes_on_with_other_tasks_when_a_worker_dies(runs: Runs) -> None:
    class OneByOne(Here):
        def take(self, task: Any) -> Any:
            given = super().take(task)
            self.broken = False
            return given

        alone = take

    done, hands = runs(OneByOne(deadly={"door-1"}, all_at_once=False))
    assert done.lost == (("a.toml", "door-1"),)
    assert sorted(hands.taken) == sorted(["door-0"] * 2 + ["door-1"] * 2 + ["door-2"])


@pytest.mark.parametrize(
    "asked",
    [
        {"rulebook": "nowhere"},
        {"rulebook": "en", "edition": "1066"},
        {"values": Path("nowhere.toml")},
    ],
)
def test_what_no_doorway_could_be_judged_by_is_refused_at_once(
    asked: dict[str, Any], runs: Runs
) -> None:
    hands = Here()
    with pytest.raises(Refusal):
        runs(hands, **asked)
    assert hands.taken == []


def test_it_is_tried_again_by_the_next_run_and_nothing_else(runs: Runs) -> None:
    runs(Here(deadly={"door-1"}))
    done, hands = runs()
    assert hands.taken == ["door-1"]
    assert done.lost == ()
    assert {row["state"] for row in _doors(runs)} == {"studied"}


def test_an_error_of_ours_over_one_doorway_is_its_row(
    runs: Runs, monkeypatch: pytest.MonkeyPatch
) -> None:
    from limen.desk import checking

    asked = checking.study

    def failing(door: Any, *args: Any, **more: Any) -> Any:
        if door.id == "door-2":
            raise ZeroDivisionError("of ours")
        return asked(door, *args, **more)

    monkeypatch.setattr(checking, "study", failing)
    runs()
    states = [row["state"] for row in _doors(runs)]
    assert states == ["studied", "studied", "broken", "studied"]
    assert "ZeroDivisionError: of ours" in _doors(runs)[2]["told"]


def test_a_worker_with_other_rules_is_refused(runs: Runs) -> None:
    with pytest.raises(Refusal, match="another limen"):
        runs(Here(basis="other"))


def test_two_runs_do_not_share_a_folder(runs: Runs) -> None:
    pytest.importorskip("fcntl")
    from limen.store.journal import open_journal

    runs.out.mkdir()
    held = open_journal(runs.out / JOURNAL)
    with pytest.raises(Refusal, match="Another run"):
        runs()
    held.close()


# Tables ----------------------------------------------------------------------------


def test_no_exported_cell_is_a_formula(runs: Runs) -> None:
    hostile = [f"{sign}1+cmd|' /C calc'!A0" for sign in "=+-@"]
    hostile += [f" {one}" for one in hostile] + ['a;=1+1;"=2', "\uff1d1+1"]
    for number, name in enumerate(hostile):
        write_bare(runs.sites / f"={number}.toml", 1000, name=name)
    runs()
    for table in ("findings.csv", "doorways.csv"):
        text = (runs.out / table).read_text("utf-8-sig")
        for separator in ",;\t":
            for row in csv.reader(text.splitlines(), delimiter=separator):
                for one in row:
                    begins = one.lstrip(' "')[:1]
                    assert begins not in {*SIGNS, "\uff1d"} or _is_number(one), one


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def test_numbers_below_nothing_stay_numbers(runs: Runs) -> None:
    write_site(runs.sites, "real", 0, 1)
    runs()
    margins = [row["margin"] for row in _rows(runs.out / "findings.csv")]
    assert any(one.startswith("-") and float(one) < 0 for one in margins)


def test_parquet_says_the_same_with_types(runs: Runs) -> None:
    parquet = pytest.importorskip("pyarrow.parquet")
    write_site(runs.sites, "real", 0, 1)
    runs()
    for name in ("findings", "doorways"):
        typed = parquet.read_table(runs.out / f"{name}.parquet").to_pylist()
        rows = _rows(runs.out / f"{name}.csv")
        for one, row in zip(typed, rows, strict=True):
            for key, value in one.items():
                assert _as_cell(value) in (row[key], row[key].removeprefix("'")), key


def _as_cell(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return "" if value is None else str(value)


def test_without_pyarrow_tables_are_csv_and_it_says_so(
    runs: Runs, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("limen.desk.fleet_results.can_write", lambda: False)
    done, _ = runs()
    assert done.written is not None
    assert not done.written.parquet
    assert not list(runs.out.glob("*.parquet"))


def test_results_are_written_whole_or_not_at_all(
    runs: Runs, monkeypatch: pytest.MonkeyPatch
) -> None:
    runs()
    before = _results(runs)
    write_bare(runs.sites / "more.toml", 1400)

    def full(*_: object, **__: object) -> object:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("limen.desk.fleet_results.summed", full)
    with pytest.raises(Refusal, match="no room"):
        runs()
    assert _results(runs) == before
    assert not list(runs.out.glob(".*"))
