"""What was answered to the fault finder at the door, for the paper of a record."""

from collections.abc import Mapping, Sequence
from typing import Any

from limen.findings import Message
from limen.keep.calling import CAUSE
from limen.keep.causes import NONE
from limen.keep.tracing import MUTE
from limen.report.tongue import Plain, Tongue, hour
from limen.words import visible
from limen.words.tracing import SYMPTOM, said_told

NAMES_NOTHING = MUTE | {NONE}
"""After which nothing is owed: no cause was named."""

Table = Mapping[str, Any]


def traced_said(
    visit: Table | None, owed: Mapping[str, str], tongue: Tongue
) -> Plain | None:
    """What was answered and what was taken to be the cause; None if nothing was.

    Args:
        visit: as it was folded.
        owed: by cause the group of tests that are owed once it is mended.
        tongue: the reader's language and units.
    """
    every: Sequence[Table] = (visit or {}).get("traced", ())
    counting = [one for one in every if one.get("counts", True)]
    if visit is None or not counting:
        return None
    asked = [one for one in counting if one["said"]["question"] != CAUSE]
    asked.sort(key=lambda one: one["said"]["question"] != SYMPTOM)
    causes = [one for one in counting if one["said"]["question"] == CAUSE]
    return {
        "answers": [_answer(one, tongue) for one in asked],
        "cause": _cause(visit, causes, tongue),
        "owed": _owed(causes, owed, tongue),
    }


def said_event(event: Table) -> str:
    """A question and its answer, one after the other."""
    told = _told(event)
    return f"{told['question']} {told['answer']}"


def _answer(event: Table, tongue: Tongue) -> Plain:
    """With the hour; what was told at the desk before was not answered at one here."""
    before = "call" in event["said"]
    return {
        **_told(event),
        "at": _say(tongue, "before") if before else hour(event["at"]),
    }


def _told(event: Table) -> dict[str, str]:
    said = event["said"]
    told = said_told(str(said["question"]), str(said["answer"]))
    return {key: visible(text) for key, text in told.items()}


def _cause(visit: Table, causes: Sequence[Table], tongue: Tongue) -> str:
    if not causes:
        return _say(tongue, "no_cause")
    last = causes[-1]
    values = {"cause": _told(last)["answer"], "who": _who(visit, last)}
    return _say(tongue, "cause", **values, time=hour(last["at"]))


def _who(visit: Table, event: Table) -> str:
    """Who worked on that device by then; the device where nobody had begun on it."""
    began = [
        one
        for one in visit["started"]
        if one["device"] == event["device"] and one["seq"] < event["seq"]
    ]
    if began:
        return str(max(began, key=lambda one: one["seq"])["said"]["person"])
    people = visit["people"]
    return str(people[0]) if len(people) == 1 else str(event["device"])


def _owed(causes: Sequence[Table], owed: Mapping[str, str], tongue: Tongue) -> str:
    """What is owed after the cause; empty where none was named."""
    cause = str(causes[-1]["said"]["answer"]) if causes else NONE
    if cause in NAMES_NOTHING or cause not in owed:
        return ""
    return _say(tongue, "owed", what=Message(f"trace.owed.{owed[cause]}"))


def _say(tongue: Tongue, key: str, /, **values: str | Message) -> str:
    return tongue.say(Message(f"record.traced.{key}", dict(values)))
