"""What was done to keep a door as it was proved, and who sees to it."""

from datetime import date
from typing import Annotated

from limen.model.fields import InUnits, Name, Stated
from limen.quantity import Dimension, Quantity

Months = Annotated[
    Quantity, InUnits(Dimension.CALENDAR, 1.0, 60.0, "1 month to 5 years")
]


class Kept(Stated):
    """When the door was last checked, changed or at fault, and who sees to it."""

    checked: date | None = None
    """The last full check by a competent person."""
    changed: date | None = None
    """The last change after which the door is to be checked before use."""
    fault: date | None = None
    """The last fault that was reported."""
    every: Months | None = None
    """From one check to the next, as the maker's manual asks."""
    by: Name | None = None
    """Who answers for its checks; whoever the site names, if left out."""
    route: Name | None = None
    """The route on which it lies; that of the site, if left out."""


class Charge(Stated):
    """Who sees to the doors of a site, where a doorway names nobody else."""

    by: Name | None = None
    """Who answers for the checks of its doors."""
    route: Name | None = None
    """The route on which the site lies."""
    daily: Name | None = None
    """Who does the owner's daily check."""
