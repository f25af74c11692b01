"""What docstrings of the core say, against what the code says."""

import ast
import re
from collections.abc import Iterator

_SECTION = re.compile(r"^ *(Args|Attributes|Returns|Raises|Source|Yields|Note):", re.M)
_ENTRY = re.compile(r"^    \*{0,2}(\w+)(?: \([^)]*\))?:", re.M)

Function = ast.FunctionDef | ast.AsyncFunctionDef


def public(tree: ast.Module) -> Iterator[Function | ast.ClassDef]:
    """Everything that others may use: functions, classes and their methods."""
    for node in tree.body:
        if isinstance(node, Function | ast.ClassDef) and not node.name.startswith("_"):
            yield node
            if isinstance(node, ast.ClassDef):
                yield from _methods(node)


def faults(node: Function | ast.ClassDef) -> Iterator[str]:
    """What is wrong with one docstring."""
    doc = ast.get_docstring(node)
    if not doc:
        yield f"{node.lineno} {node.name}: no docstring"
    elif isinstance(node, Function):
        yield from _against_signature(node, doc)


def _methods(node: ast.ClassDef) -> Iterator[Function]:
    for each in node.body:
        if isinstance(each, Function) and not each.name.startswith("_"):
            yield each


def _against_signature(node: Function, doc: str) -> Iterator[str]:
    told = _told(doc)
    taken = {
        each.arg
        for each in (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs)
    }
    taken |= {each.arg for each in (node.args.vararg, node.args.kwarg) if each}
    taken -= {"self", "cls"}
    if told and told != taken:
        yield f"{node.lineno} {node.name}: Args tell {sorted(told ^ taken)} wrongly"


def _told(doc: str) -> set[str]:
    """The names under `Args:`."""
    parts = _SECTION.split(doc)
    for head, text in zip(parts[1::2], parts[2::2], strict=True):
        if head == "Args":
            return set(_ENTRY.findall(text))
    return set()
