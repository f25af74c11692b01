"""What the job card carries of a guess, so that it can weigh answers on its own."""

from base64 import b64encode
from collections.abc import Sequence
from math import isfinite

import numpy as np

from limen.prove.guessing import Guess
from limen.prove.scoring import SURE, Flags

DIGITS = 6
"""Of a weight, as it is written."""


def as_pack(guess: Guess, at: Sequence[int | None]) -> dict[str, object]:
    """What the job card needs to weigh answers.

    Args:
        guess: of the doorway.
        at: the place of each test in the card's order, by its number in
            ``guess.spots``; None for a test without one.

    Returns:
        ``weights`` and ``hole`` of each way; ``reached`` and ``room`` (m) of each
        test, None without a place; ``sure`` of each tool.
    """
    return {
        "weights": [float(f"{weight:.{DIGITS}g}") for weight in guess.weights],
        "hole": [int(one) for one in guess.hole],
        "reached": [None if n is None else bitmap(guess.reached[n]) for n in at],
        "room": [None if n is None else _room(guess.spots[n].room) for n in at],
        "sure": {name: [t.reached, t.missed] for name, t in SURE.items()},
    }


def _room(room: float) -> float | None:
    """To 0.1 mm; None where no unit's beams are known."""
    return round(room, 4) if isfinite(room) else None


def bitmap(flags: Flags) -> str:
    """Flags in Base64: flag i is bit ``i & 7``, lowest first, of byte ``i >> 3``."""
    return b64encode(np.packbits(flags, bitorder="little").tobytes()).decode("ascii")
