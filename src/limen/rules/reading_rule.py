"""Reading one rule: its limits, sources, conditions and cases."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import cast

from limen.quantity import Dimension, Grade, Quantity
from limen.rules.figures import EXAMPLE, take_figure
from limen.rules.rule import (
    CLAUSE_TO_BE_CONFIRMED,
    Authority,
    Compare,
    Given,
    Rule,
    RuleCase,
    Says,
    Weight,
)
from limen.rules.table import Table

_RULE_KEYS = (
    "id",
    "question",
    "asks",
    "weight",
    "stricter",
    "where",
    "limits",
    "source",
    "case",
)
_SOURCE_KEYS = ("document", "clause", "grade", "seen_in", "note")
_SAYS = ("holds", "fails", "not shown", "not asked")
_COMPARE = ("at least", "at most")


@dataclass(frozen=True, slots=True)
class Book:
    """What a rule must fit into: rulebook, edition and the documents it lists."""

    id: str
    edition: str
    documents: frozenset[str]


@dataclass(frozen=True, slots=True)
class Limits:
    """What was read of a rule's limits, by their names."""

    figures: dict[str, Quantity]
    dimensions: dict[str, Dimension]
    sources: dict[str, Authority]
    unset: dict[str, str]


def read_rule(table: Table, book: Book) -> Rule:
    """Read a ``[[rule]]`` table, noting every mistake in it.

    Args:
        table: the table; its mistakes are noted under the rule's id.
        book: the book it stands in.

    Returns:
        The rule; only of use if no mistake was noted.
    """
    id_ = table.text("id")
    table = replace(table, rule=id_ or table.path, path="")
    table.only(_RULE_KEYS)
    question = table.text("question")
    _check_id(table, id_, question, book)
    authority = read_source(table, book)
    limits = read_limits(table, authority, book)
    asks = table.text("asks")
    weight = Weight(table.choice("weight", list(Weight)) or Weight.MUST)
    return put_together(table, id_, question, asks, weight, authority, limits)


def put_together(
    table: Table,
    id_: str,
    question: str,
    asks: str,
    weight: Weight,
    authority: Authority,
    limits: Limits,
) -> Rule:
    """A rule of what was read of its table, and of what is read alike everywhere."""
    rule = Rule(
        id=id_,
        question=question,
        asks=asks,
        weight=weight,
        stricter=table.flag("stricter"),
        limits=limits.figures,
        authority=authority,
        where=read_where(table),
        cases=tuple(read_case(one, limits) for one in table.tables("case")),
        unset=limits.unset,
        dimensions=limits.dimensions,
        sources=limits.sources,
    )
    check_sides(table, rule)
    return rule


def _check_id(table: Table, id_: str, question: str, book: Book) -> None:
    """An id carries edition and question, so that a firm's value hits one rule."""
    start = f"{book.id}.{book.edition}.{question}"
    if id_ and question and id_ != start and not id_.startswith(f"{start}."):
        table.wrong("id", f"must be {start}, or begin with it and a point")


# Sources ----------------------------------------------------------------------


def read_source(table: Table, book: Book) -> Authority:
    """Read the source of a rule, noting mistakes.

    Args:
        table: the rule's table.
        book: the book it stands in.
    """
    source = table.table("source")
    if source is None:
        unknown = CLAUSE_TO_BE_CONFIRMED
        return Authority(book.id, book.edition, "", unknown, Grade.UNSURE)
    source.only(_SOURCE_KEYS)
    return _authority(source, book)


def _authority(source: Table, book: Book) -> Authority:
    document = source.text("document")
    if document and document not in book.documents:
        listed = ", ".join(sorted(book.documents))
        source.wrong("document", f"{document!r} is not in book.toml; listed: {listed}")
    grade = source.choice("grade", list(Grade))
    seen_in = source.text("seen_in", needed=grade == Grade.SEEN)
    return Authority(
        rulebook=book.id,
        edition=book.edition,
        document=document,
        clause=_clause(source, book.edition),
        grade=Grade(grade or Grade.UNSURE),
        note=source.text("note", needed=False),
        seen_in=seen_in,
    )


def _clause(source: Table, edition: str) -> str:
    """The clause of this edition; one that is not listed is to be confirmed."""
    if not isinstance(source.data.get("clause"), Mapping):
        return source.text("clause")
    by_edition = source.table("clause")
    if by_edition is None or edition not in by_edition.data:
        return CLAUSE_TO_BE_CONFIRMED
    return by_edition.text(edition)


