"""Turned, mirrored, helped or doubted: what a study may do and what not."""

from collections.abc import Callable

import pytest

from builders.doorways import a_doorway
from limen.findings import Finding, Verdict
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.people import Approach
from limen.quantity import Quantity
from limen.study import study
from questions.asking import RANK, book
from study.failing import a_failing_doorway

SEEDS = [pytest.param(n, marks=[pytest.mark.slow] if n >= 1 else []) for n in range(60)]
COVERAGE = ("presence.threshold", "presence.leaf_path")
HANDS = frozenset({"left", "right"})
SIDES = frozenset({"outside", "inside"})
OTHER = {"left": "right", "right": "left", "outside": "inside", "inside": "outside"}


def minus(q: Quantity | None) -> Quantity | None:
    return None if q is None else Quantity(-q.value, q.u, q.grade, q.origin)


def swapped_sides(doorway: Doorway) -> dict[str, object]:
    """The side spaces with left and right exchanged."""
    return {
        "side_space": tuple(
            space.model_copy(update={"side": OTHER[space.side]})
            for space in doorway.side_space
        )
    }


def swapped_ways(doorway: Doorway, *, sides: bool) -> tuple[Approach, ...]:
    """From where people come, left and right or inside and outside exchanged.

    Left and right are seen from outside, so that both ways swap them.
    """
    return tuple(
        way.model_copy(
            update={
                "side": OTHER[way.side] if sides else way.side,
                "from_left": way.from_right,
                "from_right": way.from_left,
            }
        )
        for way in doorway.approach
    )


def turned(doorway: Doorway) -> Doorway:
    """The doorway turned by half a turn: seen from the other side."""

    def one(fitting: Fitting) -> Fitting:
        assert fitting.lens
        lens = fitting.lens.model_copy(update={"along": minus(fitting.lens.along)})
        return fitting.model_copy(update={"side": OTHER[fitting.side], "lens": lens})

    weather = doorway.exposure
    swapped = {"outside": weather.inside, "inside": weather.outside}
    update = {
        "fitting": tuple(map(one, doorway.fitting)),
        "exposure": weather.model_copy(update=swapped),
        "approach": swapped_ways(doorway, sides=True),
        **swapped_sides(doorway),
    }
    return doorway.model_copy(update=update)


def mirrored(doorway: Doorway) -> Doorway:
    """The doorway in a mirror: left is right, so are roll and yaw."""

    def one(fitting: Fitting) -> Fitting:
        assert fitting.lens
        lens = fitting.lens.model_copy(update={"along": minus(fitting.lens.along)})
        settings = fitting.settings.model_copy(
            update={
                "roll": minus(fitting.settings.roll),
                "yaw": minus(fitting.settings.yaw),
                "radar_yaw": minus(fitting.settings.radar_yaw),
            }
        )
        return fitting.model_copy(update={"lens": lens, "settings": settings})

    update = {
        "fitting": tuple(map(one, doorway.fitting)),
        "approach": swapped_ways(doorway, sides=False),
        **swapped_sides(doorway),
    }
    return doorway.model_copy(update=update)


def said(doorway: Doorway) -> list[Finding]:
    return list(study(doorway, book()).findings)


def key_of(
    finding: Finding, swap: frozenset[str] = frozenset()
) -> tuple[str, str | None, str]:
    """What a finding is about; the words to swap exchanged in its case.

    Sides name the case only where people walk: elsewhere they are names of units.
    """
    case = finding.case or ""
    if swap:
        words = case.replace(",", " ,").split(" ")
        swappable = swap if finding.question.startswith("approach.") else HANDS
        words = [OTHER[w] if w in swappable else w for w in words]
        case = " ".join(words).replace(" ,", ",")
    return finding.question, finding.fitting, case


def margin(finding: Finding | None) -> float:
    return finding.margin.value if finding and finding.margin else 0.0


@pytest.mark.parametrize("change", [turned, mirrored], ids=["turned", "mirrored"])
@pytest.mark.parametrize("seed", SEEDS)
def test_a_turned_or_mirrored_doorway_gets_the_same_findings(
    seed: int, change: Callable[[Doorway], Doorway]
) -> None:
    doorway = a_failing_doorway(seed)
    swap = HANDS | SIDES if change is turned else HANDS
    before = {key_of(f, swap): f for f in said(doorway)}
    after = {key_of(f): f for f in said(change(doorway))}
    assert before.keys() == after.keys()
    for key, was in before.items():
        now = after[key]
        assert now.verdict is was.verdict, key
        assert now.because.key == was.because.key or "mounting" in was.because.key
        if _bracketed(now, was):
            assert now.margin
            assert was.margin
            off = abs(now.margin.value - was.margin.value)
            assert off <= now.margin.u + was.margin.u + 1e-6, key


def _bracketed(*findings: Finding) -> bool:
    """Whether margins have two ends: a search that reached its limit has only one."""
    return all(
        f.margin and (f.margin.u > 0 or f.question not in COVERAGE) for f in findings
    )


def coverage(doorway: Doorway) -> dict[str | None, Finding]:
    found = study(doorway, book()).findings
    return {f"{f.question} {f.case}": f for f in found if f.question in COVERAGE}


@pytest.mark.parametrize("seed", SEEDS)
def test_one_unit_more_never_takes_away_what_holds(seed: int) -> None:
    doorway = a_failing_doorway(seed)
    first = doorway.fitting[seed % 2]
    assert first.lens
    lens = first.lens.model_copy(update={"along": Quantity(0.4)})
    more = first.model_copy(update={"id": "one-more", "lens": lens})
    helped = coverage(doorway.model_copy(update={"fitting": (*doorway.fitting, more)}))
    for key, was in coverage(doorway).items():
        if was.verdict is Verdict.HOLDS:
            assert helped[key].verdict is not Verdict.FAILS, key


@pytest.mark.parametrize("across", ["3 mm", "6 mm", "10 mm", "15 mm", "30 mm"])
def test_looser_aim_never_makes_a_finding_better(across: str) -> None:
    aim = {f"fitting[{side}].aim.across": across for side in ("outside", "inside")}
    tight, loose = coverage(a_doorway()), coverage(a_doorway(aim))
    for key, was in tight.items():
        assert RANK[loose[key].verdict] <= RANK[was.verdict]
        if loose[key].verdict is Verdict.HOLDS and was.margin and loose[key].margin:
            assert margin(loose[key]) <= margin(was) + 3e-3


def test_aim_loose_enough_ends_in_doubt_or_a_mounting_that_fails() -> None:
    aim = {f"fitting[{side}].aim.across": "30 mm" for side in ("outside", "inside")}
    found = coverage(a_doorway(aim))["presence.leaf_path upright"]
    assert found.verdict is not Verdict.HOLDS


@pytest.mark.parametrize("seed", SEEDS)
def test_the_same_doorway_studied_twice_gets_equal_findings(seed: int) -> None:
    doorway = a_failing_doorway(seed)
    assert study(doorway, book()) == study(doorway, book())


@pytest.mark.parametrize("seed", SEEDS)
def test_there_is_one_finding_for_each_question_fitting_and_case(seed: int) -> None:
    found = said(a_failing_doorway(seed))
    assert len({f.key for f in found}) == len(found)
