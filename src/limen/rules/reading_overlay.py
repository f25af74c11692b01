"""Reading an overlay: parsed files in, what it says for one edition out.

A folder ``rulebooks/<id>/`` with ``overlay.toml``, which names the base, and
topic files whose ``[[rule]]`` tables hold what differs. The ids carry no edition:
a rule is meant for every edition of the base, or for those it lists.
"""

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace

from limen.rules.mistakes import Mistake, RulebookError
from limen.rules.overlay import Layer, Overlay
from limen.rules.reading import read_document, read_name
from limen.rules.reading_rule import (
    Book,
    put_together,
    read_limits,
    read_source,
)
from limen.rules.rule import Weight
from limen.rules.table import Table

OVERLAY = "overlay.toml"
_KEYS = ("id", "base", "title", "notes", "stands_in", "document")
_RULE_KEYS = (
    "id",
    "question",
    "over",
    "editions",
    "asks",
    "weight",
    "stricter",
    "where",
    "limits",
    "source",
    "case",
)


def read_overlay_head(data: Mapping[str, object]) -> Overlay:
    """Read from ``overlay.toml`` alone what it is and what it is laid on.

    Args:
        data: the parsed ``overlay.toml``.

    Returns:
        The overlay without its rules.

    Raises:
        RulebookError: what is wrong with it.
    """
    mistakes: list[Mistake] = []
    head = _head(Table(data, mistakes, OVERLAY))
    if mistakes:
        raise RulebookError(mistakes)
    return head


def read_overlay(
    files: Mapping[str, Mapping[str, object]], edition: str, editions: Collection[str]
) -> Overlay:
    """Read what an overlay says for one edition of its base.

    Args:
        files: parsed files by name; ``overlay.toml`` and the topics.
        edition: the edition of the base.
        editions: every edition of the base.

    Returns:
        The overlay with the rules meant for this edition.

    Raises:
        RulebookError: everything that is wrong, each with file, rule and key.
    """
    mistakes: list[Mistake] = []
    head = _head(Table(files[OVERLAY], mistakes, OVERLAY))
    names = frozenset(document.name for document in head.documents)
    book = Book(head.id, edition, names)
    layers = tuple(
        layer
        for name in sorted(files)
        if name != OVERLAY
        for layer in _topic(Table(files[name], mistakes, name), book, editions)
    )
    mistakes += _twice(layers, head.id)
    if mistakes:
        raise RulebookError(mistakes)
    return replace(head, layers=layers)


def _head(table: Table) -> Overlay:
    table.only(_KEYS)
    documents = tuple(read_document(one) for one in table.tables("document"))
    if not documents:
        table.wrong("document", "is missing; an overlay rests on documents")
    return Overlay(
        id=read_name(table, "id"),
        base=read_name(table, "base"),
        title=table.text("title"),
        layers=(),
        notes=table.texts("notes"),
        documents=documents,
        stands_in=table.text("stands_in", needed=False),
    )


def _topic(table: Table, book: Book, editions: Collection[str]) -> Iterable[Layer]:
    table.only(("rule",))
    for each in table.tables("rule"):
        id_ = each.text("id")
        one = replace(each, rule=id_ or each.path, path="")
        layer = _layer(one, id_, book)
        if _meant(one, book.edition, editions):
            yield layer


def _meant(table: Table, edition: str, editions: Collection[str]) -> bool:
    """Whether the rule is for this edition; unknown editions are a mistake."""
    listed = table.texts("editions")
    for one in listed:
        if one not in editions:
            there = ", ".join(sorted(editions))
            table.wrong("editions", f"{one!r} is no edition of the base; {there}")
    return not listed or edition in listed


def _layer(table: Table, id_: str, book: Book) -> Layer:
    question = table.text("question")
    table.only(_RULE_KEYS)
    name = _own_name(table, id_, question, book)
    authority = read_source(table, book)
    limits = read_limits(table, authority, book)
    for limit in limits.unset if "over" in table.data else ():
        table.wrong(f"limits.{limit}", "leave out what the base's rule says better")
    weight = table.choice("weight", list(Weight)) if "weight" in table.data else ""
    rule = put_together(
        table,
        f"{book.id}.{book.edition}.{name}",
        question,
        table.text("asks", needed=False),
        Weight(weight or Weight.MUST),
        authority,
        limits,
    )
    over = table.text("over", needed=False)
    return Layer(rule, over, Weight(weight) if weight else None)


def _own_name(table: Table, id_: str, question: str, book: Book) -> str:
    """Question and variant; an id of an overlay carries no edition."""
    start = f"{book.id}.{question}"
    if id_ and question and id_ != start and not id_.startswith(f"{start}."):
        table.wrong("id", f"must be {start}, or begin with it and a point")
        return question
    return id_.removeprefix(f"{book.id}.")


def _twice(layers: Iterable[Layer], id_: str) -> list[Mistake]:
    counts = Counter(layer.rule.id for layer in layers)
    return [
        Mistake(id_, name, "id", f"stands {count} times; an id names one rule")
        for name, count in counts.items()
        if count > 1
    ]