# Limits -----------------------------------------------------------------------


def read_limits(table: Table, authority: Authority, book: Book) -> Limits:
    """Read the limits of a rule, noting mistakes.

    Args:
        table: the rule's table.
        authority: the rule's own source, for limits that name no other.
        book: the book it stands in.
    """
    found = Limits({}, {}, {}, {})
    limits = table.table("limits", needed=False)
    for name in limits.data if limits else ():
        _read_limit(cast("Table", limits), name, authority, book, found)
    return found


def _read_limit(
    limits: Table, name: str, authority: Authority, book: Book, found: Limits
) -> None:
    """A limit is a text, or a table with a source of its own, or one unset."""
    if isinstance(limits.data[name], str):
        _figure(limits, name, authority, found)
        return
    if not isinstance(limits.data[name], Mapping):
        why = f"a text or a table is needed; accepted: {EXAMPLE}"
        limits.wrong(name, f"{limits.data[name]!r} found; {why}")
        return
    own = cast("Table", limits.table(name))
    if "unset" in own.data:
        own.only(("unset",))
        found.unset[name] = own.text("unset")
    else:
        own.only(("value", *_SOURCE_KEYS))
        found.sources[name] = _authority(own, book)
        _figure(own, "value", found.sources[name], found, name=name)


def _figure(
    table: Table, key: str, authority: Authority, found: Limits, *, name: str = ""
) -> None:
    figure = take_figure(table, key, authority.grade)
    if figure is None:
        return
    quantity, dimension = figure
    if quantity.grade is Grade.UNSURE:
        table.wrong(key, "a figure nobody is sure of ships without value: unset = why")
    found.figures[name or key] = replace(quantity, origin=_origin(authority))
    found.dimensions[name or key] = dimension


def _origin(authority: Authority) -> str:
    clause = authority.clause if authority.clause_known else "clause to be confirmed"
    return f"{authority.document}, {clause}"


# Conditions and cases ---------------------------------------------------------


def read_where(table: Table) -> dict[str, tuple[str | bool, ...]]:
    """Read the conditions of a rule, noting mistakes.

    Args:
        table: the rule's table.
    """
    where = table.table("where", needed=False)
    if where is None:
        return {}
    return {fact: _accepted(where, fact) for fact in where.data}


def _accepted(where: Table, fact: str) -> tuple[str | bool, ...]:
    value = where.data[fact]
    listed = cast("list[object]", value) if isinstance(value, list) else [value]
    accepted = tuple(one for one in listed if isinstance(one, str | bool))
    if not accepted or len(accepted) != len(listed):
        where.wrong(fact, f"{value!r} found; a word, true or false, or a list of them")
    return accepted


def read_case(table: Table, limits: Limits) -> RuleCase:
    """Read a case of a rule, noting mistakes.

    Args:
        table: the case's table.
        limits: the limits of its rule.
    """
    table.only(("title", "says", "given", "doorway"))
    given = table.table("given", needed=False)
    doorway = table.table("doorway", needed=False)
    if (given is None) == (doorway is None):
        table.wrong("", "exactly one of given and doorway is needed")
    return RuleCase(
        title=table.text("title"),
        says=cast("Says", table.choice("says", _SAYS)),
        given=_given(given, limits) if given else None,
        doorway=doorway.data if doorway else None,
    )


def _given(table: Table, limits: Limits) -> Given | None:
    table.only(("limit", "found", "compare"))
    limit = table.text("limit")
    compare = table.choice("compare", _COMPARE)
    if limit and limit not in limits.figures:
        table.wrong("limit", f"{limit!r} is no limit of this rule that has a figure")
        return None
    figure = take_figure(table, "found", Grade.MEASURED)
    if figure is None:
        return None
    quantity, dimension = figure
    if limit and dimension is not limits.dimensions[limit]:
        why = f"is a {dimension}; the limit is a {limits.dimensions[limit]}"
        table.wrong("found", why)
    return Given(limit, quantity, cast("Compare", compare))


def check_sides(table: Table, rule: Rule) -> None:
    """A rule with figures shows by cases on which side of them a door lies.

    Args:
        table: the rule's table, in which a mistake is noted.
        rule: what was read from it.
    """
    if not rule.limits:
        return
    may_hold = all(figure.grade.may_hold for figure in rule.limits.values())
    good = "holds" if may_hold else "not shown"
    says = {case.says for case in rule.cases}
    for needed in (good, "fails"):
        if needed not in says:
            table.wrong("case", f"needs at least one case that says {needed!r}")
