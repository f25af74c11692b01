"""Every question is answered, whatever of the doorway is known; doubt says why.

Doorways with gaps, seeded.  What is not shown names what would settle it; a
plausible value written under that key settles it.
"""

from collections import Counter
from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any

import pytest
from pydantic import ValidationError

from builders.doorways import a_doorway, a_site
from limen.findings import Finding, Study, Verdict
from limen.questions import QUESTIONS
from limen.rules import Rulebook
from limen.store.bookshelf import open_shelf
from limen.study import study
from oracles.gaps import Gappy, estimated, gappy
from oracles.settling import UnsettledError, own_figures, settled_by

EDITIONS = (
    ("en", "2012"),
    ("en", "2023"),
    ("us", "2005"),
    ("de", "2023"),
    ("au", "2023"),
)
QUICK, A_FEW, ALL = 6, 2, 200


def seeds(quick: int) -> list[Any]:
    """All of them, most of them slow."""
    return [
        pytest.param(n, marks=[pytest.mark.slow] if n >= quick else [])
        for n in range(ALL)
    ]


SEEDS, FEW_SEEDS = seeds(QUICK), seeds(A_FEW)
ON = date(2026, 11, 25)
ROUNDS = 8
"""How often something further may be asked for before it is settled."""
WITHOUT_A_FIGURE = {
    "neighbours.channels_differ",
    "side_screen.guarded",
    "inputs.tested",
    "inputs.holds",
    "inputs.heard",
    "fail_safe.holds_escape",
    "fail_safe.watched",
    "fail_safe.breaks_out",
    "exposure.steady",
    "exposure.sheltered",
    "modes.locks.holds",
    "fail_safe.holds",
    "papers.holds",
    "exposure.indoors",
    "marking.marked",
    "marking.signed",
    "mechanics.holds",
    "power_loss.opens",
    "modes.none",
    "keeping.in_time",
    "keeping.changed_checked",
    "keeping.fault_checked",
}
"""Reasons that hold by what is there, whatever the figures are."""
OWN_DOUBT = (
    "tolerance",
    "resolution",
    "search_limit",
    "self_view.not_shown",
    "close",
    "no_beam",
    "walk_differs",
    "lead_differs",
    "in_time.not_shown",
)
"""Reasons that another setting may settle as well as a closer reading."""


DISAGREE = {
    "approach.lack.fit",
    "approach.lack.walk_differs",
    "lack.speed_differs",
}
"""What is stated cannot be true together: one plausible figure does not mend that."""


@cache
def book(seed: int) -> Rulebook:
    return open_shelf().edition(*EDITIONS[seed % len(EDITIONS)])


def studied(door: Gappy, rules: Rulebook, *, whole_site: bool = False) -> Study:
    other = a_doorway({"id": "other", "name": "Other"})
    site = a_site(door.doorway, other) if whole_site else None
    return study(door.doorway, rules, on=ON, site=site)


def only(rules: Rulebook, question: str) -> Rulebook:
    """The rulebook with nothing but one question."""
    asking = tuple(rule for rule in rules.rules if rule.question == question)
    return replace(rules, rules=asking)


@cache
def first(seed: int) -> tuple[Gappy, Study]:
    door = gappy(seed)
    return door, studied(door, book(seed))


@pytest.mark.parametrize("seed", SEEDS)
def test_every_question_is_answered_once_for_each_fitting_and_case(seed: int) -> None:
    _, found = first(seed)
    assert {finding.question for finding in found.findings} == set(QUESTIONS)
    twice = [k for k, n in Counter(f.key for f in found.findings).items() if n > 1]
    assert twice == []


@pytest.mark.parametrize("seed", SEEDS)
def test_what_fails_says_what_to_do(seed: int) -> None:
    _, found = first(seed)
    dumb = [f.key for f in found.of(Verdict.FAILS) if f.remedy is None]
    assert dumb == []


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_not_shown_names_what_would_settle_it(seed: int) -> None:
    _, found = first(seed)
    dumb = [
        (f.key, f.because.key) for f in found.of(Verdict.NOT_SHOWN) if not f.lacking
    ]
    assert dumb == []


@pytest.mark.parametrize("seed", FEW_SEEDS)
def test_a_value_under_the_key_named_settles_it(seed: int) -> None:
    door, found = first(seed)
    rounds: dict[tuple[object, ...], Study | str] = {}
    trouble = [
        (finding.key, why)
        for finding in found.of(Verdict.NOT_SHOWN)
        if (why := _not_settled(door, book(seed), finding, rounds))
    ]
    assert trouble == []


def _not_settled(
    door: Gappy,
    rules: Rulebook,
    finding: Finding,
    rounds: dict[tuple[object, ...], Study | str],
) -> str:
    """Why a finding cannot be settled by what it lacks; empty if it can."""
    given: set[str] = set()
    for _ in range(ROUNDS):
        keys = {lack.key for lack in finding.lacking}
        if not keys:
            return "names nothing that would settle it"
        again = keys & given
        if again:
            return "" if _by_its_own_doubt(finding) else f"asked again: {sorted(again)}"
        given |= keys
        side = (finding.case or "").partition(",")[0]
        mark = (tuple(sorted(given)), finding.fitting, finding.question, side)
        if mark not in rounds:
            alone = only(rules, finding.question)
            rounds[mark] = _with(door, alone, sorted(given), finding)
        found = rounds[mark]
        if isinstance(found, str):
            return found
        now = [f for f in found.findings if f.key == finding.key]
        if not now or now[0].verdict is not Verdict.NOT_SHOWN:
            return ""
        finding = now[0]
    return f"not settled after {ROUNDS} rounds: {finding.because.key}"


def _by_its_own_doubt(finding: Finding) -> bool:
    told = {lack.message.key for lack in finding.lacking}
    return finding.because.key.endswith(OWN_DOUBT) or bool(told & DISAGREE)


def _with(
    door: Gappy, rules: Rulebook, keys: list[str], finding: Finding
) -> Study | str:
    """The study with values under these keys, or why there can be none."""
    figures = [key for key in keys if key.startswith("values:")]
    plain = [key for key in keys if not key.startswith("values:")]
    site = "facing" in plain
    try:
        at_door = [key for key in plain if key != "facing"]
        known = settled_by(door, at_door, finding.fitting, finding.case)
        return studied(known, own_figures(rules, figures), whole_site=site)
    except UnsettledError as wrong:
        return f"no such key: {wrong}"
    except ValidationError as wrong:
        return f"not accepted: {wrong}"


@pytest.mark.parametrize("seed", SEEDS)
def test_nothing_that_hangs_on_an_estimate_holds(seed: int) -> None:
    found = studied(estimated(first(seed)[0]), book(seed))
    held = [(f.key, f.because.key) for f in found.of(Verdict.HOLDS)]
    assert [one for one in held if one[1] not in WITHOUT_A_FIGURE] == []


def test_the_same_number_is_the_same_doorway() -> None:
    assert gappy(7) == gappy(7)
    assert replace(gappy(7), seed=8) != gappy(8)
