"""Each command does its work or says why not; none ever shows a trace."""

import json
import subprocess
import sys
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest

import limen.desk.checking as desk
from builders.studies import failing
from cli.conftest import Give, Run
from limen.cli.main import main


def test_help_says_what_each_command_is_for_and_gives_examples(run: Run) -> None:
    said = run("--help").stdout
    for command in ("check", "draw", "new", "schema", "demo", "rules", "sheets"):
        assert f"\n  {command} " in said
    assert "Examples:" in said
    assert "limen check door.toml" in said


def test_help_has_no_boxes(run: Run) -> None:
    for words in (("--help",), ("check", "--help"), ("draw", "--help")):
        assert not set("│─╭╰┃━") & set(run(*words).stdout)


def test_without_a_command_help_is_shown(run: Run) -> None:
    assert "Examples:" in run().output


def test_the_version_is_said(run: Run) -> None:
    assert run("--version").stdout.startswith("limen 0.")


def test_nothing_is_offered_that_is_not_there(run: Run) -> None:
    for command in ("tune", "report", "prove", "due"):
        assert run(command).exit_code == 2


def test_a_file_with_faults_ends_with_two_and_the_faults_on_the_error_stream(
    run: Run, tmp_path: Path
) -> None:
    file = tmp_path / "door.toml"
    file.write_text('name = "A"\nplaces = 3\n', "utf-8")
    result = run("check", file)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "places" in result.stderr
    assert "doorway" in result.stderr
    assert "Traceback" not in result.stderr


