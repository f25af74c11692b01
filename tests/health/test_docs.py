"""What can be asked and commanded is in the documentation."""

from importlib import import_module
from importlib.util import find_spec

import pytest

from health.tree import ROOT


def _pages() -> str:
    pages = [ROOT / "README.md", *(ROOT / "docs").rglob("*.md")]
    if len(pages) < 3:  # the README and a title page
        pytest.skip("the documentation is not written yet")
    return "\n".join(page.read_text(encoding="utf-8") for page in pages)


def unmentioned(names: list[str], pages: str) -> list[str]:
    """Names that stand nowhere as code."""
    return [name for name in names if f"`{name}" not in pages]


def test_every_question_is_explained() -> None:
    asked = getattr(import_module("limen.questions"), "QUESTIONS", None)
    if asked is None:
        pytest.skip("there is no register of questions yet")
    assert unmentioned(list(asked), _pages()) == []


def test_every_command_is_explained() -> None:
    if find_spec("limen.cli.main") is None:
        pytest.skip("there is no command line yet")
    typer = pytest.importorskip("typer")
    app = import_module("limen.cli.main").app
    commands = typer.main.get_command(app).commands
    named = [f"limen {name}" for name, each in commands.items() if not each.hidden]
    assert unmentioned(named, _pages()) == []
