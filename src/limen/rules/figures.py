"""Figures of a rulebook: a number with its unit, of whatever dimension.

A rulebook does not say which dimension a limit has: the unit does, and whoever
asks the question checks it (see :mod:`limen.rules.binding`).
"""

from collections import Counter
from itertools import chain

from limen.quantity import Dimension, Grade, Quantity, QuantityError, parse
from limen.quantity.units import dimension_named
from limen.rules.table import Table

_NUMBER = "+-0123456789. "
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
    # A refusal takes long to word, so what the unit measures is tried first.
    likely = _likely(text)
    for dimension in chain(likely, (one for one in Dimension if one not in likely)):
        try:
            return parse(text, dimension, grade), dimension
        except QuantityError as error:
            refused.append(error.why.replace(f"{dimension} is asked", "more is asked"))
    return f"{text!r} found; {_plainest(refused)}; accepted: {EXAMPLE}"


def _likely(text: str) -> tuple[Dimension, ...]:
    """What is measured in the unit that seems to stand in a text."""
    unit = text.partition("±")[0].partition(",")[0].lstrip(_NUMBER).rstrip()
    dimension = dimension_named(unit) if unit else None
    return () if dimension is None else (dimension,)


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
