"""What is tapped at a door: events, kept at once and never changed.

A visit is nothing but its events, those of every phone and of the desk that took part
in it.  What they come to is folded from them, `limen.model.visited`; a mistake is
taken back by one more event, and two phones that say different things are settled by
one more event.
"""

from collections.abc import Mapping
from datetime import datetime
from typing import Annotated, Literal, cast

from pydantic import (
    AfterValidator,
    Discriminator,
    Field,
    StringConstraints,
    Tag,
    model_validator,
)
from pydantic_core import PydanticCustomError

from limen.model.fields import Id, Name, Stated
from limen.model.readings import Reading, TapedLens

Uuid = Annotated[
    str,
    StringConstraints(
        pattern=r"^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$"
    ),
]
Device = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9_-]{0,79}$")]
SiteId = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9_-]{0,59}$")]
Digest = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]
Text = Annotated[
    str, StringConstraints(strip_whitespace=True, min_length=1, max_length=2000)
]
Step = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9._-]{0,79}$")]
"""Name of a test, a precaution or a piece of work, as the card pack has it."""

MOST_SEQ = 2**31 - 1
PHOTO_BYTES = 15_000_000
PHOTO_PIXELS = 50_000_000

Answer = Literal["stayed open", "touched", "lamp only", "cannot"]
Tool = Literal["body", "carton", "leg"]
State = Literal["in use", "in use with defects", "out of use"]
Why = Literal["new", "existing", "called out"]
Budget = Literal["yearly", "acceptance", "after repair"]


def _moment(text: str) -> str:
    """A time that there is, left as it was said."""
    try:
        datetime.fromisoformat(text)
    except ValueError:
        raise PydanticCustomError(
            "moment",
            "there is no such time",
            {
                "found": text,
                "accepted": "a day and a time, the same for all zones",
                "example": "2026-11-26T10:12:00Z",
            },
        ) from None
    return text


Moment = Annotated[
    str,
    StringConstraints(
        pattern=r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{1,3})?Z$"
    ),
    AfterValidator(_moment),
]


# What is said --------------------------------------------------------------------


class Started(Stated):
    """A visit begins: who is there, why, and what they brought along."""

    found: Why
    """How the door is met: newly mounted, in use, or with something amiss."""
    person: Name
    """Who works."""
    budget: Budget
    """What the visit is for, and so how much is tested beyond the minimum set."""
    version: Annotated[int, Field(ge=1, le=10**9)]
    """Version of the site that was taken along."""
    digest: Digest
    """SHA-256 of its text."""


class Precaution(Stated):
    """A precaution was taken."""

    step: Step
    """Which."""


class OfRow(Stated):
    """What was found of a unit's rows with finder, tape or box."""

    fitting: Id
    """Id of the fitting in the site file."""
    reading: Reading
    """What was read."""


class OfLens(Stated):
    """Where the lens of a unit was taped."""

    fitting: Id
    """Id of the fitting in the site file."""
    lens: TapedLens
    """Where it was found."""


class OfValue(Stated):
    """A value of the doorway: set, on a stopwatch, with a scale."""

    key: Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9._-]{0,119}$")]
    """Its key from the doorway on, ``fitting.inside.settings.tilt``."""
    value: Annotated[str, StringConstraints(min_length=1, max_length=120)]
    """The value with its unit, as a site file takes it."""


def _which(said: object) -> str:
    """What a reading is of, by the key that only this one has."""
    if isinstance(said, Mapping):
        keys = set(cast("Mapping[str, object]", said))
        if "reading" in keys:
            return "of row"
        return "of lens" if "lens" in keys else "of value"
    if isinstance(said, OfRow):
        return "of row"
    return "of lens" if isinstance(said, OfLens) else "of value"


ReadingSaid = Annotated[
    Annotated[OfRow, Tag("of row")]
    | Annotated[OfLens, Tag("of lens")]
    | Annotated[OfValue, Tag("of value")],
    Discriminator(_which),
]


