"""What the pages' scripts are made from is fixed, and names no place it came from."""

import json
import re
from pathlib import Path
from typing import Any

WEB = Path(__file__).parents[2] / "web"
LOCK: dict[str, Any] = json.loads((WEB / "package-lock.json").read_text("utf-8"))
WANTED: dict[str, Any] = json.loads((WEB / "package.json").read_text("utf-8"))


def test_every_version_is_one_version() -> None:
    versions = {**WANTED["dependencies"], **WANTED["devDependencies"]}
    for name, version in versions.items():
        assert re.fullmatch(r"\d+\.\d+\.\d+", version), name


def test_every_package_is_known_by_its_content() -> None:
    packages = {name: one for name, one in LOCK["packages"].items() if name}
    assert packages
    for name, one in packages.items():
        assert one["integrity"].startswith("sha512-"), name


def test_the_lock_ties_nobody_to_one_package_index() -> None:
    for one in LOCK["packages"].values():
        assert "resolved" not in one
    said = (WEB / ".npmrc").read_text("utf-8")
    assert "omit-lockfile-registry-resolved=true" in said
    assert "registry=" not in said.replace("omit-lockfile-registry-resolved=", "")


def test_lock_and_wish_agree() -> None:
    root = LOCK["packages"][""]
    assert root["dependencies"] == WANTED["dependencies"]
    assert root["devDependencies"] == WANTED["devDependencies"]


def test_no_package_runs_a_script_when_it_is_installed() -> None:
    asking = [n for n, one in LOCK["packages"].items() if one.get("hasInstallScript")]
    assert asking == [], asking
