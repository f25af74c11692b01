"""What is said of a visit: answers, readings, hand-overs, in the reader's language."""

from collections.abc import Iterator, Mapping
from typing import Any

from limen.findings import Message
from limen.words.places import say_unit
from limen.words.saying import has, say, say_word

Said = Mapping[str, Any]
APART = ", "
ENDS = {"stayed open": "good", "touched": "touched", "lamp only": "lamp_only"}
"""By answer its key among the words of the card."""


TRACED = "trace."
"""Before the name of a cause where the work on it is meant."""


def said_step(step: str, titles: Mapping[str, str] | None = None) -> str:
    """What a test, a precaution or a piece of work is called.

    Args:
        step: its name, which it keeps where it is called nothing else.
        titles: by test what it is called at this doorway.
    """
    if titles and step in titles:
        return titles[step]
    if step.startswith(TRACED) and has(f"trace.cause.{step.removeprefix(TRACED)}"):
        return say_word("trace.cause", step.removeprefix(TRACED))
    for table in ("card_tests.work", "card_tests", "visits.precaution", "visits.steps"):
        if has(f"{table}.{step}.title"):
            return say_word(table, f"{step}.title")
    return step


def said_end(said: Said) -> str:
    """How a test ended: a plug or a walk does not end as a box does."""
    group = said["step"].partition(".")[0]
    if group == "trailing" and not said.get("tool"):
        group = "guarded"
    key = f"card_tests.answer.{group}.{ENDS.get(said['answer'], '')}"
    return say(Message(key)) if has(key) else say_word("visits.answer", said["answer"])


def said_answer(said: Said) -> str:
    """How a test ended, with what, and why if that is said."""
    parts = [said_end(said)]
    if tool := said.get("tool"):
        with_what = {"tool": say_word("visits.tool", tool)}
        parts.append(say(Message("visits.tests.with", with_what)))
    if because := said.get("because"):
        parts.append(because)
    return APART.join(parts)


def said_state(said: Said) -> str:
    """How a door is left, and who was told."""
    state = say_word("visits.over", said["state"])
    told = said.get("told")
    if told:
        return f"{state} {say(Message('visits.over.told', {'told': told}))}"
    return state


def said_moment(at: str) -> str:
    """A time as a device claims it: day and time."""
    return say(Message("visits.moment", {"day": at[:10], "time": at[11:16]}))


def said_reading(said: Said, key: str = "") -> str:
    """What was read, and where.

    Args:
        said: what the event says.
        key: the name of the value in words, where it is a value of the doorway.
    """
    if "reading" in said:
        what = APART.join(_row(said["reading"]))
    elif "lens" in said:
        what = APART.join(_lens(said["lens"]))
    else:
        return _say("value", what=key or said["key"], value=said["value"])
    return _say("of", unit=say_unit(said["fitting"]), what=what)


def _row(reading: Said) -> Iterator[str]:
    yield say_word("readings_page.kind", reading["kind"])
    for name in ("row", "spot"):
        if reading.get(name):
            yield _say(name, **{name: reading[name]})
    if reading.get("end"):
        yield _say(f"end_{reading['end']}")
    if reading.get("out"):
        yield _say("out", out=reading["out"])
    for way in ("along", "from_left", "from_right"):
        if reading.get(way):
            yield _say(way, along=reading[way])
    if reading.get("height"):
        yield _say("height", height=reading["height"])
    if reading.get("struck"):
        yield _say("struck")


def _lens(lens: Said) -> Iterator[str]:
    yield _say("lens")
    for name in ("height", "from_leaf", "along"):
        if lens.get(name):
            yield _say(f"lens_{name}", value=lens[name])


def _say(key: str, **values: str | int) -> str:
    return say(Message(f"visits.readings.{key}", values))
