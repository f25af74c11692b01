"""Catalogues: the sentences of one language, read once.

English is the source: a folder of files, one a topic.  Any other language is one file
beside it, ``de.toml``, with the same keys.
"""

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from string import Formatter
from types import MappingProxyType
from typing import cast

SOURCE = "en"
FORMS = ("none", "zero", "one", "two", "few")
"""Last names of a counted sentence's forms that a language may have or not."""


class WordsError(LookupError):
    """A sentence, or what fills it, is missing: our fault, and never a reader's.

    The message is for whoever mends it; people on site never see a raw key.
    """


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All sentences of one language.

    Attributes:
        language: its tag, as its folder is named.
        sentences: sentence by dotted key.
    """

    language: str
    sentences: Mapping[str, str]

    def sentence(self, key: str) -> str:
        """The sentence under a key.

        Raises:
            WordsError: the catalogue has none.
        """
        try:
            return self.sentences[key]
        except KeyError:
            why = f'no sentence "{key}" in the catalogue "{self.language}"'
            raise WordsError(why) from None

    def under(self, prefix: str) -> tuple[str, ...]:
        """All keys that begin with a prefix, in the order of the files."""
        return tuple(key for key in self.sentences if key.startswith(prefix))


@cache
def languages() -> tuple[str, ...]:
    """The languages there are catalogues for."""
    there = files("limen.words").iterdir()
    return tuple(sorted(filter(None, (_tag(one.name, one.is_dir()) for one in there))))


def _tag(name: str, folder: bool) -> str:  # noqa: FBT001 - asked of one place
    """The language of a folder or file of sentences; empty if it is none."""
    if folder:
        return "" if name.startswith("_") else name
    return name.removesuffix(".toml") if name.endswith(".toml") else ""


@cache
def catalogue(language: str = SOURCE) -> Catalogue:
    """The catalogue of a language; what it lacks is said in English.

    Raises:
        WordsError: there is no such language, a key stands twice, or a sentence
            has a gap that is not a plain name.
    """
    own = written(language)
    if language == SOURCE:
        return Catalogue(language, own)
    return Catalogue(language, MappingProxyType({**written(SOURCE), **own}))


@cache
def written(language: str) -> Mapping[str, str]:
    """The sentences that stand in a language's own files, by key.

    Raises:
        WordsError: as `catalogue`.
    """
    if language not in languages():
        raise WordsError(f'no catalogue for the language "{language}"')
    sentences: dict[str, str] = {}
    for name, text in _texts(language):
        for key, sentence in flat(tomllib.loads(text)):
            if key in sentences:
                raise WordsError(f'the key "{key}" of {name} stands twice')
            gaps(sentence)
            sentences[key] = sentence
    return MappingProxyType(sentences)


def flat(tables: Mapping[str, object], above: str = "") -> Iterator[tuple[str, str]]:
    """Walk nested tables: dotted key and sentence, one after another.

    Raises:
        WordsError: something other than a sentence or a table stands there.
    """
    for name, value in tables.items():
        key = f"{above}{name}"
        if isinstance(value, str):
            yield key, value
        elif isinstance(value, dict):
            yield from flat(cast("Mapping[str, object]", value), f"{key}.")
        else:
            raise WordsError(f'the key "{key}" holds no sentence')


def gaps(sentence: str) -> tuple[str, ...]:
    """The names of a sentence's gaps, each once.

    Raises:
        WordsError: a gap is not a plain name, or a brace stands alone.
    """
    return tuple(dict.fromkeys(name for _, name in pieces(sentence) if name))


def pieces(sentence: str) -> Iterable[tuple[str, str | None]]:
    """Cut a sentence into (text, name of the gap that follows it or None).

    Raises:
        WordsError: a gap is not a plain name, or a brace stands alone.
    """
    try:
        cut = list(Formatter().parse(sentence))
    except ValueError as error:
        raise WordsError(f"{error}: {sentence!r}") from None
    for _, name, form, conversion in cut:
        if name is not None and (not name.isidentifier() or form or conversion):
            raise WordsError(f"a gap is a plain name in braces: {sentence!r}")
    return [(text, name) for text, name, _, _ in cut]


def _texts(language: str) -> Iterator[tuple[str, str]]:
    here = files("limen.words")
    folder = here.joinpath(language)
    if not folder.is_dir():
        file = here.joinpath(f"{language}.toml")
        yield file.name, file.read_text("utf-8")
        return
    for file in sorted(folder.iterdir(), key=lambda one: one.name):
        if file.name.endswith(".toml"):
            yield file.name, file.read_text("utf-8")
