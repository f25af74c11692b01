"""The owner's daily check, read from the file that comes with limen."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from limen.keep.daily import From, Step
from limen.quantity import Grade


@cache
def daily_steps() -> tuple[Step, ...]:
    """All steps that are shipped, in the order in which they are done."""
    text = files("limen").joinpath("daily", "daily.toml").read_text("utf-8")
    return tuple(_step(one) for one in tomllib.loads(text)["step"])


def _step(told: Mapping[str, Any]) -> Step:
    sources: Mapping[str, Mapping[str, str]] = told.get("source", {})
    return Step(
        id=told["id"],
        part=told["part"],
        needs=tuple(told.get("needs", ())),
        also=tuple(told.get("also", ())),
        source={
            book: From(one["document"], Grade(one["grade"]))
            for book, one in sources.items()
        },
    )
