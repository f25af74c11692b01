"""The margin map says of each place what the proof says, and nothing better."""

from dataclasses import replace
from datetime import date
from functools import cache
from importlib.resources import files
from math import pi
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limen.desk.checking import check
from limen.findings import Study, Verdict
from limen.findings.margin_map import MarginMap, Spot
from limen.geometry.boxes import Box
from limen.physics.coverage import clearance
from limen.physics.coverage.pose import admissible
from limen.questions.asking import Asked
from limen.questions.margin_map import Mapped, mapped, margin_map, spot_in
from limen.questions.settled import settle
from limen.rules import Rule
from limen.study.mapping import room_map
from limen.study.running import facts_of

DAY = date(2026, 11, 12)
HAIR = 1e-6  # m
PRECISION = 3e-3  # m: to which margins are bracketed


@cache
def _study(state: str, door: str) -> tuple[Study, Asked, Asked]:
    path = Path(str(files("limen").joinpath("demo", f"alder-quay-{state}.toml")))
    checked = check(path, door, on=DAY)
    found, book = checked.studies[0], checked.rulebooks[0]
    asked: list[Asked] = []
    for name in ("presence.threshold", "presence.leaf_path"):
        rule = book.rule_for(name, facts_of(found.doorway))
        assert isinstance(rule, Rule)
        asked.append(Asked(found.doorway, settle(found.doorway), rule, (), DAY))
    return found, asked[0], asked[1]


@cache
def _map(state: str, door: str, case: str = "upright") -> tuple[Mapped, MarginMap]:
    what = mapped(_study(state, door)[2], case)
    assert what is not None
    made = margin_map("presence.leaf_path", what)
    assert made is not None
    return what, made


DOORS = [("corrected", "staff"), ("corrected", "main"), ("as-found", "main")]
MISSED = [
    ("as-found", "main"),
    pytest.param("as-found", "reading-room", marks=pytest.mark.slow),
]


@pytest.mark.parametrize(("state", "door"), DOORS)
def test_a_map_shows_what_the_study_finds(state: str, door: str) -> None:
    found = _study(state, door)[0]
    finding = next(
        one
        for one in found.findings
        if (one.question, one.case) == ("presence.leaf_path", "upright")
    )
    made = _map(state, door)[1]
    verdicts = {spot.verdict for spot in made.spots} - {Verdict.NOT_ASKED}
    if finding.verdict is Verdict.HOLDS:
        assert verdicts == {Verdict.HOLDS}
        rooms = [spot.least for spot in made.spots if spot.least is not None]
        assert finding.margin is not None
        assert min(rooms) >= finding.margin.least - PRECISION
    else:
        assert finding.verdict in verdicts


@given(st.data())
@settings(max_examples=60)
def test_a_body_at_a_place_that_is_reached_is_met_with_the_room_said(
    data: st.DataObject,
) -> None:
    what, made = _map(*data.draw(st.sampled_from(DOORS)))
    column = data.draw(st.integers(0, made.columns - 1))
    row = data.draw(st.integers(0, made.rows - 1))
    spot = made.at(column, row)
    if spot.verdict is not Verdict.HOLDS or spot.least is None:
        return
    wide, deep = made.size
    x, y = made.middle(column, row)
    x += (data.draw(st.floats(0, 1)) - 0.5) * wide
    y += (data.draw(st.floats(0, 1)) - 0.5) * deep
    pose = (x, y, data.draw(st.floats(0, pi)))
    case = what.case
    for units in what.ways:
        exact = what.ground.problem(
            case.units(units), case.place, case.body, exact=True
        )
        if admissible(exact, pose):
            assert clearance(exact, pose) <= -spot.least + HAIR


@pytest.mark.parametrize(("state", "door"), MISSED)
def test_the_place_that_is_missed_most_is_the_one_named(state: str, door: str) -> None:
    made = _map(state, door)[1]
    assert made.worst is not None
    worst = made.at(*made.worst)
    assert worst.verdict is Verdict.FAILS
    assert worst.least == max(
        spot.least or 0.0 for spot in made.spots if spot.verdict is Verdict.FAILS
    )


