"""What the tests of published figures share: the rulebooks as they ship."""

from functools import cache
from typing import Literal

from limen.quantity import (
    Comparison,
    Outcome,
    Quantity,
    at_least,
    at_most,
    parse,
)
from limen.rules import Rule, Rulebook
from limen.store.bookshelf import open_shelf


@cache
def shipped(name: str, edition: str) -> Rulebook:
    return open_shelf().edition(name, edition)


def rule_of(book: Rulebook, question: str) -> Rule:
    found = book.rule_for(question, {})
    assert isinstance(found, Rule)
    return found


def rule_for(book: Rulebook, question: str, **facts: object) -> Rule:
    """The rule for a doorway of which these facts are stated."""
    found = book.rule_for(question, facts)
    assert isinstance(found, Rule)
    return found


def says_of(
    rule: Rule, limit: str, found: str, how: Literal["at least", "at most"]
) -> Outcome:
    """What is said of a measured value under one rule."""
    measured = parse(found, rule.dimensions[limit])
    compare = at_least if how == "at least" else at_most
    return compare(measured, rule.limit(limit)).outcome


def figures(book: Rulebook) -> dict[tuple[str, str], Quantity]:
    """Every figure of a rulebook by question and limit."""
    return {
        (rule.question, name): figure
        for rule in book.rules
        for name, figure in rule.limits.items()
    }


def unset(book: Rulebook) -> set[tuple[str, str]]:
    return {(rule.question, name) for rule in book.rules for name in rule.unset}


def compared(
    book: Rulebook,
    question: str,
    limit: str,
    found: str,
    how: Literal["at least", "at most"],
) -> Comparison:
    """A measured value against a limit of the rulebook."""
    rule = rule_of(book, question)
    measured = parse(found, rule.dimensions[limit])
    compare = at_least if how == "at least" else at_most
    return compare(measured, rule.limit(limit))


def says(
    book: Rulebook,
    question: str,
    limit: str,
    found: str,
    how: Literal["at least", "at most"],
) -> Outcome:
    return compared(book, question, limit, found, how).outcome
