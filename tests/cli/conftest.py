"""The command line, run inside the test, over studies made by hand."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from typer.testing import CliRunner, Result

import limen.desk.checking as desk
from builders.studies import doorway, study
from limen.cli.main import app
from limen.desk.checking import Checked
from limen.findings import Finding
from limen.model.site import Site

Run = Callable[..., Result]
Give = Callable[..., Checked]


@pytest.fixture
def run() -> Run:
    """Run a command; its output is a pipe unless COLUMNS is given."""

    def command(*words: object, columns: int | None = None, **environ: str) -> Result:
        wide = {"COLUMNS": str(columns)} if columns else {"COLUMNS": ""}
        env = {"NO_COLOR": "", "FORCE_COLOR": "", "TERM": "xterm", **wide, **environ}
        return CliRunner().invoke(app, [str(word) for word in words], env=env)

    return command


@pytest.fixture
def give(monkeypatch: pytest.MonkeyPatch) -> Give:
    """Let `check` find these findings, whatever file it is given."""

    def checked(*doors: tuple[Finding, ...], **more: Any) -> Checked:
        made = [doorway(id=f"door-{number}") for number in range(len(doors))]
        studies = tuple(
            replace(study(*findings, **more), doorway=door)
            for findings, door in zip(doors, made, strict=True)
        )
        from limen.desk.shelves import rules

        book = rules("en", "2012")[0]
        site = Site(name="A library", doorway=tuple(made))
        given = Checked(site, studies, (book,) * len(studies))
        monkeypatch.setattr(desk, "check", lambda *_, **__: given)
        return given

    return checked
