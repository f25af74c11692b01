"""What a number means: units in and out, uncertainty, grade, comparison.

Inside limen every float is SI. This package is the only place that knows other
units, and the only one that compares a value with a limit.
"""

from limen.quantity.comparing import (
    Capped,
    Comparison,
    Outcome,
    at_least,
    at_most,
    cap,
)
from limen.quantity.grades import Grade, least
from limen.quantity.parsing import QuantityError, accepted_text, parse
from limen.quantity.quantity import Quantity
from limen.quantity.showing import Show, show, show_length, show_quantity, write
from limen.quantity.units import Dimension

__all__ = [
    "Capped",
    "Comparison",
    "Dimension",
    "Grade",
    "Outcome",
    "Quantity",
    "QuantityError",
    "Show",
    "accepted_text",
    "at_least",
    "at_most",
    "cap",
    "least",
    "parse",
    "show",
    "show_length",
    "show_quantity",
    "write",
]
