"""Figures of a rulebook: a number with its unit, of whatever dimension.

A rulebook does not say which dimension a limit has: the unit does, and whoever
asks the question checks it (see :mod:`limen.rules.binding`).
"""

from limen.quantity import Dimension, Grade, Quantity, QuantityError, parse
from limen.rules.table import Table

EXAMPLE = '"700 mm", "30 s" or "7 lbf·ft"'


def read_figure(text: str, grade: Grade) -> tuple[Quantity, Dimension] | str:
    """Read a number with a unit.

    Args:
        text: the figure as written, its unit in it.
        grade: the grade its source has.

    Returns:
        The figure in SI units with its dimension; or what is wrong with it.
    """
    refused: set[str] = set()
    for dimension in Dimension:
        try:
            return parse(text, dimension, grade), dimension
        except QuantityError as error:
            refused.add(error.why)
    if len(refused) == 1:  # what is wrong has nothing to do with the unit
        return f"{text!r} found; {refused.pop()}"
    return f"{text!r} found; a number with its unit is needed, as {EXAMPLE}"


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
