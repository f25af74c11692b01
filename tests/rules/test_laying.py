"""An overlay on a rulebook: the stricter figure is in force, both are cited."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.quantity import Dimension, Grade, Outcome, Quantity, parse
from limen.quantity import at_least as is_at_least
from limen.quantity import at_most as is_at_most
from limen.rules import (
    How,
    OwnValue,
    Rulebook,
    RulebookError,
    Weight,
    lay,
    override,
    read_overlay,
    read_rulebook,
    read_values,
)
from rules.books import HOLD_RULE, WIDTH_RULE, book, files
from rules.books import rule as plain_rule
from rules.layers import GAPS, at_least, at_most, laid, layer, overlay, why

TIGHTER = layer(limits={"small": "6 mm"}, case=at_most("small", "6 mm", "7 mm"))
LOOSER = layer(limits={"small": "9 mm"}, case=at_most("small", "8.5 mm", "10 mm"))
SAME = layer(limits={"small": "8 mm"}, case=at_most("small", "8 mm", "9 mm"))


def test_a_rule_it_does_not_touch_is_the_bases_under_its_own_name() -> None:
    (gaps, hold), (_, below) = laid(TIGHTER).rules, book().rules
    assert gaps.id == GAPS
    assert hold == replace(below, id="shop.1.presence.hold_time")


def test_the_stricter_figure_is_in_force_and_both_are_cited() -> None:
    rule = laid(TIGHTER).rules[0]
    assert rule.limit("small").value == pytest.approx(0.006, abs=1e-12)
    assert rule.limit("small").origin == "Shop paper, 9"
    assert rule.limit("wide") == book().rules[0].limit("wide")
    cited = [(one.rulebook, one.document, one.clause) for one in rule.authorities()]
    assert cited == [
        ("house", "House paper", "4.2"),
        ("house", "House paper", "7.1"),
        ("shop", "Shop paper", "9"),
    ]


def test_a_less_strict_figure_yields_and_is_cited_all_the_same() -> None:
    after = laid(LOOSER)
    (rule, _), (difference,) = after.rules, after.differences
    assert rule.limit("small") == book().rules[0].limit("small")
    assert "Shop paper" in {one.document for one in rule.authorities()}
    assert difference.how is How.YIELDS
    assert not difference.changes


@pytest.mark.parametrize(
    ("grade", "in_force"),
    [("seen", "House paper"), ("memory", "House paper"), ("own", "House paper")],
)
def test_of_equal_figures_the_better_known_one_counts_else_the_bases(
    grade: str, in_force: str
) -> None:
    source = {"document": "Shop paper", "clause": "9", "grade": grade}
    if grade == "seen":
        source["seen_in"] = "the counter"
    rule = laid({**SAME, "source": source}).rules[0]
    assert rule.source("small").document == in_force
    assert "Shop paper" in {one.document for one in rule.authorities()}


def test_a_figure_seen_takes_the_place_of_the_same_one_from_memory() -> None:
    same = layer(limits={"wide": "25.4 mm"}, case=at_least("wide", "26 mm", "25 mm"))
    after = laid(same)
    assert after.rules[0].limit("wide").grade is Grade.SEEN
    assert after.rules[0].source("wide").document == "Shop paper"
    assert [one.how for one in after.differences] == [How.AGREES]


def test_a_base_without_a_figure_gets_the_overlays() -> None:
    hold = layer(
        "presence.hold_time",
        limits={"hold": "40 s"},
        case=at_least("hold", "40 s", "39 s"),
    )
    after = laid(hold)
    rule = after.rules[1]
    assert rule.limit("hold").value == 40.0
    assert rule.dimensions["hold"] is Dimension.TIME
    assert not rule.unset
    assert after.differences[0].how is How.FILLS
    # every figure of the rule is the overlay's: so is the rule, and its grade
    assert rule.authority.document == "Shop paper"
    assert [one.document for one in rule.also] == ["House paper"]


def test_a_document_without_a_figure_is_cited() -> None:
    after = laid(layer())
    assert after.differences[0].how is How.CITES
    assert "Shop paper" in {one.document for one in after.rules[0].authorities()}
    assert after.rules[0].limits == book().rules[0].limits


def test_weight_is_raised_and_never_lowered() -> None:
    raised = laid(layer("presence.hold_time", weight="must"))
    lowered = laid(layer(weight="advice"))
    assert raised.rules[1].weight is Weight.MUST
    assert [one.how for one in raised.differences] == [How.CITES, How.RAISES]
    assert lowered.rules[0].weight is Weight.MUST


def test_a_narrower_rule_stands_beside_and_keeps_the_bases_limits() -> None:
    escape = {**TIGHTER, "id": "shop.leaf.gaps.escape", "where": {"escape": True}}
    after = laid(escape)
    plain, narrow = (
        after.rule_for("leaf.gaps", {"escape": said}) for said in (False, True)
    )
    assert plain is after.rules[0]
    assert narrow is after.rules[2]
    assert after.rules[2].limits.keys() == after.rules[0].limits.keys()
    assert after.differences[0].how is How.NARROWS


def test_layers_on_one_rule_are_laid_one_after_the_other() -> None:
    wide = layer(
        id="shop.leaf.gaps.wide",
        limits={"wide": "30 mm"},
        case=at_least("wide", "30 mm", "29 mm"),
    )
    rule = laid(TIGHTER, wide, base=_with("wide", 25)).rules[0]
    assert rule.limit("small").value == pytest.approx(0.006, abs=1e-12)
    assert rule.limit("wide").value == pytest.approx(0.030, abs=1e-12)
    # all its figures now come from the overlay's document
    assert rule.authority.rulebook == "house"


def test_a_rule_of_its_own_is_added() -> None:
    own = layer("leaf.modes", over=None, asks="A mode is marked.", weight="should")
    after = laid(own)
    assert after.rules[2].asks == "A mode is marked."
    assert after.differences[0].how is How.ADDS


def test_a_rule_of_its_own_beside_another_of_its_question_is_refused() -> None:
    beside = layer(id="shop.leaf.gaps.more", over=None, asks="Gaps.", weight="must")
    assert 'say over = "leaf.gaps"' in why(beside)["over"]


def test_a_rule_of_its_own_may_stand_beside_one_for_other_doorways() -> None:
    """The base's is for public doorways only."""
    private = layer(
        id="shop.presence.hold_time.private",
        question="presence.hold_time",
        over=None,
        asks="A still body stays found.",
        weight="must",
        where={"public": False},
    )
    assert len(laid(private).rules) == 3


