"""Room beside and behind the leaves, in the figures of the standards."""

from typing import cast

import pytest

from builders.doorways import a_doorway
from limen.findings import Verdict
from limen.study import apply
from questions.asking import ask, asked, book

SCREEN, GAPS, THINGS = "presence.side_screen", "leaf.gaps", "site.obstacles"
HOLDS, FAILS, DOUBT = Verdict.HOLDS, Verdict.FAILS, Verdict.NOT_SHOWN


def space(**more: object) -> dict[str, object]:
    return {f"side_space[right].{key}": value for key, value in more.items()}


@pytest.mark.parametrize(
    ("depth", "clearance", "verdict"),
    [
        ("90 mm", "210 mm", HOLDS),
        ("100 mm", "200 mm", HOLDS),
        ("120 mm", "210 mm", FAILS),
        ("120 mm", "500 mm", HOLDS),
        ("90 mm", "199 mm", FAILS),
        (None, "500 mm", HOLDS),
        (None, "199 mm", FAILS),
        (None, "300 mm", DOUBT),
        ("90 mm, estimate", "300 mm", DOUBT),
        ("90 mm", "300 mm, estimate", DOUBT),
        ("100 mm ± 5 mm", "300 mm", DOUBT),
        ("90 mm", "200 mm ± 5 mm", DOUBT),
        ("90 mm", None, DOUBT),
    ],
)
def test_room_behind_an_opening_leaf(
    depth: str | None, clearance: str | None, verdict: Verdict
) -> None:
    """EN 16005, from memory: 200 mm where depth is up to 100 mm, else 500 mm."""
    found = ask(SCREEN, space(depth=depth, clearance=clearance), case="right")
    assert found.verdict is verdict
    assert bool(found.lacking) is (verdict is DOUBT)
    if verdict is HOLDS:
        assert found.to_confirm


def test_a_space_that_nobody_described_is_not_shown() -> None:
    found = ask(SCREEN, {"side_space[left]": None}, case="left")
    assert found.verdict is DOUBT
    assert [lack.key for lack in found.lacking] == ["side_space[left]"]


def test_a_guard_settles_it() -> None:
    found = ask(SCREEN, space(guarded=True, clearance="10 mm"), case="right")
    assert (found.verdict, found.because.key) == (HOLDS, "side_screen.guarded")


def test_the_shallow_depth_is_to_be_confirmed_where_it_decides() -> None:
    """American book: clearances read, the depth that chooses between them is not."""
    us = book("us", "2005")
    shallow = ask(
        SCREEN, space(depth="90 mm", clearance="310 mm"), case="right", rules=us
    )
    assert (shallow.verdict, shallow.to_confirm) == (HOLDS, True)


@pytest.mark.parametrize("hand", ["left", "right"])
def test_a_single_leaf_is_asked_about_the_side_it_opens_to(hand: str) -> None:
    changes = {"leaves.kind": "single", "leaves.hand": hand}
    assert {case for _, case in asked(SCREEN, a_doorway(changes))} == {hand}


def watching(**more: object) -> dict[str, object]:
    """Rows so wide that they reach along the whole of the trailing edge's path."""
    return {
        **space(depth="300 mm", clearance="150 mm", gap="200 mm"),
        "sheet.presence.fan.choices": {"wide": "5200 mm"},
        "sheet.presence.rows": tuple(
            {"angle": f"{a} deg", "spots": 90, "pauses_while_moving": False}
            for a in (0, 2, 4, 6)
        ),
        "fitting[outside].settings.rows_on": None,
        "fitting[inside].settings.rows_on": None,
        "operator.inputs[1]": {"name": "side", "does": "opening stop"},
        "fitting[outside].wires[1]": {"output": "presence", "to": "side"},
        "fitting[inside].wires[1]": {"output": "presence", "to": "side"},
        **more,
    }


def test_beams_that_watch_the_space_stand_for_the_room() -> None:
    found = ask(SCREEN, watching(), case="right")
    assert (found.verdict, found.because.key) == (HOLDS, "side_screen.watched")
    assert found.to_confirm


@pytest.mark.parametrize(
    ("does", "wires", "verdict"),
    [
        ("closing protection", {}, FAILS),
        ("opening", {}, FAILS),
        ("opening stop", {"to": "terminal 9"}, DOUBT),
        ("opening stop", {"to": "not used"}, FAILS),
    ],
)
def test_beams_that_do_not_stop_an_opening_leaf_do_not(
    does: str, wires: dict[str, object], verdict: Verdict
) -> None:
    changes = {
        "operator.inputs[1]": {"does": does},
        "fitting[outside].wires[1]": wires,
        "fitting[inside].wires[1]": wires,
    }
    for key, value in changes.items():
        changes[key] = {**_table(watching()[key]), **value}
    found = ask(SCREEN, watching(**changes), case="right")
    assert found.verdict is verdict
    assert bool(found.lacking) is (verdict is DOUBT)
    assert bool(found.remedy) is (verdict is FAILS)


