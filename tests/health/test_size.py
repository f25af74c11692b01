"""The sizes to aim at, measured on code that reads well."""

import ast

from health.sizes import at_share, body_lines, functions, public_methods
from health.tree import parsed, short, sources

LONGEST_BODY = 60
LONG_BODY = 40
USUAL_BODY = 8
LONGEST_FILE = 500
USUAL_FILE = 150
MOST_METHODS = 10


def _bodies() -> dict[str, int]:
    return {
        f"{short(path)}:{node.lineno} {node.name}": body_lines(node)
        for path in sources()
        for node in functions(parsed(path))
    }


def _files() -> dict[str, int]:
    return {
        short(path): len(path.read_text(encoding="utf-8").splitlines())
        for path in sources()
    }


def test_no_function_is_longer_than_a_screen() -> None:
    assert {k: n for k, n in _bodies().items() if n > LONGEST_BODY} == {}


def test_long_functions_are_rare() -> None:
    bodies = _bodies()
    long = {k: n for k, n in bodies.items() if n > LONG_BODY}
    assert at_share(bodies.values(), 0.95) <= LONG_BODY, long


def test_half_of_all_functions_are_a_few_lines() -> None:
    assert at_share(_bodies().values(), 0.5) <= USUAL_BODY


def test_no_file_holds_more_than_one_idea_can_need() -> None:
    assert {k: n for k, n in _files().items() if n > LONGEST_FILE} == {}


def test_half_of_all_files_are_read_in_one_go() -> None:
    assert at_share(_files().values(), 0.5) <= USUAL_FILE


def test_no_class_does_everything() -> None:
    large = {
        f"{short(path)} {node.name}": public_methods(node)
        for path in sources()
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.ClassDef) and public_methods(node) > MOST_METHODS
    }
    assert large == {}