def test_two_rules_for_doorways_that_overlap_are_refused() -> None:
    narrower = (
        layer(id=f"shop.leaf.gaps.{fact}", where={fact: True})
        for fact in ("escape", "public")
    )
    assert "may apply together" in why(*narrower)["where"]


def test_an_id_names_one_rule_of_an_overlay() -> None:
    assert "stands 2 times" in why(layer(), layer())["id"]


def test_a_rule_is_laid_on_one_of_its_own_question() -> None:
    crossed = layer(over="presence.hold_time", where={"public": True, "use": "shop"})
    assert "within" in why(crossed)["where"]


def test_its_own_sentence_takes_the_place_of_the_bases() -> None:
    said = layer(asks="A gap is closed.")
    assert laid(said).rules[0].asks == "A gap is closed."
    assert laid(layer()).rules[0].asks == book().rules[0].asks


def test_a_rule_without_figures_stays_the_bases_and_cites_the_other() -> None:
    bare = replace(book(), rules=(plain_rule("house.1.leaf.gaps"),))
    rule = laid(layer(), base=bare).rules[0]
    assert rule.authority.document == "House paper"
    assert [one.document for one in rule.also] == ["Shop paper"]


def test_cases_on_limits_that_stay_are_kept() -> None:
    shown = at_least("wide", "26 mm", "25 mm")
    changed = files()
    changed["10-topics.toml"]["rule"][0]["case"] += shown
    rule = laid(TIGHTER, base=read_rulebook(changed)).rules[0]
    assert {"26 mm", "25 mm"} <= {case.title for case in rule.cases}


