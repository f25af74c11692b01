from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.rules import Excluded, Rule, Unsettled
from limen.rules.selecting import ambiguous, select
from rules.books import book, rule

GENERAL = rule("general")
SCHOOL = rule("school", use=["school", "nursery"])
ESCAPE = rule("escape", use="school", escape=True)


def chosen(*rules: Rule, **facts: Any) -> str:
    found = select("leaf.gaps", rules, facts)
    assert isinstance(found, Rule)
    return found.id


def test_a_rule_without_conditions_always_applies() -> None:
    assert chosen(GENERAL) == "general"


def test_all_conditions_must_be_met_each_by_one_of_its_values() -> None:
    assert chosen(SCHOOL, use="nursery") == "school"
    assert chosen(ESCAPE, use="school", escape=True) == "escape"


def test_the_fact_that_excludes_a_rule_is_named_with_who_said_so() -> None:
    found = select("leaf.gaps", [ESCAPE], {"use": "shop"}, said_by="survey")
    assert found == Excluded("leaf.gaps", "use", "shop", "survey")
    found = select("leaf.gaps", [ESCAPE], {"use": "school", "escape": False})
    assert found == Excluded("leaf.gaps", "escape", False, "doorway")


def test_a_question_without_a_rule_is_excluded_by_the_rulebook() -> None:
    found = book().rule_for("leaf.mechanics", {})
    assert found == Excluded("leaf.mechanics", "rulebook", None, "house 1")


@pytest.mark.parametrize("use", [None, "absent"])
def test_a_fact_nobody_stated_excludes_nothing_and_is_asked_for(
    use: str | None,
) -> None:
    facts = {} if use == "absent" else {"use": use}
    assert select("leaf.gaps", [ESCAPE], facts) == Unsettled(
        "leaf.gaps", ("use", "escape")
    )


def test_a_missing_fact_does_not_matter_where_another_excludes_the_rule() -> None:
    found = select("leaf.gaps", [ESCAPE], {"escape": False})
    assert found == Excluded("leaf.gaps", "escape", False, "doorway")


def test_of_nested_rules_the_narrowest_applies() -> None:
    rules = (GENERAL, ESCAPE, SCHOOL)
    assert not ambiguous(rules)
    assert chosen(*rules, use="school", escape=True) == "escape"
    assert chosen(*rules, use="school", escape=False) == "school"
    assert chosen(*rules, use="shop", escape=True) == "general"


def test_a_narrower_rule_that_may_apply_leaves_the_choice_unsettled() -> None:
    found = select("leaf.gaps", [GENERAL, SCHOOL], {})
    assert found == Unsettled("leaf.gaps", ("use",))


def test_rules_of_other_questions_are_passed_over() -> None:
    other = rule("other", question="presence.threshold")
    assert chosen(other, GENERAL) == "general"
    assert not ambiguous([other, GENERAL])


def test_rules_that_overlap_without_one_being_the_narrower_are_ambiguous() -> None:
    public = rule("public", public=True)
    assert ambiguous([SCHOOL, public]) == ((SCHOOL, public),)
    assert ambiguous([GENERAL, rule("too")]) != ()
    assert ambiguous([rule("a", use="shop"), SCHOOL]) == ()


@pytest.mark.parametrize("said", [3, 1, ["school"], 2.5])
def test_a_fact_that_is_neither_word_nor_yes_or_no_is_the_callers_fault(
    said: object,
) -> None:
    with pytest.raises(TypeError, match="use"):
        select("leaf.gaps", [SCHOOL], {"use": said})


WHERE = st.dictionaries(
    st.sampled_from(["a", "b", "c"]),
    st.lists(st.sampled_from(["x", "y", "z"]), min_size=1, unique=True),
)
FACTS = st.fixed_dictionaries(dict.fromkeys("abc", st.sampled_from(["x", "y", "z"])))


@given(wheres=st.lists(WHERE, max_size=4), facts=FACTS)
def test_known_facts_choose_a_rule_that_applies_and_none_narrower_does(
    wheres: list[dict[str, Any]], facts: dict[str, str]
) -> None:
    rules = [rule(str(number), **where) for number, where in enumerate(wheres)]
    if ambiguous(rules):
        return
    applying = [one for one in rules if applies(one, facts)]
    found = select("leaf.gaps", rules, facts)
    if not applying:
        assert isinstance(found, Excluded)
        return
    assert found in applying
    assert isinstance(found, Rule)
    assert all(admits(one, found) for one in applying)


@given(
    wheres=st.lists(WHERE, max_size=4),
    facts=FACTS,
    hidden=st.sets(st.sampled_from("abc")),
)
def test_stating_more_facts_never_changes_an_answer_already_given(
    wheres: list[dict[str, Any]], facts: dict[str, str], hidden: set[str]
) -> None:
    rules = [rule(str(number), **where) for number, where in enumerate(wheres)]
    if ambiguous(rules):
        return
    few = {fact: said for fact, said in facts.items() if fact not in hidden}
    early, late = select("leaf.gaps", rules, few), select("leaf.gaps", rules, facts)
    if isinstance(early, Rule):
        assert early is late
    if isinstance(early, Excluded):
        assert isinstance(late, Excluded)


def applies(one: Rule, facts: dict[str, str]) -> bool:
    return all(facts[fact] in accepted for fact, accepted in one.where.items())


def admits(wide: Rule, narrow: Rule) -> bool:
    """Whether every doorway that meets the narrow rule meets the wide one."""
    return all(
        set(narrow.where.get(fact, "xyz")) <= set(accepted)
        for fact, accepted in wide.where.items()
    )
