"""Events in sentences, one line each."""

from collections.abc import Callable, Mapping
from typing import Any

from limen.desk.fact_words import said_key
from limen.desk.visits import Folded
from limen.findings import Message
from limen.model.visit import Event, SettledEvent, UndoneEvent
from limen.words import say
from limen.words.saying import say_word
from limen.words.visits import said_answer, said_reading, said_state, said_step

Told = Mapping[str, Any]
"""What an event says, as it was said."""


def said(one: Folded, event: Event) -> str:
    """What an event says, in a line."""
    told = one.raw[event.id]["said"]
    return _say(f"kind.{event.kind}", **_fills(one, event, told))


def _fills(one: Folded, event: Event, told: Told) -> Mapping[str, str]:
    """What fills the gaps of its sentence."""
    if event.kind == "undone":
        return {"said": _of(one, told["event"])}
    if event.kind == "settled":
        return {"person": told["person"], "said": _of(one, told["stands"])}
    if event.kind in {"as_found", "reading"}:
        return {"read": read(one.doorway, told)}
    return _FILLS[event.kind](told) if event.kind in _FILLS else {}


def _of(one: Folded, wanted: str) -> str:
    """What another event says that an event speaks of."""
    for event in one.found.events:
        if event.id == wanted:
            if isinstance(event, (UndoneEvent, SettledEvent)):
                return say_word("visits.kind_of", event.kind)
            return said(one, event)
    return _say("kind_of.unknown")


def read(doorway: str, told: Told) -> str:
    """What was read, in words."""
    return said_reading(told, value_name(doorway, told["key"]) if "key" in told else "")


def value_name(doorway: str, key: str) -> str:
    """A key of the doorway in words: ``Unit: inside · Settings · Row tilt``."""
    parts = key.split(".")
    way = ["doorway", f"[{doorway}]", *parts]
    if parts[0] == "fitting" and len(parts) > 1:
        way[3] = f"[{parts[1]}]"
    return " · ".join(said_key(tuple(way)).split(" · ")[1:]) or key


def photo_of(told: Told) -> str:
    """What is on a photo."""
    of = told.get("of")
    return said_step(of) if of else told["name"]


_FILLS: Mapping[str, Callable[[Told], Mapping[str, str]]] = {
    "started": lambda told: {"person": told["person"]},
    "precaution": lambda told: {"step": said_step(told["step"])},
    "work": lambda told: {"step": said_step(told["step"])},
    "step": lambda told: {
        "step": said_step(told["step"]),
        "answer": said_answer(told),
    },
    "photo": lambda told: {"of": photo_of(told)},
    "note": lambda told: {"text": told["text"]},
    "defect": lambda told: {"text": told["text"]},
    "handed_over": lambda told: {"state": said_state(told)},
}
"""By kind of event what fills the gaps of its sentence."""


def _say(key: str, **values: str) -> str:
    return say(Message(f"visits.{key}", values))
