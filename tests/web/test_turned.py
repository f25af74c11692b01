"""A plan that is turned for someone inside, and what is taken hold of on it."""

from datetime import date
from pathlib import Path

import pytest

import limen
from limen.findings import Study
from limen.quantity import Show
from limen.web.doorway_drawn import Drawing, drawing

SITE = Path(limen.__file__).parent / "demo" / "alder-quay-as-found.toml"
WIDE = 900


@pytest.fixture(scope="module")
def study() -> Study:
    door = limen.load_site(SITE).doorway[0]
    return limen.study(door, on=date(2026, 11, 25))


def plan(study: Study, *, turned: bool) -> Drawing:
    return drawing(study, "plan", None, WIDE, Show.METRIC, turned=turned)


def test_who_stands_inside_has_the_inside_unit_nearer_to_the_lower_edge(
    study: Study,
) -> None:
    for turned, lower in ((False, "outside"), (True, "inside")):
        heights = {grip.fitting: grip.y for grip in plan(study, turned=turned).grips}
        assert max(heights, key=lambda name: heights[name]) == lower


def test_a_hand_that_goes_right_moves_a_unit_to_the_left_as_named_from_outside(
    study: Study,
) -> None:
    straight, turned = plan(study, turned=False), plan(study, turned=True)
    assert straight.per_metre > 0
    assert turned.per_metre == pytest.approx(-straight.per_metre)


def test_where_a_unit_is_said_to_be_does_not_turn(study: Study) -> None:
    straight, turned = plan(study, turned=False), plan(study, turned=True)
    assert [(g.fitting, g.along, g.says) for g in straight.grips] == [
        (g.fitting, g.along, g.says) for g in turned.grips
    ]


def test_only_the_plan_is_turned(study: Study) -> None:
    for view in ("front", "section"):
        drawn = [
            drawing(study, view, None, WIDE, Show.METRIC, turned=turned).svg
            for turned in (False, True)
        ]
        assert drawn[0] == drawn[1]
