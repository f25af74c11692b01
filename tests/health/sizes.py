"""How long functions, files and classes are."""

import ast
from collections.abc import Iterable, Iterator

type_of_function = (ast.FunctionDef, ast.AsyncFunctionDef)


def functions(tree: ast.Module) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    """Every function and method, nested ones too."""
    return (node for node in ast.walk(tree) if isinstance(node, type_of_function))


def body_lines(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Lines of the body, the docstring left out."""
    body = function.body[1:] if ast.get_docstring(function) else function.body
    if not body:
        return 0
    return (body[-1].end_lineno or 0) - body[0].lineno + 1


def public_methods(node: ast.ClassDef) -> int:
    """Methods that others may call, properties included."""
    return sum(
        isinstance(each, type_of_function) and not each.name.startswith("_")
        for each in node.body
    )


def at_share(values: Iterable[int], share: float) -> int:
    """The value below which that share of all values lies."""
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))]
