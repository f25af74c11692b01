"""How a rulebook differs from the one it is laid on, in sentences."""

from limen.findings import Message
from limen.quantity import Quantity, Show
from limen.rules import Authority, Difference, Rule, Rulebook
from limen.words import said_clause, say, say_quantity


def shown(book: Rulebook) -> list[Rule]:
    """All rules; of a rulebook laid on another one those that it touches."""
    touched = {one.rule for one in book.differences}
    return [rule for rule in book.rules if not book.base or rule.id in touched]


def differences(book: Rulebook, rule: Rule, system: Show) -> list[str]:
    """How each figure of a rule stands to the one below it, and who says so."""
    own = [one for one in book.differences if one.rule == rule.id]
    return [_said(one, book, system) for one in own]


def said_source(source: Authority) -> Message:
    """Document and clause of a source."""
    return said_clause(source.document, source.clause if source.clause_known else None)


def plain(name: str) -> str:
    """A limit's name as people write it."""
    return name.replace("_", " ")


def _said(one: Difference, book: Rulebook, system: Show) -> str:
    values = {
        "base": f"{book.base} {book.edition}",
        "limit": plain(one.limit),
        "own": _figure(one, one.own, system),
        "was": _figure(one, one.base, system),
        "document": said_source(one.authority),
    }
    return say(Message(f"cli.differs.{one.how}", values))


def _figure(one: Difference, figure: Quantity | None, system: Show) -> str:
    if figure is None or one.dimension is None:
        return ""
    return say_quantity(figure, one.dimension, system)
