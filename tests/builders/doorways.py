"""Doorways for tests: the reference doorway, of which everything holds, changed.

A change is named by its way through the file: ``leaves.sway``,
``fitting[inside].settings.tilt``, ``sheet.presence.spots_needed`` (of every sheet).
A table is merged, None takes a key out.  The cases of rulebooks use two names more:
``rows_at`` and ``contrast_least``.
"""

import json
import re
import tomllib
from collections.abc import Mapping
from copy import deepcopy
from datetime import date
from functools import cache
from importlib.resources import files
from math import atan2
from typing import Any

from limen.model.doorway import Doorway
from limen.model.sheet import Sheet
from limen.model.site import Site
from limen.quantity import Dimension, Grade, parse

Table = dict[str, Any]
_STEP = re.compile(r"([a-z_]+)(?:\[([a-z0-9-]+)\])?")


def a_doorway(
    changes: Mapping[str, object] | None = None, /, **more: object
) -> Doorway:
    """The reference doorway with changes by key path, its sheets hung on."""
    return built(*changed({**(changes or {}), **more}))


def changed(changes: Mapping[str, object]) -> tuple[Table, dict[str, Table]]:
    """The reference doorway and its sheets as tables, with changes by key path."""
    door, sheets = _parsed("rulebooks/reference_doorway.toml")["doorway"][0], {}
    for fitting in door["fitting"]:
        name = fitting["sheet"]
        sheets[name] = _parsed(f"sheets/{name}.toml")
    for key, value in changes.items():
        _change(door, sheets, key, value)
    return door, sheets


def tables(*sheets: str) -> tuple[Table, dict[str, Table]]:
    """The reference doorway and sheets as tables, to be changed and built."""
    door = _parsed("rulebooks/reference_doorway.toml")["doorway"][0]
    return door, {name: _parsed(f"sheets/{name}.toml") for name in sheets}


def built(door: Table, sheets: Mapping[str, Table]) -> Doorway:
    """The doorway of a table, its sheets hung on.

    Raises:
        pydantic.ValidationError: a value is not accepted.
    """
    return _hung(Doorway.model_validate_json(_json(door)), sheets)


def a_site(*doorways: Doorway) -> Site:
    """A site of these doorways; the reference doorway if none is given."""
    site = Site.model_validate_json(_json(_parsed("rulebooks/reference_doorway.toml")))
    return site.model_copy(update={"doorway": doorways or (a_doorway(),)})


def _json(table: Table) -> str:
    """The table as JSON, whose lists and days a strict model takes as they are."""
    return json.dumps(table, default=date.isoformat)


def _parsed(file: str) -> Table:
    return deepcopy(_read(file))


@cache
def _read(file: str) -> Table:
    return tomllib.loads(files("limen").joinpath(*file.split("/")).read_text("utf-8"))


def _change(door: Table, sheets: dict[str, Table], key: str, value: Any) -> None:
    match key:
        case "rows_at":
            for fitting in door["fitting"]:
                sheet = sheets[fitting["sheet"]]
                fitting["settings"]["tilt"] = _tilt(door, sheet, fitting, str(value))
        case "contrast_least":
            for sheet in sheets.values():
                _put(sheet, "presence.contrast_least", value)
        case _ if key.startswith("sheet."):
            for sheet in sheets.values():
                _put(sheet, key.removeprefix("sheet."), value)
        case _:
            _put(door, key, value)


def _tilt(door: Table, sheet: Table, fitting: Table, rows_at: str) -> str:
    """The tilt that brings the first row to a distance from the leaf's middle."""
    lens = fitting["lens"]
    out = _metres(door["leaves"]["thickness"]) / 2 + _metres(lens["from_leaf"])
    turn = atan2(_metres(rows_at) - out, _metres(lens["height"]))
    first = parse(sheet["presence"]["rows"][0]["angle"], Dimension.ANGLE).value
    return f"{turn - first!r} rad"


def _metres(text: str) -> float:
    return parse(text, Dimension.LENGTH).value


def _put(table: Table, key: str, value: Any) -> None:
    *way, last = key.split(".")
    for step in way:
        table = _step(table, step)
    if "[" in last:
        one = _step(table, last)
        if value is None:
            table[last.partition("[")[0]].remove(one)
        else:
            one.update(value)
    elif value is None:
        del table[last]
    elif isinstance(value, dict) and isinstance(table.get(last), dict):
        table[last] = {**table[last], **value}
    else:
        table[last] = value


def _step(table: Table, step: str) -> Table:
    """One table further; an element of a list by its id, side or place from 1."""
    match = _STEP.fullmatch(step)
    assert match, f"not a step of a key path: {step}"
    inner = table.setdefault(match[1], {})
    if match[2] is None:
        return inner
    if match[2].isdigit():
        return inner[int(match[2]) - 1]
    return next(x for x in inner if match[2] in (x.get("id"), x.get("side")))


def _hung(door: Doorway, sheets: Mapping[str, Table]) -> Doorway:
    units = {
        name: Sheet.model_validate_json(_json(data), context={"grade": Grade.SHEET})
        for name, data in sheets.items()
    }
    fittings = tuple(
        fitting.model_copy(update={"unit": units.get(fitting.sheet)})
        for fitting in door.fitting
    )
    return door.model_copy(update={"fitting": fittings})
