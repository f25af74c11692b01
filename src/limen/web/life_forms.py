"""The forms with which something is said of a doorway between its visits."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal

from limen.findings import Message
from limen.model.agenda import FollowUp, Parts, Plan
from limen.words import say
from limen.words.saying import say_word

Type = Literal["date", "text", "long", "number", "choice"]
Options = tuple[tuple[str, str], ...]
PURPOSES = ("check", "follow-up", "fault", "change")


@dataclass(frozen=True, slots=True)
class Field:
    """A field of a form.

    Attributes:
        name: under which it is sent.
        type: what is typed or chosen.
        label: key of what it is called, under ``life.ask``.
        needed: whether it may not be empty.
        help: key of its help; empty where none is needed.
        options: what can be chosen: value and word.
        value: what stands in it.
    """

    name: str
    type: Type
    label: str
    needed: bool = False
    help: str = ""
    options: Options = ()
    value: str = ""


@dataclass(frozen=True, slots=True)
class Form:
    """A form.

    Attributes:
        id: what it is called on the page.
        to: the end of the address to which it is sent.
        title, go: what it is called, and what stands on its button.
        fields: its fields.
        hidden: what is sent with it.
        open: whether it is shown open.
    """

    id: str
    to: str
    title: str
    go: str
    fields: tuple[Field, ...]
    hidden: Mapping[str, str]
    open: bool = False


PERSON = Field("person", "text", "person", needed=True)
DAY = Field("day", "date", "day", needed=True)
WHO = Field("who", "text", "who", help="who_help")
NOTE = Field("note", "long", "note")
BECAUSE = Field("because", "text", "because")
PART = (
    Field("name", "text", "name", needed=True),
    Field("number", "text", "number"),
    Field("count", "number", "count", value="1"),
)
SAID_OF: Mapping[str, tuple[Field, ...]] = {
    "plan": (DAY, Field("what", "choice", "what", needed=True), WHO, NOTE, PERSON),
    "follow_up": (
        Field("text", "long", "text", needed=True),
        Field("day", "date", "day_by"),
        PERSON,
    ),
    "part": (
        *PART,
        Field("fitting", "choice", "fitting"),
        Field("day", "date", "day_part"),
        Field("state", "choice", "is_fitted"),
        PERSON,
    ),
    "moved": (DAY, WHO, BECAUSE, PERSON),
    "refused": (
        Field("by", "text", "by", needed=True),
        replace(BECAUSE, needed=True),
        PERSON,
    ),
    "called_off": (BECAUSE, PERSON),
    "done": (
        Field("visit", "choice", "visit", help="visit_help"),
        Field("day", "date", "day_done"),
        NOTE,
        PERSON,
    ),
    "mended": (
        Field("visit", "choice", "visit", help="visit_help"),
        NOTE,
        PERSON,
    ),
    "fitted": (
        *PART,
        Field("fitting", "choice", "fitting"),
        Field("day", "date", "day_part"),
        PERSON,
    ),
    "undone": (PERSON,),
}
"""By what is said the fields in which it is typed."""
ACTS: Mapping[type[Plan | FollowUp | Parts], Mapping[str, tuple[str, ...]]] = {
    Plan: {
        "planned": ("done", "moved", "refused", "called_off"),
        "refused": ("moved", "done", "called_off"),
    },
    FollowUp: {"open": ("mended", "moved", "called_off")},
    Parts: {"ordered": ("fitted", "called_off")},
}
"""By kind and state of a thing what can be said of it."""


@dataclass(frozen=True, slots=True)
class Typed:
    """What was sent and not kept.

    Attributes:
        form: id of the form.
        values: by field what was typed.
        lines: why it was not kept.
    """

    form: str = ""
    values: Mapping[str, str] | None = None
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Choices:
    """What can be chosen at a doorway.

    Attributes:
        fittings: ids of its units with their names.
        visits: by id of a thing the visits that are suggested for it.
    """

    fittings: Options
    visits: Mapping[str, Options]


def begin_form(kind: str, drawn: str, choices: Choices, typed: Typed) -> Form:
    """A form by which something new is said.

    Args:
        kind: ``plan``, ``follow_up`` or ``part``.
        drawn: the id that it will have: the same form again is kept once.
        choices: what can be chosen.
        typed: what was sent and not kept.
    """
    again = typed.form == kind and typed.values is not None
    about = (typed.values or {}).get("about", drawn) if again else drawn
    return Form(
        kind,
        kind,
        _say("form", kind),
        _say("do", kind),
        _fields(kind, kind, "", choices, typed),
        {"about": about},
        typed.form == kind,
    )


def act_forms(
    thing: Plan | FollowUp | Parts, choices: Choices, typed: Typed
) -> tuple[Form, ...]:
    """The forms by which something is said of a thing as it stands."""
    kinds = ACTS[type(thing)].get(thing.state, ())
    return tuple(_act(kind, thing, choices, typed) for kind in kinds)


def _act(
    kind: str, thing: Plan | FollowUp | Parts, choices: Choices, typed: Typed
) -> Form:
    about = thing.words.about
    named = f"{kind}-{about}"
    title = kind
    if kind == "called_off" and isinstance(thing, FollowUp):
        title = "not_needed"
    before: dict[str, Any] = {}
    if isinstance(thing, Parts):
        before = thing.last.said.model_dump(mode="json", exclude_none=True)
        before.pop("day", None)
    return Form(
        named,
        f"{about}/{kind}",
        _say("form", title),
        _say("do", kind),
        _fields(kind, named, about, choices, typed, before),
        {"known": str(thing.words.seq)},
        typed.form == named,
    )


def undo_fields() -> tuple[Field, ...]:
    """The fields by which a word is taken back."""
    return SAID_OF["undone"]


def _fields(
    kind: str,
    named: str,
    about: str,
    choices: Choices,
    typed: Typed,
    before: Mapping[str, Any] | None = None,
) -> tuple[Field, ...]:
    values = typed.values if typed.form == named and typed.values else before or {}
    return tuple(
        replace(
            one,
            options=tuple(_options(one.name, about, choices)),
            value=str(values.get(one.name, one.value)),
        )
        for one in SAID_OF[kind]
    )


def _options(name: str, about: str, choices: Choices) -> Iterable[tuple[str, str]]:
    match name:
        case "what":
            yield from ((one, say_word("life.what", one)) for one in PURPOSES)
        case "fitting":
            yield "", _say("ask", "no_fitting")
            yield from choices.fittings
        case "visit":
            yield "", _say("ask", "no_visit")
            yield from choices.visits.get(about, ())
        case "state":
            yield from ((one, _say("ask", one)) for one in ("ordered", "fitted"))
        case _:
            return


def _say(table: str, key: str) -> str:
    return say(Message(f"life.{table}.{key}"))
