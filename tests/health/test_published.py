"""Tests on published numbers say where each was published."""

import ast
import re

from health.tree import ROOT, parsed, short

YEAR = re.compile(r"\b(?:19|20)\d\d\b")


def _lacks_a_source(docstring: str | None) -> bool:
    """A bibliographic entry names a work and its year."""
    return docstring is None or not YEAR.search(docstring)


def _is_of_a_work(name: str) -> bool:
    """`test_every_…` goes over all works at once; each is cited where it stands."""
    return not name.startswith("test_every_")


def test_every_published_file_opens_with_a_bibliographic_entry() -> None:
    lacking = [
        short(path)
        for path in (ROOT / "tests" / "published").glob("test_*.py")
        if _is_of_a_work(path.name) and _lacks_a_source(ast.get_docstring(parsed(path)))
    ]
    assert lacking == []
