"""A walk that is played is the walk that was judged: same instants, same opening."""

from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise
from math import hypot
from typing import cast

import numpy as np
import pytest

from builders.doorways import a_doorway
from limen.findings import Finding, Role, Stroke, Verdict
from limen.model.people import Side
from limen.physics.leaf import Opening, opening_of
from limen.questions.asking import Asked
from limen.questions.in_time_played import Played, played
from limen.questions.settled import settle
from limen.rules import Rule
from questions.asking import ask, book

IN_TIME, SLOW = "approach.opens_in_time", "approach.slow_walker"
QUICK = {"use.fastest": "2.5 m/s"}
DULL = {"sheet.motion.least_speed": "0.4 m/s"}
SIDES: tuple[Side, ...] = ("outside", "inside")
MILLIMETRE, INSTANT = 1e-3, 2e-3  # m; s: the table of an opening is that fine


def play(
    question: str, changes: Mapping[str, object], case: str
) -> tuple[Finding, Played]:
    doorway = a_doorway(changes)
    rule = book().rule_for(question, {})
    assert isinstance(rule, Rule)
    finding = ask(question, changes, case=case)
    found = played(Asked(doorway, settle(doorway), rule), finding)
    assert found is not None
    return finding, found


@pytest.mark.parametrize("side", SIDES)
def test_it_is_as_late_as_the_finding_says(side: Side) -> None:
    finding, walk = play(IN_TIME, QUICK, side)
    assert finding.verdict is Verdict.FAILS
    assert finding.witness
    assert walk.enough is not None
    late = finding.witness.printed["late"]
    assert walk.enough - walk.arrives == pytest.approx(late, abs=1e-9)


@pytest.mark.parametrize("side", SIDES)
def test_it_begins_and_ends_where_the_finding_draws_it(side: Side) -> None:
    finding, walk = play(IN_TIME, QUICK, side)
    (path,) = (
        one
        for one in finding.figures
        if isinstance(one, Stroke) and one.role is Role.WALK
    )
    assert walk.start == pytest.approx(path.points[0], abs=1e-9)
    assert walk.stop == pytest.approx(path.points[1], abs=1e-9)
    way = hypot(walk.start[0] - walk.stop[0], walk.start[1] - walk.stop[1])
    assert way == pytest.approx(walk.speed * walk.arrives, abs=1e-9)


@pytest.mark.parametrize("side", SIDES)
def test_the_part_that_the_finding_draws_is_missed(side: Side) -> None:
    finding, walk = play(IN_TIME, QUICK, side)
    (drawn,) = (
        one
        for one in finding.figures
        if isinstance(one, Stroke) and one.role is Role.LATE
    )
    ends = np.array(sorted(drawn.points))
    assert any(np.allclose(sorted(part), ends, atol=1e-9) for part in walk.missed)


def test_what_is_missed_and_what_is_free_make_up_what_the_body_needs() -> None:
    _, walk = play(IN_TIME, QUICK, "outside")
    left = walk.stop[0] - walk.needs / 2
    within = min(walk.needs, walk.free)
    assert 0 < walk.lacks <= walk.needs
    assert walk.lacks + within == pytest.approx(walk.needs, abs=1e-9)
    assert min(a[0] for a, _ in walk.missed) == pytest.approx(left, abs=1e-9)


def test_instants_come_in_their_order() -> None:
    _, walk = play(IN_TIME, QUICK, "outside")
    assert walk.entered is not None
    assert walk.told is not None
    assert walk.moves is not None
    assert walk.enough is not None
    assert 0.0 <= walk.entered < walk.told < walk.moves
    assert walk.moves < walk.enough
    assert walk.arrives < walk.enough


def test_the_leaves_follow_the_motion_that_the_verdict_used() -> None:
    _, walk = play(IN_TIME, QUICK, "outside")
    opening = opening_of(a_doorway(QUICK), latest=False)
    assert isinstance(opening, Opening)
    assert walk.told is not None
    left, right = opening.free(np.array(walk.opened.times) - walk.told)
    top = opening.course.top_speed * INSTANT
    assert np.allclose(walk.opened.left, left, atol=top)
    assert np.allclose(walk.opened.right, right, atol=top)


