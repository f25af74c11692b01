"""Text for people: one folder of catalogues a language, nothing but sentences.

A catalogue is a TOML file of sentences under dotted keys; `{name}` is a gap. All
files of a language's folder are read together, and no key may stand twice.
"""

from limen.words.catalogue import Catalogue, WordsError, catalogue, languages
from limen.words.saying import (
    has,
    of_case,
    said_assumed,
    said_clause,
    said_margin,
    said_room,
    say,
    say_count,
    say_measure,
    say_question,
    unbroken,
    visible,
)

__all__ = [
    "Catalogue",
    "WordsError",
    "catalogue",
    "has",
    "languages",
    "of_case",
    "said_assumed",
    "said_clause",
    "said_margin",
    "said_room",
    "say",
    "say_count",
    "say_measure",
    "say_question",
    "unbroken",
    "visible",
]
