"""What is said of a doorway between its visits: events, added and never changed.

An attendance is planned, moved, refused, called off, or done; something is owed and
mended; a part is ordered and fitted.  Each of these is *one thing*, and whatever is
said of it names it in ``about``.  What it comes to is folded, `limen.model.agenda`; a
mistake is taken back by one more event.
"""

from datetime import date, datetime
from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from limen.model.fields import Id, Name, Stated
from limen.model.visit import MOST_SEQ, Moment, SiteId, Text, Uuid

What = Literal["check", "follow-up", "fault", "change"]
"""For what somebody is to come."""
Thing = Annotated[str, StringConstraints(pattern=r"^[0-9a-f][0-9a-f-]{7,39}$")]
"""Id of what is spoken of: a thing of these, a defect of a visit, a fault reported."""
MOST_PARTS = 999


# What is said --------------------------------------------------------------------


class Planned(Stated):
    """An attendance is planned."""

    day: date
    """The day on which somebody comes."""
    what: What
    """For what."""
    who: Name | None = None
    """Who comes; left out while nobody is named."""
    note: Text | None = None
    """Anything worth knowing."""
    of: Thing | None = None
    """What is to be seen to: id of a follow-up, or of a fault that was reported."""


class Moved(Stated):
    """Another day: of an attendance, or by which something owed is to be done."""

    day: date
    """The day."""
    who: Name | None = None
    """Who comes instead; whoever was to come, if left out."""
    because: Text | None = None
    """Why."""


class Refused(Stated):
    """Somebody was not let in, or not let do it."""

    by: Name
    """Who refused."""
    because: Text
    """Why, as they said it."""


class CalledOff(Stated):
    """It does not take place, or is not needed."""

    because: Text | None = None
    """Why."""


class Done(Stated):
    """Somebody attended."""

    visit: Uuid | None = None
    """Id of the visit; left out where nothing of it is kept here."""
    day: date | None = None
    """The day, where no visit says it."""
    note: Text | None = None
    """Anything worth knowing."""


class Owed(Stated):
    """Something is left to be done."""

    text: Text
    """What, in words."""
    day: date | None = None
    """By when; left out where nobody said."""
    visit: Uuid | None = None
    """Id of the visit at which it was found."""
    defect: Uuid | None = None
    """Id of the defect of that visit from which it comes."""


class Mended(Stated):
    """What was owed is done."""

    visit: Uuid | None = None
    """Id of the visit at which it was done."""
    note: Text | None = None
    """How, or anything worth knowing."""


class Part(Stated):
    """A part, ordered or fitted."""

    name: Name
    """What it is."""
    number: Name | None = None
    """Its number, as the maker's list has it."""
    count: Annotated[int, Field(ge=1, le=MOST_PARTS)] = 1
    """How many."""
    fitting: Id | None = None
    """Id of the fitting for which it is; left out where it is for no unit."""
    day: date | None = None
    """The day on which it was ordered or fitted."""
    visit: Uuid | None = None
    """Id of the visit at which it was fitted."""
    of: Thing | None = None
    """Id of the follow-up for which it is."""


class Undone(Stated):
    """An event is taken back; it stays, and no longer counts."""

    event: Uuid
    """Its id; that of another taking back brings back what that one took."""


# Events --------------------------------------------------------------------------


class Spoken(Stated):
    """What every event says."""

    id: Uuid
    """Its own id, never used again."""
    about: Thing
    """Of which thing it is said."""
    seq: Annotated[int, Field(ge=1, le=MOST_SEQ)]
    """One more than the highest that was known of this thing when it was said."""
    site: SiteId
    """Id of the site."""
    doorway: Id
    """Id of the doorway."""
    at: Moment
    """When, as the clock of the desk claims."""
    person: Name
    """Who says it."""

    @property
    def moment(self) -> datetime:
        """When, as the desk claims."""
        return datetime.fromisoformat(self.at)


class PlannedEvent(Spoken):
    """An attendance is planned."""

    kind: Literal["planned"]
    """A plan."""
    said: Planned
    """The day, for what, and who."""


class MovedEvent(Spoken):
    """Another day was said."""

    kind: Literal["moved"]
    """Another day."""
    said: Moved
    """Which, and why."""


class RefusedEvent(Spoken):
    """An attendance was refused."""

    kind: Literal["refused"]
    """A refusal."""
    said: Refused
    """By whom, and why."""


class CalledOffEvent(Spoken):
    """It was called off."""

    kind: Literal["called_off"]
    """It is not needed."""
    said: CalledOff
    """Why."""


class DoneEvent(Spoken):
    """Somebody attended."""

    kind: Literal["done"]
    """An attendance."""
    said: Done
    """By which visit."""


class OwedEvent(Spoken):
    """Something is left to be done."""

    kind: Literal["owed"]
    """A follow-up."""
    said: Owed
    """What, and by when."""


class MendedEvent(Spoken):
    """What was owed is done."""

    kind: Literal["mended"]
    """It is done."""
    said: Mended
    """At which visit."""


class OrderedEvent(Spoken):
    """A part was ordered."""

    kind: Literal["ordered"]
    """An order."""
    said: Part
    """Which part."""


class FittedEvent(Spoken):
    """A part was fitted."""

    kind: Literal["fitted"]
    """A part in its place."""
    said: Part
    """Which part."""


class UndoneEvent(Spoken):
    """An event was taken back."""

    kind: Literal["undone"]
    """A taking back."""
    said: Undone
    """Of which event."""


Between = Annotated[
    PlannedEvent
    | MovedEvent
    | RefusedEvent
    | CalledOffEvent
    | DoneEvent
    | OwedEvent
    | MendedEvent
    | OrderedEvent
    | FittedEvent
    | UndoneEvent,
    Field(discriminator="kind"),
]

KINDS = (
    "planned",
    "moved",
    "refused",
    "called_off",
    "done",
    "owed",
    "mended",
    "ordered",
    "fitted",
    "undone",
)
"""Kinds of event that are folded here; others may be kept beside them."""
