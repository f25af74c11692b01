"""Seeded doorways with one or more of the faults that settings can mend, or not."""

from builders.doorways import a_doorway
from builders.found import as_found
from limen.model.doorway import Doorway


def a_failing_doorway(seed: int) -> Doorway:
    """A doorway whose rows, fans, channels or distances are as found somewhere."""
    return a_doorway(as_found(seed))
