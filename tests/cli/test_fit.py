"""`limen fit`: where units hang and what to turn, for people and for programs."""

import json
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest

import limen.desk.fitting as verbs
from cli.conftest import Run
from desk.test_fitting import MINIMUM, SITE, TOO_FEW


@pytest.fixture(scope="module")
def done(tmp_path_factory: pytest.TempPathFactory) -> verbs.FittedFile:
    """The readings, fitted once."""
    folder = tmp_path_factory.mktemp("door")
    (folder / "site.toml").write_text(SITE, encoding="utf-8")
    (folder / "readings.toml").write_text(MINIMUM, encoding="utf-8")
    return verbs.fit_file(folder / "readings.toml")


@pytest.fixture
def fitted(done: verbs.FittedFile, monkeypatch: pytest.MonkeyPatch) -> str:
    """Let `fit` find these, whatever file it is given."""
    monkeypatch.setattr(verbs, "fit_file", lambda *_, **__: done)
    return "readings.toml"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "site.toml").write_text(SITE, encoding="utf-8")
    (tmp_path / "readings.toml").write_text(MINIMUM, encoding="utf-8")
    return tmp_path


def test_floor_millimetres_come_first_then_steps_of_the_scale(
    run: Run, fitted: str
) -> None:
    result = run("fit", fitted, columns=1000)
    assert result.exit_code == 0
    out = result.stdout
    assert "lands 106 mm from the leaf face" in out
    bring = next(line for line in out.splitlines() if "Bring the outside" in line)
    assert bring.index("mm nearer the leaf") < bring.index("good from")
    assert bring.index("good from") < bring.index("steps of 0.1°")
    assert "Taken though nobody stated it" in out


def test_feet_are_read_where_feet_are_asked_for(run: Run, fitted: str) -> None:
    out = run("fit", fitted, "--units", "feet", columns=1000).stdout
    assert "4 3/16 in" in out
    assert " mm" not in out


def test_too_little_is_no_mistake_and_says_what_to_tape(run: Run, folder: Path) -> None:
    (folder / "readings.toml").write_text(TOO_FEW, encoding="utf-8")
    result = run("fit", folder / "readings.toml", columns=1000)
    assert result.exit_code == 0
    assert "To tape" in result.stdout
    assert "ends on the left" in result.stdout
    assert "not studied anew" in result.stdout


def test_json_keeps_to_the_schema_that_is_printed(run: Run, fitted: str) -> None:
    result = run("fit", fitted, "--json")
    assert result.exit_code == 0
    told = json.loads(result.stdout)
    schema = json.loads(run("schema", "fitted").stdout)
    jsonschema.Draft202012Validator(schema).validate(told)
    assert told["schema"] == 1
    assert told["units"][0]["outcome"] == "fitted"


def test_a_file_with_faults_ends_with_two_and_all_of_them(
    run: Run, folder: Path
) -> None:
    text = MINIMUM.replace('"102 mm ± 4 mm"', "102").replace('"left"', '"top"')
    (folder / "readings.toml").write_text(text, encoding="utf-8")
    result = run("fit", folder / "readings.toml")
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "2 faults" in result.stderr
    assert "Traceback" not in result.stderr


def test_the_site_as_it_hangs_is_written_to_a_file_of_its_own(
    run: Run, fitted: str, tmp_path: Path
) -> None:
    out = tmp_path / "hangs.toml"
    result = run("fit", fitted, "--out", out, columns=1000)
    assert result.exit_code == 0
    assert "Written to" in result.stdout
    assert "first_row" in out.read_text("utf-8")
    again = run("fit", fitted, "--out", out)
    assert again.exit_code == 2
    assert "stays as it is" in again.stderr


def test_narrow_terminals_get_narrow_lines(run: Run, fitted: str) -> None:
    out = run("fit", fitted, columns=60).stdout
    assert max(len(line) for line in out.splitlines()) <= 60


def test_the_schema_of_readings_takes_a_readings_file(run: Run) -> None:
    import tomllib

    schema = json.loads(run("schema", "readings").stdout)
    jsonschema.Draft202012Validator(schema).validate(tomllib.loads(MINIMUM))


def test_the_demo_site_is_the_one_that_ships() -> None:
    assert files("limen").joinpath("demo", "alder-quay-as-found.toml").is_file()
