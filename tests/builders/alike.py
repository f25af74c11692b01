"""What another machine wrote and what is reckoned here, held against each other.

Processors differ in the last digit of a sine or a sum, so texts of figures do as well.
"""

from collections.abc import Iterator
from math import isclose
from typing import Any

CLOSE = 1e-9


def unlike(one: Any, other: Any, where: str = "") -> Iterator[str]:
    """Where two values as JSON has them differ by more than the last digits."""
    if isinstance(one, dict) and isinstance(other, dict):
        if list(one) != list(other):
            yield f"{where}: {list(one)} and {list(other)}"
            return
        for key, value in one.items():
            yield from unlike(value, other[key], f"{where}.{key}")
    elif isinstance(one, list) and isinstance(other, list):
        if len(one) != len(other):
            yield f"{where}: {len(one)} and {len(other)}"
            return
        for at, (each, its) in enumerate(zip(one, other, strict=True)):
            yield from unlike(each, its, f"{where}[{at}]")
    elif isinstance(one, (int, float)) and isinstance(other, (int, float)):
        if not isclose(one, other, rel_tol=CLOSE, abs_tol=CLOSE):
            yield f"{where}: {one} and {other}"
    elif one != other:
        yield f"{where}: {one} and {other}"
