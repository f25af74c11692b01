"""What the pages of lists show."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from limen.desk import taking_in_library as lists
from limen.desk import taking_in_told as told
from limen.desk.library import Desk
from limen.desk.refusal import Refusal
from limen.desk.taking_in import (
    ENCODINGS,
    RULEBOOKS,
    TARGETS,
    Table,
    Tried,
    sheets_known,
    target_told,
)
from limen.findings import Message
from limen.web.take_in_form import EVERY, columns_shown, said_value, targets_shown
from limen.words import say, say_count

MOST_REFUSED = 100
FIRST_ROWS = 5
SEPARATORS = (";", ",", "|", "tab")


def asked_shown(wrong: Iterable[str] = ()) -> dict[str, Any]:
    """The page with no list yet."""
    return {"wrong": list(wrong)}


def page_shown(
    desk: Desk,
    list_id: str,
    held: lists.Held,
    wrong: list[str],
    form: Mapping[str, str] | None,
) -> dict[str, Any]:
    """A list: how it was read, its columns, what would be taken in."""
    try:
        table = lists.table_of(held)
    except Refusal as no:  # it cannot be read as was asked: shown as it was before
        wrong = wrong or list(no.lines)
        held = lists.plainly(held)
        table = lists.table_of(held)
    tried: Tried | None = None
    try:
        tried = lists.try_in_library(desk, held, table)
    except Refusal as no:
        wrong = wrong or list(no.lines)
    shown: dict[str, Any] = {
        "id": list_id,
        "file": held.name,
        "wrong": wrong,
        "read": [say(one) for one in table.told],
        "choices": _choices(held, table),
        "columns": list(columns_shown(held.mapping, table, sheets_known(desk.sheets))),
        "targets": targets_shown(),
        "mapping": held.mapping,
        "every": [_every(key, held) for key in EVERY if _open(key, held)],
        "unknown": "; ".join(held.mapping.unknown),
        "tried": None,
    }
    if tried is not None and (not wrong or form is None):
        shown["tried"] = _tried(tried)
    if form is not None and wrong:
        _as_chosen(shown, form)
    shown["wrong_rows"] = [(None, line) for line in wrong]
    return shown


def _choices(held: lists.Held, table: Table) -> dict[str, Any]:
    how = held.how
    named = how.encoding and how.encoding not in ENCODINGS
    sign = how.separator
    odd = sign and sign not in SEPARATORS
    return {
        "text": not table.grid.sheet,
        "encodings": _named([*ENCODINGS, *([how.encoding] if named else [])]),
        "encoding": how.encoding,
        "separators": _named([*SEPARATORS, *([sign] if odd else [])]),
        "separator": how.separator,
        "sheets": table.grid.sheets,
        "sheet": how.sheet or table.grid.sheet,
        "header": how.header or "",
        "found_header": table.header,
    }


def _named(values: Iterable[str]) -> list[tuple[str, str]]:
    """What can be chosen; the first leaves it to the program."""
    return [("", say(Message("take_in.page.likely"))), *((one, one) for one in values)]


def _open(key: str, held: lists.Held) -> bool:
    """Whether no column says it."""
    return not any(key in one.to for one in held.mapping.column)


def _every(key: str, held: lists.Held) -> dict[str, Any]:
    accepted = RULEBOOKS if key == "site.rulebook" else TARGETS[key].accepted
    said = held.mapping.every.get(key, "")
    named = [(value, said_value(value)) for value in accepted]
    return {"key": key, "name": target_told(key), "accepted": named, "said": said}


def _as_chosen(shown: dict[str, Any], form: Mapping[str, str]) -> None:
    """What was chosen stays chosen where it was refused."""
    for column in shown["columns"]:
        column["to"] = form.get(f"to_{column['place']}", column["to"])
        column["unit"] = form.get(f"unit_{column['place']}", column["unit"])
        column["day"] = form.get(f"day_{column['place']}", column["day"])
    for one in shown["every"]:
        one["said"] = form.get(f"every_{one['key']}", one["said"])
    shown["unknown"] = form.get("unknown", shown["unknown"])
    for key in ("encoding", "separator", "sheet", "header"):
        shown["choices"][key] = form.get(key, shown["choices"][key])


def _tried(tried: Tried) -> dict[str, Any]:
    rows = told.refused_told(tried.plan)
    return {
        "counted": told.counted(tried),
        "noted": told.noted(tried),
        "sites": told.sites_told(tried.plan),
        "taken": tried.plan.taken,
        "refused": rows[:MOST_REFUSED],
        "more": max(0, len(rows) - MOST_REFUSED),
        "first": list(_first(tried)),
    }


def _first(tried: Tried) -> Iterator[dict[str, Any]]:
    """The first doorways as they would be."""
    doors = [door for site in tried.plan.sites for door in site.doors]
    for door in sorted(doors, key=lambda one: one.record.line)[:FIRST_ROWS]:
        said = [("site.name", door.site.name), ("site.place", door.site.place)]
        said.append(("site.rulebook", door.site.rulebook))
        said += [("door.id", door.id), ("door.name", str(door.short["name"]))]
        said += list(_rest(door.short))
        pairs = [(target_told(key), text) for key, text in said if text]
        yield {"line": door.record.line, "pairs": pairs}


def _rest(short: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    for key, value in short.items():
        if key == "kept":
            yield from ((f"kept.{name}", _plain(one)) for name, one in value.items())
        elif key in TARGETS:
            yield key, _plain(value)


def _plain(value: Any) -> str:  # noqa: ANN401 - whatever a file may hold
    if isinstance(value, bool):
        return say(Message("take_in.page.yes" if value else "take_in.page.no"))
    return said_value(str(value))


def done_shown(list_id: str, held: lists.Held, stay: tuple[str, ...]) -> dict[str, Any]:
    """What was taken in."""
    return {
        "id": list_id,
        "file": held.name,
        "sites": [(one.site, held.names[one.site]) for one in held.kept],
        "count": say_count("take_in.page.done_sites", len(held.kept)),
        "refused": held.refused,
        "back": held.back,
        "stay": ", ".join(stay),
    }
