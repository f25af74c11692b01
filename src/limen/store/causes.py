"""The causes of misbehaving doors, read from the files that come with limen."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from limen.keep.causes import Asking, Cause, Causes, Picture


@cache
def known_causes() -> Causes:
    """All that is shipped of causes and questions."""
    questions, causes = _read("questions.toml"), _read("causes.toml")
    costs = questions["costs"]
    return Causes(
        tuple(Asking(**one) for one in questions["question"]),
        tuple(_cause(key, one) for key, one in causes["cause"].items()),
        **costs,
    )


def _cause(key: str, told: Mapping[str, Any]) -> Cause:
    pictures = tuple(Picture(**one) for one in told.get("pictures", []))
    given: dict[str, Any] = {"raised": {}, "says": {}, **told, "pictures": pictures}
    return Cause(id=key, **given)


def _read(name: str) -> dict[str, Any]:
    return tomllib.loads(files("limen").joinpath("causes", name).read_text("utf-8"))
