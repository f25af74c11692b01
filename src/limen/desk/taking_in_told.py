"""What was found in a list of doors, in words: counts, sites, rows and reasons."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from limen.desk.taking_in import Plan, SitePlan, Tried, reason_told
from limen.findings import Message
from limen.words import named, say, say_count

PASSED = ("above", "header", "empty", "header_again")


@dataclass(frozen=True, slots=True)
class RefusedRow:
    """A refused row, in words.

    Attributes:
        line: its first line.
        where: its line, or lines.
        whys: column and reason, and what would be accepted.
        key: of its first reason, for counting.
    """

    line: int
    where: str
    whys: tuple[tuple[str, str], ...]
    key: str


def counted(tried: Tried) -> str:
    """How many rows there are, how many are taken, refused, passed over."""
    passed, refused = len(tried.table.passed), len(tried.plan.refused)
    counts = {
        "rows": passed + refused + tried.plan.taken,
        "taken": tried.plan.taken,
        "refused": refused,
        "passed": passed,
    }
    said = {key: say_count(f"take_in.done.{key}", n) for key, n in counts.items()}
    return say(Message("take_in.done.counts", said))


def noted(tried: Tried) -> list[str]:
    """Rows that are passed over, and columns that become nothing."""
    said = [_passed(tried, why) for why in PASSED]
    what = "; ".join(one for one in said if one)
    told = [say(Message("take_in.done.passed_over", {"what": what}))] if what else []
    if tried.judged.unused:
        columns = ", ".join(tried.judged.unused)
        told.append(say(Message("take_in.done.unused", {"columns": columns})))
    return told


def _passed(tried: Tried, why: str) -> str:
    lines = [line for line, reason in tried.table.passed if reason == why]
    if not lines:
        return ""
    return say(Message(f"take_in.done.{why}", {"lines": runs(lines)}))


def runs(lines: Sequence[int]) -> str:
    """Numbers of lines, those in a row as one span: 3, 5–8."""
    told: list[str] = []
    numbered = enumerate(sorted(lines))
    for _, group in groupby(numbered, key=lambda pair: pair[1] - pair[0]):
        some = [line for _, line in group]
        told.append(f"{some[0]}–{some[-1]}" if len(some) > 1 else f"{some[0]}")
    most = 40
    more = ", …" if len(told) > most else ""
    return ", ".join(told[:most]) + more


def sites_told(plan: Plan) -> list[str]:
    """Each site with how many doorways come to it."""
    return [_site(site) for site in plan.sites]


def _site(site: SitePlan) -> str:
    name = site.said.name
    if site.said.place:
        values = {"site": name, "place": site.said.place}
        name = say(Message("take_in.done.at_place", values))
    count = say_count("take_in.done.doorways", len(site.doors))
    key = "site_more" if site.there else "site_new"
    return say(Message(f"take_in.done.{key}", {"site": name, "count": count}))


def refused_told(plan: Plan) -> list[RefusedRow]:
    """Every refused row with all its reasons."""
    return list(_refused(plan))


def _refused(plan: Plan) -> Iterator[RefusedRow]:
    for one in plan.refused:
        record = one.record
        whys: list[tuple[str, str]] = []
        for reason in one.reasons:
            why, accepted = reason_told(reason)
            told = named(reason.column, why) if reason.column else why
            whys.append((told, accepted))
        first, last = record.line, max(record.line, record.last)
        key = "lines" if last > first else "line"
        values = {"first": first, "last": last}
        where = say(Message(f"take_in.done.{key}", values))
        yield RefusedRow(first, where, tuple(whys), one.reasons[0].key)
