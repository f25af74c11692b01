"""The range of a setting: inside it all musts hold, just outside not, by the study."""

from dataclasses import replace
from datetime import date
from functools import cache
from importlib.resources import files
from itertools import combinations
from math import radians
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limen.desk.checking import check
from limen.findings import Study, Verdict
from limen.model.doorway import Doorway
from limen.model.site import Site
from limen.quantity import Grade, Quantity
from limen.questions.ranges import (
    BEARS,
    Range,
    Scale,
    Standing,
    search,
    stride_of,
    with_value,
)
from limen.rules import Rulebook, Weight
from limen.study import study
from limen.study.ranging import NotWantedError, range_of

DAY = date(2026, 11, 12)
MM, DEG = 1e-3, radians(1.0)


@cache
def _demo(door: str) -> tuple[Doorway, Rulebook, Site]:
    path = Path(str(files("limen").joinpath("demo", "alder-quay-corrected.toml")))
    checked = check(path, door, on=DAY)
    return checked.studies[0].doorway, checked.rulebooks[0], checked.site


def _scale(setting: str, values: list[float], now: int) -> Scale:
    measured = tuple(Quantity(value, grade=Grade.MEASURED) for value in values)
    return Scale("outside", setting, measured, now)


def _steps(least: float, most: float, step: float) -> list[float]:
    return [least + n * step for n in range(round((most - least) / step) + 1)]


SCALES = {
    "settings.tilt": _scale("settings.tilt", _steps(-5 * DEG, 5 * DEG, 0.1 * DEG), 25),
    "settings.yaw": _scale("settings.yaw", _steps(-3 * DEG, 3 * DEG, 0.1 * DEG), 30),
    "lens.along": _scale("lens.along", _steps(-0.5, 0.5, 5 * MM), 100),
    "lens.height": _scale("lens.height", _steps(1.8, 3.2, 10 * MM), 40),
}
"""Sliders of the main entrance's outside unit, as set in the demo (tilt −2.5°)."""


@cache
def _range(setting: str) -> Range:
    door, book, site = _demo("main")
    return range_of(door, book, SCALES[setting], on=DAY, site=site)


def _studied(setting: str, number: int) -> Study:
    door, book, site = _demo("main")
    return study(with_value(door, SCALES[setting], number), book, on=DAY, site=site)


def _holds(found: Study, setting: str, besides: tuple[str, ...] = ()) -> bool:
    """Whether every must that depends on the setting holds; aimed light stays clear."""
    asked = [
        one
        for one in found.findings
        if one.question in BEARS[setting]
        and one.question not in besides
        and one.weight is Weight.MUST
        and one.case != "near closed"
    ]
    if setting == "settings.tilt":
        asked += [
            one
            for one in found.findings
            if (one.question, one.fitting) == ("presence.self_view", "outside")
        ]
    wanted = (Verdict.HOLDS, Verdict.NOT_ASKED)
    return all(one.verdict in wanted for one in asked)


@pytest.mark.parametrize(
    "setting",
    ["settings.tilt", pytest.param("lens.along", marks=pytest.mark.slow)],
)
def test_all_holds_at_the_ends_of_a_range_and_not_one_step_beyond(
    setting: str,
) -> None:
    found = _range(setting)
    assert found.ends is not None
    least, most = found.ends
    for number in (least, most):
        assert _holds(_studied(setting, number), setting, found.besides)
    for number in (least - 1, most + 1):
        assert not _holds(_studied(setting, number), setting, found.besides)


@pytest.mark.slow
@pytest.mark.parametrize("setting", [*SCALES])
@given(share=st.floats(0, 1), past=st.integers(1, 3), low=st.booleans())
@settings(max_examples=8)
def test_all_holds_within_a_range_and_nowhere_just_outside(
    setting: str, share: float, past: int, low: bool
) -> None:
    found = _range(setting)
    assert found.ends is not None
    least, most = found.ends
    inside = round(least + share * (most - least))
    assert _holds(_studied(setting, inside), setting, found.besides)
    outside = least - past if low else most + past
    if 0 <= outside < len(SCALES[setting].values):
        assert not _holds(_studied(setting, outside), setting, found.besides)


