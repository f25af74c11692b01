"""What the pages show as printed by limen is what limen prints."""

import os
import re
import subprocess
import sys
from importlib.resources import files
from pathlib import Path

import pytest

from health.tree import ROOT

PAGES = ("start.md", "commands.md", "rulebooks.md")
LIMEN = (sys.executable, "-m", "limen")
STILL_OPEN = 3
"""The exit status that docs/start.md names."""
BAD = """\
name = "x"
[[doorway]]
id = "Main"
name = "Main"
clear_width = 1800
clear_height = "2100 mm"
header = { outside = "100 mm", inside = "100" }
reveal = { outside = "0 mm", inside = "0 mm" }
colour = "red"
[doorway.leaves]
kind = "single"
thickness = "40 mm"
"""


def examples(page: str) -> list[tuple[str, list[str]]]:
    """Commands shown with what they print: pieces between the marks of a cut."""
    blocks = re.findall(r"```\n\$ limen (.*)\n((?:.*\n)*?)```", page)
    return [(words, [_flat(part) for part in out.split("…")]) for words, out in blocks]


def _flat(text: str) -> str:
    return " ".join(text.split())


SHOWN = [
    (words, pieces)
    for page in PAGES
    for words, pieces in examples((ROOT / "docs" / page).read_text(encoding="utf-8"))
]


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the files that the pages speak of."""
    folder = tmp_path_factory.mktemp("desk")
    demo = folder / "alder-quay"
    demo.mkdir()
    for source in files("limen").joinpath("demo").iterdir():
        if source.name.endswith(".toml"):
            text = source.read_text(encoding="utf-8")
            (demo / source.name).write_text(text, encoding="utf-8")
    found = (demo / "alder-quay-as-found.toml").read_text(encoding="utf-8")
    mended = found.replace('tilt = "-1.3 deg"', 'tilt = "-2.5 deg"')
    mended = mended.replace("test_enabled = false", "test_enabled = true")
    mended = mended.replace(
        '"900 mm"             # the winter', '"1400 mm"  # the winter'
    )
    (demo / "mended.toml").write_text(mended, encoding="utf-8")
    (folder / "bad.toml").write_text(BAD, encoding="utf-8")
    _run(folder, "new door.toml")
    door = (folder / "door.toml").read_text(encoding="utf-8")
    undated = door.replace("commissioned =", "# commissioned =")
    (folder / "undated.toml").write_text(undated, encoding="utf-8")
    return folder


@pytest.mark.parametrize(("words", "pieces"), SHOWN, ids=[words for words, _ in SHOWN])
def test_a_page_shows_what_is_printed(
    desk: Path, words: str, pieces: list[str]
) -> None:
    if words.startswith("new"):
        (desk / "door.toml").unlink()
    printed = _flat(_run(desk, words))
    assert [piece for piece in pieces if piece not in printed] == []


def test_nothing_to_mend_ends_with_three_while_a_must_is_not_shown(desk: Path) -> None:
    words = "check alder-quay/mended.toml --doorway main"
    assert _run(desk, words).startswith("Nothing to mend before use")
    assert _done(desk, words).returncode == STILL_OPEN


def test_a_page_that_shows_something_else_is_noticed() -> None:
    ((words, pieces),) = examples("```\n$ limen rules\nen 1066 …\nxx\n```\n")
    assert (words, pieces) == ("rules", ["en 1066", "xx"])


def _run(folder: Path, words: str) -> str:
    done = _done(folder, words)
    return (done.stdout + done.stderr).decode("utf-8")


def _done(folder: Path, words: str) -> subprocess.CompletedProcess[bytes]:
    wide = {name: value for name, value in os.environ.items() if name != "COLUMNS"}
    return subprocess.run(
        [*LIMEN, *words.split()],
        cwd=folder,
        capture_output=True,
        check=False,
        env=wide,
    )
