"""What is seen while a unit is moved, held against the whole study."""

from datetime import date
from importlib.resources import files
from pathlib import Path

import pytest

from limen.desk.checking import check
from limen.findings import Change, Finding, Verdict
from limen.model.doorway import Doorway
from limen.questions import QUESTIONS
from limen.questions.asking import Asked
from limen.questions.settled import settle
from limen.questions.variants import changed_settings
from limen.rules import Rule, Rulebook
from limen.study.drawn import units_drawn
from limen.study.glimpse import glimpse
from limen.study.running import facts_of

DAY = date(2026, 11, 12)
PRESENCE = {"presence.threshold", "presence.leaf_path"}


@pytest.fixture(scope="module")
def main() -> tuple[Doorway, Rulebook]:
    demo = Path(str(files("limen").joinpath("demo", "alder-quay-corrected.toml")))
    checked = check(demo, "main", on=DAY)
    return checked.studies[0].doorway, checked.rulebooks[0]


def _tilted(door: Doorway, outside: float, inside: float) -> Doorway:
    tilts = {"outside": outside, "inside": inside}
    changes = [Change(f, "settings.tilt", f"{t} deg") for f, t in tilts.items()]
    return changed_settings(door, changes)


def _found(door: Doorway, book: Rulebook, names: set[str]) -> list[Finding]:
    """These questions asked as a study asks them, margins and all."""
    found: list[Finding] = []
    for name in names:
        rule = book.rule_for(name, facts_of(door))
        assert isinstance(rule, Rule)
        found += QUESTIONS[name].ask(Asked(door, settle(door), rule, (), DAY))
    return found


@pytest.mark.parametrize(
    ("outside", "inside"), [(-2.5, -2.5), (-1.3, -1.3), (-2.9, -0.5), (1.0, -2.5)]
)
def test_what_holds_or_fails_at_a_glimpse_does_so_in_the_study(
    main: tuple[Doorway, Rulebook], outside: float, inside: float
) -> None:
    door, book = main
    moved = _tilted(door, outside, inside)
    seen = glimpse(moved, book, on=DAY)
    exact = {one.key: one.verdict for one in _found(moved, book, PRESENCE)}
    assert {one.question for one in seen.findings} <= PRESENCE
    for one in seen.findings:
        if one.verdict is not Verdict.NOT_SHOWN:
            assert exact[one.key] is one.verdict
    assert seen.units == units_drawn(settle(moved))


def test_the_case_that_is_looked_at_is_asked_too(
    main: tuple[Doorway, Rulebook],
) -> None:
    door, book = main
    seen = glimpse(door, book, looked_at=("presence.leaf_path", "on its edge"))
    assert {one.case for one in seen.findings} == {"upright", "on its edge"}
    assert {one.question for one in seen.findings} == PRESENCE


def test_the_question_looked_at_shows_the_body_that_is_missed(
    main: tuple[Doorway, Rulebook],
) -> None:
    door, book = main
    moved = _tilted(door, 1.0, 1.0)
    seen = glimpse(moved, book, looked_at=("presence.leaf_path", "upright"))
    assert {one.question for one in seen.findings} == {"presence.leaf_path"}
    assert all(one.witness for one in seen.findings)


def test_a_radar_that_is_turned_shows_its_field(
    main: tuple[Doorway, Rulebook],
) -> None:
    door, book = main
    seen = glimpse(door, book, also=["approach.minimum_zone"])
    assert "approach.minimum_zone" in {one.question for one in seen.findings}
