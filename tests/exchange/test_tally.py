"""What is to be done is counted as work, never as a mark for the door."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders.studies import failing, finding, not_shown, study
from limen.exchange import exit_code, tally, together
from limen.exchange.tally import for_office
from limen.findings import Verdict
from limen.rules import Weight


def test_cases_of_one_question_are_one_thing_to_mend() -> None:
    counts = tally([failing(case="upright"), failing(case="on its edge")])
    assert counts.mend == 1


def test_two_questions_are_two_things_to_mend() -> None:
    assert tally([failing(), failing(question="leaf.gaps")]).mend == 2


def test_advice_that_fails_is_not_to_be_mended_before_use() -> None:
    counts = tally([failing(weight=Weight.ADVICE)])
    assert (counts.mend, counts.advised) == (0, 1)


def test_one_reading_that_settles_two_findings_is_taken_once() -> None:
    key = "fitting[in].read.first_row"
    both = [not_shown(key), not_shown(key, question="presence.self_view")]
    assert tally(both).measure == 1


@pytest.mark.parametrize(
    ("key", "office"),
    [
        ("sheet.presence.learns_after", True),
        ("values: en.2012.presence.hold_time hold", True),
        ("document", True),
        ("fitting[in].sheet.spots_needed", True),
        ("fitting[in].read.first_row", False),
        ("side_space[left].gap", False),
        ("presence_ignored_below", False),
    ],
)
def test_papers_are_for_the_office_and_the_tape_is_for_the_door(
    key: str, office: bool
) -> None:
    assert for_office(key) is office
    counts = tally([not_shown(key)])
    assert (counts.office, counts.measure) == ((1, 0) if office else (0, 1))


def test_doubt_that_names_nothing_still_counts() -> None:
    assert tally([not_shown()]).measure == 1


def test_a_figure_to_be_confirmed_is_work_for_the_office() -> None:
    assert tally([finding(to_confirm=True)]).office == 1


def test_what_holds_or_is_not_asked_asks_for_nothing() -> None:
    counts = tally([finding(), finding(Verdict.NOT_ASKED)])
    assert (counts.mend, counts.measure, counts.office, counts.advised) == (0, 0, 0, 0)


def test_a_must_that_fails_ends_with_one() -> None:
    assert exit_code([study(finding()), study(failing(), not_shown("x"))]) == 1


def test_a_must_not_shown_ends_with_three() -> None:
    assert exit_code([study(finding(), not_shown("x"))]) == 3


def test_what_only_should_be_does_not_change_the_end() -> None:
    should = (failing(weight=Weight.SHOULD), not_shown("x", weight=Weight.ADVICE))
    assert exit_code([study(finding(), *should)]) == 0


_findings = st.lists(
    st.builds(
        finding,
        st.sampled_from(list(Verdict)),
        weight=st.sampled_from(list(Weight)),
        to_confirm=st.booleans(),
    )
)


@given(_findings, _findings)
def test_more_findings_never_make_the_end_milder(one: list, more: list) -> None:
    severity = {0: 0, 3: 1, 1: 2}
    alone, together = exit_code([study(*one)]), exit_code([study(*one, *more)])
    assert severity[together] >= severity[alone]


def test_a_figure_of_the_rulebook_is_looked_up_once_for_all_its_doorways() -> None:
    figure = not_shown("values: en.2012.presence.hold_time hold")
    own = not_shown("document", question="wiring.performance_level")
    doors = [study(figure, own, finding(to_confirm=True)) for _ in range(3)]
    assert together(doors).office == 1 + 1 + 3


def test_a_check_that_is_due_counts_by_its_weight_and_by_itself() -> None:
    late = failing(question="keeping.due", weight=Weight.SHOULD)
    counts = tally([late, failing()])
    assert (counts.mend, counts.advised, counts.due) == (1, 1, 1)
    both = together([study(late), study(late), study()])
    assert both.due == 2
