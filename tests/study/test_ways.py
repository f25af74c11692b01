"""Other ways to mend a finding: each holds, none is the first one told again."""

from datetime import date
from functools import cache
from importlib.resources import files
from pathlib import Path

import pytest

from limen.desk.checking import check
from limen.findings import Change, Finding, Remedy, Study, Verdict
from limen.model.doorway import Doorway
from limen.model.site import Site
from limen.questions.remedies import AIMED, kind_of, told_already
from limen.rules import Rulebook, Weight
from limen.study import study
from limen.study.applying import apply
from limen.study.ways import At, ways

DAY = date(2026, 11, 12)
TILT = frozenset({("outside", "settings.tilt")})
BOTH = TILT | {("inside", "settings.tilt")}
FAN = frozenset({("outside", "settings.fan")})


@cache
def _demo(state: str) -> tuple[dict[str, Doorway], Rulebook, Site]:
    path = Path(str(files("limen").joinpath("demo", f"alder-quay-{state}.toml")))
    checked = check(path, on=DAY)
    doors = {one.doorway.id: one.doorway for one in checked.studies}
    return doors, checked.rulebooks[0], checked.site


@cache
def _crooked() -> tuple[Study, At, Finding, tuple[Remedy, ...]]:
    """The main entrance, corrected; then both units turned, one too far each way."""
    doors, book, site = _demo("corrected")
    turned = (
        Change("outside", "settings.tilt", "-3 deg"),
        Change("inside", "settings.tilt", "-1.5 deg"),
    )
    at = At(book, DAY, site)
    found = study(apply(doors["main"], turned), book, on=DAY, site=site)
    finding = _to_mend(found, "presence.leaf_path")
    return found, at, finding, ways(found, finding, at)


def _to_mend(found: Study, question: str) -> Finding:
    return next(
        one
        for one in found.findings
        if one.question == question
        and one.verdict in (Verdict.FAILS, Verdict.NOT_SHOWN)
        and one.remedy
        and one.weight is not Weight.ADVICE
    )


def test_both_units_share_the_turn_where_one_alone_would_do() -> None:
    _, _, finding, others = _crooked()
    assert finding.remedy is not None
    first = kind_of(finding.remedy.changes)
    kinds = [kind_of(way.changes) for way in others]
    assert first == {("inside", "settings.tilt")}
    assert BOTH in kinds
    assert first not in kinds


def test_each_other_way_makes_it_hold_and_nothing_that_counts_worse() -> None:
    found, at, finding, others = _crooked()
    before = {one.key: one for one in found.findings}
    for way in others:
        doorway = apply(found.doorway, way.changes)
        after = study(doorway, at.rulebook, on=DAY, site=at.site)
        stands = {one.key: one.verdict for one in after.findings}
        assert stands[finding.key] is Verdict.HOLDS
        failing = {
            key
            for key, verdict in stands.items()
            if verdict is Verdict.FAILS and key in before
        }
        assert all(before[key].verdict is Verdict.FAILS for key in failing)


def test_a_row_that_has_one_place_only_is_no_way() -> None:
    """Bringing the outside row to 32 mm from the face, and nowhere else, would do."""
    others = _crooked()[3]
    assert any(way.targets for way in others)
    for way in others:
        for target in way.targets:
            assert target.most - target.least >= 0.004


@pytest.mark.parametrize(
    ("door", "told"),
    [("main", {"inside"}), ("vestibule", {"outside"})],
)
def test_every_channel_that_keeps_two_doorways_apart_is_offered(
    door: str, told: set[str]
) -> None:
    doors, book, site = _demo("as-found")
    found = study(doors[door], book, on=DAY, site=site)
    finding = _to_mend(found, "presence.neighbours")
    others = ways(found, finding, At(book, DAY, site))
    assert {change.fitting for way in others for change in way.changes} == told
    now = {one.id: one.settings.channel for one in doors[door].fitting}
    for way in others:
        (change,) = way.changes
        assert int(change.value) != now[change.fitting]


def test_what_no_setting_mends_has_no_other_way() -> None:
    doors, book, site = _demo("as-found")
    found = study(doors["main"], book, on=DAY, site=site)
    finding = _to_mend(found, "wiring.inputs")
    assert ways(found, finding, At(book, DAY, site)) == ()


def test_the_same_with_more_to_do_is_no_other_way() -> None:
    assert told_already(TILT, [TILT])
    assert told_already(FAN | TILT, [FAN])
    assert not told_already(BOTH, [TILT])
    assert not told_already(TILT, [FAN])
    assert {setting for _, setting in BOTH} <= set(AIMED)
