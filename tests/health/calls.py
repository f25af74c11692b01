"""Calls that make an answer depend on when or where it is asked."""

import ast
from collections.abc import Iterator

CLOCKS = {"now", "utcnow", "today", "time_ns", "perf_counter", "monotonic"}
DICE = {"default_rng", "RandomState", "SeedSequence"}


def unsteady(tree: ast.Module) -> Iterator[str]:
    """Calls of a clock, and of dice without a seed, with their line."""
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        name = _last(node.func)
        unseeded = name in DICE and not node.args and not node.keywords
        if name in CLOCKS or unseeded or _legacy(node.func):
            yield f"{node.lineno} {ast.unparse(node.func)}"


def _last(function: ast.expr) -> str:
    match function:
        case ast.Attribute(attr=name) | ast.Name(id=name):
            return name
        case _:
            return ""


def _legacy(function: ast.expr) -> bool:
    """`np.random.uniform(…)`: dice that the whole process shares."""
    match function:
        case ast.Attribute(value=ast.Attribute(attr="random"), attr=name):
            return name not in {*DICE, "Generator"}
        case _:
            return False
