"""Which rule of a question applies to a doorway, by the facts stated about it.

A condition reads "this fact is that value", or "is one of those values", and a
rule applies when all its conditions are met. Facts are words or yes and no. A
fact nobody stated (absent or None) excludes nothing.
"""

from collections.abc import Iterable, Mapping
from itertools import combinations

from limen.rules.rule import Excluded, Rule, Unsettled

Where = Mapping[str, tuple[str | bool, ...]]


def select(
    question: str,
    rules: Iterable[Rule],
    facts: Mapping[str, object],
    *,
    said_by: str = "doorway",
    shelf_mark: str = "rulebook",
) -> Rule | Excluded | Unsettled:
    """Choose the rule that applies; of nested ones, the narrowest.

    Args:
        question: the question that is asked.
        rules: rules of a rulebook; those of other questions are passed over.
        facts: facts of the doorway by name.
        said_by: who stated the facts.
        shelf_mark: rulebook and edition, named when it has no such rule.

    Returns:
        The rule; or the fact that excludes all of them; or the missing facts on
        which it hangs.

    Raises:
        TypeError: a fact that decides is neither a word nor yes or no.
    """
    asked = [rule for rule in rules if rule.question == question]
    missing = _missing(asked, facts)
    if missing:
        return Unsettled(question, missing)
    matching = [rule for rule in asked if _excluding(rule.where, facts) is None]
    if matching:
        return max(matching, key=lambda rule: len(_narrower_than(rule, matching)))
    return _excluded(question, asked, facts, said_by, shelf_mark)


def ambiguous(rules: Iterable[Rule]) -> tuple[tuple[Rule, Rule], ...]:
    """Pairs that could both apply to one doorway, neither being the narrower.

    Args:
        rules: rules of a rulebook.

    Returns:
        Pairs of rules of the same question; a usable rulebook has none.
    """
    return tuple(
        (one, other)
        for one, other in combinations(rules, 2)
        if one.question == other.question
        and not disjoint(one.where, other.where)
        and _narrower(one.where, other.where) == _narrower(other.where, one.where)
    )


def _excluded(
    question: str,
    asked: list[Rule],
    facts: Mapping[str, object],
    said_by: str,
    shelf_mark: str,
) -> Excluded:
    if not asked:
        return Excluded(question, "rulebook", None, shelf_mark)
    fact = _excluding(asked[0].where, facts)
    if fact is None:
        raise AssertionError("a rule without an excluding fact applies")
    return Excluded(question, fact, _stated(fact, facts), said_by)


def _missing(asked: list[Rule], facts: Mapping[str, object]) -> tuple[str, ...]:
    """Facts nobody stated, of rules that no stated fact excludes."""
    return tuple(
        dict.fromkeys(
            fact
            for rule in asked
            if _excluding(rule.where, facts) is None
            for fact in rule.where
            if _stated(fact, facts) is None
        )
    )


def _excluding(where: Where, facts: Mapping[str, object]) -> str | None:
    """The first fact that is stated and not among the values asked for."""
    for fact, accepted in where.items():
        said = _stated(fact, facts)
        if said is not None and said not in accepted:
            return fact
    return None


def _stated(fact: str, facts: Mapping[str, object]) -> str | bool | None:
    said = facts.get(fact)
    if said is None or isinstance(said, str | bool):
        return said
    raise TypeError(
        f"fact {fact!r} is {said!r}; a rule can only ask for a word or yes and no"
    )


def _narrower_than(rule: Rule, others: list[Rule]) -> list[Rule]:
    return [other for other in others if _narrower(rule.where, other.where)]


def _narrower(one: Where, other: Where) -> bool:
    """Whether every doorway that meets ``one`` meets ``other``, not the reverse."""
    return within(one, other) and not within(other, one)


def within(one: Where, other: Where) -> bool:
    """Whether every doorway that meets ``one`` meets ``other``.

    Args:
        one: conditions by fact.
        other: the same.
    """
    return all(
        fact in one and set(one[fact]) <= set(accepted)
        for fact, accepted in other.items()
    )


def disjoint(one: Where, other: Where) -> bool:
    """Whether no doorway meets both.

    Args:
        one: conditions by fact.
        other: the same.
    """
    return any(fact in other and not set(one[fact]) & set(other[fact]) for fact in one)
