"""The list of doorways as a page shows it: rows in words, and addresses of all else."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache, partial
from typing import Any, Literal
from urllib.parse import urlencode

from limen.desk import doors
from limen.desk.doors import Asked, DoorFound, DueThere, Group
from limen.desk.library import Desk
from limen.exchange import Tally
from limen.findings import Message
from limen.web.sites_shown import counts_of
from limen.words import reading, say, say_count, say_day, say_question
from limen.words.due import said_state

View = Literal["list", "fails", "due"]
VIEWS: tuple[View, ...] = ("list", "fails", "due")
SORTS: tuple[doors.Sort, ...] = (
    "name",
    "site",
    "place",
    "mend",
    "measure",
    "due",
    "visit",
    "open",
)
COLUMNS: tuple[doors.Sort, ...] = ("name", "site", "place", "mend", "due", "visit")
GROUPS: tuple[Group, ...] = ("site", "place", "route", "person")
MOST_GROUPS = 100
MONTHS_AHEAD = 5
AFTER = "after-"
"""Before a month: all that is due later."""
HERE = "/doors"


@dataclass(frozen=True, slots=True)
class Shown:
    """What an address of the list says, as it was typed or followed.

    Attributes:
        asked: which doorways, in which order, from which one on.
        words: what was searched for.
        view: list, what fails most, or what is due where.
        by: by what the latter is parted.
    """

    asked: Asked
    words: str = ""
    view: View = "list"
    by: Group = "site"

    def address(self, path: str = HERE, **other: object) -> str:
        """The address of the same list with something of it otherwise."""
        said = {**self.said, **{name: str(one) for name, one in other.items()}}
        if "start" not in other:
            said.pop("start", None)
        told = {name: one for name, one in said.items() if one != _BLANK.get(name, "")}
        return f"{path}?{urlencode(told)}" if told else path

    @property
    def said(self) -> dict[str, str]:
        """All of it, as an address says it."""
        wanted, asked = self.asked.wanted, self.asked
        return {
            "q": self.words,
            "state": wanted.state,
            "site": wanted.site,
            "place": wanted.place,
            "rulebook": wanted.rulebook,
            "person": wanted.person,
            "route": wanted.route,
            "question": wanted.question,
            "answer": wanted.answer if wanted.question else "fails",
            "due": wanted.due,
            "sort": asked.sort,
            "down": "1" if asked.down else "",
            "start": str(asked.start or ""),
            "view": self.view,
            "by": self.by,
        }


_BLANK = {
    "state": "all",
    "answer": "fails",
    "sort": "site",
    "view": "list",
    "by": "site",
    "down": "",
}


@dataclass(frozen=True, slots=True)
class Row:
    """A doorway in the list.

    Attributes:
        one: what is known of it.
        counts: what is to be done, in words, each with the verdict it stands for.
        due: whether its check is due, in words.
        late: whether it is overdue.
        due_day: by when, in words.
        as_of: on which earlier day it was studied, in words; empty if today.
        visit: when it was visited last, in words.
        left: how it was left then.
        harm: whether it was left with defects or out of use.
        open: what is open, in words.
    """

    one: DoorFound
    counts: tuple[tuple[str, str], ...]
    due: str
    late: bool
    due_day: str
    as_of: str
    visit: str
    left: str
    harm: bool
    open: str


@dataclass(frozen=True, slots=True)
class Cell:
    """A count that leads to the doorways that it counts.

    Attributes:
        count: how many.
        href: their list.
        label: what is counted, for those who hear it.
    """

    count: int
    href: str
    label: str


def frame_of(desk: Desk, shown: Shown) -> dict[str, Any]:
    """What stands around the list: filters, states with counts, what is not in it."""
    counts = doors.counted(desk, shown.asked.wanted)
    return {
        "shown": shown,
        "said": shown.said,
        "choices": doors.choices(desk),
        "sorts": SORTS,
        "states": [
            (one, counts.states[one], shown.address(state=one)) for one in doors.STATES
        ],
        "views": [(one, shown.address(view=one)) for one in VIEWS],
        "counts": counts,
        "count": counts.states[shown.asked.wanted.state],
        "chips": list(_chips(desk, shown)),
        "csv": shown.address("/doors.csv"),
        "to_read": doors.to_read(desk),
        "first_day": _day(counts.first_day),
    }


def list_of(desk: Desk, shown: Shown, count: int) -> dict[str, Any]:
    """A page of the list, and where those before and after it are."""
    asked = shown.asked
    today = desk.day()
    rows = [row_of(one, today) for one in doors.rows(desk, asked)]
    before, after = asked.start - doors.A_PAGE, asked.start + doors.A_PAGE
    return {
        "rows": rows,
        "heads": [_head(shown, one) for one in COLUMNS],
        "first": asked.start + 1,
        "last": asked.start + len(rows),
        "before": shown.address(start=max(before, 0) or "") if asked.start else "",
        "after": shown.address(start=after) if after < count else "",
        "a_page": doors.A_PAGE,
        "site_address": partial(_only, shown, "site"),
        "place_address": partial(_only, shown, "place"),
    }


def fails_of(desk: Desk, shown: Shown) -> dict[str, Any]:
    """What fails most: each question with its counts."""
    listed = replace(shown, view="list")
    rows: list[tuple[str, tuple[Cell | None, ...]]] = []
    for one in doors.fails_most(desk, shown.asked.wanted):
        name = say_question(one.question)
        told = zip(doors.ANSWERS, (one.fails, one.not_shown, one.advised), strict=True)
        cells = tuple(
            _answer_cell(listed, one.question, name, answer, count)
            for answer, count in told
        )
        rows.append((name, cells))
    return {"failing": rows, "answers": [(one, _answer(one)) for one in doors.ANSWERS]}


def due_of(desk: Desk, shown: Shown) -> dict[str, Any]:
    """What is due where: a row a place, a column a month."""
    ahead = _months(desk.day())
    found = doors.due_where(desk, shown.asked.wanted, shown.by, ahead, MOST_GROUPS)
    every_month = ("overdue", *ahead, f"{AFTER}{ahead[-1]}", "none")
    columns = {one: _month(one) for one in every_month}
    listed, total = replace(shown, view="list"), say(Message("doors.where.total"))
    return {
        "groups": [(one, shown.address(by=one)) for one in GROUPS],
        "months": list(columns.items()),
        "places": [_place(listed, shown.by, one, columns) for one in found.places],
        "left": found.of - len(found.places),
        "totals": _due_cells(listed, {}, total, found.total, columns),
    }


def row_of(one: DoorFound, on: date) -> Row:
    """A doorway as a row."""
    counts: tuple[tuple[str, str], ...] = ()
    if one.judged:
        counts = counts_of(Tally(one.mend, one.measure, one.office, 0))
    late = one.due in ("overdue", "at once")
    earlier = one.known and one.studied != on.isoformat()
    harm = one.left_as in ("in use with defects", "out of use")
    return Row(
        one,
        counts,
        _due(one, on),
        late,
        _day(one.due_day or ""),
        _day(one.studied) if earlier else "",
        _day(one.begun[:10]),
        say(Message(f"visits.over.{one.left_as}")) if one.left_as else "",
        harm,
        say_count("doors.open", one.open) if one.open else "",
    )


def _day(text: str) -> str:
    """A day in words; nothing for none."""
    return _day_in(text, reading())


@lru_cache(maxsize=5000)
def _day_in(text: str, language: str) -> str:
    """A day in the words of a language, which stay what they are."""
    try:
        return say_day(date.fromisoformat(text), language)
    except ValueError:
        return text


def _due(one: DoorFound, on: date) -> str:
    match one.due:
        case "overdue" | "day" if one.due_day:
            left = (date.fromisoformat(one.due_day) - on).days
            return said_state("overdue" if left < 0 else "in time", left)
        case "at once" | "not known":
            return said_state(one.due, None)
        case "not asked":
            return say(Message("doors.due.not_asked"))
        case _:
            return say(Message("doors.due.unreckoned"))


def _only(shown: Shown, name: str, value: str) -> str:
    return shown.address(**{name: value})


def _head(shown: Shown, column: doors.Sort) -> dict[str, str]:
    """A column's name, how the list is ordered by it, and where that is turned."""
    here = shown.asked.sort == column
    down = here and not shown.asked.down
    return {
        "name": column,
        "sorted": ("descending" if shown.asked.down else "ascending") if here else "",
        "href": shown.address(sort=column, down="1" if down else ""),
    }


