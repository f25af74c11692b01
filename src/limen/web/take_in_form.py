"""The form of a mapping: what was chosen for each column, as a mapping; and back."""

from collections.abc import Iterator, Mapping
from typing import Any

from pydantic import ValidationError

from limen.desk.taking_in import (
    DAYS,
    PAIRS,
    TARGETS,
    ColumnMap,
    DoorMap,
    How,
    Table,
    dimension_units,
    distinct_texts,
    mapping_of,
    target_told,
)
from limen.findings import Message
from limen.words import named, say

EVERY = ("site.name", "site.rulebook", "leaves", "clear_width", "kept.by", "kept.route")
"""What may be said for every row."""
MOST_VALUES = 12
"""Texts of a column whose meaning can be chosen one by one."""
UNKNOWN = "?"
"""Chosen where a text means that nothing is known."""
SAID = ("bi-parting", "single left", "single right", "yes", "no")
"""Values that have words of their own; rulebooks and sheets go by their names."""
Form = Mapping[str, str]


class WrongMappingError(ValueError):
    """What was chosen does not go together.

    Attributes:
        lines: why.
    """

    def __init__(self, lines: list[str]) -> None:
        """Keep the lines."""
        super().__init__("\n".join(lines))
        self.lines = lines


def how_of(form: Form) -> How:
    """How a person wants the list read."""
    header = form.get("header", "").strip()
    number = int(header) if header.isascii() and header.isdigit() else None
    return How(
        form.get("encoding", "")[:40],
        form.get("separator", "")[:10],
        form.get("sheet", "")[:100],
        number or None,
    )


def map_of(form: Form, table: Table) -> DoorMap:
    """What a person wants each column to become.

    Raises:
        WrongMappingError: it does not go together.
    """
    columns: dict[tuple[str, ...], dict[str, Any]] = {}
    left: list[str] = []
    for column in table.columns:
        key = form.get(f"to_{column.place}", "")
        to = PAIRS.get(key, (key,) if key in TARGETS else ())
        if not to:
            left.append(column.name)
        elif to in columns:
            columns[to]["column"] += (column.name,)
        else:
            columns[to] = _column(form, table, column.place, column.name, to)
    every = {key: form.get(f"every_{key}", "").strip() for key in EVERY}
    used = {key for to in columns for key in to}
    unknown = [one.strip() for one in form.get("unknown", "").split(";")]
    said: dict[str, Any] = {
        "decimal": form.get("decimal") or None,
        "short_rows": form.get("short_rows") or "refused",
        "unknown": tuple(one for one in unknown if one),
        "leave_out": tuple(left),
        "every": {k: v[:200] for k, v in every.items() if v and k not in used},
        "column": tuple(columns.values()),
    }
    try:
        return mapping_of(said)
    except ValidationError as error:
        raise WrongMappingError([_wrong(one) for one in error.errors()]) from error


def _wrong(error: Any) -> str:  # noqa: ANN401 - as the library tells it
    found = str(error.get("ctx", {}).get("found", error["input"]))[:80]
    name = target_told(found) if found in TARGETS else found
    return named(name, error["msg"])


def _column(
    form: Form, table: Table, place: int, name: str, to: tuple[str, ...]
) -> dict[str, Any]:
    units = dimension_units(to)
    unit, day = form.get(f"unit_{place}", ""), form.get(f"day_{place}", "")
    values: dict[str, str] = {}
    if TARGETS[to[0]].kind in ("choice", "flag", "sheet"):
        for number, text in enumerate(distinct_texts(table, place, MOST_VALUES)):
            meant = form.get(f"value_{place}_{number}", "")
            if meant:
                values[text] = "" if meant == UNKNOWN else meant[:200]
    return {
        "column": (name,),
        "to": to,
        "unit": unit if unit in units else None,
        "day": day if day in DAYS and TARGETS[to[0]].kind == "day" else None,
        "values": values,
    }


# Shown -----------------------------------------------------------------------------


def columns_shown(
    mapping: DoorMap, table: Table, sheets: tuple[str, ...]
) -> Iterator[dict[str, Any]]:
    """Each column with what it becomes and what can be chosen."""
    for column in table.columns:
        one = next((m for m in mapping.column if column.name in m.column), None)
        to = one.to if one else ()
        kind = TARGETS[to[0]].kind if to else ""
        accepted = sheets if kind == "sheet" else TARGETS[to[0]].accepted if to else ()
        texts = distinct_texts(table, column.place, MOST_VALUES)
        yield {
            "place": column.place,
            "name": column.name,
            "texts": [text[:60] for text in texts[:3]],
            "to": _chosen(to),
            "units": dimension_units(to),
            "unit": one.unit if one else None,
            "days": DAYS if kind == "day" else (),
            "day": one.day if one else None,
            "accepted": [(value, said_value(value)) for value in accepted],
            "values": [
                (number, text[:60], _meant(one, text))
                for number, text in enumerate(texts if accepted else ())
                if text not in accepted and text not in mapping.unknown
            ],
        }


def said_value(value: str) -> str:
    """A value of a file, as people say it."""
    return say(Message(f"take_in.value.{value}")) if value in SAID else value


def _meant(one: ColumnMap | None, text: str) -> str:
    meant = one.values.get(text) if one else None
    return UNKNOWN if meant == "" else meant or ""


def _chosen(to: tuple[str, ...]) -> str:
    pair = next((name for name, keys in PAIRS.items() if keys == to), None)
    return pair or (to[0] if to else "")


def targets_shown() -> list[tuple[str, str]]:
    """Everything that a column can become, in words."""
    nothing = say(Message("take_in.target.left_out"))
    return [("", nothing), *((key, target_told(key)) for key in (*TARGETS, *PAIRS))]
