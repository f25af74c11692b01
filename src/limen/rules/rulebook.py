"""A rulebook: one edition of a body of rules, as data."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from limen.quantity import Quantity
from limen.rules.differing import Difference
from limen.rules.editions import Edition
from limen.rules.rule import Excluded, Rule, Unsettled
from limen.rules.selecting import select


@dataclass(frozen=True, slots=True)
class Document:
    """A document a rulebook rests on.

    Attributes:
        name: how rules name it, with its edition.
        title: what it is.
        note: what a reader should know about it.
    """

    name: str
    title: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Override:
    """A figure of the rulebook replaced by the firm's own.

    Attributes:
        rule: id of the rule.
        limit: name of the limit.
        old: the figure it replaces; None when the limit shipped without one.
        new: the firm's figure, of grade *own*.
        source: where the firm read it.
        by: who entered it.
        on: the day it was entered.
    """

    rule: str
    limit: str
    old: Quantity | None
    new: Quantity
    source: str
    by: str
    on: date


@dataclass(frozen=True, slots=True)
class Rulebook:
    """One edition of a rulebook, with the firm's own figures in place.

    Attributes:
        id: its name, as the folder is named.
        edition: its edition.
        title: its title.
        rules: its rules, in the order of its files.
        overrides: figures replaced by the firm's own.
        digest: SHA-256 of its files, of what shipped and not of the overrides.
        notes: what must be printed wherever it is used.
        documents: what it rests on.
        valid: the days on which a door could be built to it.
        base: the rulebook it is laid on; empty if it stands by itself.
        differences: what it says otherwise than its base, or says too.
    """

    id: str
    edition: str
    title: str
    rules: tuple[Rule, ...]
    valid: Edition
    overrides: tuple[Override, ...] = ()
    digest: str = ""
    notes: tuple[str, ...] = ()
    documents: tuple[Document, ...] = ()
    base: str = ""
    differences: tuple[Difference, ...] = ()

    @property
    def mark(self) -> str:
        """Id and edition, as it is named in errors: "en 2012"."""
        return f"{self.id} {self.edition}"

    def rule_for(
        self, question: str, facts: Mapping[str, object]
    ) -> Rule | Excluded | Unsettled:
        """The rule that answers a question about a doorway.

        Args:
            question: the question, ``group.question``.
            facts: facts of the doorway by name; None or absent means not stated.

        Returns:
            The rule; or what excludes it; or the missing facts it hangs on.

        Raises:
            TypeError: a deciding fact is neither a word nor yes or no.
        """
        return select(question, self.rules, facts, shelf_mark=self.mark)
