import pytest

from limen.quantity import Dimension
from limen.rules import RulebookError, bind
from rules.books import book

NEEDS = {
    "leaf.gaps": {"small": Dimension.LENGTH, "wide": Dimension.LENGTH},
    "presence.hold_time": {"hold": Dimension.TIME},
    "mounting.height": {},
}


def why(needs: dict[str, dict[str, Dimension]]) -> list[str]:
    with pytest.raises(RulebookError) as caught:
        bind(book(), needs)
    return [f"{one.key}: {one.why}" for one in caught.value.mistakes]


def test_a_rulebook_with_every_limit_in_its_dimension_is_bound_unchanged() -> None:
    assert bind(book(), NEEDS) == book()


def test_a_limit_that_ships_unset_is_not_missing() -> None:
    assert book().rules[1].unset
    bind(book(), NEEDS)


def test_a_missing_limit_is_refused() -> None:
    needs = {**NEEDS, "leaf.gaps": {**NEEDS["leaf.gaps"], "edge": Dimension.LENGTH}}
    assert why(needs) == ["limits.edge: is missing; a length is needed"]


def test_a_limit_of_another_dimension_is_refused() -> None:
    needs = {**NEEDS, "leaf.gaps": dict.fromkeys(("small", "wide"), Dimension.TIME)}
    assert why(needs) == [
        "limits.small: is a length; a time is needed",
        "limits.wide: is a length; a time is needed",
    ]


def test_a_limit_nobody_asks_for_is_refused_for_it_would_seem_in_force() -> None:
    needs = {**NEEDS, "leaf.gaps": {"small": Dimension.LENGTH}}
    assert why(needs) == ["limits.wide: nobody asks for it; asked for: small"]


def test_a_rule_for_a_question_nobody_asks_is_refused() -> None:
    needs = {"presence.hold_time": NEEDS["presence.hold_time"]}
    assert why(needs) == ["question: 'leaf.gaps' is no question limen asks"]


def test_a_condition_no_doorway_can_state_is_refused() -> None:
    bind(book(), NEEDS, facts=("public", "use"))
    with pytest.raises(RulebookError, match=r"where\.use: no doorway can state"):
        bind(book(), NEEDS, facts=("public",))


def test_all_mistakes_are_reported_at_once() -> None:
    assert len(why({"leaf.gaps": {"tall": Dimension.LENGTH}})) == 4
