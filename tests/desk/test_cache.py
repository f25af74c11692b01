"""Compiled kernels go where the user's caches are, and never beside the code."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from limen.desk.cache import cache_folder, weather_cache


def test_the_stated_cache_home_comes_first(tmp_path: Path) -> None:
    environ = {"XDG_CACHE_HOME": str(tmp_path / "x"), "HOME": str(tmp_path)}
    assert cache_folder(environ) == tmp_path / "x" / "limen"


def test_else_the_cache_of_the_home_folder(tmp_path: Path) -> None:
    assert cache_folder({"HOME": str(tmp_path)}) == tmp_path / ".cache" / "limen"


def test_a_relative_cache_home_is_not_one(tmp_path: Path) -> None:
    environ = {"XDG_CACHE_HOME": "here", "HOME": str(tmp_path)}
    assert cache_folder(environ) == tmp_path / ".cache" / "limen"


@pytest.mark.parametrize("environ", [{}, {"HOME": "/proc/none"}, {"HOME": ""}])
def test_where_nothing_can_be_written_a_temporary_folder_serves(
    environ: dict[str, str],
) -> None:
    folder = cache_folder(environ)
    assert folder.is_absolute()
    assert "limen" in folder.name


def test_a_cache_the_user_has_chosen_is_left_alone() -> None:
    code = "import limen.desk, os; print(os.environ['NUMBA_CACHE_DIR'])"
    environ = {**os.environ, "NUMBA_CACHE_DIR": "/somewhere/else"}
    done = subprocess.run(
        [sys.executable, "-c", code],
        env=environ,
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.strip() == "/somewhere/else"


def test_years_of_weather_have_a_folder_of_their_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert weather_cache() == tmp_path / "limen" / "weather"
