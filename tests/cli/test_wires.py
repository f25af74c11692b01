"""`limen wires`: both ends of every wire, on a terminal and on paper."""

from importlib.resources import files
from pathlib import Path

import pytest

from cli.conftest import Run

DEMO = Path(str(files("limen").joinpath("demo", "alder-quay-as-found.toml")))


def test_each_wire_is_told_with_both_ends_and_what_is_wrong_first(run: Run) -> None:
    found = run("wires", DEMO, "--doorway", "main")
    assert found.exit_code == 0
    said = found.stdout
    wire = "2. outside unit, presence output, to input “closing protection”."
    assert wire in said
    assert said.index("What is wrong") < said.index(wire)
    assert "✕   Wire 4: The operator does not test the inside unit" in said


def test_what_to_set_and_what_shows_it_are_told(run: Run) -> None:
    said = run("wires", DEMO, "--doorway", "main").stdout
    assert "Test before closing: on, for wire 4: described otherwise" in said
    assert "[ ] Let the door open. While it stands open, pull the plug" in said
    assert "the manual rules" in said


def test_a_narrow_terminal_is_kept_to(run: Run) -> None:
    said = run("wires", DEMO, columns=60).stdout
    assert max(len(line) for line in said.splitlines()) <= 60


def test_it_is_printed_where_it_is_asked_for(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "wires.pdf"
    found = run("wires", DEMO, "--doorway", "main", "--out", file, "--paper", "letter")
    assert found.stdout.strip() == str(file)
    assert file.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize("out", ["no/such/folder/wires.pdf", "."])
def test_a_file_that_cannot_be_written_is_refused(
    run: Run, tmp_path: Path, out: str
) -> None:
    found = run("wires", DEMO, "--doorway", "main", "--out", tmp_path / out)
    assert found.exit_code == 2
    assert str(tmp_path) in found.stderr


def test_a_doorway_that_is_not_there_is_refused(run: Run) -> None:
    found = run("wires", DEMO, "--doorway", "nowhere")
    assert found.exit_code == 2
    assert "nowhere" in found.stderr


def test_what_is_wrong_is_told_of_a_doorway_without_units_too(
    run: Run, tmp_path: Path
) -> None:
    text = DEMO.read_text("utf-8")
    start = text.index('[[doorway]]\nid = "escape"')
    door = text[start : text.index("[[doorway.fitting]]", start)]
    file = tmp_path / "door.toml"
    shut = door.replace("breaks_out = true", "breaks_out = false")
    file.write_text(f'name = "A"\nrulebook = "en"\n\n{shut}', "utf-8")
    said = run("wires", file).stdout
    assert "nothing to wire" in said
    assert "no unit has an output that opens it for escape" in said
