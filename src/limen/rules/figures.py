"""Figures of a rulebook: a number with its unit, of whatever dimension.

A rulebook does not say which dimension a limit has: the unit does, and whoever
asks the question checks it (see :mod:`limen.rules.binding`).
"""

from collections import Counter

from limen.quantity import Dimension, Grade, Quantity, QuantityError, parse
from limen.rules.table import Table

EXAMPLE = 'a number with its unit, as "700 mm", "30 s" or "7 lbf·ft"'


def read_figure(text: str, grade: Grade) -> tuple[Quantity, Dimension] | str:
    """Read a number with a unit.

    Args:
        text: the figure as written, its unit in it.
        grade: the grade its source has.

    Returns:
        The figure in SI units with its dimension; or what is wrong with it.
    """
    refused: list[str] = []
    for dimension in Dimension:
        try:
            return parse(text, dimension, grade), dimension
        except QuantityError as error:
            refused.append(error.why.replace(f"{dimension} is asked", "more is asked"))
    return f"{text!r} found; {_plainest(refused)}; accepted: {EXAMPLE}"


def _plainest(refused: list[str]) -> str:
    """What to say of a text that every dimension refused.

    They agree where the fault has nothing to do with the unit. Where one of them
    knows the unit it objects for a reason of its own, and that is the one to print.
    """
    counts = Counter(refused)
    alone = [why for why, count in counts.items() if count == 1]
    return " or ".join(alone[:2]) or refused[0]


def take_figure(
    table: Table, key: str, grade: Grade
) -> tuple[Quantity, Dimension] | None:
    """Read the figure at a key of a table, noting what is wrong with it.

    Args:
        table: the table.
        key: the key at which the text stands.
        grade: the grade its source has.

    Returns:
        The figure with its dimension; None when a mistake was noted.
    """
    text = table.text(key)
    if not text:
        return None
    figure = read_figure(text, grade)
    if isinstance(figure, str):
        table.wrong(key, figure)
        return None
    return figure
