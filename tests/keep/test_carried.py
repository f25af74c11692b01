"""What a phone takes along weighs as the desk does, on vectors that both hold to."""

import json

import pytest

from keep.vectors import COUNT, DOORS, FILE, QUICK, vectors
from limen.keep.carried import carried
from limen.keep.tracing import Door, trace
from limen.store.causes import known_causes

SHARED = json.loads(FILE.read_text("utf-8"))
CLOSE = 1e-9


@pytest.mark.parametrize(
    "count", [QUICK, pytest.param(COUNT, marks=pytest.mark.slow)], ids=["some", "all"]
)
def test_the_shared_call_outs_are_as_the_desk_weighs_them(count: int) -> None:
    assert SHARED["count"] == COUNT == len(SHARED["told"])
    for made, kept in zip(vectors(count), SHARED["told"], strict=False):
        first, every, *rest = json.loads(json.dumps(made))
        assert [one for one, _ in first] == [one for one, _ in kept[0]]
        assert [p for _, p in first] == pytest.approx(
            [p for _, p in kept[0]], abs=CLOSE
        )
        assert every == pytest.approx(kept[1], abs=CLOSE)
        assert rest == kept[2:]


def test_the_shared_tables_are_those_of_today() -> None:
    made = [carried(known_causes(), door) for door in DOORS]
    assert json.loads(json.dumps(made)) == SHARED["doors"]


@pytest.mark.parametrize("door", DOORS, ids=range(len(DOORS)))
def test_before_an_answer_weights_are_the_chances(door: Door) -> None:
    rows = carried(known_causes(), door)["causes"]
    weights = {
        one["id"]: one["weight"] * (one.get("told") or {}).get("changed", 1.0)
        for one in rows
    }
    whole = sum(weights.values())
    chances = {one.cause: one.p for one in trace(known_causes(), door, {}).ranked}
    assert {key: one / whole for key, one in weights.items()} == pytest.approx(chances)


def test_what_the_doorway_cannot_have_is_left_behind() -> None:
    tables = carried(known_causes(), Door(frozenset()))
    assert "lamp_presence" not in {one["id"] for one in tables["questions"]}
    assert "radar_dead" not in {one["id"] for one in tables["causes"]}


def test_what_is_carried_is_small() -> None:
    text = json.dumps(SHARED["doors"][0], separators=(",", ":"))
    assert len(text) < 25_000
