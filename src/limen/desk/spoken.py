"""What people say of a door between visits, kept as events that are never changed.

Whatever is said names the thing it is said of, and how much had been said of it by
then: where somebody else has said something meanwhile, the word is refused and nothing
is kept, so that nobody answers what they have not read.
"""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from uuid import NAMESPACE_URL, uuid5

from limen.desk.clock import now
from limen.desk.library import Desk, readable
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.record.canonical import canonical
from limen.store.database.keeping import keep_event
from limen.words import retold, say
from limen.words.saying import has

if TYPE_CHECKING:
    from pydantic import ValidationError

Said = Mapping[str, Any]
SAME = ("kind", "said", "person", "site", "doorway")
"""In what an event that is kept already has to be the one that is said."""


@dataclass(frozen=True, slots=True)
class At:
    """Of which doorway something is said, and by whom.

    Attributes:
        site, doorway: their ids.
        person: who says it; empty where they do not say.
        known: the highest number that was said of the thing when this person read
            it; all of it if None.
    """

    site: str
    doorway: str
    person: str = ""
    known: int | None = None


@dataclass(frozen=True, slots=True)
class Word:
    """What is said of a thing.

    Attributes:
        about: id of the thing.
        seq: one more than the highest number that was said of it.
        kind: what kind of event it is.
        said: what it says, as JSON has it; what is empty counts as left out.
    """

    about: str
    seq: int
    kind: str
    said: Said


@dataclass(frozen=True, slots=True)
class Voice:
    """How events of a family are read, and how it is said that one is refused.

    Attributes:
        read: takes an event from its text, or raises pydantic's ValidationError.
        refused: before the name of a reason, the key of its sentence.
        field: the same before the name of a field.
    """

    read: Callable[[str], object]
    refused: str
    field: str

    def refusal(self, why: str) -> Refusal:
        """A refusal for a reason that has a sentence."""
        return Refusal([say(Message(f"{self.refused}.{why}"))])


def door_there(desk: Desk, at: At) -> None:
    """Refuse a doorway that the site does not have; a text at fault hides none.

    Raises:
        Refusal: there is none.
        NoSuchSiteError: there is no such site.
    """
    opened = readable(desk, at.site)
    if opened is not None:
        opened.doorway(at.doorway)


def event_of(at: At, word: Word, voice: Voice) -> dict[str, Any]:
    """The event by which something is said.

    Its id is made of the thing and the number: of two that are said at once, knowing
    the same, the second finds the first, and the same one again is the same event.

    Raises:
        Refusal: a field is not accepted.
    """
    from pydantic import ValidationError

    event: dict[str, Any] = {
        "id": str(uuid5(NAMESPACE_URL, f"{word.about}/{word.seq}")),
        "about": word.about,
        "seq": word.seq,
        "site": at.site,
        "doorway": at.doorway,
        "at": now().isoformat(timespec="milliseconds").replace("+00:00", "Z"),
        "person": at.person.strip(),
        "kind": word.kind,
        "said": {key: one for key, one in word.said.items() if one not in (None, "")},
    }
    try:
        voice.read(_text(event))
    except ValidationError as error:
        raise Refusal(_faults(error, voice)) from None
    return event


def keep_word(desk: Desk, event: Mapping[str, Any], voice: Voice) -> None:
    """Keep an event, unless another one took its place meanwhile.

    Raises:
        Refusal: another one did.
        NotKeptError: the disk does not take it.
    """
    named = {key: event[key] for key in ("id", "about", "site", "doorway", "kind")}
    kept = json.loads(keep_event(desk.library, text=_text(event), **named).text)
    if any(kept.get(name) != event[name] for name in SAME):
        raise voice.refusal("meanwhile")


def _text(event: Mapping[str, Any]) -> str:
    return canonical(dict(event)).decode()


def _faults(error: "ValidationError", voice: Voice) -> list[str]:
    """One line a field, in words that say what is accepted."""
    lines: list[str] = []
    for one in error.errors():
        way = (*one["loc"], *one.get("ctx", {}).get("at", ()))
        key = f"{voice.field}.{way[-1] if way else ''}"
        lines.append(say(Message(key)) if has(key) else retold(str(one["msg"])))
    return list(dict.fromkeys(lines))
