"""The reader's language and units, and what is said more than once."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime

from limen.findings import Finding, Message
from limen.findings.message import length
from limen.quantity import Show
from limen.words import (
    apart,
    catalogue,
    has,
    named,
    reading,
    said_clause,
    say,
    say_count,
    say_day,
    say_question,
)

Plain = dict[str, object]
"""Values that become JSON: texts, numbers, lists and tables of them."""

FIXED = "report.fixed."


@dataclass(frozen=True, slots=True)
class Tongue:
    """The reader's language and units."""

    language: str = field(default_factory=reading)
    system: Show = Show.METRIC

    def say(self, message: Message) -> str:
        """A message as a sentence."""
        return say(message, language=self.language, system=self.system)

    def count(self, key: str, number: int) -> str:
        """A count in words."""
        return say_count(key, number, language=self.language)

    def apart(self, parts: Iterable[str]) -> str:
        """Several things one after the other."""
        return apart(parts, language=self.language)

    def named(self, name: Message, what: str) -> str:
        """A thing and what is said of it."""
        return named(self.say(name), what, language=self.language)

    def question(self, name: str) -> str:
        """A question in plain words."""
        return say_question(name, language=self.language)

    def plainly(self, question: str) -> str:
        """What it means that a question fails; its name where nobody wrote it down."""
        key = f"report.plain.{question}"
        if has(key, language=self.language):
            return self.say(Message(key))
        what = {"what": self.question(question)}
        return self.say(Message("report.about.mend", what))

    def length(self, metres: float) -> str:
        """A length for people (m)."""
        return self.say(Message("report.length", {"far": length(metres)}))

    def day(self, on: date) -> str:
        """A day in words, as "12 November 2026"."""
        return say_day(on, self.language)

    def clause(self, document: str, clause: str | None) -> str:
        """Where a figure stands."""
        return self.say(said_clause(document, clause))

    def fixed(self) -> dict[str, str]:
        """Every sentence of the report that has no gaps, by its last name."""
        words = catalogue(self.language)
        return {
            key.removeprefix(FIXED): words.sentence(key) for key in words.under(FIXED)
        }


def clauses(
    findings: Iterable[Finding], tongue: Tongue, most: int | None = None
) -> str:
    """The documents and clauses that findings rest on, each once.

    Args:
        findings: the findings.
        tongue: of the reader.
        most: how many are named; of the rest only the number. All if None.
    """
    said = (
        tongue.clause(one.document, one.clause if one.clause_known else None)
        for finding in findings
        for one in finding.authority
    )
    every = list(dict.fromkeys(said))
    if most is None or len(every) <= most:
        return tongue.apart(every)
    values = {"what": tongue.apart(every[:most]), "count": len(every) - most}
    return tongue.say(Message("report.about.more", values))


def hour(at: str) -> str:
    """Hour and minute of a moment as devices write it, by UTC."""
    return f"{datetime.fromisoformat(at).astimezone(UTC):%H:%M}"


def sentence(text: str) -> str:
    """The text with its first letter large, as a sentence begins."""
    return text[:1].upper() + text[1:]
