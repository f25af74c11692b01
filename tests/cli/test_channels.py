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
    assert "Left on one channel" in done.stdout


def test_json_keeps_to_its_schema(run: Run, file: str) -> None:
    told = json.loads(run("channels", file, "--json").stdout)
    jsonschema.validate(told, schema("channels"))


def test_named_spaces_leave_nothing_unknown(run: Run, file: str) -> None:
    """What is left is what the old unit does not state."""
    text = Path(file).read_text("utf-8")
    spaces = {
        "main": ("quay", "lobby"),
        "vestibule": ("lobby", "hall"),
        "staff": ("back yard", "office"),
        "escape": ("yard", "stairs"),
        "reading-room": ("gallery", "reading room"),
    }
    for door, (outside, inside) in spaces.items():
        line = f'spaces = {{ outside = "{outside}", inside = "{inside}" }}'
        text = text.replace(f'id = "{door}"\n', f'id = "{door}"\n{line}\n', 1)
    Path(file).write_text(text, "utf-8")
    told = json.loads(run("channels", file, "--json").stdout)
    sure, open_yet = told["pairs"]
    assert sure["how"] == "meets"
    assert open_yet["one"]["doorway"] == open_yet["two"]["doorway"] == "escape"
    assert told["harm"] == 0
    assert sum(one["changes"] for one in told["units"]) == 1
