"""Visits drawn by a seed, and what the desk makes of them: shared with the card.

`python -m builders.visit_folds` (in tests/) writes tests/shared/visit_folds.json anew.
"""

import json
import random
from pathlib import Path
from typing import Any

from builders.visit_events import STARTED, raw, step

SHARED = Path(__file__).parents[1] / "shared" / "visit_folds.json"
SEED, COUNT = 38, 20
_PHONES = ("a", "b", "c")
_ANSWERS = ("stayed open", "touched", "lamp only", "cannot")


def drawn(seed: int) -> list[dict[str, Any]]:
    """Events of a visit of up to three phones with clocks of their own, shuffled."""
    chance = random.Random(seed)
    made: list[dict[str, Any]] = []
    for phone in _PHONES[: chance.randint(1, 3)]:
        seq = 0
        for _ in range(chance.randint(1, 7)):
            seq += chance.choice((1, 1, 1, 3))
            kind, said = _said(chance, [one["id"] for one in made])
            at = chance.randint(0, 12)
            made.append(raw(phone, seq, kind, said, minute=at))
    chance.shuffle(made)
    return made


def _said(chance: random.Random, known: list[str]) -> tuple[str, dict[str, Any]]:
    asked = chance.choice(("does", "mode"))
    traced = {"question": asked, "answer": chance.choice(("reopens", "unknown"))}
    ways: list[tuple[str, dict[str, Any]]] = [
        ("started", STARTED | {"person": chance.choice(("R. Okafor", "M. Lind"))}),
        *(
            ("step", step(chance.choice(_ANSWERS), chance.choice(("one", "two"))))
            for _ in range(4)
        ),
        ("handed_over", {"state": chance.choice(("in use", "out of use"))}),
        ("work", {"step": "aim", "done": True}),
        ("note", {"text": "Größe ½ – “wet”"}),
        ("traced", traced),
        ("reading", {"key": "operator.hold", "value": f"1.{chance.randint(5, 6)} s"}),
    ]
    if known:
        ways += [("undone", {"event": chance.choice(known)}) for _ in range(5)]
    if len(known) > 1:
        between = chance.sample(known, 2)
        choice = {"between": between, "stands": between[0], "person": "R. Okafor"}
        ways.append(("settled", choice))
    return chance.choice(ways)


def folded(events: list[dict[str, Any]]) -> dict[str, Any]:
    """What the desk makes of events."""
    from limen.desk.visits_folded import folded_json
    from limen.desk.visits_intake import read_event
    from limen.model.visited import visited

    by_id = {one["id"]: one for one in events}
    return folded_json(visited(read_event(json.dumps(one)) for one in events), by_id)


def every() -> list[dict[str, Any]]:
    """All of them, each with its events and what they come to."""
    seeds = (SEED + place for place in range(COUNT))
    visits = ((seed, drawn(seed)) for seed in seeds)
    return [
        {"name": f"seed {seed}", "events": events, "folded": folded(events)}
        for seed, events in visits
    ]


def written() -> str:
    """The text of the shared file: a line a visit."""
    lines = (json.dumps(one, ensure_ascii=False, sort_keys=True) for one in every())
    return "[\n" + ",\n".join(lines) + "\n]\n"


if __name__ == "__main__":
    SHARED.write_text(written(), "utf-8")
