"""Figures of the rulebook ``us``.

ANSI/BHMA A156.10-2005, American National Standard for Power Operated Pedestrian
Doors; sections 8.1.3, 8.3.2.2, 8.3.2.3. The text was not at hand: the figures are
second hand and of grade *memory*. Inches are the masters; 1 in = 25.4 mm exactly.
"""

from typing import Literal

import pytest

from limen.quantity import Grade, Outcome
from limen.rules import Rulebook, Weight
from published.rulebooks import compared, figures, rule_of, says, shipped, unset

Way = Literal["at least", "at most"]
HOLDS, FAILS = Outcome.HOLDS, Outcome.FAILS

PERSON_HEIGHT = 0.7112
"""Section 8.1.3: a stationary person 28 in high."""
HOLD_TIME = 30.0
"""Section 8.1.3: found for at least 30 s."""
REACH_FROM_FACE = 0.127
"""Section 8.3.2.2: at least 5 in out from the face on each side."""
IGNORED_GAP = 0.1524
"""Section 8.3.2.2: watched until within 6 in of closed."""

ZONE = {
    # Section 8.1.1: 43 in deep, from within 5 in of the face, as wide as the opening
    # at 8 in and 30 in; section 8.1.2: a person 28 in high
    "depth": 1.0922,
    "escape_depth": 1.0922,
    "start": 0.127,
    "width_near": 0.2032,
    "width_far": 0.762,
    "edge_loss": 0.0,
    "body_height": 0.7112,
}


@pytest.fixture
def us() -> Rulebook:
    return shipped("us", "2005")


@pytest.mark.parametrize(
    ("question", "limit", "value", "clause"),
    [
        ("presence.threshold", "body_height", PERSON_HEIGHT, "8.1.3"),
        ("presence.leaf_path", "body_height", PERSON_HEIGHT, "8.1.3"),
        ("presence.hold_time", "hold", HOLD_TIME, "8.1.3"),
        ("presence.threshold", "zone_reach", REACH_FROM_FACE, "8.3.2.2"),
        ("presence.leaf_path", "ignored_gap", IGNORED_GAP, "8.3.2.2"),
    ],
)
def test_the_figures_of_the_2005_edition(
    us: Rulebook, question: str, limit: str, value: float, clause: str
) -> None:
    rule = rule_of(us, question)
    assert rule.limit(limit).value == pytest.approx(value, abs=1e-12)
    assert rule.limit(limit).grade is Grade.MEMORY
    assert rule.source(limit).clause == clause
    assert rule.source(limit).document == "ANSI/BHMA A156.10-2005"
    assert rule.weight is Weight.MUST


def test_the_plan_of_the_person_is_an_engineering_choice_and_says_so(
    us: Rulebook,
) -> None:
    """The standard gives a height; EN 16005:2012, Annex C, lends 300 x 200 mm."""
    for question in ("presence.threshold", "presence.leaf_path"):
        rule = rule_of(us, question)
        for limit, value in (("body_length", 0.3), ("body_depth", 0.2)):
            assert rule.limit(limit).value == pytest.approx(value, abs=1e-12)
            assert rule.source(limit).document == "limen method"
            assert "European" in rule.source(limit).note


@pytest.mark.parametrize(("held", "outcome"), [("29.9 s", FAILS), ("30.0 s", HOLDS)])
def test_a_still_person_is_found_for_30_s(
    us: Rulebook, held: str, outcome: Outcome
) -> None:
    found = compared(us, "presence.hold_time", "hold", held, "at least")
    assert found.outcome is outcome
    assert found.to_confirm


@pytest.mark.parametrize(
    ("gap", "outcome"), [("200 mm", FAILS), ("152 mm", HOLDS), ("153 mm", FAILS)]
)
def test_presence_may_be_ignored_only_within_6_in_of_closed(
    us: Rulebook, gap: str, outcome: Outcome
) -> None:
    assert says(us, "presence.leaf_path", "ignored_gap", gap, "at most") is outcome


def test_the_zone_is_that_of_section_8_1_1(us: Rulebook) -> None:
    rule = rule_of(us, "approach.minimum_zone")
    for limit, value in ZONE.items():
        assert rule.limit(limit).value == pytest.approx(value, abs=1e-12)
        assert rule.source(limit).clause.startswith("8.1.")


