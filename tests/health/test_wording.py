"""What is written in the project, for people on site and for those who read it."""

import ast
import tomllib
from collections.abc import Iterator
from pathlib import Path

from health.tree import PACKAGE, ROOT, parsed, room, short, sources, text_of, tracked
from health.wording import promises, traces

SPEAKING = {"cli", "desk", "draw", "exchange", "report", "web", "words", "questions"}


def _strings(value: object) -> Iterator[str]:
    match value:
        case str():
            yield value
        case dict():
            for each in value.values():
                yield from _strings(each)
        case list():
            for each in value:
                yield from _strings(each)
        case _:
            return


def _said_by_code(path: Path) -> Iterator[str]:
    tree = parsed(path)
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


def test_no_sentence_of_a_catalogue_or_rulebook_promises_too_much() -> None:
    found = {
        f"{short(path)}: {sentence}"
        for path in PACKAGE.rglob("*.toml")
        for string in _strings(tomllib.loads(path.read_text(encoding="utf-8")))
        for sentence in promises(string)
    }
    assert found == set()


def test_no_word_in_the_code_that_speaks_promises_too_much() -> None:
    found = {
        f"{short(path)}: {sentence}"
        for path in sources()
        if room(path) in SPEAKING
        for string in _said_by_code(path)
        for sentence in promises(string)
    }
    assert found == set()


def test_no_page_of_the_documentation_promises_too_much() -> None:
    pages = [*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md")]
    found = {
        f"{short(path)}: {sentence}"
        for path in pages
        for sentence in promises(path.read_text(encoding="utf-8"))
    }
    assert found == set()


def test_no_file_tells_where_or_how_it_was_made() -> None:
    found = [
        f"{short(path)}:{line}"
        for path in tracked()
        for line in traces(text_of(path) or "")
    ]
    assert found == []
