"""The project as text: its files, modules and syntax trees."""

import ast
import subprocess
import tomllib
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "limen"

CORE = (
    "quantity",
    "geometry",
    "model",
    "physics",
    "rules",
    "findings",
    "questions",
    "study",
    "tune",
    "prove",
    "keep",
)
"""The packages that know no framework, file, clock, network or chance."""

RIMS = ("desk", "cli", "web")
"""The packages that may read the clock, or speak to those that do."""


@cache
def project() -> dict[str, object]:
    """What pyproject.toml says."""
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


@cache
def tracked() -> tuple[Path, ...]:
    """The files of the project that are under version control, or will be."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        check=True,
        capture_output=True,
    ).stdout.decode()
    return tuple(
        sorted(ROOT / name for name in listed.split("\0") if (ROOT / name).is_file())
    )


def text_of(path: Path) -> str | None:
    """The text of a file, or None if it holds bytes."""
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return None


@cache
def sources() -> tuple[Path, ...]:
    """Every Python file of the package."""
    return tuple(sorted(PACKAGE.rglob("*.py")))


@cache
def parsed(path: Path) -> ast.Module:
    """The syntax tree of a file."""
    return ast.parse(path.read_text(encoding="utf-8"), str(path))


def module_name(path: Path) -> str:
    """`src/limen/rules/rule.py` is `limen.rules.rule`."""
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def room(path: Path) -> str:
    """The package a file belongs to: "rules", or "" for limen itself."""
    inside = path.relative_to(PACKAGE).parts
    return inside[0] if len(inside) > 1 else ""


@cache
def rooms() -> frozenset[str]:
    """The packages there are."""
    return frozenset(path.parent.name for path in PACKAGE.glob("*/__init__.py"))


def short(path: Path) -> str:
    """The path as people name it."""
    return str(path.relative_to(ROOT)) if path.is_relative_to(ROOT) else path.name
