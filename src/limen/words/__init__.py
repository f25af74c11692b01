"""Text for people: one folder of catalogues a language, nothing but sentences.

A catalogue is a TOML file of sentences under dotted keys; `{name}` is a gap. All
files of a language's folder are read together, and no key may stand twice.  English
is a folder of many files and the source; every other language is one file.
"""

from limen.words.catalogue import SOURCE, Catalogue, WordsError, catalogue, languages
from limen.words.joining import apart, named
from limen.words.numbers import (
    alphabetical,
    best,
    collated,
    has_comma,
    numbered,
    say_day,
    unnumbered,
)
from limen.words.places import said_case, said_where
from limen.words.reading import read_as, read_in, reading
from limen.words.retelling import retold
from limen.words.saying import (
    has,
    of_case,
    said_assumed,
    said_clause,
    said_margin,
    said_room,
    say,
    say_count,
    say_length,
    say_measure,
    say_quantity,
    say_question,
    say_unit,
    say_word,
    unbroken,
    visible,
)

__all__ = [
    "SOURCE",
    "Catalogue",
    "WordsError",
    "alphabetical",
    "apart",
    "best",
    "catalogue",
    "collated",
    "has",
    "has_comma",
    "languages",
    "named",
    "numbered",
    "of_case",
    "read_as",
    "read_in",
    "reading",
    "retold",
    "said_assumed",
    "said_case",
    "said_clause",
    "said_margin",
    "said_room",
    "said_where",
    "say",
    "say_count",
    "say_day",
    "say_length",
    "say_measure",
    "say_quantity",
    "say_question",
    "say_unit",
    "say_word",
    "unbroken",
    "unnumbered",
    "visible",
]
