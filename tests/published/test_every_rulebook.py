"""What is true of every rulebook that ships."""

import re

import pytest

from limen.model.doorway import Doorway
from limen.quantity import Grade, at_least, at_most
from limen.rules import Rule, RuleCase
from limen.store.bookshelf import open_shelf
from published.rulebooks import shipped

BOOKS = [book.key for book in open_shelf().books]
RULES = [rule for key in BOOKS for rule in shipped(*key).rules]
COMPARISONS = [
    pytest.param(rule, case, id=f"{rule.id}: {case.title}")
    for rule in RULES
    for case in rule.cases
    if case.given
]
NAMED_IN_DOORWAYS = {*Doorway.model_fields, "sheet", "rows_at", "contrast_least"}


@pytest.mark.parametrize(("rule", "case"), COMPARISONS)
def test_a_case_lies_on_the_side_of_the_limit_it_says(
    rule: Rule, case: RuleCase
) -> None:
    assert case.given
    compare = at_least if case.given.compare == "at least" else at_most
    found = compare(case.given.found, rule.limit(case.given.limit))
    assert found.outcome == case.says


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_every_limit_of_a_rule_with_comparisons_has_a_case_on_each_side(
    rule: Rule,
) -> None:
    told: dict[str, set[str]] = {}
    for case in rule.cases:
        if case.given:
            told.setdefault(case.given.limit, set()).add(case.says)
    assert all(says == {"holds", "fails"} for says in told.values())


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_a_case_on_a_doorway_uses_names_the_reference_doorway_knows(
    rule: Rule,
) -> None:
    for case in rule.cases:
        named = {re.split(r"[.\[]", key)[0] for key in case.doorway or ()}
        assert named <= NAMED_IN_DOORWAYS


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_every_figure_says_where_it_comes_from(rule: Rule) -> None:
    for limit, figure in rule.limits.items():
        source = rule.source(limit)
        assert source.document
        assert source.document in figure.origin
        assert source.seen_in or figure.grade is not Grade.SEEN


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_a_rule_asks_one_thing_in_one_sentence(rule: Rule) -> None:
    assert rule.asks.endswith(".")
    assert rule.asks.count(". ") == 0
    assert len(rule.asks) < 200


def test_a_question_has_the_same_limits_in_every_rulebook_that_asks_it() -> None:
    shapes: dict[str, set[frozenset[str]]] = {}
    for rule in RULES:
        names = frozenset({*rule.limits, *rule.unset})
        shapes.setdefault(rule.question, set()).add(names)
    assert {name for name, shape in shapes.items() if len(shape) > 1} == set()


def test_one_id_names_one_rule_on_the_whole_shelf() -> None:
    ids = [rule.id for rule in RULES]
    assert len(ids) == len(set(ids))
