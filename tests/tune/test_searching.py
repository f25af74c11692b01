"""The search finds what the whole grid finds, and spoils nothing."""

from functools import cache

import pytest

from limen.findings import Change, Study, Verdict
from limen.findings.tuned import Choice, Tuned
from limen.model.doorway import Doorway
from limen.rules import Rulebook
from limen.rules.rule import Weight
from limen.store.bookshelf import open_shelf
from limen.study import apply, study
from limen.tune.measuring import standing
from limen.tune.searching import tune
from study.failing import a_failing_doorway
from tune.grids import best_of, key_of, presence_only, small

FEWER = 100
"""How many times fewer studies than the grid has, at the least."""
MANY, A_FEW = 50, 1
SEEDS = [
    pytest.param(n, marks=[pytest.mark.slow] if n >= A_FEW else []) for n in range(MANY)
]
WORSE = {Verdict.HOLDS: 0, Verdict.NOT_ASKED: 0, Verdict.NOT_SHOWN: 1, Verdict.FAILS: 2}


@cache
def book() -> Rulebook:
    return open_shelf().edition("en", "2012")


@cache
def tuned(seed: int) -> tuple[Doorway, Tuned]:
    door = a_failing_doorway(seed)
    return door, tune(door, book())


def changes(choice: Choice) -> tuple[Change, ...]:
    return tuple(one.change for one in choice.settings)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(MANY))
def test_the_best_is_that_of_the_whole_grid(seed: int) -> None:
    _as_the_grid(small(seed, 7))


@pytest.mark.parametrize("seed", [3])
def test_the_best_of_few_ways_is_that_of_their_grid(seed: int) -> None:
    _as_the_grid(small(seed, 2), fewer=1)


def _as_the_grid(door: Doorway, fewer: int = FEWER) -> None:
    rules = presence_only(book())
    found = tune(door, rules)
    best, many = best_of(door, rules)
    assert key_of(door, rules, changes(found.best)) == best
    assert found.work.gap == 0.0
    assert found.work.grid == many
    assert found.work.studies * fewer <= many


@pytest.mark.parametrize("seed", SEEDS)
def test_no_must_is_worse_and_no_failure_is_hidden(seed: int) -> None:
    _, found = tuned(seed)
    for choice in found.front:
        _spoils_nothing(found.before, choice.study)


def _spoils_nothing(before: Study, after: Study) -> None:
    then = {one.key: one for one in after.findings}
    for was in before.findings:
        now = then.get(was.key)
        if now is None or was.weight is Weight.ADVICE:
            continue
        hidden = was.verdict is Verdict.FAILS and now.verdict is Verdict.NOT_SHOWN
        assert not hidden, was.key
        if was.weight is Weight.MUST:
            assert WORSE[now.verdict] <= WORSE[was.verdict], was.key


@pytest.mark.parametrize("seed", SEEDS)
def test_a_should_is_given_up_only_for_what_weighs_more(seed: int) -> None:
    _, found = tuned(seed)
    after, keys = found.best.study, {one.key for one in found.best.study.findings}
    before = [one for one in found.before.findings if one.key in keys]
    then = {one.key: one for one in before if one.weight is Weight.SHOULD}
    given_up = [
        one
        for one in after.findings
        if one.key in then and WORSE[one.verdict] > WORSE[then[one.key].verdict]
    ]
    if given_up:
        assert standing(after.findings) < standing(before)


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_printed_gives_the_study_that_is_printed(seed: int) -> None:
    door, found = tuned(seed)
    for choice in found.front:
        again = study(apply(door, changes(choice)), book())
        assert again.findings == choice.study.findings


@pytest.mark.parametrize("seed", SEEDS)
def test_rows_move_only_to_where_all_of_presence_holds(seed: int) -> None:
    _, found = tuned(seed)
    aimed = ("settings.tilt", "read.first_row")
    if not any(one.setting in aimed for one in found.best.settings):
        return
    proofs = [
        one
        for one in found.best.study.findings
        if one.question in ("presence.threshold", "presence.leaf_path")
        and one.weight is Weight.MUST
        and one.case != "near closed"
    ]
    assert {one.verdict for one in proofs} == {Verdict.HOLDS}