class StepSaid(Stated):
    """A test and how it ended."""

    step: Step
    """Which test."""
    answer: Answer
    """The door stayed open or reopened; the leaf touched the box; only the lamp of
    the unit changed; or it cannot be tested."""
    because: Text | None = None
    """Why it cannot be tested; otherwise anything worth knowing."""
    tool: Tool | None = None
    """With what: reference body, carton or leg; left out where nothing is put down."""

    @model_validator(mode="after")
    def _cannot_says_why(self) -> "StepSaid":
        if self.answer != "cannot" or self.because:
            return self
        raise PydanticCustomError(
            "because",
            "what cannot be tested is to say why",
            {
                "at": ("because",),
                "accepted": "the reason in a few words",
                "example": '"because": "the shop is open, no barrier"',
            },
        )


class Photo(Stated):
    """A photo was taken; its bytes follow by themselves."""

    name: Name
    """What it is called."""
    sha256: Digest
    """SHA-256 of its bytes: by this they are known when they come."""
    bytes: Annotated[int, Field(ge=1, le=PHOTO_BYTES)]
    """How many there are."""
    width: Annotated[int, Field(ge=1, le=30_000)]
    """In pixels."""
    height: Annotated[int, Field(ge=1, le=30_000)]
    """In pixels."""
    of: Name | None = None
    """What is on it: the test, the defect, or anything in words."""


class Work(Stated):
    """A piece of work was done."""

    step: Step
    """Which."""
    done: Literal[True]
    """That it was; what was not done is not said."""
    note: Text | None = None
    """Anything worth knowing."""


class Note(Stated):
    """Anything worth knowing."""

    text: Text
    """In words."""


Key = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_-]{0,39}$")]
"""Name of a question of the fault finder, of an answer, or of a cause."""
CallId = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{8,40}$")]
"""A call-out at the desk."""


class Traced(Stated):
    """A question of the fault finder was answered."""

    question: Key
    """Which; ``cause`` is what the person takes to be the cause in the end."""
    answer: Key
    """What: one of its answers, ``unknown``, ``neither``, or a cause."""
    call: CallId | None = None
    """The call-out at the desk of which it was taken over; left out where it was
    answered at the door."""


class Defect(Stated):
    """Something is amiss, and who was told."""

    text: Text
    """What, in words."""
    told: Name | None = None
    """Who was told; left out while nobody was."""
    photo: Digest | None = None
    """SHA-256 of a photo of it."""


Coordinate = Annotated[float, Field(ge=-100_000, le=100_000, allow_inf_nan=False)]
Stroke = Annotated[tuple[tuple[Coordinate, Coordinate], ...], Field(max_length=4000)]


class HandedOver(Stated):
    """How the door is left.  The person chooses."""

    state: State
    """In use, in use with defects, or out of use."""
    told: Name | None = None
    """To whom; a door that is left in use with defects is never left untold."""
    signature: Annotated[tuple[Stroke, ...], Field(max_length=200)] = ()
    """Strokes of their hand, in pixels of the field they were drawn in."""

    @model_validator(mode="after")
    def _defects_are_told(self) -> "HandedOver":
        if self.state != "in use with defects" or self.told:
            return self
        raise PydanticCustomError(
            "told",
            "a door left in use with defects is told to somebody",
            {
                "at": ("told",),
                "accepted": "the name of who was told",
                "example": '"told": "A. Keeper"',
            },
        )


class Undone(Stated):
    """An event is taken back; it stays, and no longer counts."""

    event: Uuid
    """Its id; that of another taking back brings back what that one took."""


class Settled(Stated):
    """Of things that contradict each other, a person chose the one that stands."""

    between: Annotated[tuple[Uuid, ...], Field(min_length=2, max_length=200)]
    """Ids of the events that contradict each other."""
    stands: Uuid
    """The one that stands, among them."""
    person: Name
    """Who chose."""

    @model_validator(mode="after")
    def _one_of_them(self) -> "Settled":
        twins = len(set(self.between)) != len(self.between)
        if self.stands in self.between and not twins:
            return self
        raise PydanticCustomError(
            "stands",
            "what stands is to be one of the events that contradict each other",
            {
                "found": self.stands,
                "at": ("stands",),
                "accepted": "one of the ids of between, each of them once",
            },
        )