@pytest.mark.slow
@pytest.mark.parametrize("setting", [*SCALES])
def test_no_must_beyond_those_named_depends_on_a_setting(setting: str) -> None:
    scale = SCALES[setting]
    seen: dict[tuple[object, ...], set[Verdict]] = {}
    for number in (0, len(scale.values) // 3, scale.now, len(scale.values) - 1):
        for one in _studied(setting, number).findings:
            if one.weight is Weight.MUST and one.question not in BEARS[setting]:
                seen.setdefault(one.key, set()).add(one.verdict)
    assert {key: found for key, found in seen.items() if len(found) > 1} == {}


def test_where_no_tilt_of_one_unit_does_it_there_is_no_range() -> None:
    door, book, site = _demo("main")
    fittings = tuple(
        one.model_copy(
            update={
                "settings": one.settings.model_copy(
                    update={"tilt": replace(one.settings.tilt, value=2.0 * DEG)}
                )
            }
        )
        for one in door.fitting
        if one.settings.tilt is not None
    )
    away = door.model_copy(update={"fitting": fittings})
    found = range_of(away, book, SCALES["settings.tilt"], on=DAY, site=site)
    assert found.ends is None
    assert found.floor is None


def test_the_first_row_lands_where_the_range_says() -> None:
    found = _range("settings.tilt")
    assert found.floor is not None
    near, far = found.floor
    assert 0.0 < near < 0.059 < far  # the demo's first row lands 59 mm from the face


def test_a_setting_on_which_no_must_depends_is_asked_for_what_should_hold() -> None:
    door, book, site = _demo("main")
    scale = _scale("settings.radar_tilt", _steps(10 * DEG, 40 * DEG, 5 * DEG), 3)
    found = range_of(door, book, scale, on=DAY, site=site)
    assert found.weight == "should"
    assert found.ends is not None


def test_a_range_that_is_not_wanted_any_more_is_given_up() -> None:
    door, book, site = _demo("main")
    with pytest.raises(NotWantedError):
        range_of(door, book, SCALES["lens.along"], site=site, wanted=lambda: False)


# The search by itself ----------------------------------------------------------


@given(
    low=st.integers(0, 200),
    wide=st.integers(0, 60),
    now=st.integers(0, 260),
    stride=st.integers(1, 20),
)
def test_a_run_that_is_met_is_followed_to_its_very_ends(
    low: int, wide: int, now: int, stride: int
) -> None:
    high = min(low + wide, 260)
    good = Standing()
    bad = Standing(fails=frozenset({"a"}))

    def stands(number: int) -> Standing:
        return good if low <= number <= high else bad

    tried = sorted({*range(0, 261, stride), now, 260})
    ends, _ = search(stands, tried, now)
    met = any(low <= number <= high for number in tried)
    assert ends == ((low, high) if met else None)


def test_of_two_runs_the_one_about_the_present_value_is_taken() -> None:
    runs = {*range(5, 10), *range(20, 25)}
    bad = Standing(fails=frozenset({"a"}))
    ends, _ = search(lambda n: Standing() if n in runs else bad, range(30), 21)
    assert ends == (20, 24)


def test_what_is_only_not_shown_is_named_where_nothing_holds() -> None:
    still = Standing(open=frozenset({"b"}))
    bad = Standing(fails=frozenset({"a"}), open=frozenset({"c"}))
    ends, open_yet = search(lambda n: still if n == 3 else bad, range(6), 0)
    assert (ends, open_yet) == (None, frozenset({"b"}))


ROWS_TOGETHER = tuple(
    one for size in range(1, 5) for one in combinations(range(1, 5), size)
)


def test_each_way_to_switch_rows_on_is_asked_as_the_study_asks_it() -> None:
    door, book, site = _demo("reading-room")
    now = ROWS_TOGETHER.index((1, 2, 3, 4))
    scale = Scale("outside", "settings.rows_on", ROWS_TOGETHER, now)
    found = range_of(door, book, scale, on=DAY, site=site)
    assert now in found.good
    first = ROWS_TOGETHER.index((1,))
    for number in (first, ROWS_TOGETHER.index((4,))):
        changed = with_value(door, scale, number)
        asked = study(changed, book, on=DAY, site=site)
        failing = {
            one.question
            for one in asked.findings
            if one.question in BEARS["settings.rows_on"]
            and one.weight is Weight.MUST
            and one.verdict is not Verdict.HOLDS
            and one.verdict is not Verdict.NOT_ASKED
        } - set(found.besides)
        assert (number in found.good) == (not failing)


@pytest.mark.parametrize(
    ("tried", "ends", "stride"),
    [
        ((0, 1, 2, 3), (1, 3), 1),
        ((0, 4, 8, 9, 10), (4, 10), 4),
        ((0, 4, 8, 9, 10), None, 4),
        ((0, 10, 11, 12), (10, 12), 1),
        ((7,), (7, 7), 1),
        ((), None, 1),
    ],
)
def test_what_lies_untried_between_two_values_is_counted(
    tried: tuple[int, ...], ends: tuple[int, int] | None, stride: int
) -> None:
    assert stride_of(tried, ends) == stride


def test_a_scale_of_many_steps_says_that_not_each_was_tried() -> None:
    door, book, site = _demo("main")
    values = _steps(-0.2, 0.2, 1e-3)
    scale = _scale("lens.along", values, len(values) // 2)
    found = range_of(door, book, scale, on=DAY, site=site)
    assert found.stride > 1
