"""A report of studies, written as one PDF file, whole or not at all."""

import errno
import os
import tempfile
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from limen.desk.clock import today
from limen.desk.drawing import Units, first_to_mend
from limen.desk.refusal import Refusal, refusing

if TYPE_CHECKING:
    from collections.abc import Iterator

    from limen.desk.checking import Checked
    from limen.report import Body, Book, Contents, Limit
    from limen.rules import Rule, Rulebook

Paper = Literal["a4", "letter"]
_LETTER = frozenset({"us"})
"""Rulebooks of countries that print on Letter."""
_BODY = ("body_length", "body_depth", "body_height")
_BODY_QUESTION = "presence.threshold"


def report(
    checked: "Checked",
    out: str | Path,
    *,
    paper: Paper | None = None,
    units: Units = "metric",
) -> Path:
    """Write the report of a site.

    Args:
        checked: the site and its studies.
        out: the file; one that is there is replaced once the new one is whole.
        paper: size of its pages; that of the rulebook's country if not given.
        units: in which lengths are written.

    Returns:
        The file.

    Raises:
        Refusal: the file cannot be written, or a letter of it not be printed.
    """
    from limen.report import ReportError, pdf

    target = Path(out)
    with refusing():
        _writable(target)
        try:
            made = pdf(contents(checked, paper=paper, units=units))
        except ReportError as error:
            raise Refusal([f"{target}: no report was written. {error}"]) from error
        _replace(target, made)
    return target


def contents(
    checked: "Checked", *, paper: Paper | None = None, units: Units = "metric"
) -> "Contents":
    """Gather what a report says; nothing is written."""
    from limen.exchange import contract, dumps
    from limen.quantity import Show
    from limen.report import Contents, Part

    system, site = Show(units), checked.site
    books = tuple({book.mark: book for book in checked.rulebooks}.values())
    return Contents(
        site=site.name,
        place=site.place,
        on=checked.studies[0].on or today(),
        parts=tuple(Part(one, first_to_mend(one)) for one in checked.studies),
        books=tuple(_book(one) for one in books),
        limits=tuple(_limits(checked, system)),
        bodies=_bodies(books),
        files=dict(checked.files),
        findings=dumps(contract(checked.studies, site=site.name, system=system)),
        paper=paper or usual_paper(checked),
        system=system,
    )


def usual_paper(checked: "Checked") -> Paper:
    """Letter where every rulebook is of a country that prints on it."""
    return paper_of(*(book.id for book in checked.rulebooks))


def paper_of(*rulebooks: str | None) -> Paper:
    """The paper on which the countries of rulebooks print: A4 unless all on Letter."""
    return "letter" if set(rulebooks) <= _LETTER else "a4"


# What the rulebooks say ---------------------------------------------------------


def _book(book: "Rulebook") -> "Book":
    from limen.report import Book

    return Book(book.mark, book.title, book.digest, book.notes)


def _limits(checked: "Checked", system: object) -> "Iterator[Limit]":
    """Every figure that a question asked was held against, each once."""
    asked: dict[str, set[str]] = {}
    for study, book in zip(checked.studies, checked.rulebooks, strict=True):
        held = {one.question for one in study.findings if one.authority}
        asked.setdefault(book.mark, set()).update(held)
    for book in {one.mark: one for one in checked.rulebooks}.values():
        for rule in book.rules:
            if rule.question in asked[book.mark]:
                yield from _of_rule(rule, book.mark, system)


def _of_rule(rule: "Rule", mark: str, system: object) -> "Iterator[Limit]":
    from limen.quantity import Show
    from limen.report import Limit
    from limen.words import say_quantity

    for name in (*rule.limits, *rule.unset):
        figure = rule.limits.get(name)
        said = figure and say_quantity(figure, rule.dimensions[name], Show(str(system)))
        source = rule.source(name)
        clause = source.clause if source.clause_known else None
        grade = figure.grade if figure else source.grade
        yield Limit(mark, rule.question, name, said, source.document, clause, grade)


def _bodies(books: "tuple[Rulebook, ...]") -> "tuple[Body, ...]":
    """The test bodies of the rulebooks, each size once."""
    found: dict[tuple[float, float, float], Body] = {}
    for book in books:
        for rule in book.rules:
            if rule.question == _BODY_QUESTION and all(map(rule.has, _BODY)):
                body = _body(rule, book.mark)
                found.setdefault((body.wide, body.deep, body.high), body)
    return tuple(found.values())


def _body(rule: "Rule", mark: str) -> "Body":
    from limen.quantity import least
    from limen.report import Body

    wide, deep, high = (rule.limit(name) for name in _BODY)
    source = rule.source(_BODY[-1])
    clause = source.clause if source.clause_known else None
    grade = least(wide.grade, deep.grade, high.grade)
    sizes = wide.value, deep.value, high.value
    return Body(mark, source.document, clause, grade, *sizes)


# The file -----------------------------------------------------------------------


def put_whole(target: Path, made: bytes) -> None:
    """Write a file whole or not at all; one that is there is replaced.

    Raises:
        OSError: the folder is not there or not writable, or the target is one.
    """
    _writable(target)
    _replace(target, made)


def _writable(target: Path) -> None:
    """Refuse at once what would be refused after the work.

    Raises:
        OSError: the folder is not there or not writable, or the target is one.
    """
    if target.is_dir():
        raise IsADirectoryError(errno.EISDIR, "", str(target))
    try:
        file, name = tempfile.mkstemp(dir=target.parent, prefix=".limen-")
    except OSError as error:
        # The name to tell is the one that was asked for.
        raise OSError(error.errno, error.strerror, str(target)) from error
    os.close(file)
    Path(name).unlink()


def _replace(target: Path, made: bytes) -> None:
    """Write beside the target, then put the whole file in its place."""
    file, name = tempfile.mkstemp(dir=target.parent, prefix=".limen-")
    try:
        with os.fdopen(file, "wb") as beside:
            beside.write(made)
            beside.flush()
            os.fsync(beside.fileno())
        Path(name).chmod(_mode(target))
        Path(name).replace(target)
    except BaseException:
        with suppress(OSError):
            Path(name).unlink()
        raise


def _mode(target: Path) -> int:
    """The mode of the file that is there; else what new files of the user get."""
    with suppress(FileNotFoundError):
        return target.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
