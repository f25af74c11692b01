"""`limen change`: a door beside its sealed record, for people and for programs."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from builders.sealed import least, on_paper, sealed, step, studying_once
from cli.conftest import Run
from limen.store.starter import starter_text


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A site file, a record of its doorway, and the file as it was edited since."""
    folder = tmp_path_factory.mktemp("change")
    site = folder / "door.toml"
    site.write_text(starter_text(), "utf-8")
    (folder / "record.json").write_bytes(sealed(site, [*map(step, least(site))]))
    text = starter_text()
    edited = text.replace('clearance = "220 mm"', 'clearance = "21 cm"', 1)
    assert edited != text
    (folder / "now.toml").write_text(edited, "utf-8")
    with studying_once():
        yield folder


def asked(folder: Path, site: str = "door.toml") -> list[object]:
    return [
        "change",
        folder / site,
        "--doorway",
        "main",
        "--record",
        folder / "record.json",
    ]


def test_a_door_as_it_was_owes_nothing_and_the_work_is_done(
    run: Run, folder: Path
) -> None:
    done = run(*asked(folder))
    assert done.exit_code == 0, done.output
    assert "No test is owed." in done.output
    assert "Nothing is known to be otherwise" in done.output


def test_the_paper_of_a_record_says_the_same_as_its_text(
    run: Run, folder: Path
) -> None:
    (folder / "record.pdf").write_bytes(on_paper((folder / "record.json").read_bytes()))
    words = asked(folder)
    as_text = run(*words, "--json")
    as_paper = run(*words[:-1], folder / "record.pdf", "--json")
    assert as_paper.exit_code == 0, as_paper.output
    assert json.loads(as_paper.output) == json.loads(as_text.output)


def test_programs_are_told_what_changed_what_is_owed_and_what_is_not(
    run: Run, folder: Path
) -> None:
    done = run(*asked(folder, "now.toml"), "--was", folder / "door.toml", "--json")
    assert done.exit_code == 0, done.output
    said = json.loads(done.output)
    assert said["schema"] == 1
    assert said["record"]["number"] == 7
    assert said["record"]["text"] == "known"
    (change,) = said["changes"]
    assert change["key"] == "side_space[left].clearance"
    assert (change["was"], change["now"]) == ("220 mm", "210 mm")
    owed = {one["id"]: one for one in said["owed"]}
    assert set(owed) == {"trailing.left"}
    assert all(one["because"] and one["minutes"] > 0 for one in owed.values())
    left = {one["id"] for one in said["not_asked_again"]}
    assert left == set(least(folder / "now.toml")) - set(owed)
    assert said["minutes"] == pytest.approx(sum(o["minutes"] for o in owed.values()))
    assert said["work"] == []


def test_people_read_the_reasons_before_the_tests(run: Run, folder: Path) -> None:
    done = run(*asked(folder, "now.toml"), "--was", folder / "door.toml", columns=80)
    assert done.exit_code == 0
    why = done.output.index("Owed because this changed: Side space")
    assert why < done.output.index("Behind the opening leaf, left")
    assert all(len(line) <= 80 for line in done.output.splitlines())


def test_what_cannot_be_used_ends_with_2_and_says_why(run: Run, folder: Path) -> None:
    words = asked(folder)
    done = run(*words[:-1], folder / "door.toml")
    assert done.exit_code == 2
    assert "no sealed record" in done.output
    done = run(*words, "--done", "painting")
    assert done.exit_code == 2
    assert "Accepted: mechanics" in " ".join(done.output.split())
