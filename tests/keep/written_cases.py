"""Call-outs told from general physics, and how each is asked to its end."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from limen.keep.causes import UNKNOWN, Causes
from limen.keep.tracing import Door, Traced, trace

FOLDER = Path(__file__).parent / "written"
EITHER = {True: "true", False: "false"}


@dataclass(frozen=True, slots=True)
class Written:
    """One call-out.

    Attributes:
        tells: what happened, in words.
        cause: what it was.
        door: what is known of the doorway beforehand.
        answers: what whoever stands there would see; the rest nobody can tell.
    """

    tells: str
    cause: str
    door: Door
    answers: Mapping[str, str]


def written(folder: Path = FOLDER) -> list[Written]:
    """All of them, file by file."""
    return [
        Written(one["tells"], one["cause"], _door(one["door"]), one["answers"])
        for path in sorted(folder.glob("*.toml"))
        for one in tomllib.loads(path.read_text("utf-8"))["case"]
    ]


def _door(told: Mapping[str, Any]) -> Door:
    has = {"presence", "motion"}
    has |= {"lock"} if told.get("lock") or told["place"] == "outdoors" else set()
    has |= {"battery"} if told.get("battery") or told.get("escape") else set()
    has |= {"neighbour"} if told.get("neighbour") else set()
    facts = {f"changed={one}" for one in told.get("changed", [])}
    facts |= {
        f"{key}={EITHER[value] if isinstance(value, bool) else value}"
        for key, value in told.items()
        if key != "changed"
    }
    return Door(frozenset(has), frozenset(facts))


def asked_out(causes: Causes, door: Door, answers: Mapping[str, str]) -> Traced:
    """Asked until it is found or nothing is worth asking."""
    given: dict[str, str] = {}
    found = trace(causes, door, given)
    while found.next is not None:
        given[found.next.question] = answers.get(found.next.question, UNKNOWN)
        found = trace(causes, door, given)
    return found


def asked_in_order(causes: Causes, door: Door, answers: Mapping[str, str]) -> Traced:
    """A fixed list, from the top, until it is found."""
    given: dict[str, str] = {}
    found = trace(causes, door, given)
    for asking in causes.asked:
        if found.found is not None:
            break
        if asking.needs is None or asking.needs in door.has:
            given[asking.id] = answers.get(asking.id, UNKNOWN)
            found = trace(causes, door, given)
    return found