def _chips(desk: Desk, shown: Shown) -> Iterator[tuple[str, str]]:
    """Filters that no field shows, each with the list without it."""
    wanted = shown.asked.wanted
    if wanted.site:
        what = doors.site_name(desk, wanted.site)
        yield _said("filter_site", what=what), shown.address(site="")
    if wanted.place:
        yield _said("filter_place", what=wanted.place), shown.address(place="")
    if wanted.question:
        told = {"question": say_question(wanted.question)}
        told["answer"] = _answer(wanted.answer)
        yield (
            _said("filter_question", **told),
            shown.address(question="", answer="fails"),
        )
    if wanted.due:
        yield _said("filter_due", what=_month(wanted.due)), shown.address(due="")


def _said(key: str, **values: str) -> str:
    return say(Message(f"doors.{key}", values))


def _answer(answer: doors.Answer) -> str:
    return say(Message(f"doors.fails.{answer.replace(' ', '_')}"))


def _answer_cell(
    shown: Shown, question: str, name: str, answer: doors.Answer, count: int
) -> Cell | None:
    if not count:
        return None
    told = {"question": name, "answer": _answer(answer), "count": str(count)}
    href = shown.address(question=question, answer=answer)
    return Cell(count, href, _said("fails.count", **told))


def _months(on: date) -> tuple[str, ...]:
    """This month and those after it, ``2026-12``."""
    first = on.year * 12 + on.month - 1
    told = (divmod(first + ahead, 12) for ahead in range(MONTHS_AHEAD + 1))
    return tuple(f"{year:04d}-{month + 1:02d}" for year, month in told)