def test_a_doorway_that_is_not_there_ends_with_two(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "door.toml"
    assert run("new", file).exit_code == 0
    result = run("check", file, "--doorway", "none-such")
    assert result.exit_code == 2
    assert "none-such" in result.stderr


@pytest.mark.parametrize(
    "words",
    [
        ("check",),
        ("check", "x.toml", "--on", "yesterday"),
        ("check", "x.toml", "--units", "miles"),
        ("draw", "x.toml", "--view", "above"),
        ("draw", "x.toml", "--width", "3"),
        ("schema", "weather"),
        ("rules", "xx"),
        ("sheets", "xx"),
    ],
)
def test_what_cannot_be_understood_ends_with_two(run: Run, words: tuple) -> None:
    result = run(*words)
    assert result.exit_code == 2
    assert result.stderr
    assert "Traceback" not in result.stderr


def test_a_mistake_of_limen_s_own_is_owned_up_to_without_a_trace(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("secret detail")

    monkeypatch.setattr(desk, "check", broken)
    result = run("check", "x.toml")
    assert result.exit_code == 70
    assert "LIMEN_DEBUG=1" in result.stderr
    assert "Traceback" not in result.stderr
    assert "secret detail" not in result.stderr
    assert len(result.stderr.splitlines()) == 1


def test_the_trace_is_there_for_who_asks(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("secret detail")

    monkeypatch.setattr(desk, "check", broken)
    result = run("check", "x.toml", LIMEN_DEBUG="1")
    assert "secret detail" in result.stderr
    assert result.exit_code == 70


def test_an_interruption_is_no_verdict(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(desk, "check", interrupted)
    assert run("check", "x.toml").exit_code not in {0, 1, 2, 3}


def test_new_writes_a_file_and_says_what_comes_next(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "door.toml"
    result = run("new", file)
    assert result.exit_code == 0
    assert file.is_file()
    assert f"limen check {file}" in result.stdout


def test_new_does_not_overwrite(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "door.toml"
    file.write_text("mine", "utf-8")
    result = run("new", file)
    assert result.exit_code == 2
    assert file.read_text("utf-8") == "mine"
    assert str(file) in result.stderr


def test_draw_writes_the_views_asked_for_and_names_the_files(
    run: Run, give: Give, tmp_path: Path
) -> None:
    give((failing(),))
    result = run("draw", "x.toml", "--out", tmp_path, "--view", "plan")
    assert result.exit_code == 0
    assert result.stdout.splitlines() == [str(tmp_path / "door-0-plan.svg")]
    assert (tmp_path / "door-0-plan.svg").is_file()


def test_draw_ends_well_though_a_must_fails(
    run: Run, give: Give, tmp_path: Path
) -> None:
    give((failing(),))
    assert run("draw", "x.toml", "--out", tmp_path).exit_code == 0
    assert len(list(tmp_path.iterdir())) == 3


@pytest.mark.parametrize("what", ["site", "sheet", "findings"])
def test_schema_prints_a_json_schema(run: Run, what: str) -> None:
    result = run("schema", what, columns=40)
    jsonschema.Draft202012Validator.check_schema(json.loads(result.stdout))


def test_rules_lists_rulebooks_with_their_editions(run: Run) -> None:
    said = run("rules").stdout
    assert "en  2012" in said
    assert "en  2023" in said


def test_rules_of_one_book_give_figures_clauses_grades_and_cases(run: Run) -> None:
    said = run("rules", "en", "--edition", "2012").stdout
    assert "presence.leaf_path · must · 2 worked examples" in said
    assert "700 mm" in said
    assert "EN 16005:2012, Annex C; read in the published text" in said
    assert "clause to be confirmed" in said
    assert "no figure" in said


@pytest.mark.parametrize("columns", [80, 120])
@pytest.mark.parametrize("words", [("rules",), ("rules", "en"), ("sheets",)])
def test_lists_keep_to_the_width_of_the_terminal(
    run: Run, words: tuple, columns: int
) -> None:
    lines = run(*words, columns=columns).stdout.splitlines()
    assert max(len(line) for line in lines) <= columns


def test_sheets_lists_names_and_shows_one_as_it_stands(run: Run) -> None:
    names = [line.split()[0] for line in run("sheets").stdout.splitlines() if line]
    said = run("sheets", names[0]).stdout
    assert "name = " in said


@pytest.mark.slow
def test_the_demo_shows_a_failure_its_remedy_and_what_to_try(
    run: Run, tmp_path: Path
) -> None:
    result = run("demo", "--out", tmp_path, columns=80)
    assert result.exit_code == 0
    said = " ".join(result.stdout.split())
    assert "Put the test body here" in said
    assert "It is reached by no beam." in said
    assert "nearer the leaf" in said
    assert "To try next" in said
    lines = result.stdout.splitlines()
    wide = [line for line in lines if len(line) > 80 and "limen check" not in line]
    assert not [line for line in wide if str(tmp_path) not in line]
    assert len(list(tmp_path.glob("*.toml"))) == 2
    assert len(list(tmp_path.rglob("*.svg"))) == 30


@pytest.mark.slow
def test_the_demo_puts_the_body_back_once_it_is_corrected(
    run: Run, tmp_path: Path
) -> None:
    printed = " ".join(run("demo", "--out", tmp_path, columns=80).stdout.split())
    assert "put it back there: it is reached, with 6 mm to spare" in printed


@pytest.mark.slow
def test_the_demo_keeps_what_was_changed_in_its_files(run: Run, tmp_path: Path) -> None:
    mine = tmp_path / "alder-quay-as-found.toml"
    mine.write_text("# mine", "utf-8")
    assert run("demo", "--out", tmp_path).exit_code == 0
    assert mine.read_text("utf-8") == "# mine"


def _modules_after(code: str) -> set[str]:
    done = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys; print(*sys.modules)"],
        capture_output=True,
        text=True,
        check=True,
    )
    return set(done.stdout.split())


HEAVY = (
    "numpy",
    "numba",
    "pydantic",
    "rich",
    "tomlkit",
    "limen.model",
    "limen.physics",
)


def test_help_brings_in_nothing_heavy() -> None:
    code = """
from limen.cli.main import app
try: app(["--help"], prog_name="limen")
except SystemExit: pass"""
    loaded = _modules_after(code)
    assert [name for name in HEAVY if name in loaded] == []


def test_listing_rulebooks_brings_in_no_numbers() -> None:
    code = """
from limen.cli.main import app
try: app(["rules"], prog_name="limen")
except SystemExit: pass"""
    assert not {"numpy", "numba"} & _modules_after(code)


def test_checking_brings_in_only_what_it_reckons_with() -> None:
    site = Path(str(files("limen"))) / "demo" / "alder-quay-corrected.toml"
    code = f"""
from limen.cli.main import app
try: app(["check", {str(site)!r}, "--doorway", "staff"], prog_name="limen")
except SystemExit: pass"""
    others = {"scipy.linalg", "scipy.optimize", "pandas", "pvlib", "ortools", "fastapi"}
    assert not others & _modules_after(code)


def test_weather_that_was_read_once_brings_in_no_reader_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    site = Path(str(files("limen"))) / "demo" / "alder-quay-as-found.toml"
    code = f"""
from limen.cli.main import app
try: app(["flows", {str(site)!r}], prog_name="limen")
except SystemExit: pass"""
    assert {"pandas", "pvlib"} <= _modules_after(code)
    assert not {"pandas", "pvlib", "sqlalchemy"} & _modules_after(code)
    (kept,) = (tmp_path / "limen" / "weather").iterdir()
    assert kept.suffix == ".year"


def test_python_m_limen_is_the_same_command(capsys: pytest.CaptureFixture) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "limen", "--version"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.startswith("limen ")
    assert callable(main)


def test_a_reader_who_has_seen_enough_gets_no_complaint() -> None:
    command = f"{sys.executable} -m limen rules en | head -1"
    done = subprocess.run(
        ["bash", "-c", command], capture_output=True, text=True, check=False
    )
    assert done.stderr == ""
    assert done.stdout.startswith("en 2012")


def test_a_drawing_is_in_the_units_asked_for(run: Run, tmp_path: Path) -> None:
    file, out = tmp_path / "door.toml", tmp_path / "drawn"
    assert run("new", file).exit_code == 0
    asked = ("draw", file, "--view", "plan", "--out", out, "--units", "feet")
    assert run(*asked).exit_code == 0
    drawn = (out / "main-plan.svg").read_text("utf-8")
    assert "5 ft 10 7/8 in" in drawn
    assert " mm" not in drawn


def test_what_cannot_be_written_is_told_with_what_to_do(
    run: Run, tmp_path: Path
) -> None:
    file = tmp_path / "door.toml"
    assert run("new", file).exit_code == 0
    assert "Choose another name" in run("new", file).stderr
    assert (
        "no folder to write it into" in run("new", tmp_path / "none" / "x.toml").stderr
    )


def test_a_day_written_otherwise_is_told_how_to_write_it(run: Run) -> None:
    assert "2026-03-01" in run("check", "x.toml", "--on", "1.3.2026").stderr
