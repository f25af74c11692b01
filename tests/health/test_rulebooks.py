"""Every rule says who says so, and shows both sides of its limits."""

from collections.abc import Iterator

import pytest

from limen.quantity import Grade
from limen.rules import Rule
from limen.store.bookshelf import open_shelf


def _rules() -> Iterator[Rule]:
    shelf = open_shelf()
    for name in shelf.names():
        for edition in shelf.editions(name):
            yield from shelf.edition(name, edition.edition).rules


def unsourced(rule: Rule) -> Iterator[str]:
    """Authorities of a rule that do not say where the figure stands."""
    for each in rule.authorities():
        seen_nowhere = each.grade is Grade.SEEN and not each.seen_in
        if not each.document or not each.clause or seen_nowhere:
            yield f"{rule.id}: {each.document or 'no document'}"


def one_sided(rule: Rule) -> bool:
    """Whether the cases leave one side of the rule's figures unshown.

    A rule without a figure has no sides. One that rests on an estimate may never
    say *holds*; its other side is *not shown*.
    """
    if not rule.limits:
        return False
    may_hold = all(figure.grade.may_hold for figure in rule.limits.values())
    other = "holds" if may_hold else "not shown"
    return not {"fails", other} <= {case.says for case in rule.cases}


RULES = tuple(_rules())


def test_rulebooks_ship_with_limen() -> None:
    assert len(RULES) > 0


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_every_figure_has_a_source(rule: Rule) -> None:
    assert list(unsourced(rule)) == []


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_every_rule_has_cases_on_both_sides(rule: Rule) -> None:
    assert not one_sided(rule), [case.says for case in rule.cases]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_every_rule_is_about_a_question_that_is_asked(rule: Rule) -> None:
    questions = pytest.importorskip("limen.questions")
    asked = getattr(questions, "QUESTIONS", None)
    if asked is None:
        pytest.skip("there is no register of questions yet")
    assert rule.question in asked