@pytest.mark.parametrize(("state", "door"), MISSED)
def test_a_body_that_is_missed_stands_in_its_piece_and_is_missed_by_as_much(
    state: str, door: str
) -> None:
    what, made = _map(state, door)
    case, known = what.case, 0
    exact = [
        what.ground.problem(case.units(units), case.place, case.body, exact=True)
        for units in what.ways
    ]
    wide, deep = made.size
    for number, spot in enumerate(made.spots):
        if spot.verdict is not Verdict.FAILS or spot.pose is None:
            continue
        x, y = made.middle(number % made.columns, number // made.columns)
        assert abs(spot.pose[0] - x) <= wide / 2 + 2 * HAIR
        assert abs(spot.pose[1] - y) <= deep / 2 + 2 * HAIR
        missed = max(clearance(problem, spot.pose) for problem in exact)
        assert missed >= (spot.least or 0.0) - HAIR
        known += 1
    assert known > 0


def test_a_finer_map_covers_the_same_floor_and_shows_no_less() -> None:
    what, coarse = _map("corrected", "staff")
    fine = margin_map("presence.leaf_path", what, fine=True)
    assert fine is not None
    assert (fine.columns, fine.rows) == (2 * coarse.columns, 2 * coarse.rows)
    assert fine.zone == coarse.zone
    for number, spot in enumerate(coarse.spots):
        column, row = number % coarse.columns, number // coarse.columns
        if spot.verdict is Verdict.HOLDS:
            parts = [
                fine.at(2 * column + i, 2 * row + j) for i in (0, 1) for j in (0, 1)
            ]
            assert {part.verdict for part in parts} <= {
                Verdict.HOLDS,
                Verdict.NOT_ASKED,
            }


def test_a_place_within_a_wall_is_not_asked() -> None:
    what, made = _map("corrected", "staff")
    assert Verdict.NOT_ASKED in {spot.verdict for spot in made.spots}
    wall = what.ground.plan.walls[0]
    middle = (wall.near + wall.far) / 2
    inside = Box(wall.right - 0.3, wall.right - 0.28, middle, middle)
    assert spot_in(what, inside).verdict is Verdict.NOT_ASKED


def test_where_the_units_are_not_known_nothing_is_said_to_be_reached() -> None:
    what = mapped(_study("as-found", "escape")[1], "upright")
    assert what is not None
    assert what.lacks
    made = margin_map("presence.threshold", what)
    assert made is not None
    verdicts = {spot.verdict for spot in made.spots}
    assert verdicts <= {Verdict.NOT_SHOWN, Verdict.NOT_ASKED}


def test_a_dead_unit_and_the_room_behind_a_leaf_have_maps_too() -> None:
    found, _, path = _study("as-found", "staff")
    dead = mapped(path, "upright, outside dead")
    assert dead is not None
    assert dead.case.muted == {"outside"}
    assert mapped(path, "no such case") is None
    book = check(
        Path(str(files("limen").joinpath("demo", "alder-quay-as-found.toml"))),
        "staff",
        on=DAY,
    ).rulebooks[0]
    assert room_map(found.doorway, book, "leaf.gaps", None) is None


def test_a_map_that_is_not_wanted_any_more_is_given_up() -> None:
    what = _map("corrected", "staff")[0]
    assert margin_map("presence.leaf_path", what, wanted=lambda: False) is None


def test_a_piece_that_is_not_there_is_refused() -> None:
    made = _map("corrected", "staff")[1]
    with pytest.raises(IndexError):
        made.at(made.columns, 0)


def test_the_worst_of_a_zone_where_nobody_can_stand_is_none() -> None:
    made = _map("corrected", "staff")[1]
    nobody = replace(made, spots=(Spot(Verdict.NOT_ASKED),) * len(made.spots))
    assert nobody.worst is None
