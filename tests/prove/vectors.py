"""A thousand small doorways that the desk and the job card must judge alike.

`python tests/prove/vectors.py` writes tests/shared/scores.json.  The doorways are made
from whole numbers of one generator, which stands in web/tests/scoring.test.js too; the
file holds what comes of them.
"""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from limen.prove.packing import bitmap
from limen.prove.scoring import SURE, Answer, Known, Tool, scores, suggested, weighed

FILE = Path(__file__).parents[1] / "shared" / "scores.json"
SEED, COUNT = 20261126, 1_000
TOOLS: tuple[Tool, ...] = ("body", "carton", "leg")


class Numbers:
    """Park and Miller's minimal generator with the multiplier 48271.

    Source: Park, Miller, Stockmeyer, Technical correspondence, Comm. ACM 36 (1993)
    105-110 (from memory).
    """

    def __init__(self, seed: int) -> None:
        self._state = seed

    def below(self, limit: int) -> int:
        """The next number, from 0 up to a limit."""
        self._state = self._state * 48271 % 2147483647
        return self._state % limit


@dataclass(frozen=True)
class Vector:
    """One doorway with some answers given."""

    known: Known
    answers: tuple[Answer, ...]
    tool: Tool


def vector(numbers: Numbers) -> Vector:
    """The next doorway; the order in which numbers are taken matters."""
    n, tests = 4 + numbers.below(29), 2 + numbers.below(6)
    raw = np.array([1.0 + numbers.below(1000) for _ in range(n)])
    hole = np.array([numbers.below(3) == 0 for _ in range(n)])
    often = 1 + numbers.below(6)
    reached = np.array(
        [[numbers.below(often) != 0 for _ in range(n)] for _ in range(tests)]
    )
    minutes = np.array([(1 + numbers.below(8)) / 4 for _ in range(tests)])
    room = np.array([(numbers.below(200) - 40) / 1000 for _ in range(tests)])
    tool = TOOLS[numbers.below(3)]
    answers = tuple(
        Answer(numbers.below(tests), numbers.below(2) == 1, TOOLS[numbers.below(3)])
        for _ in range(numbers.below(3))
    )
    return Vector(Known(raw / raw.sum(), hole, reached, minutes, room), answers, tool)


def vectors() -> Iterator[Vector]:
    """All of them."""
    numbers = Numbers(SEED)
    for _ in range(COUNT):
        yield vector(numbers)


def told(one: Vector) -> list[object]:
    """Scores after the answers, the next test, why, places left and at first."""
    known, weights = one.known, weighed(one.known, one.answers)
    found = scores(weights, known.hole, known.reached, known.minutes, SURE[one.tool])
    may = range(len(known.minutes))
    next_one = suggested(known, one.answers, may, one.tool)
    return [
        [float(f"{score:.13g}") for score in found],
        next_one.test,
        next_one.why,
        next_one.left,
        next_one.of,
        bitmap(known.reached[0]),
    ]


def written() -> str:
    """The file, one doorway a line."""
    sure = {tool: [trust.reached, trust.missed] for tool, trust in SURE.items()}
    lines = ",\n".join(
        json.dumps(told(one), separators=(",", ":")) for one in vectors()
    )
    head = f'"seed": {SEED}, "count": {COUNT}, "sure": {json.dumps(sure)}'
    return f'{{{head}, "told": [\n{lines}\n]}}\n'


if __name__ == "__main__":
    FILE.write_text(written(), "utf-8")
