"""The words of the glossary are those that the sentences use, in every language."""

import re
from collections.abc import Iterator

import pytest

from health.tree import ROOT
from limen.words import languages
from limen.words.catalogue import written

PAGE = (ROOT / "docs" / "nomenclature.md").read_text(encoding="utf-8")
HEAD = "| English | German | French |"
COLUMNS = ("en", "de", "fr")


def _rows() -> Iterator[list[str]]:
    _, _, table = PAGE.partition(HEAD)
    for line in table.splitlines()[2:]:
        if not line.startswith("|"):
            return
        yield [cell.strip() for cell in line.strip("|").split("|")]


def _column(language: str) -> list[str]:
    return [row[COLUMNS.index(language)] for row in _rows()]


def test_the_glossary_has_a_column_for_every_language() -> None:
    assert set(COLUMNS) == set(languages())


def test_every_word_of_the_glossary_has_one_in_every_language() -> None:
    assert all(len(row) == len(COLUMNS) and all(row) for row in _rows())
    assert len(list(_rows())) > 40


@pytest.mark.parametrize("language", COLUMNS)
def test_one_word_means_one_thing(language: str) -> None:
    words = _column(language)
    assert [one for one in words if words.count(one) > 1] == []


@pytest.mark.parametrize("language", COLUMNS)
def test_the_sentences_of_a_language_use_the_words_of_the_glossary(
    language: str,
) -> None:
    said = "\n".join(written(language).values()).lower()
    assert [one for one in _column(language) if one.lower() not in said] == []


STRANGERS = {
    "en": r"sensor unit|curtain|panel|tester",
    "de": r"Detektor|Melder|Vorhang|Türblatt|Testkörper|Festfeld|Datenblatt",
    "fr": r"capteur|rideau|éprouvette|battant",
}
"""Other words for the same things, which a reader would take for other things."""


@pytest.mark.parametrize("language", COLUMNS)
def test_no_second_word_is_used_for_the_same_thing(language: str) -> None:
    found = re.compile(rf"\b(?:{STRANGERS[language]})", re.IGNORECASE)
    said = written(language).items()
    assert [key for key, text in said if found.search(text)] == []
