"""Call-outs that desk and job card must weigh alike: what comes of them, shared.

`python -m keep.vectors` (in tests/) writes tests/shared/traces.json.  Doors are of a
few kinds; answers are drawn by one generator, which stands in web/tests/tracing.test.js
too.
"""

import json
from collections.abc import Iterator
from pathlib import Path

from limen.keep.carried import Carried, carried
from limen.keep.causes import NEITHER, UNKNOWN
from limen.keep.tracing import STRUCK, SYMPTOM, Door, Traced, leading, trace
from limen.store.causes import known_causes
from prove.vectors import Numbers

FILE = Path(__file__).parents[1] / "shared" / "traces.json"
SEED, COUNT, QUICK = 20261127, 1_000, 100
MOST_ANSWERS, FIRST = 12, 3
DOORS = (
    Door(frozenset({"presence", "motion", "lock", "battery", "neighbour"})),
    Door(
        frozenset({"presence", "motion", "neighbour"}),
        frozenset({"self_view=fails", "place=outdoors", "changed=settings"}),
    ),
    Door(
        frozenset({"motion", "lock"}),
        frozenset({"in_time=fails", "place=indoors", "supply=not shown"}),
    ),
    Door(
        frozenset({"presence"}),
        frozenset({"exposure=fails", "low_sun=true", "changed=floor", "covered=fails"}),
    ),
)


def answers(numbers: Numbers, tables: Carried) -> dict[str, str]:
    """The next answers; the order in which numbers are taken matters."""
    asked = tables["questions"]
    given: dict[str, str] = {}
    for _ in range(numbers.below(MOST_ANSWERS)):
        one = asked[numbers.below(len(asked))]
        may = [*one["usual"], UNKNOWN, NEITHER]
        given[one["id"]] = may[numbers.below(len(may))]
    if numbers.below(50) == 0:
        given[SYMPTOM] = STRUCK
    return given


def told(end: Traced, tables: Carried) -> list[object]:
    """The likeliest causes, all of them in one figure, what is next, what is left.

    Causes and questions are told by their places in the tables.
    """
    cause = {one["id"]: place for place, one in enumerate(tables["causes"])}
    asked = {one["id"]: place for place, one in enumerate(tables["questions"])}
    first = [[cause[one.cause], _short(one.p)] for one in end.ranked[:FIRST]]
    every = _short(sum(one.p**2 for one in end.ranked))
    following = end.next
    then: list[object] | None = None
    if following is not None:
        parts = [cause[one] for one in following.parts]
        then = [asked[following.question], following.minutes, *parts, following.first]
    left = [cause[one] for one in leading(known_causes(), end)]
    return [first, every, then, left, cause[end.found] if end.found else None]


def _short(figure: float) -> float:
    return float(f"{figure:.11g}")


def vectors(count: int = COUNT) -> Iterator[list[object]]:
    """What comes of each."""
    numbers = Numbers(SEED)
    tables = [carried(known_causes(), door) for door in DOORS]
    for place in range(count):
        at = place % len(DOORS)
        given = answers(numbers, tables[at])
        yield told(trace(known_causes(), DOORS[at], given), tables[at])


def written() -> str:
    """The file, one call-out a line."""
    causes = known_causes()
    doors = ",\n".join(json.dumps(carried(causes, door)) for door in DOORS)
    lines = ",\n".join(json.dumps(one, separators=(",", ":")) for one in vectors())
    head = f'"seed": {SEED}, "count": {COUNT}'
    return f'{{{head}, "doors": [\n{doors}\n], "told": [\n{lines}\n]}}\n'


if __name__ == "__main__":
    FILE.write_text(written(), "utf-8")
