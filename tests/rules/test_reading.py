import pickle
from typing import Any

import pytest

from limen.quantity import Dimension, Grade
from limen.rules import (
    Mistake,
    Rule,
    RulebookError,
    Weight,
    read_edition,
    read_rulebook,
)
from rules.books import HOLD_RULE, WIDTH_RULE, book, files

TOPIC = "10-topics.toml"


def mistakes_after(change: Any) -> dict[tuple[str, str], str]:
    """Mistakes by rule and key, of a sound rulebook to which a change was made."""
    changed = files()
    change(changed)
    with pytest.raises(RulebookError) as caught:
        read_rulebook(changed)
    return {(one.rule, one.key): one.why for one in caught.value.mistakes}


def width_rule() -> Rule:
    return book().rules[0]


def test_a_limit_is_read_in_si_units_with_grade_and_origin() -> None:
    small = width_rule().limit("small")
    assert small.value == pytest.approx(0.008, abs=1e-12)
    assert small.grade is Grade.SEEN
    assert small.origin == "House paper, 4.2"
    assert width_rule().dimensions["small"] is Dimension.LENGTH


def test_a_limit_may_rest_on_a_source_of_its_own() -> None:
    rule = width_rule()
    assert rule.limit("wide").value == pytest.approx(0.0254, abs=1e-12)
    assert rule.limit("wide").grade is Grade.MEMORY
    assert rule.source("wide").clause == "7.1"
    assert rule.source("small") == rule.authority
    assert [one.clause for one in rule.authorities()] == ["4.2", "7.1"]


def test_a_limit_that_ships_unset_has_no_figure_and_says_why() -> None:
    rule = book().rules[1]
    assert not rule.has("hold")
    assert rule.unset == {"hold": "nobody saw the figure"}
    with pytest.raises(RulebookError, match="nobody saw the figure"):
        rule.limit("hold")


def test_a_limit_nobody_defined_is_told_from_one_that_is_unset() -> None:
    with pytest.raises(RulebookError, match="no limit of this rule"):
        width_rule().limit("height")


def test_the_clause_is_that_of_the_edition_and_else_to_be_confirmed() -> None:
    assert width_rule().authority.clause == "4.2"
    changed = files()
    changed[TOPIC]["rule"][0]["source"]["clause"] = {"2": "5.1"}
    unknown = read_rulebook(changed).rules[0].authority
    assert unknown.clause == "tbc"
    assert not unknown.clause_known


def test_weight_strictness_and_conditions_are_read() -> None:
    rule = book().rules[1]
    assert rule.weight is Weight.SHOULD
    assert rule.stricter
    assert rule.where == {"public": (True,), "use": ("shop", "school")}
    assert not width_rule().stricter


def test_a_trailing_grade_word_outranks_the_grade_of_the_source() -> None:
    changed = files()
    changed[TOPIC]["rule"][0]["limits"]["small"] = "8 mm ± 1 mm, estimate"
    changed[TOPIC]["rule"][0]["case"][0]["says"] = "not shown"
    small = read_rulebook(changed).rules[0].limit("small")
    assert small.grade is Grade.ESTIMATE
    assert small.u == pytest.approx(0.001, abs=1e-12)


def test_all_mistakes_of_all_files_are_reported_at_once() -> None:
    def break_much(changed: dict[str, Any]) -> None:
        del changed["book.toml"]["title"]
        width, hold = changed[TOPIC]["rule"]
        width["limits"]["small"] = "8"
        width["weight"] = "shall"
        width["sauce"] = {}
        del hold["asks"]
        hold["source"]["document"] = "Another paper"

    assert mistakes_after(break_much).keys() == {
        ("", "title"),
        (WIDTH_RULE, "limits.small"),
        (WIDTH_RULE, "case[1].given.limit"),
        (WIDTH_RULE, "case[2].given.limit"),
        (WIDTH_RULE, "weight"),
        (WIDTH_RULE, "sauce"),
        (HOLD_RULE, "asks"),
        (HOLD_RULE, "source.document"),
    }


