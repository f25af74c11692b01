"""A door that misbehaves: what is known of it, and what was answered about it."""

from datetime import datetime
from typing import Annotated, Literal

from pydantic import Field

from limen.model.fields import Id, Name, Stated

Answer = Annotated[str, Field(min_length=1, max_length=40)]
Has = Literal["presence", "motion", "lock", "battery", "neighbour"]
Lately = Literal[
    "floor", "sensor", "settings", "operator", "surroundings", "neighbour", "supply"
]


class KnownOf(Stated):
    """What is known of a door without a site file, or beside one."""

    has: tuple[Has, ...] | None = None
    """What it has; taken from the site file, where there is one, if left out."""
    place: Literal["outdoors", "lobby", "indoors"] | None = None
    """Where it stands."""
    changed: tuple[Lately, ...] = ()
    """What was changed since the last record."""


class CallBegun(Stated):
    """Somebody takes up a call-out at the desk."""

    at: datetime | None = None
    """When the door misbehaved, with the offset from UTC; left out if nobody said."""
    person: Name | None = None
    """Who takes it up; left out while nobody is named."""


class CallAnswered(Stated):
    """Something was answered of a call-out, or an answer taken back."""

    question: Answer
    """Which; ``cause`` is what a person takes to be the cause in the end."""
    answer: Answer | None = None
    """What; left out where an answer is taken back."""


class CalledOut(Stated):
    """A call-out."""

    site: str | None = None
    """The site file, from where this file lies; left out where there is none."""
    doorway: Id | None = None
    """Which doorway of it."""
    at: datetime | None = None
    """When it happened; with its offset from UTC the sun is looked at as well."""
    door: KnownOf = KnownOf()
    """What is known of the door beside that."""
    answers: dict[str, Answer] = Field(default_factory=dict, max_length=60)
    """What was answered, by question."""
