"""A fault told in English, where nobody knows the reader, is told in their words."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.quantity import Dimension, QuantityError, parse
from limen.quantity.parsing import accepted_text
from limen.words import languages, retold
from limen.words.catalogue import written

OTHERS = [one for one in languages() if one != "en"]
REFUSED = (
    "banana",
    "12",
    "",
    "1800 cmm",
    "1800 kg",
    "1800 Mm",
    "1.234,5 mm",
    "1,234 mm",
    "6 ft 13 in",
    "6.5 ft 1 in",
    "8 1/3 in",
    "10/8 in",
    "2 – 3 mm",
    "1 mm ± -2 mm",
    "1 mm ± 99 km",
    "1800 mm ±",
    "± 3 mm",
    "- 3 mm",
    "1800 mm, guess",
    "1800 mm, estimat",
    "99999999 m",
    "1 800 mm",
    "1/2 mm",
    "6 ft -3 in",
    "nan mm",
    "1800\x00mm",
    "9" * 200,
)


def _why(text: str) -> str:
    with pytest.raises(QuantityError) as refused:
        parse(text, Dimension.LENGTH)
    return refused.value.why


@pytest.mark.parametrize("text", REFUSED)
def test_every_reason_for_refusing_a_figure_is_told_in_german(text: str) -> None:
    why = _why(text)
    assert retold(why, language="de") != why
    assert retold(why, language="en") == why


@pytest.mark.parametrize("dimension", list(Dimension))
def test_what_is_accepted_is_told_with_the_word_for_its_kind(
    dimension: Dimension,
) -> None:
    accepted = accepted_text(dimension)
    said = retold(accepted, language="de")
    kind = written("de")[f"fault.kind.{dimension.value}"]
    assert said.startswith(f"{kind} mit Einheit: ")
    assert said.partition(": ")[2].split(", ")[0] in accepted


def test_what_was_typed_stays_in_it_as_it_was() -> None:
    said = retold(_why("1800 cmm"), language="de")
    assert said == "„cmm“ ist keine Einheit, die hier bekannt ist"


@given(st.text(), st.sampled_from(languages()))
def test_a_sentence_that_is_not_known_stays_as_it_is(text: str, language: str) -> None:
    sentence = f"unheard of: {text}"
    assert retold(sentence, language=language) == sentence


@pytest.mark.parametrize("language", OTHERS)
def test_every_kind_of_measure_has_a_word(language: str) -> None:
    assert all(f"fault.kind.{one.value}" in written(language) for one in Dimension)
