"""What a form of facts sends, taken apart."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, cast

from fastapi import Request
from starlette.datastructures import FormData

from limen.desk.facts import told_of
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.quantity import Show
from limen.web.facts_units import with_unit
from limen.words import say

MOST_FIELDS = 400
_KEY = re.compile(r"[a-z_]{1,40}(?:\.(?:[a-z_]{1,40}|\d{1,4})){0,7}")


_FACTS: dict[str, Any] = {
    "type": "object",
    "properties": {
        "version": {"type": "integer", "minimum": 1},
        "facts": {"type": "object", "maxProperties": MOST_FIELDS},
    },
}
TAKES: dict[str, Any] = {
    "requestBody": {
        "content": {
            "application/json": {"schema": _FACTS},
            "application/x-www-form-urlencoded": {
                "schema": {
                    "type": "object",
                    "properties": {"-version": {"type": "string"}},
                }
            },
        }
    }
}
"""What the description of an address says of a form of facts."""


@dataclass(frozen=True, slots=True)
class Sent:
    """A form of facts.

    Attributes:
        version: the version that was shown.
        part: the part whose form it is.
        place: where the form stands: ``part``, ``list`` or ``open``.
        typed: what was typed, by the key of the fact.
        meant: the same as a file takes it.
    """

    version: int
    part: str = ""
    place: str = "part"
    typed: Mapping[str, Sequence[str]] = field(default_factory=dict[str, Sequence[str]])
    meant: Mapping[str, Sequence[str]] = field(default_factory=dict[str, Sequence[str]])


async def sent(request: Request, system: Show) -> Sent:
    """Read a form of facts, or the same as JSON: version, and facts by key.

    Raises:
        Refusal: it is none.
    """
    kind = request.headers.get("Content-Type", "").partition(";")[0].strip().lower()
    if kind == "application/json":
        return _of_json(await _json(request), system)
    async with request.form(max_files=0, max_fields=MOST_FIELDS) as form:
        return _of_form(form, system)


async def _json(request: Request) -> Mapping[str, Any]:
    try:
        body: object = await request.json()
    except (ValueError, RecursionError):
        body = None
    if not isinstance(body, dict):
        raise _no_form()
    return cast("Mapping[str, Any]", body)


def _of_json(body: Mapping[str, Any], system: Show) -> Sent:
    facts: object = body.get("facts", {})
    if not isinstance(facts, dict):
        raise _no_form()
    typed = {
        key: _texts(value) for key, value in cast("dict[str, object]", facts).items()
    }
    part: object = body.get("part", "")
    return _sent(body.get("version"), str(part), "part", typed, system)


def _texts(value: object) -> list[str]:
    """A value of JSON as it would be typed; null for what is not known."""
    if value is None:
        return []
    if isinstance(value, bool):
        return ["true" if value else "false"]
    if isinstance(value, list):
        return [str(one) for one in cast("list[object]", value)]
    return [str(value)]


def _of_form(form: FormData, system: Show) -> Sent:
    held: dict[str, list[str]] = {}
    for key, value in form.multi_items():
        if isinstance(value, str):
            held.setdefault(key, []).append(value.replace("\r\n", "\n"))
    typed = {key: texts for key, texts in held.items() if not key.startswith("-")}
    control = {
        key: held.get(f"-{key}", [""])[0] for key in ("version", "part", "place")
    }
    return _sent(
        control["version"], control["part"], control["place"] or "part", typed, system
    )


def _sent(
    version: object, part: str, place: str, typed: Mapping[str, list[str]], system: Show
) -> Sent:
    number = int(version) if str(version).isascii() and str(version).isdigit() else 0  # pyright: ignore[reportArgumentType]  # digits
    keys_fit = all(_KEY.fullmatch(key) for key in (*typed, *([part] if part else ())))
    if not keys_fit or not 1 <= number <= 10**9 or len(typed) > MOST_FIELDS:
        raise _no_form()
    meant = {key: _meant(key, texts, system) for key, texts in typed.items()}
    return Sent(number, part, place, typed, meant)


def _meant(key: str, texts: Sequence[str], system: Show) -> Sequence[str]:
    told = told_of(key)
    if told is None or told.dimension is None:
        return texts
    dimension = told.dimension
    return [with_unit(text, dimension, system) for text in texts]


def _no_form() -> Refusal:
    return Refusal([say(Message("facts.refused.form"))])
