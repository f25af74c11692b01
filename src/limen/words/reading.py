"""In which language the reader of this command or request reads.

A sentence is often made deep inside, where nobody knows who asked: a refusal of the
desk, the name of a copy.  So the language is bound to the work that is done for one
reader, as its context: whoever begins the work says it once, and all sentences that
are made on the way follow.  It decides on words alone, never on a verdict, a number or
what is written to a file for programs.
"""

from collections.abc import Generator
from contextlib import contextmanager
from contextvars import ContextVar

from limen.words.catalogue import SOURCE, catalogue

_READER: ContextVar[str] = ContextVar("limen_language", default=SOURCE)


def reading() -> str:
    """The language of whoever this is done for; English unless somebody said so."""
    return _READER.get()


def read_in(language: str) -> None:
    """Say all sentences from here on, in this context, in a language.

    Raises:
        WordsError: there is no catalogue for it.
    """
    _READER.set(catalogue(language).language)


@contextmanager
def read_as(language: str) -> Generator[None]:
    """Say the sentences made inside in a language, and then as before.

    Raises:
        WordsError: there is no catalogue for it.
    """
    token = _READER.set(catalogue(language).language)
    try:
        yield
    finally:
        _READER.reset(token)
