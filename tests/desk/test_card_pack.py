"""What a phone takes along to a door: whole, of one shape, in the reader's words."""

import json
import re
from base64 import b64decode
from collections.abc import Mapping
from datetime import date
from functools import cache
from pathlib import Path
from tempfile import mkdtemp
from typing import Any, cast

import pytest

from builders.doorways import a_doorway
from desk.typed import faults
from limen.desk import card_pack_shape as shape
from limen.desk.card_pack import all_tests, card_pack
from limen.desk.card_pack_said import Sayer
from limen.desk.library import Desk, open_desk
from limen.desk.library_sites import DemoState, add_demo
from limen.quantity import Show
from limen.store.bookshelf import open_shelf
from limen.study import study
from limen.study.running import asked_of
from limen.words import read_as
from study.failing import a_failing_doorway

DAY = date(2026, 11, 26)
SHARED = Path(__file__).parents[1] / "shared" / "pack.json"
MOST_BYTES = 220_000
"""Without photos: a phone keeps many of them.  The longest is French, in feet."""
ORDER = ("box", "plug", "still", "walk", "trailing", "power", "place")
"""In which the tests stand: DESIGN 6.8, as docs/card-tests.md gives it."""
ODDS = re.compile(
    r"probab|likel|chance|odds|wahrschein|Chance|risque|\bentrop|\bbits?\b",
    re.IGNORECASE,
)
UNWEIGHED = ("box.closing", "still")
DOORS: tuple[tuple[DemoState, str], ...] = (
    ("as-found", "main"),
    ("corrected", "staff"),
    ("as-found", "escape"),
)
EVERY: tuple[tuple[DemoState, str], ...] = tuple(
    (state, door)
    for state in ("as-found", "corrected")
    for door in ("main", "vestibule", "staff", "escape", "reading-room")
)


@cache
def desk() -> Desk:
    return open_desk(Path(mkdtemp()) / "library.db", today=lambda: DAY)


@cache
def site(state: DemoState) -> str:
    return add_demo(desk(), state).id


@cache
def pack(state: DemoState, door: str) -> shape.Pack:
    return cast("shape.Pack", card_pack(desk(), site(state), door))


def text_of(one: Mapping[str, Any]) -> str:
    return json.dumps(one, ensure_ascii=False, separators=(",", ":"), allow_nan=False)


def check(one: shape.Pack) -> None:
    """Of the shape, small, complete, and all that is named is there."""
    text = text_of(one)
    assert not list(faults(json.loads(text), shape.Pack))
    assert len(text.encode()) <= MOST_BYTES
    tests = one["tests"]
    ids = [test["id"] for test in tests]
    assert len(set(ids)) == len(ids)
    assert all(re.fullmatch(r"[a-z0-9][a-z0-9._-]{0,79}", name) for name in ids)
    kinds = [ORDER.index(name.split(".")[0]) for name in ids]
    assert kinds == sorted(kinds)
    for test in tests:
        assert test["title"]
        assert test["says"]
        assert test["why"]
        assert bool(test["if_failed"]) is test["minimum"]
        assert test["minimum"] or test.get("like") in ids
        for cause in test["if_failed"]:
            assert set(cause["again"]) <= set(ids)
    _check_guess(one)


def _check_guess(one: shape.Pack) -> None:
    guess, tests = one["guess"], one["tests"]
    count = len(guess["weights"])
    assert len(guess["hole"]) == count
    assert len(guess["reached"]) == len(guess["room"]) == len(tests)
    assert sum(guess["weights"]) == pytest.approx(1.0, abs=1e-3)
    for test, flags in zip(tests, guess["reached"], strict=True):
        weighed = test["place"] is not None and test["id"] not in UNWEIGHED
        assert (flags is not None) is weighed
        if flags is not None:
            assert len(b64decode(flags)) == (count + 7) // 8


@pytest.mark.parametrize(("state", "door"), DOORS)
def test_a_pack_is_whole_and_of_its_shape(state: DemoState, door: str) -> None:
    check(pack(state, door))


