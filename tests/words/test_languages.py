"""Each reader is spoken to in their language: words, numbers, days, counts, names."""

import re
from concurrent.futures import ThreadPoolExecutor
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.findings import Assumed, Measure, Message
from limen.findings.message import length
from limen.quantity import Dimension, Grade, Quantity, QuantityError, Show, parse
from limen.words import (
    WordsError,
    alphabetical,
    best,
    catalogue,
    languages,
    numbered,
    read_as,
    read_in,
    reading,
    said_assumed,
    said_case,
    say,
    say_count,
    say_day,
    say_length,
    say_quantity,
    say_unit,
    unnumbered,
)
from limen.words.catalogue import written

SPACE = "\N{NARROW NO-BREAK SPACE}"
MARCH = date(2026, 3, 1)


def _short(measure: Measure) -> Message:
    return Message("finding.margin_short", {"measure": measure})


# Whose language ----------------------------------------------------------------------


def test_nobody_said_anything_so_it_is_english() -> None:
    assert reading() == "en"
    assert say_count("tally.mend", 2) == "2 to mend before use"


def test_what_is_done_for_a_reader_is_said_in_their_language() -> None:
    with read_as("de"):
        assert say_count("tally.mend", 2) == "2 vor dem Gebrauch zu beheben"
        with read_as("fr"):
            assert reading() == "fr"
        assert reading() == "de"
    assert reading() == "en"


def test_a_language_without_a_catalogue_is_refused_and_changes_nothing() -> None:
    with pytest.raises(WordsError, match="xx"):
        read_in("xx")
    assert reading() == "en"


def test_two_readers_at_once_do_not_hear_each_others_language() -> None:
    def spoken(language: str) -> str:
        with read_as(language):
            return say_count("tally.mend", 0)

    with ThreadPoolExecutor(4) as pool:
        said = set(pool.map(spoken, ("en", "de") * 20))
    assert said == {
        "Nothing to mend before use",
        "Vor dem Gebrauch nichts zu beheben",
    }


def test_a_language_named_outright_wins_over_the_readers() -> None:
    with read_as("fr"):
        assert say(_short(length(0.0144)), language="en") == "14 mm short"


def test_a_sentence_that_a_language_lacks_is_said_in_english() -> None:
    known = catalogue("de").sentences
    assert known.keys() >= written("en").keys()


# Numbers and days --------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "german"),
    [
        ("0.3 s", "0,3 s"),
        ("540 mm", "540 mm"),
        ("−0.5°", "−0,5°"),
        ("6 ft 8 1/2 in", "6 ft 8 1/2 in"),
        ("1.35 m/s ± 0.2 m/s", "1,35 m/s ± 0,2 m/s"),
        ("9999 N", "9999 N"),
        ("12345.6 N", f"12{SPACE}345,6 N"),
        ("12 months", "12 Monate"),
        ("4.6.2.2", "4.6.2.2"),
    ],
)
def test_german_has_a_comma_and_sets_long_numbers_apart(text: str, german: str) -> None:
    assert numbered(text, "de") == german
    assert numbered(text, "en") == text


def test_measures_lengths_and_quantities_follow_the_reader() -> None:
    with read_as("de"):
        assert say(_short(Measure(0.2587, Dimension.TIME))) == "0,26 s zu wenig"
        assert say_length(12.3456) == "12,35 m"
        speed = Quantity(1.35, 0.2)
        assert say_quantity(speed, Dimension.SPEED) == "1,35 m/s ± 0,2 m/s"


def test_feet_and_inches_are_the_same_for_everybody() -> None:
    with read_as("fr"):
        assert say_length(2.0447, Show.FEET) == "6 ft 8 1/2 in"


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("2,5 s", "2.5 s"),
        ("2.5 s", "2.5 s"),
        ("1800 mm ± 2,5 mm", "1800 mm ± 2.5 mm"),
        ("2,5, 2,6 s", "2.5, 2.6 s"),
        (f"12{SPACE}345,6 mm", "12345.6 mm"),
        ("1.800,5 mm", "1.800,5 mm"),
        ("1,2,3 mm", "1,2,3 mm"),
    ],
)
def test_a_comma_typed_in_a_field_is_a_point_where_only_that_can_be_meant(
    typed: str, read: str
) -> None:
    assert unnumbered(typed, "de") == read


def test_english_readers_type_no_comma() -> None:
    assert unnumbered("2,5 s", "en") == "2,5 s"


def test_what_cannot_be_meant_is_still_refused() -> None:
    with pytest.raises(QuantityError):
        parse(unnumbered("1.800,5 mm", "de"), Dimension.LENGTH)


@given(st.floats(-50, 50), st.sampled_from(["de", "fr"]))
def test_a_length_that_is_shown_can_be_typed_again(metres: float, tongue: str) -> None:
    shown = say_length(metres, language=tongue)
    again = parse(unnumbered(shown, tongue), Dimension.LENGTH).value
    assert abs(again - metres) <= 0.005 + 1e-9


def test_days_are_written_as_the_language_does() -> None:
    assert [say_day(MARCH, one) for one in ("en", "de", "fr")] == [
        "1 March 2026",
        "1. März 2026",
        "1 mars 2026",
    ]


def test_a_day_in_a_sentence_is_written_as_the_language_does() -> None:
    as_of = Message("cli.on_day", {"day": "2026-03-01"})
    assert say(as_of) == "As of 2026-03-01."
    assert say(as_of, language="de") == "Stand: 1. März 2026."


