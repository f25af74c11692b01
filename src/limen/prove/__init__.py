"""Which test at the door tells most: what may be wrong there, and how to find it."""

from limen.prove.guessing import Guess, guess
from limen.prove.packing import as_pack
from limen.prove.places import Spot

__all__ = ["Guess", "Spot", "as_pack", "guess"]
