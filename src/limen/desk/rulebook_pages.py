"""A page of documentation for each rulebook and edition, written from its data.

Building the documentation writes them anew; so does ``python -m
limen.desk.rulebook_pages docs/rulebooks``. A test holds them against the rulebooks.
"""

import sys
from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path

from limen.desk.differences import differences, plain, said_source, shown
from limen.findings import Message
from limen.quantity import Show, show_quantity
from limen.rules import Rule, Rulebook
from limen.store.bookshelf import Bookshelf, open_shelf
from limen.words import say


def pages(shelf: Bookshelf) -> dict[str, str]:
    """Every page by the name of its file: ``en-2012.md``.

    Args:
        shelf: the rulebooks; those that ship.
    """
    keys = [book.key for book in shelf.books]
    return {"-".join(key) + ".md": page(shelf.edition(*key)) for key in keys}


def page(book: Rulebook) -> str:
    """The page of one edition, as Markdown."""
    return "\n".join([*_head(book), *_documents(book), *_rules(book)]) + "\n"


def write(folder: Path) -> list[Path]:
    """Write every page into a folder; pages of rulebooks that are gone go too.

    Returns:
        The files that were written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    written = {folder / name: text for name, text in pages(open_shelf()).items()}
    for stale in set(folder.glob("*.md")) - written.keys():
        stale.unlink()
    for path, text in written.items():
        if not path.is_file() or path.read_text(encoding="utf-8") != text:
            path.write_text(text, encoding="utf-8", newline="\n")
    return list(written)


def on_pre_build(config: Mapping[str, object]) -> None:
    """Write the pages before the documentation is built; mkdocs calls it by name."""
    write(Path(str(config["docs_dir"])) / "rulebooks")


# The top ----------------------------------------------------------------------


def _head(book: Rulebook) -> Iterator[str]:
    yield f"# `{book.id}` {book.edition}"
    yield from ("", book.title + ".", "", _say("written"), "", _validity(book))
    if book.base:
        base = {"base": book.base, "edition": book.edition}
        yield from ("", _say("base" if book.differences else "no_difference", **base))
    yield ""
    yield from (f"- {note}" for note in book.notes)


def _validity(book: Rulebook) -> str:
    since, until = book.valid.valid_from, book.valid.valid_until
    begins = since.isoformat() if since else _say("since_ever")
    said = _say("valid", since=begins, until=_until(until))
    return f"{said} {book.valid.transition}".strip()


def _until(day: date | None) -> str:
    return " " + _say("until", day=day.isoformat()) if day else ""


def _documents(book: Rulebook) -> Iterator[str]:
    yield from ("", f"## {_say('documents')}", "")
    for one in book.documents:
        note = f" {one.note}" if one.note else ""
        yield f"- **{one.name}**: {one.title}.{note}"


# Rule by rule -----------------------------------------------------------------


def _rules(book: Rulebook) -> Iterator[str]:
    if shown(book):
        yield from ("", f"## {_say('rules')}")
    for rule in shown(book):
        yield from ("", f"### `{rule.name}`", "", _asks(rule))
        yield from _limits(rule)
        yield from _sources(rule)
        yield from _listed("differs", differences(book, rule, Show.METRIC))
        yield from _listed("examples", [*_examples(rule)])


def _asks(rule: Rule) -> str:
    weight = say(Message(f"weight.{rule.weight}"))
    more = f", {_say('stricter')}" if rule.stricter else ""
    return f"**{weight[0].upper()}{weight[1:]}**{more}. {rule.asks}{_where(rule)}"


def _where(rule: Rule) -> str:
    if not rule.where:
        return ""
    words: dict[str | bool, str] = {True: _say("yes"), False: _say("no")}
    conditions = "; ".join(
        f"`{fact}` = {', '.join(str(words.get(one, one)) for one in accepted)}"
        for fact, accepted in rule.where.items()
    )
    return f" {_say('where', conditions=conditions)}"


def _limits(rule: Rule) -> Iterator[str]:
    if not rule.limits and not rule.unset:
        return
    yield from ("", _say("head"), "|---|---|---|---|---|")
    for name in rule.limits:
        figure = [_figure(rule, name, system) for system in Show]
        source = say(said_source(rule.source(name)))
        grade = say(Message(f"grade.{rule.limits[name].grade}"))
        yield _row(plain(name), *figure, source, grade)
    for name, why in rule.unset.items():
        yield _row(plain(name), _say("no_figure"), "", why, "")


def _figure(rule: Rule, name: str, system: Show) -> str:
    return show_quantity(rule.limits[name], rule.dimensions[name], system)


def _row(*cells: str) -> str:
    return f"| {' | '.join(cells)} |"


def _sources(rule: Rule) -> Iterator[str]:
    for source in rule.authorities():
        grade = say(Message(f"grade.{source.grade}"))
        said = _say("source", source=say(said_source(source)), grade=grade)
        seen = _say("seen_in", place=source.seen_in) if source.seen_in else ""
        yield from ("", " ".join(part for part in (said, seen, source.note) if part))


def _examples(rule: Rule) -> Iterator[str]:
    for case in rule.cases:
        yield _say("example", title=case.title, says=case.says)


def _listed(heading: str, items: list[str]) -> Iterator[str]:
    if items:
        yield from ("", _say(heading), "", *(f"- {item}" for item in items))


def _say(key: str, **values: str) -> str:
    return say(Message(f"page.{key}", values))


if __name__ == "__main__":
    write(Path(sys.argv[1]))