# Counts ------------------------------------------------------------------------------


def test_the_language_decides_which_form_a_count_takes() -> None:
    said = [say_count("cli.rules", count, language="de") for count in (0, 1, 2)]
    assert said == ["0 Regeln", "1 Regel", "2 Regeln"]


def test_in_french_none_is_said_as_one_is() -> None:
    key = "desk.sites.doors"
    one = say_count(key, 1, language="fr").replace("1", "")
    none = say_count(key, 0, language="fr")
    assert none.replace("0", "") == one or f"{key}.none" in written("fr")


# Names of ours and of the user's -----------------------------------------------------


def test_the_usual_units_are_named_by_their_side_all_others_by_the_user() -> None:
    with read_as("de"):
        assert [say_unit("inside"), say_unit("radar-2")] == ["innen", "radar-2"]
        told = Message("drawing.unit.named", {"fitting": "outside"})
        assert say(told) == "Sensor außen"


@pytest.mark.parametrize(
    ("case", "german"),
    [
        ("upright", "aufrecht"),
        ("on its face, reduced width", "flach liegend, Teilöffnung"),
        ("upright, inside dead", "aufrecht, innen ausgefallen"),
        ("inside and main: outside", "innen und main: außen"),
        ("leaflet stand", "leaflet stand"),
    ],
)
def test_a_case_is_said_in_the_language_and_things_by_their_own_name(
    case: str, german: str
) -> None:
    assert said_case(case, language="de") == german
    assert said_case(case, language="en") == case


def test_an_assumed_value_is_said_whole_in_the_language() -> None:
    why = Message("cli.no_figure")
    one = Assumed("x", Measure(0.0035, Dimension.SPEED), Grade.PRACTICE, why)
    said = say(said_assumed(one), language="de")
    assert said == "keine Zahl: 4 mm/s (übliche Praxis, ohne Quelle)"


def test_names_stand_where_a_reader_looks_for_them() -> None:
    names = ["Öl", "Zoo", "apfel", "Ofen", "Élan", "Ende"]
    assert alphabetical(names) == ["apfel", "Élan", "Ende", "Ofen", "Öl", "Zoo"]


# What a browser asks for -------------------------------------------------------------


@pytest.mark.parametrize(
    ("header", "language"),
    [
        ("de-CH,de;q=0.9,en;q=0.8", "de"),
        ("fr", "fr"),
        ("pt,fr;q=0.3,de;q=0.5", "de"),
        ("de;q=0,fr;q=0.1", "fr"),
        ("en-GB,de;q=0.9", "en"),
        ("pt", "en"),
        ("", "en"),
        ("*", "en"),
    ],
)
def test_the_language_that_suits_best_is_chosen(header: str, language: str) -> None:
    assert best(header) == language


@given(st.text())
def test_whatever_stands_in_the_header_some_language_is_spoken(header: str) -> None:
    assert best(header) in languages()


# What no language may say -------------------------------------------------------------

PROMISES = {
    "de": r"sicher(?:e[nmrs]?)?|OK|okay|konforme?[nmrs]?|zertifiziert\w*|bitte|ups",
    "fr": r"sûre?s?|OK|conformes?|certifiée?s?|svp|oups",
}


@pytest.mark.parametrize("language", sorted(PROMISES))
def test_no_sentence_of_a_language_promises_what_limen_cannot_know(
    language: str,
) -> None:
    found = re.compile(rf"\b(?:{PROMISES[language]})\b", re.IGNORECASE)
    said = written(language).items()
    assert [key for key, text in said if found.search(text)] == []


def test_the_promises_would_be_found() -> None:
    assert re.search(rf"\b(?:{PROMISES['de']})\b", "Die Tür ist sicher.")
    assert re.search(rf"\b(?:{PROMISES['fr']})\b", "La porte est sûre.")


@pytest.mark.parametrize("language", sorted(PROMISES))
def test_no_sentence_was_left_in_english(language: str) -> None:
    english, said = written("en"), written(language)
    gap, word = re.compile(r"\{\w+\}"), re.compile(r"[^\W\d_]{2,}")
    same = [
        key
        for key, text in english.items()
        if len(word.findall(gap.sub("", text))) > 3
        and said.get(key) == text
        and not text.startswith("limen check")
        and not key.endswith(".picture")
    ]
    assert same == []


@pytest.mark.parametrize("language", sorted(PROMISES))
def test_a_language_writes_no_number_with_a_point(language: str) -> None:
    """What is to be typed into files is; only figures of a sentence are meant."""
    point = re.compile(r"(?<![A-Z\d])\d+\.\d")  # ASR A1.7 is a name
    typed = ("full.unknown.", "survey.", "sheet_page.", "take_in.page.")
    said = written(language).items()
    assert [
        key for key, text in said if point.search(text) and not key.startswith(typed)
    ] == []


def test_no_mark_of_a_french_sentence_begins_a_line() -> None:
    """Before :, ;, ?, ! and », and after «, stands a space that does not break."""
    breaks = re.compile(r" (?:[;?!»]|:(?!\w))|« ")
    said = written("fr").items()
    drawn = ".picture"  # set in letters of one width: there a line does not break
    found = [key for key, text in said if breaks.search(text) and drawn not in key]
    assert found == []
    assert breaks.search("Pourquoi ?")
