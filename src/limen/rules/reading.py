"""Reading a rulebook: parsed files in, rules out, every mistake at once.

The files of one edition: ``book.toml`` with id, edition, title, documents and
the days it is valid, and topic files that hold ``[[rule]]`` tables.
"""

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from itertools import chain

from limen.rules.editions import Edition
from limen.rules.mistakes import Mistake, RulebookError
from limen.rules.reading_rule import Book, read_rule
from limen.rules.rule import Rule
from limen.rules.rulebook import Document, Rulebook
from limen.rules.selecting import ambiguous
from limen.rules.table import Table

BOOK = "book.toml"
_NAME = re.compile(r"[a-z0-9][a-z0-9_+-]*")
_BOOK_KEYS = (
    "id",
    "edition",
    "title",
    "valid_from",
    "valid_until",
    "transition",
    "notes",
    "document",
)


def read_rulebook(
    files: Mapping[str, Mapping[str, object]], digest: str = ""
) -> Rulebook:
    """Read one edition of a rulebook.

    Args:
        files: parsed files by name; ``book.toml`` and the topics.
        digest: SHA-256 of the files.

    Returns:
        The rulebook, its rules in the order of the file names.

    Raises:
        RulebookError: everything that is wrong, each with file, rule and key.
    """
    mistakes: list[Mistake] = []
    valid, documents, notes = _read_book(files, mistakes)
    names = frozenset(document.name for document in documents)
    book = Book(valid.rulebook, valid.edition, names)
    rules = tuple(
        rule
        for name in sorted(files)
        if name != BOOK
        for rule in _read_topic(Table(files[name], mistakes, name), book)
    )
    mistakes += _between(rules, f"{valid.rulebook} {valid.edition}")
    if mistakes:
        raise RulebookError(mistakes)
    return Rulebook(
        id=valid.rulebook,
        edition=valid.edition,
        title=valid.title,
        rules=rules,
        valid=valid,
        digest=digest,
        notes=notes,
        documents=documents,
    )


def read_edition(book: Mapping[str, object]) -> Edition:
    """Read from ``book.toml`` alone which edition it is and when it is valid.

    Args:
        book: the parsed ``book.toml``.

    Returns:
        The edition.

    Raises:
        RulebookError: what is wrong with these keys.
    """
    mistakes: list[Mistake] = []
    edition = _edition(Table(book, mistakes, BOOK))
    if mistakes:
        raise RulebookError(mistakes)
    return edition


def _read_book(
    files: Mapping[str, Mapping[str, object]], mistakes: list[Mistake]
) -> tuple[Edition, tuple[Document, ...], tuple[str, ...]]:
    if BOOK not in files:
        raise RulebookError.of(BOOK, "", "", "is missing; it names the rulebook")
    table = Table(files[BOOK], mistakes, BOOK)
    table.only(_BOOK_KEYS)
    documents = tuple(read_document(one) for one in table.tables("document"))
    if not documents:
        table.wrong("document", "is missing; a rulebook rests on documents")
    return _edition(table), documents, table.texts("notes")


def _edition(table: Table) -> Edition:
    valid_from, valid_until = table.day("valid_from"), table.day("valid_until")
    if valid_from and valid_until and valid_until < valid_from:
        table.wrong("valid_until", f"{valid_until} is before valid_from {valid_from}")
    return Edition(
        rulebook=read_name(table, "id"),
        edition=read_name(table, "edition"),
        title=table.text("title"),
        valid_from=valid_from,
        valid_until=valid_until,
        transition=table.text("transition", needed=False),
    )


def read_name(table: Table, key: str) -> str:
    """Read a name: ids and editions name folders and stand in rule ids.

    Args:
        table: the table.
        key: the key at which the name stands.
    """
    name = table.text(key)
    if name and not _NAME.fullmatch(name):
        table.wrong(key, f"{name!r} found; small letters, digits, - + _ only")
    return name


def read_document(table: Table) -> Document:
    """Read a document that a rulebook rests on.

    Args:
        table: its table.
    """
    table.only(("name", "title", "note"))
    note = table.text("note", needed=False)
    return Document(table.text("name"), table.text("title"), note)


def _read_topic(table: Table, book: Book) -> Iterable[Rule]:
    table.only(("rule",))
    for one in table.tables("rule"):
        yield read_rule(one, book)


def _between(rules: tuple[Rule, ...], mark: str) -> Iterable[Mistake]:
    """What is wrong between rules rather than inside one."""
    counts = Counter(rule.id for rule in rules if rule.id)
    twice = (
        Mistake(mark, id_, "id", f"stands {count} times; an id names one rule")
        for id_, count in counts.items()
        if count > 1
    )
    unclear = (
        Mistake(mark, one.id, "where", f"may apply together with {other.id}")
        for one, other in ambiguous(rules)
        if one.id != other.id
    )
    return chain(twice, unclear)
