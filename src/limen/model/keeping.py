"""What was done to keep a door as it was proved."""

from datetime import date
from typing import Annotated

from limen.model.fields import InUnits, Stated
from limen.quantity import Dimension, Quantity

Months = Annotated[
    Quantity, InUnits(Dimension.CALENDAR, 1.0, 60.0, "1 month to 5 years")
]


class Kept(Stated):
    """The last days on which the door was checked, changed or at fault."""

    checked: date | None = None
    """The last full check by a competent person."""
    changed: date | None = None
    """The last change after which the door is to be checked before use."""
    fault: date | None = None
    """The last fault that was reported."""
    every: Months | None = None
    """From one check to the next, as the maker's manual asks."""
