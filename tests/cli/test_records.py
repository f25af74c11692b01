"""`limen record new` and `limen verify`: what is printed and how it ends."""

import json
from importlib.resources import files
from pathlib import Path

import pytest

from builders.records import events
from cli.conftest import Run
from limen.desk import keys

SITE = Path(str(files("limen").joinpath("demo", "alder-quay-corrected.toml")))
DOOR = "staff"
SECRET = "three grey herons"  # noqa: S105 - opens keys of these tests alone


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("home")
    keys.begin(folder / "keys", "Weir & Söhne", "Desk 1", lambda _: SECRET)
    (folder / "secret").write_text(f"{SECRET}\n")
    return folder


@pytest.fixture(autouse=True)
def at_home(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LIMEN_HOME", str(home))
    monkeypatch.setenv(keys.PASSPHRASE_FILE, str(home / "secret"))


@pytest.fixture(scope="module")
def made(home: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with three records of one doorway, as the command makes them."""
    from typer.testing import CliRunner

    from limen.cli.main import app

    folder = tmp_path_factory.mktemp("made")
    visit = folder / "visit.json"
    visit.write_text(json.dumps({"events": events(DOOR)}))
    told = ["record", "new", str(SITE), "--doorway", DOOR, "--out", str(folder / "out")]
    env = {"LIMEN_HOME": str(home), keys.PASSPHRASE_FILE: str(home / "secret")}
    for more in ([], ["--visit", str(visit)], ["--language", "de"]):
        done = CliRunner().invoke(app, [*told, *more], env=env)
        assert done.exit_code == 0, done.output
    return folder / "out"


def _one(folder: Path, number: int, kind: str = "json") -> Path:
    return folder / f"record-{number:04}-{DOOR}.{kind}"


# record new --------------------------------------------------------------------------


def test_what_was_written_is_named_and_what_it_lacks_is_said(
    run: Run, tmp_path: Path
) -> None:
    done = run("record", "new", SITE, "--doorway", DOOR, "--out", tmp_path / "out")
    assert done.exit_code == 0
    assert str(_one(tmp_path / "out", 1)) in done.stdout
    assert "nothing was tested" in done.stdout
    assert "limen verify" in done.stdout


def test_a_newcomer_is_told_what_to_type(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LIMEN_HOME", str(tmp_path / "none"))
    done = run("record", "new", SITE, "--doorway", DOOR, "--out", tmp_path / "out")
    assert done.exit_code == 2
    assert 'limen keys new --firm "Name of your firm"' in done.stderr
    assert not (tmp_path / "out").exists()


# verify ------------------------------------------------------------------------------


def test_a_folder_of_records_is_unchanged_and_whole(run: Run, made: Path) -> None:
    done = run("verify", made)
    assert done.exit_code == 0
    assert done.stdout.count("Unchanged since it was sealed by “Desk 1”") == 6
    assert "This does not say that the door is as the record says." in done.stdout
    assert "record 3" in done.stdout


@pytest.mark.parametrize("kind", ["json", "pdf"])
def test_a_changed_record_ends_with_one_and_says_where(
    run: Run, made: Path, tmp_path: Path, kind: str
) -> None:
    data = bytearray(_one(made, 2, kind).read_bytes())
    data[len(data) // 2] ^= 1
    changed = tmp_path / f"changed.{kind}"
    changed.write_bytes(data)
    done = run("verify", changed)
    assert done.exit_code == 1
    assert "Changed" in done.stdout
    assert "do not belong together" in done.stdout
    told = json.loads(run("verify", changed, "--json").stdout)
    assert told["files"][0]["state"] == "changed"
    assert told["files"][0]["where"] == "seal"


def test_an_unknown_signer_ends_with_one_until_the_firm_is_trusted(
    run: Run, made: Path, home: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("LIMEN_HOME", str(tmp_path))
    file = _one(made, 1, "pdf")
    alone = run("verify", file)
    assert alone.exit_code == 1
    assert "--trust FIRM.pub" in alone.stdout
    known = run("verify", file, "--trust", home / "keys" / "firm.pub")
    assert known.exit_code == 0


def test_a_withdrawn_device_ends_with_one(
    run: Run, made: Path, home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    firm = tmp_path / "keys"
    keys.begin(firm, "Other", "Desk 9", lambda _: SECRET)
    monkeypatch.setenv("LIMEN_HOME", str(tmp_path))
    run("record", "new", SITE, "--doorway", DOOR, "--out", tmp_path / "out")
    file = _one(tmp_path / "out", 1)
    assert run("verify", file).exit_code == 0
    gone = keys.take_back(firm, "Desk 9", "stolen", lambda _: SECRET)
    done = run("verify", file)
    assert done.exit_code == 1
    assert "no longer answers" in done.stdout
    monkeypatch.setenv("LIMEN_HOME", str(home))
    trust = ("--trust", firm / "firm.pub")
    assert run("verify", file, *trust).exit_code == 0
    assert run("verify", file, *trust, "--trust", gone).exit_code == 1


def test_what_is_no_sealed_file_ends_with_two(run: Run, tmp_path: Path) -> None:
    done = run("verify", SITE, tmp_path / "none.json")
    assert done.exit_code == 2
    assert "Not a sealed record" in done.stdout
    assert "there is no such file" in done.stdout
    assert "Traceback" not in done.output


def test_a_changed_file_outweighs_one_that_is_unusable(
    run: Run, made: Path, tmp_path: Path
) -> None:
    changed = tmp_path / "changed.json"
    changed.write_bytes(_one(made, 1).read_bytes() + b" ")
    assert run("verify", SITE, changed).exit_code == 1


def test_a_record_that_lacks_between_two_is_missed(
    run: Run, made: Path, tmp_path: Path
) -> None:
    for number in (1, 3):
        (tmp_path / _one(made, number).name).write_bytes(
            _one(made, number).read_bytes()
        )
    done = run("verify", tmp_path)
    assert done.exit_code == 1
    assert "named by one of these and not here" in done.stdout
    alone = run("verify", _one(made, 3))
    assert alone.exit_code == 0


def test_an_empty_folder_and_a_wrong_key_file_are_refused(
    run: Run, made: Path, tmp_path: Path
) -> None:
    assert run("verify", tmp_path).exit_code == 2
    done = run("verify", _one(made, 1), "--trust", SITE)
    assert done.exit_code == 2
    assert str(SITE) in done.stderr


@pytest.mark.parametrize("language", ["de", "fr"])
def test_it_is_said_in_every_language(run: Run, made: Path, language: str) -> None:
    done = run("verify", _one(made, 1), "--language", language)
    assert done.exit_code == 0
    assert "Weir & Söhne" in done.stdout


def test_as_json_it_is_said_for_programs(run: Run, made: Path) -> None:
    told = json.loads(run("verify", made, "--json").stdout)
    assert told["schema"] == 1
    assert {one["state"] for one in told["files"]} == {"unchanged"}
    (chain,) = told["chains"]
    assert (chain["records"], chain["missing"]) == (3, [])
    papers = [one for one in told["files"] if one["file"].endswith(".pdf")]
    assert all(one["carried"] for one in papers)
