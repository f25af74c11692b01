from datetime import date
from typing import Any

import pytest

from limen.quantity import Grade
from limen.rules import Override, RulebookError, override, read_values
from rules.books import HOLD_RULE, WIDTH_RULE, book

HOLD = {
    "rule": HOLD_RULE,
    "limit": "hold",
    "value": "60 s",
    "source": "own copy, page 12",
    "by": "R. Reader",
    "on": date(2026, 3, 2),
}
SMALL = {**HOLD, "rule": WIDTH_RULE, "limit": "small", "value": "6 mm"}


def values(*entries: dict[str, Any]) -> Any:
    return read_values({"value": list(entries)}, "firm.toml")


def why(*entries: dict[str, Any]) -> str:
    with pytest.raises(RulebookError) as caught:
        override(book(), values(*entries))
    return str(caught.value)


def test_a_firms_figure_replaces_the_rulebooks_and_has_the_grade_own() -> None:
    rule = override(book(), values(SMALL)).rules[0]
    assert rule.limit("small").value == pytest.approx(0.006, abs=1e-12)
    assert rule.limit("small").grade is Grade.OWN
    assert rule.limit("small").origin == "own copy, page 12"


def test_what_was_replaced_is_recorded_with_old_and_new() -> None:
    before = book()
    after = override(before, values(SMALL))
    assert after.overrides == (
        Override(
            WIDTH_RULE,
            "small",
            before.rules[0].limit("small"),
            after.rules[0].limit("small"),
            "own copy, page 12",
            "R. Reader",
            date(2026, 3, 2),
        ),
    )
    assert after.digest == before.digest


def test_a_limit_that_shipped_unset_gets_its_figure() -> None:
    after = override(book(), values(HOLD))
    rule = after.rules[1]
    assert rule.limit("hold").value == 60.0
    assert not rule.unset
    assert after.overrides[0].old is None


def test_the_source_of_an_overridden_limit_says_who_entered_it() -> None:
    source = override(book(), values(HOLD)).rules[1].source("hold")
    assert source.grade is Grade.OWN
    assert source.note == "entered by R. Reader on 2026-03-02: own copy, page 12"


def test_the_rulebook_that_ships_stays_as_it_was() -> None:
    before = book()
    override(before, values(HOLD, SMALL))
    assert before == book()


def test_other_limits_and_the_order_of_rules_stay() -> None:
    after = override(book(), values(SMALL))
    assert [rule.id for rule in after.rules] == [WIDTH_RULE, HOLD_RULE]
    assert after.rules[0].limit("wide") == book().rules[0].limit("wide")


def test_two_figures_of_one_rule_are_both_put_in() -> None:
    wide = {**SMALL, "limit": "wide", "value": "30 mm"}
    rule = override(book(), values(SMALL, wide)).rules[0]
    assert rule.limit("small").grade is rule.limit("wide").grade is Grade.OWN


def test_figures_for_another_edition_or_rulebook_are_not_put_in() -> None:
    other = {**HOLD, "rule": "house.2.presence.hold_time"}
    near = {**HOLD, "rule": "house.10.presence.hold_time"}
    assert override(book(), values(other, near)) == book()


def test_an_unknown_rule_or_limit_is_refused() -> None:
    unknown_rule = {**HOLD, "rule": "house.1.presence.hold_timer"}
    unknown_limit = {**SMALL, "limit": "smallest"}
    text = why(unknown_rule, unknown_limit)
    assert "no such rule" in text
    assert "no such limit; known: small, wide" in text


def test_a_figure_of_another_dimension_is_refused() -> None:
    assert "is a time; this limit is a length" in why({**SMALL, "value": "6 s"})


@pytest.mark.parametrize("key", sorted(HOLD))
def test_an_entry_without_one_of_its_keys_is_refused(key: str) -> None:
    entry = {name: said for name, said in HOLD.items() if name != key}
    assert f"value[1].{key}: is missing" in why(entry)


def test_an_entry_with_a_key_too_many_is_refused() -> None:
    assert "value[1].grade: unknown key" in why({**HOLD, "grade": "seen"})


def test_a_firms_figure_claims_no_other_grade() -> None:
    assert "has the grade own, not seen" in why({**HOLD, "value": "60 s, seen"})


def test_a_bare_number_is_refused() -> None:
    assert "firm.toml, value[1].value" in why({**HOLD, "value": "60"})
    assert "firm.toml, value[1].value" in why({**HOLD, "value": 60})


def test_a_limit_is_entered_once() -> None:
    assert "2 times" in why(HOLD, {**HOLD, "value": "30 s"})


def test_a_rule_whose_every_figure_the_firm_entered_is_confirmed_itself() -> None:
    """Else its grade would go on capping verdicts on the firm's own figures."""
    assert book().rules[1].authority.grade is Grade.UNSURE
    assert override(book(), values(HOLD)).rules[1].authority.grade is Grade.OWN
    wide = {**SMALL, "limit": "wide", "value": "30 mm"}
    assert override(book(), values(wide)).rules[0].authority.grade is Grade.SEEN
    both = override(book(), values(wide, SMALL)).rules[0]
    assert both.authority.grade is Grade.OWN
    assert both.authority.clause == "4.2"
