"""Every printed remedy mends: made as it is printed, its finding holds.

300 seeded doorways with faults; where no setting helps, the remedy says what else
is needed and prints no setting.
"""

from functools import cache
from itertools import product

import numpy as np
import pytest

from limen.findings import Change, Finding, Remedy, Study, Target, Verdict
from limen.model.doorway import Doorway
from limen.rules import Rulebook, Weight
from limen.store.bookshelf import open_shelf
from limen.study import apply, study
from study.failing import a_failing_doorway

DOORWAYS, A_FEW = 300, 12
SEEDS = [
    pytest.param(n, marks=[pytest.mark.slow] if n >= A_FEW else [])
    for n in range(DOORWAYS)
]
WINDOWS = [
    pytest.param(n, marks=[pytest.mark.slow] if n >= A_FEW // 6 else [])
    for n in range(DOORWAYS // 3)
]
COVERAGE = ("presence.threshold", "presence.leaf_path")
SOMETHING_ELSE = {
    "remedy.no_unit",
    "remedy.add_unit",
    "remedy.beyond_settings",
    "remedy.move_lens_out",
    "remedy.turn_uncovers",
    "remedy.no_channel",
}


@cache
def book() -> Rulebook:
    return open_shelf().edition("en", "2012")


@cache
def studied(seed: int) -> tuple[Doorway, Study]:
    doorway = a_failing_doorway(seed)
    return doorway, study(doorway, book())


def to_mend(found: Study) -> list[Finding]:
    """What fails and is more than advice."""
    failing = found.of(Verdict.FAILS)
    return [f for f in failing if f.weight is not Weight.ADVICE and f.remedy]


def verdicts(doorway: Doorway) -> dict[tuple[str, str | None, str | None], Finding]:
    return {f.key: f for f in study(doorway, book()).findings}


def remedies(found: Study) -> list[tuple[Remedy, list[Finding]]]:
    """Each printed remedy once, with the findings that it is to mend."""
    told: list[tuple[Remedy, list[Finding]]] = []
    for finding in to_mend(found):
        assert finding.remedy
        same = next((fs for r, fs in told if r == finding.remedy), None)
        if same is None:
            told.append((finding.remedy, [finding]))
        else:
            same.append(finding)
    return told


@pytest.mark.parametrize("seed", SEEDS)
def test_a_remedy_made_as_printed_mends_its_findings(seed: int) -> None:
    doorway, found = studied(seed)
    for remedy, findings in remedies(found):
        if not remedy.changes:
            assert remedy.message.key in SOMETHING_ELSE
            continue
        after = verdicts(apply(doorway, remedy.changes))
        for finding in findings:
            assert after[finding.key].verdict is Verdict.HOLDS, (seed, finding.key)
        if any(f.question in COVERAGE for f in findings):
            left = [
                key
                for key, f in after.items()
                if f.weight is not Weight.ADVICE
                and f.question in COVERAGE
                and f.verdict is not Verdict.HOLDS
            ]
            assert not left, (seed, left)


def at_place(target: Target, metres: float) -> Change:
    """The row brought to a place on the floor, in the tape's whole millimetres."""
    return Change(target.fitting, "read.first_row", f"{metres * 1000:.0f} mm")


@pytest.mark.parametrize("seed", WINDOWS)
def test_rows_anywhere_in_the_printed_window_do_too(seed: int) -> None:
    doorway, found = studied(seed)
    rng = np.random.default_rng([seed, 78])
    for remedy, findings in remedies(found):
        if findings[0].question not in COVERAGE or not remedy.targets:
            continue
        mended = apply(doorway, remedy.changes)
        corners = list(product((0.0, 1.0), repeat=len(remedy.targets)))
        picked = [corners[i] for i in rng.permutation(len(corners))[:2]]
        picked.append(tuple(rng.uniform(0, 1, len(remedy.targets))))
        for shares in picked:
            places = [
                at_place(t, inward(t.least, t.most, share))
                for t, share in zip(remedy.targets, shares, strict=True)
            ]
            after = verdicts(apply(mended, places))
            for finding in findings:
                assert after[finding.key].verdict is Verdict.HOLDS, (seed, places)


def inward(least: float, most: float, share: float) -> float:
    """A whole millimetre in the window, or its middle if it holds none."""
    first, last = int(np.ceil(least * 1000 - 1e-6)), int(np.floor(most * 1000 + 1e-6))
    if first > last:
        return (least + most) / 2
    return round(first + share * (last - first)) / 1000


def test_the_doorways_fail_in_many_ways() -> None:
    found = [studied(seed)[1] for seed in range(A_FEW)]
    failing = {f.question for one in found for f in to_mend(one)}
    assert {*COVERAGE, "presence.side_screen", "leaf.gaps"} <= failing
    assert sum(bool(to_mend(one)) for one in found) >= A_FEW - 3
