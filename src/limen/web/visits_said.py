"""Events in sentences, one line each."""

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from limen.desk.fact_words import said_key
from limen.desk.visits import Folded
from limen.desk.visits_settling import DESK
from limen.findings import Message
from limen.model.visit import Event, SettledEvent, StartedEvent, UndoneEvent
from limen.words import say
from limen.words.saying import say_word
from limen.words.tracing import said_told
from limen.words.visits import said_answer, said_reading, said_state, said_step

Told = Mapping[str, Any]
"""What an event says, as it was said."""


@dataclass(frozen=True, slots=True)
class Named:
    """A visit, and what its tests and devices are called.

    Attributes:
        one: the visit.
        titles: by test what it is called.
        devices: by device what it is called.
    """

    one: Folded
    titles: Mapping[str, str]
    devices: Mapping[str, str]

    def step(self, step: str) -> str:
        """What a test or a piece of work is called."""
        return said_step(step, self.titles)

    def told(self, event: Event) -> Told:
        """What an event says, as it was said."""
        return self.one.raw[event.id]["said"]


def device_names(one: Folded) -> dict[str, str]:
    """By device what it is called: phones are numbered as they come in the order.

    Args:
        one: the visit.
    """
    events = one.found.events
    people = {
        each.device: each.said.person
        for each in events
        if isinstance(each, StartedEvent)
    }
    every = list(dict.fromkeys(each.device for each in events))
    every += [each for each in _refused(one) if each not in every]
    phones = [each for each in every if each != f"{DESK}-{one.visit}"]
    names = {each: _phone(n, people.get(each)) for n, each in enumerate(phones, 1)}
    return names | {f"{DESK}-{one.visit}": _say("device.desk")}


def _refused(one: Folded) -> Iterator[str]:
    """Devices of events that were refused."""
    return (json.loads(each.text)["device"] for each in one.refused)


def _phone(number: int, person: str | None) -> str:
    if person is None:
        return say(Message("visits.device.one", {"number": number}))
    return say(Message("visits.device.of", {"number": number, "person": person}))


def said(of: Named, event: Event) -> str:
    """What an event says, in a line."""
    told = of.told(event)
    before = "_before" if event.kind == "traced" and "call" in told else ""
    return _say(f"kind.{event.kind}{before}", **_fills(of, event, told))


def _fills(of: Named, event: Event, told: Told) -> Mapping[str, str]:
    """What fills the gaps of its sentence."""
    if event.kind == "undone":
        return {"said": _other(of, told["event"])}
    if event.kind == "settled":
        return {"person": told["person"], "said": _other(of, told["stands"])}
    if event.kind in {"as_found", "reading"}:
        return {"read": read(of.one.doorway, told)}
    return _FILLS[event.kind](of, told) if event.kind in _FILLS else {}


def _other(of: Named, wanted: str) -> str:
    """What another event says that an event speaks of."""
    for event in of.one.found.events:
        if event.id == wanted:
            if isinstance(event, UndoneEvent | SettledEvent):
                return say_word("visits.kind_of", event.kind)
            return said(of, event)
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


def photo_of(of: Named, told: Told) -> str:
    """What is on a photo."""
    return of.step(told["of"]) if told.get("of") else told["name"]


_FILLS: Mapping[str, Callable[[Named, Told], Mapping[str, str]]] = {
    "started": lambda _, told: {"person": told["person"]},
    "precaution": lambda of, told: {"step": of.step(told["step"])},
    "work": lambda of, told: {"step": of.step(told["step"])},
    "step": lambda of, told: {
        "step": of.step(told["step"]),
        "answer": said_answer(told),
    },
    "photo": lambda of, told: {"of": photo_of(of, told)},
    "traced": lambda _, told: said_told(told["question"], told["answer"]),
    "note": lambda _, told: {"text": told["text"]},
    "defect": lambda _, told: {"text": told["text"]},
    "handed_over": lambda _, told: {"state": said_state(told)},
}
"""By kind of event what fills the gaps of its sentence."""


def _say(key: str, **values: str) -> str:
    return say(Message(f"visits.{key}", values))
