"""What `limen channels` prints."""

import json
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest

from cli.conftest import Run
from limen.desk.schemas import schema

DEMO = files("limen").joinpath("demo", "alder-quay-as-found.toml")


@pytest.fixture
def file(tmp_path: Path) -> str:
    path = tmp_path / "site.toml"
    path.write_text(DEMO.read_text("utf-8"), "utf-8")
    return str(path)


def test_it_says_what_to_set_and_what_is_left(run: Run, file: str) -> None:
    done = run("channels", file)
    assert done.exit_code == 0
    assert "Set the inside unit of doorway main to channel" in done.stdout


def test_json_keeps_to_its_schema(run: Run, file: str) -> None:
    told = json.loads(run("channels", file, "--json").stdout)
    jsonschema.validate(told, schema("channels"))


def test_named_spaces_leave_nothing_unknown(run: Run, file: str) -> None:
    """What is left is what the old unit does not state."""
    told = json.loads(run("channels", file, "--json").stdout)
    sure, open_yet = told["pairs"]
    assert sure["how"] == "meets"
    assert open_yet["one"]["doorway"] == open_yet["two"]["doorway"] == "escape"
    assert told["harm"] == 0
    assert sum(one["changes"] for one in told["units"]) == 1


def test_without_spaces_it_is_not_taken_that_units_cannot_meet(
    run: Run, file: str
) -> None:
    text = Path(file).read_text("utf-8").split("\n")
    bare = [line for line in text if not line.startswith("spaces = ")]
    Path(file).write_text("\n".join(bare), "utf-8")
    told = json.loads(run("channels", file, "--json").stdout)
    assert sum(one["how"] != "meets" for one in told["pairs"]) > 30
    assert "Left on one channel" in run("channels", file).stdout
