"""Messages become sentences, or a clear error of ours; never half of one."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.findings import Assumed, Measure, Message
from limen.findings.message import length, turn
from limen.quantity import Dimension, Grade, Show
from limen.words import (
    WordsError,
    has,
    of_case,
    said_assumed,
    said_clause,
    say,
    say_count,
    unbroken,
    visible,
)


def _short(measure: Measure) -> Message:
    return Message("finding.margin_short", {"measure": measure})


def test_a_length_on_the_floor_is_said_in_whole_millimetres() -> None:
    assert say(_short(length(0.0144))) == "14 mm short"


def test_an_angle_is_said_with_one_decimal_of_a_degree() -> None:
    assert say(_short(turn(math.radians(1.46)))) == "1.5° short"


def test_the_reader_chooses_the_units_not_the_finding() -> None:
    said = say(_short(length(0.0635)), system=Show.FEET)
    assert said == "2 1/2 in short"


def test_a_gap_may_be_filled_by_another_message() -> None:
    inner = _short(length(0.014))
    assert say(Message("cli.found", {"what": inner})) == "found: 14 mm short"


def test_what_fills_a_gap_is_never_read_as_a_gap_itself() -> None:
    assert say(Message("cli.found", {"what": "{what}"})) == "found: {what}"


def test_a_missing_sentence_is_named() -> None:
    with pytest.raises(WordsError, match=r"no\.such_key"):
        say(Message("no.such_key"))


def test_a_missing_value_is_named_with_its_sentence() -> None:
    with pytest.raises(WordsError, match=r"what.*cli\.found"):
        say(Message("cli.found"))


def test_an_unknown_language_is_refused_not_replaced() -> None:
    with pytest.raises(WordsError, match="xx"):
        say(Message("study.caution"), language="xx")


def test_none_one_and_many_each_have_their_form() -> None:
    said = [say_count("tally.mend", count) for count in (0, 1, 2)]
    assert said == [
        "Nothing to mend before use",
        "1 to mend before use",
        "2 to mend before use",
    ]


def test_a_count_without_a_form_for_none_is_said_as_many() -> None:
    assert say_count("tally.measure", 0) == "0 to measure"


def test_an_assumed_value_is_said_with_its_reason_and_its_grade() -> None:
    why = Message("cli.no_figure")
    one = Assumed("x", Measure(0.003, Dimension.LENGTH), Grade.PRACTICE, why)
    assert say(said_assumed(one)) == "no figure: 3 mm (common practice, no source)"


@pytest.mark.parametrize(
    ("clause", "said"),
    [
        ("4.6.2.2", "D, clause 4.6.2.2"),
        ("Annex C", "D, Annex C"),
        (None, "D, clause to be confirmed"),
    ],
)
def test_a_clause_is_printed_only_where_it_is_known(
    clause: str | None, said: str
) -> None:
    assert say(said_clause("D", clause)) == said


def test_a_key_can_be_asked_for() -> None:
    assert has("study.caution")
    assert not has("study.nothing_of_the_kind")


@given(st.text())
def test_nothing_from_a_file_moves_the_cursor_or_changes_the_colour(text: str) -> None:
    assert _harmless(visible(text))
    assert _harmless(say(Message("cli.found", {"what": text})))


def _harmless(text: str) -> bool:
    """Printable, but for the spaces at which a line does not break."""
    return all(one.isprintable() or one in "\xa0\u202f" for one in text)


def test_a_space_at_which_no_line_breaks_stays_in_what_fills_a_gap() -> None:
    assert say(Message("cli.found", {"what": "1\xa0: a\u202f; b"})).endswith(
        "1\xa0: a\u202f; b"
    )


@pytest.mark.parametrize(
    ("value", "dimension", "text"),
    [
        (0.0524, Dimension.SPEED, "52 mm/s"),
        (0.1524, Dimension.SPEED, "152 mm/s"),
        (0.22, Dimension.SPEED, "0.22 m/s"),
        (0.05342, Dimension.RATIO, "5.3 %"),
        (0.2587, Dimension.TIME, "0.26 s"),
        (0.084, Dimension.TIME, "0.084 s"),
        (2.472, Dimension.TIME, "2.47 s"),
    ],
)
def test_a_measure_is_written_no_finer_than_can_be_told_at_a_door(
    value: float, dimension: Dimension, text: str
) -> None:
    assert say(_short(Measure(value, dimension))) == f"{text} short"


def test_a_slow_speed_is_told_in_feet_to_whom_reads_feet() -> None:
    short = _short(Measure(0.1524, Dimension.SPEED))
    assert say(short, system=Show.FEET) == "0.5 ft/s short"


@pytest.mark.parametrize(
    ("text", "case", "told"),
    [
        ("Level the unit.", "inside", "inside · Level the unit."),
        ("Level the inside unit.", "inside", "Level the inside unit."),
        ("Mark the glass.", "", "Mark the glass."),
        ("Widen it.", "inside, reduced", "inside, reduced · Widen it."),
    ],
)
def test_a_sentence_is_given_its_case_unless_it_names_it(
    text: str, case: str, told: str
) -> None:
    assert of_case(text, case) == told


def test_a_number_and_its_unit_stay_in_one_line() -> None:
    said = unbroken("it gives 300 mA at 52 mm/s; 3 more")
    assert said.count("\N{NO-BREAK SPACE}") == 2
