"""Rulebooks and sheets: what there is, and which one judges a doorway."""

from collections.abc import Iterable
from datetime import date
from pathlib import Path

from limen.desk.refusal import Refusal, refusing
from limen.model.doorway import Doorway
from limen.rules import AskEdition, Rule, Rulebook, bind
from limen.store.bookshelf import Bookshelf, open_shelf

__all__ = [
    "DEFAULT",
    "Rule",
    "Rulebook",
    "bound_edition",
    "judging",
    "rules",
    "shelf",
]

DEFAULT = "en"


def shelf(values: Path | None = None) -> Bookshelf:
    """All rulebooks, with a firm's own figures if a values file is given.

    Raises:
        Refusal: a rulebook or the values file cannot be used.
    """
    with refusing():
        return open_shelf(values_files=[values] if values else [])


def rules(name: str | None = None, edition: str | None = None) -> list[Rulebook]:
    """Every edition of every rulebook, or those asked for.

    Raises:
        Refusal: there is no such rulebook or edition.
    """
    books = shelf()
    with refusing():
        names = [name] if name else books.names()
        wanted = [
            (one, edition or found.edition)
            for one in names
            for found in books.editions(one)
        ]
        return [books.edition(*key) for key in dict.fromkeys(wanted)]


def judging(
    doorways: Iterable[Doorway], books: Bookshelf, name: str, edition: str | None
) -> list[Rulebook]:
    """The edition that judges each doorway: of the day it was commissioned.

    Every edition is held against the questions before it is used.

    Args:
        doorways: the doorways.
        books: the shelf.
        name: the rulebook.
        edition: the edition a person chose for all; None leaves it to each
            doorway's own choice, then to its date.

    Raises:
        Refusal: a rulebook cannot be used, or dates do not settle the edition;
            every such doorway is named.
    """
    chosen: list[Rulebook] = []
    asked: list[str] = []
    for doorway in doorways:
        with refusing():
            own = edition or doorway.edition
            book = _bound(books.for_door(name, doorway.commissioned, own))
        if isinstance(book, AskEdition):
            asked.append(_question(doorway.id, book))
        else:
            chosen.append(book)
    if asked:
        raise Refusal(asked)
    return chosen


def bound_edition(books: Bookshelf, name: str, edition: str) -> Rulebook:
    """An edition, once it is sure that the questions can use it.

    Args:
        books: the shelf.
        name: the rulebook.
        edition: which edition.

    Raises:
        Refusal: there is no such edition, or it cannot be used.
    """
    with refusing():
        return _held(books.edition(name, edition))


def _bound(book: Rulebook | AskEdition) -> Rulebook | AskEdition:
    """The rulebook, once it is sure that the questions can use it."""
    return book if isinstance(book, AskEdition) else _held(book)


def _held(book: Rulebook) -> Rulebook:
    from limen.questions import QUESTIONS

    return bind(book, {name: one.limits for name, one in QUESTIONS.items()})


def _question(doorway: str, ask: AskEdition) -> str:
    from limen.findings import Message
    from limen.words import say

    editions = " or ".join(f'"{one.edition}"' for one in ask.editions)
    why = say(Message(f"ask_edition.{ask.why}", {"day": _day(ask.commissioned)}))
    values = {"doorway": doorway, "why": why, "editions": editions}
    return say(Message("ask_edition.question", values))


def _day(day: date | None) -> str:
    return day.isoformat() if day else "?"