@pytest.mark.slow
@pytest.mark.parametrize(("state", "door"), EVERY)
@pytest.mark.parametrize("language", ["en", "de", "fr"])
def test_every_doorway_of_the_demo_has_one_in_every_language(
    state: DemoState, door: str, language: str
) -> None:
    with read_as(language):
        made = cast("shape.Pack", card_pack(desk(), site(state), door, units="feet"))
    check(made)


@pytest.mark.parametrize(
    "seed", [0, *(pytest.param(n, marks=pytest.mark.slow) for n in range(1, 12))]
)
def test_doorways_drawn_at_random_have_tests_of_the_shape(seed: int) -> None:
    door, book = a_failing_doorway(seed), open_shelf().edition("en", "2012")
    asked = asked_of(door, book, on=DAY)
    tests, guess = all_tests(asked, study(door, book, on=DAY), Sayer(Show.METRIC))
    for one in tests:
        assert not list(faults(json.loads(text_of(one)), shape.Test))
    assert len(guess["reached"]) == len(tests)
    assert [one["id"] for one in tests][:3] == ["box.left", "box.middle", "box.right"]


def test_no_box_is_put_down_where_no_unit_senses_presence() -> None:
    door, book = a_doorway({"fitting": ()}), open_shelf().edition("en", "2012")
    asked = asked_of(door, book, on=DAY)
    tests, guess = all_tests(asked, study(door, book, on=DAY), Sayer(Show.METRIC))
    assert [one["id"] for one in tests if one["place"]] == []
    assert guess["reached"] == [None] * len(tests)
    assert "trailing.left" in [one["id"] for one in tests]


def test_the_shape_refuses_what_it_does_not_know() -> None:
    one = json.loads(text_of(pack(*DOORS[0])))
    one["tests"][0]["probability"] = 0.3
    one["fit"]["units"][0]["face"] = "20 mm"
    one["guess"]["sure"]["hand"] = [1.0, 0.0]
    del one["doorway"]
    where = [fault.partition(":")[0] for fault in faults(one, shape.Pack)]
    assert sorted(where) == [
        ".doorway",
        ".fit.units[0].face",
        ".guess.sure.hand",
        ".tests[0].probability",
    ]


@pytest.mark.parametrize(("state", "door"), DOORS)
def test_no_text_of_a_pack_speaks_of_odds(state: DemoState, door: str) -> None:
    said = {
        k: v for k, v in pack(state, door).items() if k in ("tests", "work", "words")
    }
    assert not ODDS.findall(text_of(said))


def test_the_pack_shared_with_the_card_is_made_by_the_desk() -> None:
    shared = json.loads(SHARED.read_text("utf-8"))
    made = json.loads(text_of(pack("as-found", "main")))
    assert not list(faults(shared, shape.Pack))
    for own in ("site", "made", "limen", "guess", "drawings"):  # not of this desk alone
        del shared[own], made[own]
    for one in (shared, made):
        del one["record"]["limen"], one["record"]["tests"]
        one["tests"] = [test for test in one["tests"] if test["minimum"]]
    assert shared == made


def test_a_record_names_the_tests_of_the_pack() -> None:
    one = pack(*DOORS[0])
    named = cast("list[dict[str, object]]", one["record"]["tests"])
    assert [test["id"] for test in named] == [test["id"] for test in one["tests"]]


def test_lengths_are_in_the_units_of_the_reader() -> None:
    made = card_pack(desk(), site("as-found"), "main", units="feet")
    says = cast("shape.Pack", made)["tests"][1]["says"]
    assert " in " in says.replace("\N{NO-BREAK SPACE}", " ")
    assert "mm" not in says


def test_where_rows_are_to_be_brought_is_said_in_millimetres_and_steps() -> None:
    inside = next(t for t in pack(*DOORS[0])["targets"] if t["fitting"] == "inside")
    assert inside["open"]
    assert inside["least"] < inside["best"] < inside["most"]
    assert "nearer the leaf" in inside["says"]


def test_a_place_is_taped_from_the_nearer_post_to_the_box() -> None:
    half = 1.0
    for test in pack("as-found", "main")["tests"]:
        place = test["place"]
        if place is None or place["yaw"] != 0.0 or place["post"] is None:
            continue
        near = half - abs(place["x"]) - place["width"] / 2
        assert place["far"] == pytest.approx(near, abs=1e-6)
        assert place["post"] == ("right" if place["x"] > 0 else "left")
