"""Where a fault of a door is told, and what is told of it.

A fault is one thing, and whatever is said of it names it in ``about``: that it was
reported, that somebody has seen it, how it was settled.  Events are added and never
changed.
"""

from datetime import date
from typing import Annotated, Literal, get_args

from pydantic import AfterValidator, Field, StringConstraints, model_validator
from pydantic_core import PydanticCustomError

from limen.model.between import Spoken
from limen.model.fields import Name, Stated
from limen.model.visit import Text, Uuid

Symptom = Literal[
    "opens-alone",
    "opens-late",
    "opens-for-passers",
    "stays-open",
    "reopens",
    "closes-on-people",
    "stays-shut",
    "sticks",
    "fault-shown",
]
"""What the door does, in the fault finder's own answers."""


def _refusing(pattern: str, accepted: str, example: str) -> AfterValidator:
    """Refuse what does not look like it, and say what does."""
    import re

    whole = re.compile(pattern)

    def check(text: str) -> str:
        if whole.fullmatch(text):
            return text
        raise PydanticCustomError(
            "address",
            "it cannot be written to, called or opened",
            {"found": text[:80], "accepted": accepted, "example": example},
        )

    return AfterValidator(check)


Mail = Annotated[
    str,
    Field(max_length=120),
    _refusing(
        r"[A-Za-z0-9._+-]+@[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)+",
        "one mail address, in plain letters",
        "doors@firm.example",
    ),
]
Phone = Annotated[
    str,
    Field(max_length=40),
    _refusing(
        r"\+?[0-9][0-9 ()/.-]{2,38}",
        "one telephone number, best as it is dialled from abroad",
        "+00 555 0100",
    ),
]
Web = Annotated[
    str,
    Field(max_length=200),
    _refusing(
        r"https://[A-Za-z0-9.-]+(:[0-9]{1,5})?(/[A-Za-z0-9._~/-]*)?"
        r"(\?[A-Za-z0-9._~=&%+-]*)?",
        "an address that begins with https://, without #",
        "https://firm.example/faults",
    ),
]


class FaultsTo(Stated):
    """Where faults of the doors are told."""

    mail: Mail | None = None
    """The mail address to which faults are written."""
    phone: Phone | None = None
    """The telephone number at which faults are told."""
    web: Web | None = None
    """The page on which faults are told; the doorway is named in its query."""

    @model_validator(mode="after")
    def _somewhere(self) -> "FaultsTo":
        if self.mail or self.phone or self.web:
            return self
        raise PydanticCustomError(
            "nowhere",
            "no address is stated",
            {
                "accepted": "mail, phone or web, or several of them",
                "example": 'faults = { mail = "doors@firm.example" }',
            },
        )


# What is said --------------------------------------------------------------------


class Reported(Stated):
    """A fault was reported."""

    struck: bool
    """Whether somebody was struck, caught or pushed."""
    symptom: Symptom | None = None
    """What the door does; left out where none of the answers fits."""
    text: Text | None = None
    """What was said of it, in their own words."""
    by: Name | None = None
    """Who told it, and how they are reached; left out where they did not say."""
    since: date | None = None
    """Since which day; left out where nobody knows."""
    record: Annotated[int, Field(ge=1, le=10**9)] | None = None
    """Number of the record that stood on their page."""

    @model_validator(mode="after")
    def _something_is_said(self) -> "Reported":
        if self.struck or self.symptom or self.text:
            return self
        raise PydanticCustomError(
            "nothing",
            "nothing is said of the fault",
            {
                "at": ("symptom",),
                "accepted": "what the door does, or a few words",
                "example": '"symptom": "stays-open"',
            },
        )


class ReportSeen(Stated):
    """Somebody has taken note of the report."""

    note: Text | None = None
    """Anything worth knowing."""


class ReportSettled(Stated):
    """The report is done with."""

    because: Text
    """How: what was found and done, or that it was written by mistake."""
    visit: Uuid | None = None
    """Id of the visit at which it was seen to."""


# Events --------------------------------------------------------------------------


class _Spoken(Spoken):
    """What every event says; whoever takes a report down need not say who they are."""

    person: Annotated[str, StringConstraints(max_length=120)] = ""
    """Who says it at the desk; empty where they did not say."""


class ReportedEvent(_Spoken):
    """A fault was reported."""

    kind: Literal["reported"]
    """A report."""
    said: Reported
    """What the door does, and who says so."""


class ReportSeenEvent(_Spoken):
    """The report was seen."""

    kind: Literal["report_seen"]
    """That it was seen."""
    said: ReportSeen
    """Anything worth knowing."""


class ReportSettledEvent(_Spoken):
    """The report is done with."""

    kind: Literal["report_settled"]
    """How it ended."""
    said: ReportSettled
    """What was found and done."""


Told = Annotated[
    ReportedEvent | ReportSeenEvent | ReportSettledEvent, Field(discriminator="kind")
]
"""Whatever is said of a fault."""
REPORTED: Literal["reported"] = "reported"
KINDS: tuple[str, ...] = (REPORTED, "report_seen", "report_settled")
SYMPTOMS: tuple[str, ...] = get_args(Symptom)
