"""What the code calls things stands in the documentation, and commands whole."""

from typing import Any, get_args

import pytest
import typer

from health.tree import ROOT
from limen.cli.main import app
from limen.findings import Verdict
from limen.physics.reach import FACES
from limen.quantity import Grade
from limen.rules import Weight
from limen.store.schema import Kind

COMMANDS: dict[str, Any] = typer.main.get_command(app).commands  # pyright: ignore[reportAttributeAccessIssue]  # a group


def page(name: str) -> str:
    """The text of a page."""
    return (ROOT / "docs" / name).read_text(encoding="utf-8")


@pytest.mark.parametrize("word", [*Verdict, *Weight, *FACES])
def test_the_nomenclature_has_the_words_that_findings_use(word: str) -> None:
    assert word in page("nomenclature.md")


@pytest.mark.parametrize("grade", list(Grade))
def test_every_grade_is_explained_with_whether_it_may_hold(grade: Grade) -> None:
    row = next(
        line
        for line in page("rulebooks.md").splitlines()
        if line.startswith(f"| `{grade.value}` |")
    )
    last = row.split("|")[-2].strip()
    assert last.startswith("no") != grade.may_hold
    assert ("to be confirmed" in last) == grade.to_confirm


@pytest.mark.parametrize("command", sorted(COMMANDS))
def test_every_option_of_a_command_is_explained(command: str) -> None:
    if COMMANDS[command].hidden:
        pytest.skip("a hidden command")
    _, _, section = page("commands.md").partition(f"## `limen {command}")
    section = section.partition("\n## ")[0]
    missing = [
        option
        for one in COMMANDS[command].params
        for option in one.opts
        if option.startswith("--") and option != "--help" and option not in section
    ]
    assert missing == []


@pytest.mark.parametrize("kind", get_args(Kind))
def test_every_kind_of_file_has_a_schema_that_the_commands_name(kind: str) -> None:
    assert kind in page("commands.md").partition("## `limen schema")[2]
