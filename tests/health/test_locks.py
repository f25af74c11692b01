"""What is installed is what was locked, from wherever it is fetched."""

import re
from typing import Any, cast

from health.tree import ROOT, project

ADDRESS = re.compile(r"https?:|file:|//")
PIN = re.compile(r"^([a-z0-9-]+)(?:\[[^\]]*\])?==", re.MULTILINE)

LOCKS = ("requirements", "dev", "bootstrap", "node", "crowd")


def _lock(name: str) -> str:
    return (ROOT / f"{name}.lock").read_text(encoding="utf-8")


def _names(requirements: list[str]) -> set[str]:
    return {re.split(r"[<>=\[ ]", each)[0].lower() for each in requirements}


def test_no_lock_names_an_address() -> None:
    for name in LOCKS:
        assert ADDRESS.search(_lock(name)) is None, name


def test_every_locked_package_is_pinned_and_hashed() -> None:
    for name in LOCKS:
        for entry in re.split(r"\n(?=\S)", _lock(name).strip()):
            assert PIN.match(entry), entry[:60]
            assert "--hash=sha256:" in entry, entry[:60]


def test_every_dependency_is_locked_and_bounded() -> None:
    table = cast("dict[str, Any]", project()["project"])
    groups = cast("dict[str, Any]", project()["dependency-groups"])
    for lock, wanted in (
        ("requirements", table["dependencies"]),
        ("dev", groups["dev"]),
    ):
        assert _names(wanted) <= set(PIN.findall(_lock(lock)))
        assert [each for each in wanted if "<" not in each] == []


def test_the_changelog_tells_of_this_version() -> None:
    table = cast("dict[str, Any]", project()["project"])
    told = re.findall(r"^## (\S+)", (ROOT / "CHANGELOG.md").read_text("utf-8"), re.M)
    assert told[0] == table["version"]
