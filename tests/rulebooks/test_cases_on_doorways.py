"""The cases that rulebooks carry, put to the real questions.

`bind` makes sure of the limits, the comparisons run through `limen.quantity`, the
doorways through the questions themselves.
"""

import pytest

from builders.doorways import a_doorway
from limen.findings import Verdict
from limen.quantity import at_least, at_most
from limen.questions import QUESTIONS
from limen.questions.asking import Asked
from limen.questions.settled import settle
from limen.rules import Rule, Rulebook, RuleCase, Weight, bind
from limen.store.bookshelf import open_shelf

NEEDS = {name: question.limits for name, question in QUESTIONS.items()}


def its_own(book: Rulebook) -> list[Rule]:
    """All rules; of a rulebook laid on another one those that it touches."""
    touched = {one.rule for one in book.differences}
    return [rule for rule in book.rules if not book.base or rule.id in touched]


SHELF = open_shelf()
EDITIONS = [book.key for book in SHELF.books]
BOOKS = [SHELF.edition(*key) for key in EDITIONS]
RULES = [rule for book in BOOKS for rule in its_own(book)]


def cases(kind: str) -> list[object]:
    return [
        pytest.param(rule, case, id=f"{rule.id}: {case.title}")
        for rule in RULES
        for case in rule.cases
        if getattr(case, kind)
    ]


def said(rule: Rule, changes: object = None) -> set[Verdict]:
    """The verdicts that are not only advice."""
    doorway = a_doorway(changes)  # pyright: ignore[reportArgumentType]
    asked = Asked(doorway, settle(doorway), rule)
    found = QUESTIONS[rule.question].ask(asked)
    return {f.verdict for f in found if f.weight is not Weight.ADVICE}


@pytest.mark.parametrize("key", EDITIONS, ids=" ".join)
def test_every_edition_has_the_limits_that_its_questions_need(
    key: tuple[str, str],
) -> None:
    assert bind(SHELF.edition(*key), NEEDS)


@pytest.mark.parametrize(("rule", "case"), cases("doorway"))
def test_a_doorway_of_a_case_gets_the_verdict_it_says(
    rule: Rule, case: RuleCase
) -> None:
    verdicts = said(rule, case.doorway)
    if case.says == "fails":
        assert Verdict.FAILS in verdicts
    else:
        assert verdicts == {Verdict(case.says)}


@pytest.mark.parametrize(("rule", "case"), cases("given"))
def test_a_comparison_of_a_case_gets_the_verdict_it_says(
    rule: Rule, case: RuleCase
) -> None:
    assert case.given
    compare = at_least if case.given.compare == "at least" else at_most
    assert compare(case.given.found, rule.limit(case.given.limit)).outcome == case.says


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_nothing_fails_of_the_reference_doorway(rule: Rule) -> None:
    assert Verdict.FAILS not in said(rule)


def test_there_are_cases_of_both_kinds() -> None:
    assert len(cases("doorway")) >= 10
    assert len(cases("given")) >= 20
