"""A fault told in English, where nobody knows the reader, is told in their words."""

import ast
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen import model
from limen.quantity import Dimension, QuantityError, parse
from limen.quantity.parsing import accepted_text
from limen.words import languages, retold
from limen.words.catalogue import written

MODELS = Path(model.__file__).parent
BOUNDS = re.compile(r"(more than )?-?[0-9].* to .+")
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


SPANS = {
    "0 to 500 mm": "0 bis 500 mm",
    "0 to 5 m from the leaf face": "0 bis 5 m von der Flügelfläche",
    "a length with a unit; 0 to 3 m from the leaf face": (
        "0 bis 3 m von der Flügelfläche"
    ),
    "0 s to a day": "0 s bis ein Tag",
    "out of bounds, 0 to 500 mm is taken": "0 bis 500 mm",
    '"outside" or "inside"': '"outside" oder "inside"',
    '"a" or "b" or "c"': '"a" oder "b" oder "c"',
}


@pytest.mark.parametrize("text", SPANS)
def test_the_bounds_of_what_is_accepted_are_told_in_german(text: str) -> None:
    told = retold(text, language="de")
    assert told.endswith(SPANS[text]) or SPANS[text] in told
    assert " to " not in told
    assert " or " not in told


def test_what_only_looks_like_bounds_stays() -> None:
    """Numbers have bounds, words have not."""
    for text in ("a way to nothing", "this or that", "2 x to 3 y to 4 z"):
        assert retold(text, language="de") == text


def _bounds() -> set[str]:
    """Every text in the models that tells bounds."""
    texts = (
        one.value
        for path in MODELS.glob("*.py")
        for one in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(one, ast.Constant) and isinstance(one.value, str)
    )
    return {one for one in texts if BOUNDS.fullmatch(one)}


@pytest.mark.parametrize("language", OTHERS)
def test_no_bound_of_any_field_is_told_in_english(language: str) -> None:
    """Whatever a field of a file accepts."""
    bounds = _bounds()
    assert "0 to 5 m from the leaf face" in bounds
    assert {one for one in bounds if retold(one, language=language) == one} == set()