def _table(value: object) -> dict[str, object]:
    assert isinstance(value, dict)
    return cast("dict[str, object]", value)


def test_beams_on_estimated_figures_do_not() -> None:
    estimate = {"fitting[outside].lens.height": "2200 mm, estimate"}
    found = ask(SCREEN, watching(**estimate), case="right")
    assert found.verdict is DOUBT
    assert found.lacking


@pytest.mark.parametrize(
    ("gap", "verdict"),
    [
        ("8.0 mm", HOLDS),
        ("9 mm", FAILS),
        ("24.9 mm", FAILS),
        ("25.0 mm", HOLDS),
        ("8 mm ± 1 mm", DOUBT),
        ("6 mm, estimate", DOUBT),
        (None, DOUBT),
    ],
)
def test_a_gap_beside_the_leaf(gap: str | None, verdict: Verdict) -> None:
    """ASR A1.7, 6(5): 8 mm; ISO 13854: 25 mm for a finger."""
    found = ask(GAPS, space(gap=gap), case="gap, right")
    assert found.verdict is verdict
    if verdict is FAILS:
        assert found.remedy
        mended = apply(a_doorway(space(gap=gap)), found.remedy.changes)
        assert asked(GAPS, mended)[None, "gap, right"].verdict is HOLDS


@pytest.mark.parametrize(
    ("post", "verdict"), [("25 mm", HOLDS), ("24 mm", FAILS), (None, DOUBT)]
)
def test_the_leading_edge_stops_short_of_the_post(
    post: str | None, verdict: Verdict
) -> None:
    """EN 16005, from memory: 25 mm."""
    assert ask(GAPS, space(to_post=post), case="leading edge, right").verdict is verdict


def a_thing(**more: object) -> dict[str, object]:
    """A stand 200 mm square, far from the door unless told otherwise."""
    thing = {
        "name": "stand",
        "side": "outside",
        "along": "0 mm",
        "out": "3 m",
        "width": "200 mm",
        "depth": "200 mm",
        "height": "1 m",
        **more,
    }
    return {"thing": (thing,)}


@pytest.mark.parametrize("side", ["outside", "inside"])
@pytest.mark.parametrize("way", [1, -1], ids=["right", "left"])
@pytest.mark.parametrize(
    ("behind", "out", "verdict"),
    [
        (140, 150, FAILS),
        (190, 150, FAILS),
        (210, 150, HOLDS),
        (140, 240, HOLDS),
        (140, 900, HOLDS),
    ],
)
def test_a_stand_behind_an_opening_leaf_on_either_side_of_the_door(
    side: str, way: int, behind: int, out: int, verdict: Verdict
) -> None:
    """Trailing edge at 2000 mm, leaf open; 200 mm asked, the space being shallow."""
    along = f"{way * (2000 + behind + 100)} mm"
    found = ask(THINGS, a_thing(side=side, along=along, out=f"{out} mm"), case="stand")
    assert found.verdict is verdict
    key = "behind_leaf" if verdict is FAILS else "clear"
    assert found.because.key == f"obstacles.{key}"


def test_a_stand_where_a_body_can_enter_needs_the_deep_clearance() -> None:
    deep = {"side_space[right].depth": "300 mm"}
    thing = a_thing(along="2400 mm", out="150 mm")
    assert ask(THINGS, thing, case="stand").verdict is HOLDS
    assert ask(THINGS, {**thing, **deep}, case="stand").verdict is FAILS


def test_what_stands_in_the_way_of_a_leaf_fails() -> None:
    assert ask(THINGS, a_thing(out="50 mm"), case="stand").because.key == (
        "obstacles.in_path"
    )
    beside = a_thing(out="50 mm", along="-1500 mm")
    assert ask(THINGS, beside, case="stand").because.key == "obstacles.in_path"


@pytest.mark.parametrize(("moves", "verdict"), [(True, FAILS), (False, HOLDS)])
def test_what_moves_in_the_rows_opens_the_door(moves: bool, verdict: Verdict) -> None:
    found = ask(THINGS, a_thing(out="180 mm", moves=moves), case="stand")
    assert found.verdict is verdict


def test_a_thing_whose_place_is_estimated_is_not_clear() -> None:
    found = ask(THINGS, a_thing(out="3 m, estimate"), case="stand")
    assert found.verdict is DOUBT
    assert found.lacking


def test_nothing_named_is_not_asked() -> None:
    assert ask(THINGS).verdict is Verdict.NOT_ASKED
