"""What a report is made of, handed in by whoever asks for it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from limen.findings import Finding, Study
from limen.quantity import Show
from limen.words import reading

PaperName = Literal["a4", "letter"]


@dataclass(frozen=True, slots=True)
class Body:
    """A test body that a rulebook names.

    Attributes:
        rulebook: id and edition, as "en 2012".
        document, clause: where its size stands; clause None where it is open.
        grade: how well the size is known.
        wide, deep, high: its size (m).
    """

    rulebook: str
    document: str
    clause: str | None
    grade: str
    wide: float
    deep: float
    high: float


@dataclass(frozen=True, slots=True)
class Limit:
    """One figure of a rulebook that a question of the report was held against.

    Attributes:
        rulebook: id and edition, as "en 2012".
        question: the question that uses it.
        name: the limit's name.
        value: the figure in the reader's units; None where none ships.
        document, clause: where it stands; clause None where it is open.
        grade: how well it is known.
    """

    rulebook: str
    question: str
    name: str
    value: str | None
    document: str
    clause: str | None
    grade: str


@dataclass(frozen=True, slots=True)
class Book:
    """A rulebook as it was used.

    Attributes:
        mark: id and edition.
        title: its title.
        digest: SHA-256 of its files.
        notes: what must be printed wherever it is used.
    """

    mark: str
    title: str
    digest: str
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Part:
    """One doorway of the report.

    Attributes:
        study: what was found there.
        shown: the finding that its drawings show; None for a door as it is.
    """

    study: Study
    shown: Finding | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Contents:
    """Everything a report says, before it is said.

    Attributes:
        site, place: the building.
        on: the day as of which it holds.
        parts: the doorways.
        books: the rulebooks used, each once.
        limits: the figures that questions were held against.
        bodies: the test bodies, each once.
        files: SHA-256 of every file that was read, by its name.
        findings: the findings as JSON, to travel inside the document.
        paper: the size of its pages.
        language, system: of the reader.
    """

    site: str
    place: str
    on: date
    parts: tuple[Part, ...]
    books: tuple[Book, ...]
    limits: tuple[Limit, ...]
    bodies: tuple[Body, ...]
    files: Mapping[str, str]
    findings: str
    paper: PaperName = "a4"
    language: str = field(default_factory=reading)
    system: Show = Show.METRIC