def test_a_rule_of_its_own_is_whole() -> None:
    assert why(layer("leaf.modes", over=None)).keys() == {"asks", "weight"}


@pytest.mark.parametrize(
    ("entry", "key", "reason"),
    [
        (layer(over="leaf.modes"), "over", "has no rule 'leaf.modes'"),
        (
            layer(limits={"tiny": "1 mm"}, case=at_most("tiny", "1 mm", "2 mm")),
            "limits.tiny",
            "has no such limit",
        ),
        (
            layer(limits={"small": "6 s"}, case=at_most("small", "6 s", "7 s")),
            "limits.small",
            "is a time; the limit it is laid on is a length",
        ),
        (
            layer(limits={"small": "6 mm"}, case=at_least("small", "6 mm", "5 mm")),
            "limits.small",
            "stricter which way? the cases differ",
        ),
        (
            layer(
                limits={"small": "7.5 mm ± 1 mm"}, case=at_most("small", "6 mm", "9 mm")
            ),
            "limits.small",
            "overlap in their ±",
        ),
        (layer(limits={"small": {"unset": "why"}}), "limits.small", "leave out"),
        (layer(editions=["7"]), "editions", "'7' is no edition of the base; 1, 2"),
        (layer(id="shop.gaps"), "id", "must be shop.leaf.gaps"),
        (layer(limits={"small": "6 mm"}), "case", "at least one case"),
        (layer("presence.hold_time", where={"use": "bank"}), "where", "within"),
    ],
)
def test_what_cannot_be_laid_is_refused_with_its_reason(
    entry: dict[str, object], key: str, reason: str
) -> None:
    assert reason in why(entry)[key]


def test_a_limit_whose_direction_nobody_shows_cannot_be_tightened() -> None:
    hidden = layer(
        limits={"wide": "30 mm"},
        case=[
            {"title": "a", "says": "holds", "doorway": {"gap": "31 mm"}},
            {"title": "b", "says": "fails", "doorway": {"gap": "29 mm"}},
        ],
    )
    assert "the cases say nothing" in why(hidden)["limits.wide"]


def test_a_rule_for_other_editions_is_left_out() -> None:
    assert laid({**TIGHTER, "editions": ["2"]}).differences == ()
    assert laid({**TIGHTER, "editions": ["1", "2"]}).differences != ()


def test_cases_that_the_stricter_figure_turns_are_left_out() -> None:
    titles = {case.title: case.says for case in laid(TIGHTER).rules[0].cases}
    assert titles == {"9 mm": "fails", "6 mm": "holds", "7 mm": "fails"}
    titles = {case.title: case.says for case in laid(LOOSER).rules[0].cases}
    assert titles == {"8 mm": "holds", "9 mm": "fails", "10 mm": "fails"}


def test_rules_that_only_stand_in_say_so_and_count_as_stricter() -> None:
    over = replace(overlay(), stands_in="Nobody here asks for it.")
    rule = lay(book(), over).rules[0]
    assert rule.stricter
    assert rule.authority.note == "Nobody here asks for it."
    assert not lay(book(), overlay()).rules[0].stricter
    # what is stricter than its document already stands for nobody else's
    already, below = lay(book(), over).rules[1], book().rules[1]
    assert below.stricter
    assert already.authority == below.authority


def test_a_rule_is_no_longer_stricter_once_a_document_asks_for_all_of_it() -> None:
    engineered = replace(book(), rules=(replace(book().rules[0], stricter=True),))
    both = {**SAME, "limits": {"small": "8 mm", "wide": "1 in"}}
    assert not laid(both, base=engineered).rules[0].stricter
    assert laid(SAME, base=engineered).rules[0].stricter
    assert laid(layer(), base=engineered).rules[0].stricter