class Sealed(Stated):
    """The record of the visit was sealed."""

    digest: Digest
    """SHA-256 of the sealed text."""
    key: Digest
    """Public half of the key that sealed it, in hexadecimal."""
    by: Literal["device", "desk"]
    """Whether the phone sealed it at the door, or the desk afterwards."""


# Events --------------------------------------------------------------------------


class Tapped(Stated):
    """What every event says."""

    id: Uuid
    """Made where it was tapped, and never used again."""
    device: Device
    """Which phone, or which desk."""
    seq: Annotated[int, Field(ge=1, le=MOST_SEQ)]
    """Counts up on each device, over all its visits, from 1 without a gap."""
    visit: Uuid
    """To which visit it belongs."""
    site: SiteId
    """Id of the site."""
    doorway: Id
    """Id of the doorway."""
    at: Moment
    """When, as the clock of the device claims."""

    @property
    def moment(self) -> datetime:
        """When, as the device claims."""
        return datetime.fromisoformat(self.at)


class StartedEvent(Tapped):
    """A visit begins."""

    kind: Literal["started"]
    """A visit begins."""
    said: Started
    """Who, and why."""


class AsFoundEvent(Tapped):
    """Read before anyone touched a screw."""

    kind: Literal["as_found"]
    """Read as it was found."""
    said: ReadingSaid
    """What was read."""


class PrecautionEvent(Tapped):
    """A precaution was taken."""

    kind: Literal["precaution"]
    """A precaution."""
    said: Precaution
    """Which."""


class StepEvent(Tapped):
    """A test was made, or cannot be."""

    kind: Literal["step"]
    """A test."""
    said: StepSaid
    """Which, and how it ended."""


class ReadingEvent(Tapped):
    """Read after something was set."""

    kind: Literal["reading"]
    """Read as it was left."""
    said: ReadingSaid
    """What was read."""


class PhotoEvent(Tapped):
    """A photo was taken."""

    kind: Literal["photo"]
    """A photo."""
    said: Photo
    """Which."""


class WorkEvent(Tapped):
    """A piece of work was done."""

    kind: Literal["work"]
    """Work."""
    said: Work
    """Which."""


class NoteEvent(Tapped):
    """A note."""

    kind: Literal["note"]
    """A note."""
    said: Note
    """What it says."""


class TracedEvent(Tapped):
    """A question of the fault finder was answered."""

    kind: Literal["traced"]
    """An answer to the fault finder."""
    said: Traced
    """To which question, and what."""


class DefectEvent(Tapped):
    """A defect was found."""

    kind: Literal["defect"]
    """A defect."""
    said: Defect
    """What, and who was told."""


class HandedOverEvent(Tapped):
    """The door was handed over."""

    kind: Literal["handed_over"]
    """A hand-over."""
    said: HandedOver
    """How the door is left."""


class UndoneEvent(Tapped):
    """An event was taken back."""

    kind: Literal["undone"]
    """A taking back."""
    said: Undone
    """Of which event."""


class SettledEvent(Tapped):
    """A contradiction was settled."""

    kind: Literal["settled"]
    """A choice between things that contradict each other."""
    said: Settled
    """Which stands."""


class SealedEvent(Tapped):
    """The record was sealed."""

    kind: Literal["sealed"]
    """A seal."""
    said: Sealed
    """Which."""


Event = Annotated[
    StartedEvent
    | AsFoundEvent
    | PrecautionEvent
    | StepEvent
    | ReadingEvent
    | PhotoEvent
    | WorkEvent
    | NoteEvent
    | TracedEvent
    | DefectEvent
    | HandedOverEvent
    | UndoneEvent
    | SettledEvent
    | SealedEvent,
    Field(discriminator="kind"),
]