def test_it_is_enough_open_no_sooner_than_it_is_said_to_be() -> None:
    _, walk = play(IN_TIME, QUICK, "outside")
    times = np.array(walk.opened.times)
    need = walk.stop[0] + walk.needs / 2, walk.stop[0] - walk.needs / 2
    free = (np.array(walk.opened.right) >= need[0] - MILLIMETRE) & (
        np.array(walk.opened.left) <= need[1] + MILLIMETRE
    )
    assert walk.enough is not None
    assert not free[times < walk.enough - 2 * INSTANT].any()
    assert free[-1]


def test_the_inside_is_the_outside_turned_by_half_a_turn() -> None:
    _, out = play(IN_TIME, QUICK, "outside")
    _, within = play(IN_TIME, QUICK, "inside")
    assert within.arrives == pytest.approx(out.arrives, abs=INSTANT)
    assert within.stop == pytest.approx((-out.stop[0], -out.stop[1]), abs=MILLIMETRE)
    assert within.side == "inside"


def test_who_is_in_the_field_drawn_is_noticed() -> None:
    """The field is this walker's own: its edge is met when it notices."""
    _, walk = play(IN_TIME, QUICK, "outside")
    assert walk.entered is not None
    share = walk.entered / walk.arrives
    place = [a + share * (b - a) for a, b in zip(walk.start, walk.stop, strict=True)]
    (field,) = walk.fields
    edge = min(_off(place, a, b) for a, b in pairwise(field))
    assert edge < 0.02  # the polygon is drawn in a little


def _off(place: list[float], a: tuple[float, float], b: tuple[float, float]) -> float:
    p, one, two = (np.array(each) for each in (place, a, b))
    along = two - one
    share = np.clip((p - one) @ along / max(along @ along, 1e-12), 0.0, 1.0)
    return float(np.linalg.norm(p - one - share * along))


def test_a_reduced_width_is_played_at_that_width() -> None:
    changes: dict[str, object] = {
        "modes": ["automatic", "reduced"],
        "reduced_width": "820 mm",
        "use.fastest": "2.5 m/s",
    }
    finding, walk = play(IN_TIME, changes, "outside, reduced width")
    assert finding.witness
    widest = walk.opened.right[-1] - walk.opened.left[-1]
    assert widest <= 0.82 + MILLIMETRE
    late = finding.witness.printed["late"]
    assert walk.enough == pytest.approx(walk.arrives + late, abs=1e-9)


def test_who_is_never_noticed_meets_a_closed_door() -> None:
    finding, walk = play(IN_TIME, {**DULL, "use.fastest": "0.3 m/s"}, "outside")
    assert finding.because.key == "in_time.unnoticed"
    assert walk.told is None
    assert walk.enough is None
    assert walk.opened.left == pytest.approx(walk.opened.right)
    assert walk.stop[1] > 0  # before the leaves, not behind them


def test_a_slow_walker_shows_the_radar_too_little_and_arrives_unnoticed() -> None:
    finding, walk = play(SLOW, DULL, "outside")
    assert finding.verdict is Verdict.FAILS
    assert walk.shows is not None
    shown, needed = walk.shows
    assert shown < needed
    assert walk.told is None
    assert walk.entered is not None
    assert walk.stop == pytest.approx((0.0, walk.face))


def test_a_finding_without_a_walk_plays_none() -> None:
    doorway = a_doorway()
    rule = book().rule_for(IN_TIME, {})
    finding = ask(IN_TIME, case="outside")
    asked = Asked(doorway, settle(doorway), cast("Rule", rule))
    assert played(asked, finding) is None
    elsewhere = replace(ask(IN_TIME, QUICK, case="outside"), case=None)
    assert played(asked, elsewhere) is None
