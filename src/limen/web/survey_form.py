"""The survey's form: what its fields hold, as answers, and back again."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from starlette.datastructures import FormData

from limen.words import reading, unnumbered

UNKNOWN = "-"
TEXTS = (
    "site",
    "door",
    "rulebook",
    "commissioned",
    "edition",
    "leaves",
    "unit_outside",
    "unit_inside",
    "escape_route",
    "many_frail_or_small",
)
LENGTHS = ("clear_width", "lens_height", "plumb_outside", "plumb_inside")
RUNS = ("opening_runs", "closing_runs")
BEHIND = ("behind_left", "behind_right")
PARTS = ("space", "depth")
MOST_RUNS = 3
MOST_LETTERS = 200

FIELDS = (
    *TEXTS,
    *LENGTHS,
    *(f"{key}_{number}" for key in RUNS for number in range(1, MOST_RUNS + 1)),
    *(f"{key}_{part}" for key in BEHIND for part in PARTS),
)
"""Names of the form's fields, besides those that say *not known*."""
CAN_BE_UNKNOWN = ("commissioned", "lens_height", "plumb_outside", "plumb_inside")
"""Fields with a box for *not known*; others have it among their choices."""
UNKNOWNS = tuple(f"{key}_not_known" for key in (*CAN_BE_UNKNOWN, *RUNS, *BEHIND))

_UNITS = {"metric": "mm", "feet": "in"}
_BARE = {
    "metric": re.compile(r"\d+(?:\.\d+)?"),
    "feet": re.compile(r"\d+(?:\.\d+)?(?:\s+\d+/\d+)?|\d+/\d+"),
}
_OFF = re.compile(r"\s*(?:±|\+/-)\s*")


@dataclass(frozen=True, slots=True)
class Filled:
    """A form as it was filled in.

    Attributes:
        fields: what each field holds; none of those that are empty.
        units: in which a bare number is meant: ``metric`` or ``feet``.
        act: what is to be done: ``look`` or ``keep``.
    """

    fields: Mapping[str, str] = field(default_factory=dict[str, str])
    units: str = "metric"
    act: str = "look"


def filled(form: FormData | Mapping[str, str], units: str) -> Filled:
    """Read a form.

    Args:
        form: what was sent.
        units: of the reader, where the form does not say which it was made for.
    """
    named = {key: form.get(key) for key in (*FIELDS, *UNKNOWNS, "units", "act")}
    texts = {
        key: one.strip()[:MOST_LETTERS]
        for key, one in named.items()
        if isinstance(one, str) and one.strip()
    }
    meant = texts.pop("units", units)
    act = "keep" if texts.pop("act", "look") == "keep" else "look"
    return Filled(texts, meant if meant in _UNITS else units, act)


def answers_of(form: Filled) -> dict[str, str]:
    """The answers of a form, with their units, as a survey takes them."""
    told = {key: form.fields.get(key, "") for key in TEXTS}
    told |= {key: lengthy(form.fields.get(key, ""), form.units) for key in LENGTHS}
    told |= {key: _runs(form, key) for key in RUNS}
    told |= {key: _behind(form, key) for key in BEHIND}
    for name in UNKNOWNS:
        if name in form.fields:
            told[name.removesuffix("_not_known")] = UNKNOWN
    return {key: typed for key, typed in told.items() if typed}


def lengthy(typed: str, units: str) -> str:
    """A length with its unit: a bare number is meant in the unit that is shown."""
    return _with_unit(typed, _BARE[units], _UNITS[units])


def _with_unit(typed: str, bare: re.Pattern[str], unit: str) -> str:
    typed = unnumbered(typed, reading())
    parts = _OFF.split(typed)
    if not any(bare.fullmatch(part) for part in parts):
        return typed
    # `2200 ± 10 mm`: the unit behind the last number counts for the first as well.
    own = re.sub(r"^[\d.\s/]+", "", parts[-1]).strip() if len(parts) > 1 else ""
    meant = own or unit
    return " ± ".join(
        f"{part} {meant}" if bare.fullmatch(part) else part for part in parts
    )


def _runs(form: Filled, key: str) -> str:
    """The runs that were timed, one after another."""
    typed = (
        form.fields.get(f"{key}_{number}", "") for number in range(1, MOST_RUNS + 1)
    )
    return ", ".join(_with_unit(one, _BARE["metric"], "s") for one in typed if one)


def _behind(form: Filled, key: str) -> str:
    """Space and depth; one of them may be not known."""
    parts = [
        lengthy(form.fields.get(f"{key}_{part}", ""), form.units) for part in PARTS
    ]
    if not any(parts):
        return ""
    return ", ".join(part or UNKNOWN for part in parts)


def asks_of(keys: Iterable[str]) -> dict[str, str]:
    """By question of the survey, the place on the page that it is asked at."""
    return {key: "behind" if key in BEHIND else key for key in keys}