def test_it_is_named_dated_and_noted_as_what_it_is() -> None:
    after = laid(TIGHTER)
    assert (after.mark, after.base, after.digest) == ("shop 1", "house", "d2")
    assert after.title == "Shop rules, on House rules"
    assert after.valid.rulebook == "shop"
    assert after.valid.valid_from == book().valid.valid_from
    assert after.notes[0] == "For shops."
    assert [one.name for one in after.documents] == ["House paper", "Shop paper"]


def own(rule: str, limit: str, value: str) -> tuple[OwnValue, ...]:
    entry = {
        "rule": rule,
        "limit": limit,
        "value": value,
        "source": "own copy",
        "by": "R. Reader",
        "on": date(2026, 3, 2),
    }
    return read_values({"value": [entry]}, "firm.toml")


def test_a_firms_figure_for_the_base_counts_before_the_overlay_is_laid() -> None:
    loose = override(book(), own(WIDTH_RULE, "small", "7 mm"))
    strict = override(book(), own(WIDTH_RULE, "small", "5 mm"))
    assert laid(TIGHTER, base=loose).rules[0].limit("small").value == 0.006
    kept = laid(TIGHTER, base=strict).rules[0].limit("small")
    assert kept.value == 0.005
    assert kept.grade is Grade.OWN


def test_a_firms_figure_for_the_overlay_replaces_what_is_in_force_and_is_listed() -> (
    None
):
    after = override(laid(TIGHTER), own(GAPS, "small", "12 mm"))
    assert after.rules[0].limit("small").value == pytest.approx(0.012, abs=1e-12)
    assert [one.rule for one in after.overrides] == [GAPS]


def test_a_rule_the_firm_confirmed_below_stays_confirmed() -> None:
    confirmed = override(book(), own(HOLD_RULE, "hold", "60 s"))
    assert laid(TIGHTER, base=confirmed).rules[1].authority.grade is Grade.OWN


@given(
    below=st.integers(1, 400),
    above=st.integers(1, 400),
    found=st.integers(1, 400),
    upward=st.booleans(),
)
def test_what_holds_under_the_overlay_holds_by_both_figures_and_the_reverse(
    below: int, above: int, found: int, upward: bool
) -> None:
    limit, cases = ("wide", at_least) if upward else ("small", at_most)
    near, far = f"{above - 1} mm", f"{above + 1} mm"
    sides = cases(limit, far, near) if upward else cases(limit, near, far)
    base = _with(limit, below)
    rule = laid(layer(limits={limit: f"{above} mm"}, case=sides), base=base).rules[0]
    compare = is_at_least if upward else is_at_most
    measured = parse(f"{found} mm", Dimension.LENGTH)
    by_each = [
        compare(measured, parse(f"{figure} mm", Dimension.LENGTH)).outcome
        for figure in (below, above)
    ]
    holds = compare(measured, rule.limit(limit)).outcome is Outcome.HOLDS
    assert holds is (set(by_each) == {Outcome.HOLDS})


def _with(limit: str, millimetres: int) -> Rulebook:
    """The invented rulebook with another figure, and a case that tells which way."""
    rulebook = book()
    rule = rulebook.rules[0]
    figure = Quantity(millimetres / 1000, grade=Grade.SEEN)
    way = "at least" if limit == "wide" else "at most"
    cases = tuple(
        replace(one, given=replace(one.given, limit=limit, compare=way))
        for one in rule.cases
        if one.given
    )
    limits = {**rule.limits, limit: figure}
    changed = replace(rule, limits=limits, cases=(*rule.cases, *cases))
    return replace(rulebook, rules=(changed, rulebook.rules[1]))


def test_mistakes_of_all_files_of_an_overlay_are_reported_at_once() -> None:
    bad = {"id": "shop.leaf.gaps", "question": "leaf.gaps", "sauce": 1}
    with pytest.raises(RulebookError) as caught:
        read_overlay(
            {"overlay.toml": {"id": "Shop"}, "2.toml": {"rule": [bad]}}, "1", []
        )
    keys = {one.key for one in caught.value.mistakes}
    assert {"id", "base", "title", "document", "sauce", "source"} <= keys