@pytest.mark.parametrize(
    ("limit", "found", "way", "outcome"),
    [
        ("depth", "1100 mm", "at least", HOLDS),
        ("depth", "1092 mm", "at least", FAILS),
        ("start", "120 mm", "at most", HOLDS),
        ("start", "140 mm", "at most", FAILS),
    ],
)
def test_the_zone_is_43_in_deep_and_begins_within_5_in_of_the_face(
    us: Rulebook, limit: str, found: str, way: Way, outcome: Outcome
) -> None:
    """Section 8.1.1."""
    assert says(us, "approach.minimum_zone", limit, found, way) is outcome


@pytest.mark.parametrize(("speed", "outcome"), [("6 in/s", HOLDS), ("153 mm/s", FAILS)])
def test_a_person_who_walks_6_in_a_second_is_found(
    us: Rulebook, speed: str, outcome: Outcome
) -> None:
    """Section 8.1.2: the slowest that is found is no quicker than that."""
    assert says(us, "approach.slow_walker", "speed", speed, "at most") is outcome


@pytest.mark.parametrize(
    ("limit", "question", "found", "outcome"),
    [
        ("energy", "leaf.closing_energy", "9.49 J", HOLDS),
        ("energy", "leaf.closing_energy", "10.0 J", FAILS),
        ("after", "leaf.closing_force", "133 N", HOLDS),
        ("after", "leaf.closing_force", "134 N", FAILS),
    ],
)
def test_a_closing_leaf_has_7_lbf_ft_and_is_held_by_30_lbf(
    us: Rulebook, limit: str, question: str, found: str, outcome: Outcome
) -> None:
    """Sections to be confirmed, from memory."""
    assert says(us, question, limit, found, "at most") is outcome


def test_every_pose_a_leaf_could_strike_is_a_stricter_reading(us: Rulebook) -> None:
    assert rule_of(us, "presence.leaf_path").stricter
    assert not rule_of(us, "presence.threshold").stricter


def test_what_is_no_rule_of_the_standard_is_no_must_but_for_the_sheet(
    us: Rulebook,
) -> None:
    """But for the sheet's heights, and what building code and access law ask."""
    borrowed = {
        rule.question: rule.weight
        for rule in us.rules
        if not rule.authority.document.startswith("ANSI")
    }
    assert borrowed.pop("mounting.height") is Weight.MUST
    assert borrowed.pop("leaf.power_loss") is Weight.MUST
    assert borrowed.pop("site.clear_width") is Weight.MUST
    for owners in ("keeping.due", "approach.passers_by", "approach.energy"):
        assert borrowed.pop(owners) is Weight.ADVICE
    assert set(borrowed.values()) == {Weight.SHOULD}


def test_what_ships_unset_is_named_and_nothing_else_carries_an_american_clause(
    us: Rulebook,
) -> None:
    assert unset(us) == {
        ("site.marking", "lowest_from"),
        ("site.marking", "lowest_to"),
        ("site.marking", "highest_from"),
        ("site.marking", "highest_to"),
        ("wiring.performance_level", "presence_failures"),
        ("wiring.performance_level", "escape_failures"),
        ("leaf.closing_force", "narrow"),
        ("leaf.closing_force", "middle"),
        ("leaf.closing_force", "peak_narrow"),
        ("leaf.closing_force", "peak_middle"),
        ("leaf.closing_force", "peak_wide"),
        ("leaf.closing_force", "rest"),
        ("leaf.power_loss", "hand_instead"),
    }
    american = {
        (rule.question, limit)
        for rule in us.rules
        for limit in rule.limits
        if rule.source(limit).document.startswith("ANSI")
    }
    assert american == {
        ("presence.threshold", "body_height"),
        ("presence.threshold", "zone_reach"),
        ("presence.leaf_path", "body_height"),
        ("presence.leaf_path", "ignored_gap"),
        ("presence.hold_time", "hold"),
        ("site.marking", "signed_sides"),
        *(("approach.minimum_zone", limit) for limit in ZONE),
        ("approach.slow_walker", "body_height"),
        ("approach.slow_walker", "speed"),
        ("leaf.closing_energy", "energy"),
        ("leaf.stops_in_time", "contact_energy"),
        ("leaf.closing_force", "after"),
    }
    assert american < figures(us).keys()


def test_the_edition_is_printed_with_a_warning_that_sections_moved(
    us: Rulebook,
) -> None:
    assert us.edition == "2005"
    assert any("moved sections" in note for note in us.notes)