@pytest.mark.parametrize(
    ("figure", "why"),
    [
        ("8", 'a bare number has no unit; accepted: a number with its unit, as "700'),
        (8, "8 found; a text or a table"),
        ("8 cubits", "no unit known here"),
        ("99999999 V", "out of bounds"),
        ("0,8 m", "0.8 m"),
        ("8 lbs", "write 8 lb or"),
        ("", "a text in quotes"),
        ("8 mm, unsure", "ships without value"),
        ({"value": "8 mm"}, "is missing"),
        ({"unset": ""}, "a text in quotes"),
        (["8 mm"], "a text or a table"),
    ],
)
def test_a_figure_that_is_none_is_refused_with_what_is_accepted(
    figure: object, why: str
) -> None:
    def put(changed: dict[str, Any]) -> None:
        changed[TOPIC]["rule"][0]["limits"]["wide"] = figure

    found = mistakes_after(put)
    assert {rule for rule, _ in found} == {WIDTH_RULE}
    assert any(why in text for text in found.values())


@pytest.mark.parametrize(
    ("key", "value", "place"),
    [
        ("id", "house.2.leaf.gaps", "id"),
        ("id", "house.1.leaf.gapsy", "id"),
        ("weight", 3, "weight"),
        ("stricter", "yes", "stricter"),
        ("where", {"wide": 3}, "where.wide"),
        ("where", {"wide": []}, "where.wide"),
        ("where", "wide", "where"),
        ("limits", ["8 mm"], "limits"),
        ("source", None, "source"),
        ("case", {"title": "x"}, "case"),
        ("case", ["x"], "case[1]"),
    ],
)
def test_a_key_of_the_wrong_kind_is_refused_at_its_place(
    key: str, value: object, place: str
) -> None:
    def put(changed: dict[str, Any]) -> None:
        changed[TOPIC]["rule"][0][key] = value

    assert place in {where for _, where in mistakes_after(put)}


@pytest.mark.parametrize(
    ("key", "value", "place"),
    [
        ("grade", "sure", "source.grade"),
        ("grade", "A", "source.grade"),
        ("seen_in", "", "source.seen_in"),
        ("seen_in", None, "source.seen_in"),
        ("clause", None, "source.clause"),
        ("clause", {"1": 4.2}, "source.clause.1"),
        ("page", "12", "source.page"),
    ],
)
def test_a_source_is_complete_or_refused(key: str, value: object, place: str) -> None:
    def put(changed: dict[str, Any]) -> None:
        changed[TOPIC]["rule"][0]["source"][key] = value

    assert (WIDTH_RULE, place) in mistakes_after(put)


def test_only_a_figure_said_to_be_seen_needs_the_place_where_it_was() -> None:
    changed = files()
    source = changed[TOPIC]["rule"][0]["source"]
    source["grade"] = "memory"
    del source["seen_in"]
    assert read_rulebook(changed).rules[0].authority.grade is Grade.MEMORY


@pytest.mark.parametrize("left", [0, 1])
def test_a_rule_with_figures_needs_a_case_on_each_side(left: int) -> None:
    def drop(changed: dict[str, Any]) -> None:
        rule = changed[TOPIC]["rule"][0]
        rule["case"] = [rule["case"][left]]

    missing = ("holds", "fails")[1 - left]
    assert missing in mistakes_after(drop)[WIDTH_RULE, "case"]


@pytest.mark.parametrize(
    ("given", "place"),
    [
        ({"limit": "tall", "found": "8 mm", "compare": "at most"}, "limit"),
        ({"limit": "small", "found": "8 s", "compare": "at most"}, "found"),
        ({"limit": "small", "found": "8", "compare": "at most"}, "found"),
        ({"limit": "small", "found": "8 mm", "compare": "under"}, "compare"),
        ({"limit": "small", "found": "8 mm", "at": "most"}, "compare"),
    ],
)
def test_a_case_compares_with_a_limit_of_its_rule(
    given: dict[str, str], place: str
) -> None:
    def put(changed: dict[str, Any]) -> None:
        changed[TOPIC]["rule"][0]["case"][0]["given"] = given

    assert (WIDTH_RULE, f"case[1].given.{place}") in mistakes_after(put)


