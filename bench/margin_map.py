"""How long the margin map of a doorway takes, against one proof of the same zone.

    .venv/bin/python bench/margin_map.py [doorway]

Times are of the process, medians after a warm-up.
"""

import sys
from collections import Counter
from importlib.resources import files
from pathlib import Path
from statistics import median
from time import process_time

from limen.desk.checking import check
from limen.questions.asking import Asked
from limen.questions.coverage import shows
from limen.questions.margin_map import Mapped, mapped, margin_map
from limen.questions.settled import settle
from limen.rules import Rule
from limen.study.running import facts_of

RUNS = 3
QUESTIONS = ("presence.threshold", "presence.leaf_path")


def main(wanted: str | None = None) -> None:
    """Print a line a doorway and question."""
    for state in ("as-found", "corrected"):
        path = Path(str(files("limen").joinpath("demo", f"alder-quay-{state}.toml")))
        checked = check(path)
        for study, book in zip(checked.studies, checked.rulebooks, strict=True):
            door = study.doorway
            if wanted not in (None, door.id):
                continue
            for question in QUESTIONS:
                rule = book.rule_for(question, facts_of(door))
                assert isinstance(rule, Rule)
                what = mapped(Asked(door, settle(door), rule), "upright")
                if what is not None:
                    _line(f"{state} {door.id} {question}", question, what)


def _line(name: str, question: str, what: Mapped) -> None:
    proof = _timed(lambda: shows(what.case, what.ways, what.ground, what.lacks))
    coarse = _timed(lambda: margin_map(question, what))
    fine = _timed(lambda: margin_map(question, what, fine=True))
    made = margin_map(question, what, fine=True)
    assert made is not None
    counts = Counter(spot.verdict.value for spot in made.spots)
    told = ", ".join(f"{count} {word}" for word, count in counts.items())
    print(
        f"{name:<42} one proof {1e3 * proof:6.1f} ms   coarse {coarse:5.2f} s   "
        f"fine {fine:5.2f} s   {made.columns} x {made.rows}: {told}"
    )


def _timed(work: "object") -> float:
    assert callable(work)
    work()
    taken: list[float] = []
    for _ in range(RUNS):
        start = process_time()
        work()
        taken.append(process_time() - start)
    return median(taken)


if __name__ == "__main__":
    main(*sys.argv[1:2])