def _month(month: str) -> str:
    if month in ("overdue", "none"):
        return say(Message(f"doors.where.{month}"))
    if month.startswith(AFTER):
        return _said("where.after", month=_month(month.removeprefix(AFTER)))
    from babel.dates import format_skeleton

    try:
        first = date.fromisoformat(f"{month}-01")
    except ValueError:
        return month
    return str(format_skeleton("yMMM", first, locale=reading()))


def _place(
    shown: Shown, by: Group, one: DueThere, columns: Mapping[str, str]
) -> tuple[str, str, list[Cell | None]]:
    """A place's name, its doorways, and its counts by month."""
    said = one.name or say(Message("doors.where.nowhere"))
    only: dict[str, str] = {by: one.group} if one.group else {}
    cells = _due_cells(shown, only, said, one.counts, columns)
    return said, shown.address(**only) if one.group else "", cells


def _due_cells(
    shown: Shown,
    only: Mapping[str, str],
    where: str,
    counts: Mapping[str, int],
    columns: Mapping[str, str],
) -> list[Cell | None]:
    """A count for each month of a row; none where nothing is due."""
    # An address is put together once a row; no month has a sign that is quoted there,
    # and every other text has its own "=" quoted.
    row = shown.address(**only, due="none", sort="due")
    return [
        _due_cell(row.replace("due=none", f"due={month}"), where, word, counts[month])
        if month in counts
        else None
        for month, word in columns.items()
    ]


def _due_cell(href: str, where: str, month: str, count: int) -> Cell:
    told = {"where": where, "month": month, "count": str(count)}
    return Cell(count, href, _said("where.count", **told))


def as_values(one: DoorFound) -> dict[str, Any]:
    """A doorway of the list, for programs."""
    return {name: getattr(one, name) for name in one.__dataclass_fields__}
