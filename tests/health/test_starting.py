"""limen starts quickly: what is heavy is loaded when it is used."""

import subprocess
import sys
from importlib.util import find_spec

import pytest

MAY_COME_WITH_LIMEN = {"limen"}
HEAVY = {"numpy", "numba", "llvmlite", "pydantic", "pydantic_core", "tomlkit"}

IMPORT = """
import sys
before = set(sys.modules)
import limen
print(*sorted({name.split(".")[0] for name in set(sys.modules) - before}))
"""
HELP = """
import contextlib, io, sys
from limen.cli.main import main
sys.argv = ["limen", "--help"]
with contextlib.redirect_stdout(io.StringIO()), contextlib.suppress(SystemExit):
    main()
print(*sorted({name.split(".")[0] for name in sys.modules}))
"""


def _loaded(code: str) -> set[str]:
    done = subprocess.run(
        [sys.executable, "-c", code], check=True, capture_output=True, text=True
    )
    return set(done.stdout.split())


def test_importing_limen_brings_in_nothing_else() -> None:
    strangers = _loaded(IMPORT) - set(sys.stdlib_module_names) - MAY_COME_WITH_LIMEN
    assert strangers == set()


def test_help_is_shown_before_anything_heavy_is_loaded() -> None:
    if find_spec("limen.cli.main") is None:
        pytest.skip("there is no command line yet")
    assert _loaded(HELP) & HEAVY == set()
