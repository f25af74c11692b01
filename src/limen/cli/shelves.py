"""What `limen rules`, `sheets` and `new` print."""

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from limen.cli.lines import EMPTY, Ink, Line, Piece, columns, wrapped
from limen.cli.paper import paper
from limen.desk.differences import differences, plain, said_source, shown
from limen.findings import Message
from limen.quantity import Show
from limen.words import say, say_count, say_quantity

if TYPE_CHECKING:
    from limen.desk.sheets import ShippedSheet
    from limen.desk.shelves import Rule, Rulebook


def begun(path: Path) -> int:
    """Say what was written and what comes next."""
    page = paper()
    page.put(wrapped(say(Message("cli.begun", {"file": str(path)})), page.width))
    return 0


def books(on_shelf: "Iterable[Rulebook]") -> int:
    """One line a rulebook."""
    rows = [
        (Piece(book.id), Piece(book.edition), Piece(_rules(book)), Piece(book.title))
        for book in on_shelf
    ]
    page = paper()
    lines = [one for row in columns(rows, page.width, ((3, 20),)) for one in row]
    page.put([*lines, EMPTY, *wrapped(say(Message("cli.rules_hint")), page.width)])
    return 0


def rules(on_shelf: "Iterable[Rulebook]", units: str) -> int:
    """Rule by rule: what it asks, its figures, on whose authority."""
    page = paper()
    for book in on_shelf:
        page.put(wrapped(f"{book.mark} · {book.title}", page.width, ink=Ink.STRONG))
        for note in book.notes:
            page.put(wrapped(note, page.width, indent=2, ink=Ink.QUIET))
        for rule in shown(book):
            page.put([EMPTY, *rule_lines(rule, page.width, Show(units))])
            for one in differences(book, rule, Show(units)):
                page.put(wrapped(one, page.width, indent=2))
        page.put([EMPTY, *_rest(book, page.width)])
    return 0


def sheets(on_shelf: "Iterable[ShippedSheet]", *, whole: bool) -> int:
    """One line a sheet, or a sheet as its file stands."""
    page = paper()
    if whole:
        page.put_text("\n".join(one.text.rstrip() for one in on_shelf))
        return 0
    rows = [(Piece(one.name), Piece(_senses(one))) for one in on_shelf]
    page.put([one for row in columns(rows, page.width, ((1, 20),)) for one in row])
    page.put([EMPTY, *wrapped(say(Message("cli.sheets_hint")), page.width)])
    return 0


def _rules(book: "Rulebook") -> str:
    return say_count("cli.rules", len(book.rules))


def rule_lines(rule: "Rule", width: int | None, system: Show) -> list[Line]:
    """A rule: what it asks, its figures, on whose authority."""
    weight = say(Message(f"weight.{rule.weight}"))
    cases = say_count("cli.cases", len(rule.cases))
    return [
        *wrapped(f"{rule.name} · {weight} · {cases}", width, ink=Ink.STRONG),
        *wrapped(rule.asks, width, indent=2),
        *_limits(rule, width, system),
    ]


def _rest(book: "Rulebook", width: int | None) -> list[Line]:
    """Where the rules are that a rulebook takes over as they are."""
    if not book.base:
        return []
    values = {"base": book.base, "edition": book.edition}
    return [
        *wrapped(say(Message("cli.rules_rest", values)), width, ink=Ink.QUIET),
        EMPTY,
    ]


def _limits(rule: "Rule", width: int | None, system: Show) -> list[Line]:
    """Each figure with its clause and grade, then those without a figure."""
    with_figure = [
        (Piece(""), Piece(plain(name)), Piece(_figure(rule, name, system)), source)
        for name in rule.limits
        for source in [Piece(_source(rule, name), Ink.QUIET)]
    ]
    empty = say(Message("cli.no_figure"))
    without = [
        (Piece(""), Piece(plain(name)), Piece(empty), Piece(why, Ink.QUIET))
        for name, why in rule.unset.items()
    ]
    rows = columns([*with_figure, *without], width, ((3, 20),))
    return [one for row in rows for one in row]


def _figure(rule: "Rule", name: str, system: Show) -> str:
    return say_quantity(rule.limits[name], rule.dimensions[name], system)


def _source(rule: "Rule", name: str) -> str:
    grade = say(Message(f"grade.{rule.limits[name].grade}"))
    return f"{say(said_source(rule.source(name)))}; {grade}"


def _senses(one: "ShippedSheet") -> str:
    return f"{one.sheet.name}. {one.sheet.note}".strip()