def test_a_case_is_a_comparison_or_a_doorway_and_not_both() -> None:
    def put(changed: dict[str, Any]) -> None:
        one, other = changed[TOPIC]["rule"][0]["case"]
        one["doorway"] = {"rows_at": "84 mm"}
        del other["given"]

    assert mistakes_after(put).keys() == {
        (WIDTH_RULE, "case[1]"),
        (WIDTH_RULE, "case[2]"),
    }


def test_an_id_names_one_rule() -> None:
    def twice(changed: dict[str, Any]) -> None:
        changed[TOPIC]["rule"].append(files()[TOPIC]["rule"][0])

    assert "2 times" in mistakes_after(twice)[WIDTH_RULE, "id"]


def test_two_rules_that_may_both_apply_are_refused() -> None:
    def add(changed: dict[str, Any]) -> None:
        other = files()[TOPIC]["rule"][0]
        other["id"] = f"{WIDTH_RULE}.too"
        changed[TOPIC]["rule"].append(other)

    assert f"{WIDTH_RULE}.too" in mistakes_after(add)[WIDTH_RULE, "where"]


@pytest.mark.parametrize(
    ("key", "value", "place"),
    [
        ("id", "House Rules", "id"),
        ("id", "a.b", "id"),
        ("edition", "../2", "edition"),
        ("valid_from", "2020-01-01", "valid_from"),
        ("valid_until", "never", "valid_until"),
        ("notes", "one", "notes"),
        ("notes", [1], "notes"),
        ("document", [], "document"),
        ("document", [{"name": "House paper"}], "document[1].title"),
        ("author", "me", "author"),
    ],
)
def test_what_names_the_rulebook_is_complete_or_refused(
    key: str, value: object, place: str
) -> None:
    def put(changed: dict[str, Any]) -> None:
        changed["book.toml"][key] = value

    assert ("", place) in mistakes_after(put)


def test_an_edition_does_not_end_before_it_begins() -> None:
    def put(changed: dict[str, Any]) -> None:
        book_ = changed["book.toml"]
        book_["valid_until"] = book_["valid_from"].replace(year=2019)

    assert "before" in mistakes_after(put)["", "valid_until"]


def test_a_rulebook_without_its_naming_file_is_refused() -> None:
    with pytest.raises(RulebookError, match=r"book\.toml: is missing"):
        read_rulebook({TOPIC: files()[TOPIC]})


def test_a_mistake_reads_as_one_line_with_its_place() -> None:
    mistake = Mistake("10.toml", "house.1.x.y", "limits.a", "is missing")
    assert str(mistake) == "10.toml, house.1.x.y, limits.a: is missing"
    assert str(RulebookError([mistake, mistake])).count("\n") == 1


def test_rulebook_and_error_cross_a_process_border_whole() -> None:
    assert pickle.loads(pickle.dumps(book())) == book()  # noqa: S301
    error = RulebookError.of("f", "r", "k", "w")
    again = pickle.loads(pickle.dumps(error))  # noqa: S301
    assert again.mistakes == error.mistakes


def test_a_rulebook_lists_the_documents_it_rests_on() -> None:
    def drop(changed: dict[str, Any]) -> None:
        del changed["book.toml"]["document"]

    assert "rests on documents" in mistakes_after(drop)["", "document"]


def test_a_naming_file_can_be_read_by_itself_and_its_mistakes_too() -> None:
    assert read_edition(files()["book.toml"]) == book().valid
    with pytest.raises(RulebookError, match="title: is missing"):
        read_edition({"id": "house", "edition": "1"})
