"""Facts of a doorway for programs."""

from collections.abc import Iterable, Sequence
from typing import Any

from fastapi.responses import JSONResponse, Response

from limen.desk.facts import Fact, Part, every_fact
from limen.desk.library import Stored
from limen.desk.unknowns import Unknown
from limen.web.pages import version_told


def as_json(
    stored: Stored, parts: Sequence[Part], unknowns: Sequence[Unknown]
) -> Response:
    """All facts by key, null where nothing is stated; and what is open."""
    body: dict[str, Any] = {
        "version": stored.version,
        "facts": facts_by_key(every_fact(parts)),
        "open": [_open(one) for one in unknowns],
    }
    return JSONResponse(body, headers=version_told(stored.version))


def facts_by_key(facts: Iterable[Fact]) -> dict[str, object]:
    """Facts as values, null where nothing is stated."""
    return {one.key: _value(one) for one in facts}


def _value(one: Fact) -> object:
    if not one.stated:
        return None
    several = one.told.kind in ("choices", "texts", "quantities", "numbers")
    return list(one.values) if several else one.values[0]


def _open(one: Unknown) -> dict[str, Any]:
    return {
        "key": one.key,
        "where": one.where,
        "fact": ".".join(map(str, one.way)) or None,
        "sheets": list(one.sheets),
        "sheet_key": one.sheet_key or None,
        "rule": one.rule or None,
        "limit": one.limit or None,
        "musts": one.musts,
        "opens": sorted({finding.question for finding in one.opens}),
        "rests": sorted({finding.question for finding in one.rests}),
    }
