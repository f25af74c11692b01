"""Sides from which nobody seemed to come, and doors that nothing opens."""

import pytest

from builders.doorways import a_doorway
from limen.findings import Finding, Verdict
from limen.study import study
from questions.asking import ask, asked, book

FAILS, HOLDS, NOT_SHOWN = Verdict.FAILS, Verdict.HOLDS, Verdict.NOT_SHOWN
NOT_ASKED = Verdict.NOT_ASKED
QUESTIONS = ("approach.minimum_zone", "approach.slow_walker", "approach.opens_in_time")
TIME = "approach.opens_in_time"


def inside(question: str, changes: dict[str, object]) -> Finding:
    return asked(question, a_doorway(changes))[None, "inside"]


@pytest.mark.parametrize("question", QUESTIONS)
@pytest.mark.parametrize(
    ("escape_route", "escape_from", "is_asked"),
    [
        (False, [], False),
        (True, ["outside"], False),
        (True, ["inside"], True),
        (True, [], True),
        (None, [], True),
        (None, ["outside"], False),
    ],
)
def test_whoever_escapes_against_the_usual_way_is_not_forgotten(
    question: str, escape_route: bool | None, escape_from: list[str], is_asked: bool
) -> None:
    use: dict[str, object] = {
        "use.one_way": "outside",
        "use.escape_route": escape_route,
        "use.breaks_out": False,
        "use.escape_from": escape_from,
    }
    assert (inside(question, use).verdict is not NOT_ASKED) is is_asked


@pytest.mark.parametrize("question", QUESTIONS)
def test_a_doorway_without_any_unit_named_is_not_one_that_nothing_opens(
    question: str,
) -> None:
    door = a_doorway().model_copy(update={"fitting": ()})
    found = [one for one in study(door, book()).findings if one.question == question]
    assert found
    for one in found:
        assert one.verdict is NOT_SHOWN
        assert [lack.key for lack in one.lacking] == ["fitting"]


@pytest.mark.parametrize("question", QUESTIONS)
def test_a_unit_whose_opening_output_goes_nowhere_opens_nothing(question: str) -> None:
    changes: dict[str, object] = {"fitting[inside].wires[1].to": "not used"}
    assert inside(question, {}).verdict is HOLDS
    found = inside(question, changes)
    assert found.verdict is NOT_SHOWN
    assert [one.key for one in found.lacking] == ["fitting"]


@pytest.mark.parametrize("speed", ["0 m/s", "0.0 m/s ± 0 m/s"])
def test_nobody_walks_without_speed(speed: str) -> None:
    found = inside(TIME, {"use.fastest": speed})
    assert found.verdict is NOT_SHOWN
    assert [one.key for one in found.lacking] == ["use.fastest"]


@pytest.mark.parametrize(
    ("width", "verdict"), [("2000 mm", HOLDS), ("2000 mm ± 1500 mm", NOT_SHOWN)]
)
def test_a_width_that_is_hardly_known_is_not_wide_enough(
    width: str, verdict: Verdict
) -> None:
    """Nobody walks through half a metre with room on both sides."""
    found = ask(TIME, {"clear_width": width}, case="inside")
    assert found.verdict is verdict


@pytest.mark.parametrize("question", QUESTIONS)
@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("fitting[inside].settings.radar_tilt", None),
        ("fitting[inside].settings.radar_tilt", "25 deg, estimate"),
        ("fitting[inside].lens.height", "2200 mm, estimate"),
        ("fitting[inside].lens", None),
        ("sheet.motion.field_depth", None),
        ("sheet.motion.at_tilt", None),
    ],
)
def test_what_the_field_hangs_on_must_be_known(
    question: str, key: str, value: str | None
) -> None:
    changes = {key: value}
    found = inside(question, dict(changes))
    assert found.verdict is NOT_SHOWN
    assert key in [one.key for one in found.lacking]
