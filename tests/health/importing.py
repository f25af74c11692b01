"""Who imports whom, deferred imports included."""

import ast
from collections.abc import Iterator, Mapping
from graphlib import CycleError, TopologicalSorter


def imported(tree: ast.Module, known: frozenset[str]) -> frozenset[str]:
    """The modules of ours that a module imports anywhere in its text."""
    return frozenset(
        target for name in _written(tree) for target in _modules(name, known)
    )


def outsiders(tree: ast.Module) -> frozenset[str]:
    """First part of the name of everything imported."""
    return frozenset(name.split(".")[0] for name in _written(tree))


def circle(graph: Mapping[str, frozenset[str]]) -> list[str]:
    """One circle of imports, or nothing."""
    try:
        TopologicalSorter({k: v - {k} for k, v in graph.items()}).prepare()
    except CycleError as found:
        return list(found.args[1])
    return []


def _written(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        if isinstance(node, ast.ImportFrom) and node.module:
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def _modules(name: str, known: frozenset[str]) -> Iterator[str]:
    """`limen.rules.Rule` is a name in `limen.rules`: the longest module known."""
    while name and name not in known:
        name = name.rpartition(".")[0]
    if name:
        yield name
