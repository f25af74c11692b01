"""Binding a rulebook to the questions: every limit a question needs, in its unit.

Done once, before the first question is asked, so that a spelling mistake in a
rulebook is a fault of the rulebook and not a wrong answer about a door.
"""

from collections.abc import Collection, Iterable, Mapping

from limen.quantity import Dimension
from limen.rules.mistakes import Mistake, RulebookError
from limen.rules.rule import Rule
from limen.rules.rulebook import Rulebook


def bind(
    rulebook: Rulebook,
    needs: Mapping[str, Mapping[str, Dimension]],
    facts: Collection[str] | None = None,
) -> Rulebook:
    """Make sure that the questions can use the rulebook.

    A limit that ships unset is there: the question knows that it lacks it.

    Args:
        rulebook: with the firm's own figures in place.
        needs: for every question the limits it needs, with their dimensions.
        facts: names of the facts a doorway can state; None leaves the conditions
            unchecked.

    Returns:
        The same rulebook.

    Raises:
        RulebookError: every unknown question and fact, and every limit that is
            missing, unknown or of another dimension.
    """
    mistakes = [
        Mistake(rulebook.mark, rule.id, key, why)
        for rule in rulebook.rules
        for key, why in (*_limits(rule, needs), *_facts(rule, facts))
    ]
    if mistakes:
        raise RulebookError(mistakes)
    return rulebook


def _limits(
    rule: Rule, needs: Mapping[str, Mapping[str, Dimension]]
) -> Iterable[tuple[str, str]]:
    if rule.question not in needs:
        yield "question", f"{rule.question!r} is no question limen asks"
        return
    needed = needs[rule.question]
    for name, dimension in needed.items():
        if name in rule.unset:
            continue
        if name not in rule.limits:
            yield f"limits.{name}", f"is missing; a {dimension} is needed"
        elif rule.dimensions[name] is not dimension:
            found = rule.dimensions[name]
            yield f"limits.{name}", f"is a {found}; a {dimension} is needed"
    for name in (*rule.limits, *rule.unset):
        if name not in needed:
            listed = ", ".join(needed) or "none"
            yield f"limits.{name}", f"nobody asks for it; asked for: {listed}"


def _facts(rule: Rule, facts: Collection[str] | None) -> Iterable[tuple[str, str]]:
    for fact in rule.where:
        if facts is not None and fact not in facts:
            yield f"where.{fact}", "no doorway can state this fact"
