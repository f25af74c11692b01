"""Sites as rows of a list: what was searched for, and what is to be done there."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Literal
from urllib.parse import urlencode

from limen.desk.library import Desk
from limen.desk.library_lines import SiteLine
from limen.desk.sheet_shelf import named_in
from limen.exchange import Tally
from limen.findings import Verdict
from limen.words import say_count

Show = Literal["all", "mend", "measure", "office", "due", "away"]
SHOWS: tuple[Show, ...] = ("all", "mend", "measure", "office", "due", "away")
MOST_VERSIONS = 50
A_LEAF = 50
"""Sites on one leaf of the list."""


@dataclass(frozen=True, slots=True)
class Row:
    """A site in the list.

    Attributes:
        line: what is known of it.
        counts: what is to be done, in words, each with the verdict it stands for.
        waits: whether its doorways were not studied yet.
    """

    line: SiteLine
    counts: tuple[tuple[str, str], ...]
    waits: bool


def found_of(lines: Iterable[SiteLine], wanted: str, show: Show) -> list[SiteLine]:
    """The sites that match; one not yet studied is let through a filter.

    Args:
        lines: all sites.
        wanted: words that must all stand in its name, its place or a doorway.
        show: what must be to be done there.
    """
    words = wanted.casefold().split()
    return [
        one for one in lines if _shown(one, show) and (not words or _says(one, words))
    ]


def leaf_of(
    found: list[SiteLine], wanted: str, show: Show, start: int
) -> dict[str, Any]:
    """One leaf of a long list, and where the leaves before and after it are.

    Args:
        found: all sites that match.
        wanted: the words that were searched for.
        show: the filter.
        start: how many sites stand on the leaves before.
    """

    def address(first: int) -> str:
        return "/?" + urlencode({"q": wanted, "show": show, "start": max(first, 0)})

    after = start + A_LEAF
    return {
        "rows": [row_of(one) for one in found[start:after]],
        "count": len(found),
        "first": start + 1,
        "last": min(after, len(found)),
        "before": address(start - A_LEAF) if start else "",
        "after": address(after) if after < len(found) else "",
    }


def row_of(line: SiteLine) -> Row:
    """A site as a row."""
    waits = line.tally is None and not line.faults
    return Row(line, counts_of(line.tally), waits)


def counts_of(tally: Tally | None) -> tuple[tuple[str, str], ...]:
    """What is to be done, in words; nothing to mend is said as well."""
    if tally is None:
        return ()
    kinds = (
        (Verdict.FAILS, "mend", tally.mend),
        (Verdict.NOT_SHOWN, "measure", tally.measure),
        ("", "office", tally.office),
        (Verdict.FAILS, "due", tally.due),
    )
    return tuple(
        (str(verdict) if count else "", say_count(f"tally.{name}", count))
        for verdict, name, count in kinds
        if count or name == "mend"
    )


def view_of(desk: Desk, line: SiteLine) -> dict[str, Any]:
    """What the page of a site shows of its doorways and its history."""
    return {
        "row": row_of(line),
        "doors": [(door, counts_of(door.tally)) for door in line.doors],
        "history": desk.library.history(line.stored.id)[:MOST_VERSIONS],
        "sheets": named_in(desk, line.stored.id),
    }


def _shown(line: SiteLine, show: Show) -> bool:
    if line.stored.archived:
        return show == "away"
    if show in ("all", "away"):
        return show == "all"
    return line.tally is None or getattr(line.tally, show) > 0


def _says(line: SiteLine, words: Iterable[str]) -> bool:
    """Whether all words stand in its name, its place or a doorway."""
    names = (door.name for door in line.doors)
    said = " ".join((line.stored.name, line.place, *names)).casefold()
    return all(word in said for word in words)
