"""Entries of a doorway's life in words.

Each kind of event that is kept between visits has a line in `SAYS`; one that has none
is shown all the same, by its name.
"""

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from limen.desk.fact_words import said_change, said_key
from limen.desk.library import Desk
from limen.desk.life import (
    Entry,
    SaidEntry,
    TextEntry,
    defects_of_visit,
    photos_in,
)
from limen.desk.visits import Folded
from limen.desk.visits_photos import photo_state
from limen.findings import Message
from limen.quantity import Show
from limen.web import visits_shown
from limen.words import say, say_count
from limen.words.ahead import said_part
from limen.words.places import say_unit
from limen.words.saying import say_word
from limen.words.visits import said_state, said_step

MOST_TOLD = 6
"""Changed values that an entry names."""
FEW = 12
"""Letters of a digest that are shown."""
APART = " · "
DOES = "does"
"""The fault finder's question what the door does."""


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo of a visit: its address, what is on it, its size."""

    href: str
    of: str
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Said:
    """What an entry says.

    Attributes:
        title: in a few words.
        lines: what else there is to it.
        href: where all of it stands; empty where there is no more.
    """

    title: str
    lines: tuple[str, ...] = ()
    href: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """An entry as a time line shows it.

    Attributes:
        id: where it is on the page.
        day, time: when.
        kind: among what it is listed.
        title, lines, href: what it says.
        values: values of the text that were changed: key and change.
        photos: what was photographed.
        gone: whether it was taken back.
        undo: what is sent to take it back; None where that cannot be done here.
        mark: the mark of how a visit left the door; empty for all else.
    """

    id: str
    day: str
    time: str
    kind: str
    title: str
    lines: tuple[str, ...] = ()
    href: str = ""
    values: tuple[tuple[str, str], ...] = ()
    photos: tuple[Photo, ...] = ()
    gone: bool = False
    undo: Mapping[str, str | int] | None = None
    mark: str = ""


def row_of(desk: Desk, entry: Entry, address: str, system: Show) -> Row:
    """An entry in words.

    Args:
        desk: the desk.
        entry: the entry.
        address: of the doorway.
        system: units of the reader.
    """
    head: dict[str, Any] = {
        "day": entry.moment[:10],
        "time": entry.moment[11:16],
        "kind": entry.kind,
    }
    match entry.of:
        case TextEntry() as one:
            return _text(one, head, address, system)
        case Folded() as one:
            return _visit(desk, one, head, address)
        case SaidEntry() as one:
            return _said(one, head, address)
        case one:
            title = _say("record", number=one.number)
            digest = _say("digest", digest=one.digest[:FEW])
            href = f"{address}/visits/{one.visit}" if one.visit else f"{address}/visits"
            return Row(
                f"r{one.number}", title=title, lines=(digest,), href=href, **head
            )


_Head = Mapping[str, Any]


def _text(one: TextEntry, head: _Head, address: str, system: Show) -> Row:
    site = address.partition("/doorways/")[0]
    href = f"{site}/history/{one.number}"
    named = f"t{one.number}"
    if one.first:
        return Row(named, title=_say("text_first"), href=href, **head)
    changes = one.changes or ()
    lines = () if one.changes is not None else (_say("text_unreadable"),)
    more = len(changes) - MOST_TOLD
    lines += (say_count("life.entry.more", more),) if more > 0 else ()
    values = tuple(
        # The doorway is what the whole page is about.
        (_short(said_key(each.key)), said_change(each, system))
        for each in changes[:MOST_TOLD]
    )
    return Row(named, title=_say("text"), lines=lines, href=href, values=values, **head)


def _short(key: str) -> str:
    """A key without the doorway at its beginning."""
    return key.partition(APART)[2] or key


def _visit(desk: Desk, one: Folded, head: _Head, address: str) -> Row:
    line = visits_shown.line(one)
    failed = sum(each.said.answer == "touched" for each in one.found.answers.values())
    counts = {
        "failed": failed,
        "defects": len(defects_of_visit(one)),
        "conflicts": len(one.found.conflicts),
    }
    told = [
        say_count(f"life.entry.{name}", count)
        for name, count in counts.items()
        if count
    ]
    defects = [each.said.text for each in defects_of_visit(one)]
    handed = one.found.handed_over
    left = said_state(one.raw[handed.id]["said"]) if handed else ""
    lines = (left, APART.join(told), *defects)
    title = APART.join(part for part in (_say("visit"), line.people, line.why) if part)
    return Row(
        f"v{one.visit}",
        title=title,
        lines=tuple(part for part in lines if part),
        href=f"{address}/visits/{one.visit}",
        photos=tuple(_photos(desk, one)),
        mark="fails" if failed else "",
        **head,
    )


def _photos(desk: Desk, one: Folded) -> Iterator[Photo]:
    """Those of which all has come in."""
    for each in photos_in(one):
        said = each.said
        if photo_state(desk, said.sha256).whole:
            of = said_step(said.of) if said.of else said.name
            href = f"/visits/photos/{said.sha256}"
            yield Photo(href, of, said.width, said.height)


# Said between visits ---------------------------------------------------------------


def _said(one: SaidEntry, head: _Head, address: str) -> Row:
    found = SAYS.get(one.row.kind, _other)(one, address)
    own = one.said
    lines = found.lines
    undo = None
    if own is not None:
        lines += (say(Message("life.by", {"person": own.person})),)
        undo = {"about": own.about, "event": own.id}
    if one.later:
        lines += (say_count("life.entry.later", len(one.later)),)
    return Row(
        f"e{one.row.id}",
        title=found.title,
        lines=lines,
        href=found.href,
        gone=one.taken_back,
        undo=None if one.taken_back or one.row.kind == "undone" else undo,
        **head,
    )


def _planned(one: SaidEntry, _: str) -> Said:
    said = one.raw["said"]
    title = _say("planned", day=said["day"], what=say_word("life.what", said["what"]))
    return Said(title, (_who(said), *_note(said)))


def _moved(one: SaidEntry, _: str) -> Said:
    said, before = one.raw["said"], one.before
    if "text" in before:
        return Said(_say("moved_owed", day=said["day"], text=before["text"]))
    who = (_who(said),) if "who" in said else ()
    return Said(_say("moved", day=said["day"]), (*who, *_because(said)))


def _refused(one: SaidEntry, _: str) -> Said:
    said, day = one.raw["said"], one.before.get("day", "")
    return Said(_say("refused", day=day, by=said["by"]), _because(said))


def _called_off(one: SaidEntry, _: str) -> Said:
    said, before = one.raw["said"], one.before
    if "text" in before:
        return Said(_say("called_off_owed", text=before["text"]), _because(said))
    if "name" in before:
        return Said(_say("called_off_part", part=said_part(before)), _because(said))
    return Said(_say("called_off", day=before.get("day", "")), _because(said))


def _done(one: SaidEntry, address: str) -> Said:
    said = one.raw["said"]
    on = (_say("done_on", day=said["day"]),) if "day" in said else ()
    joined = (_say("done_visit"),) if "visit" in said else ()
    title = _say("done", day=one.before.get("day", ""))
    return Said(title, (*on, *joined, *_note(said)), _at(said, address))


def _owed(one: SaidEntry, address: str) -> Said:
    said = one.raw["said"]
    day = said.get("day")
    by = (say(Message("life.ahead.owed_by", {"day": day})),) if day else ()
    return Said(_say("owed", text=said["text"]), by, _at(said, address))


def _mended(one: SaidEntry, address: str) -> Said:
    said, text = one.raw["said"], one.before.get("text", "")
    return Said(_say("mended", text=text), _note(said), _at(said, address))


def _part(one: SaidEntry, address: str) -> Said:
    said = one.raw["said"]
    title = _say(one.row.kind, part=said_part(said))
    return Said(title, tuple(_of_part(said)), _at(said, address))


def _undone(one: SaidEntry, _: str) -> Said:
    return Said(_say("undone", person=one.raw["person"]))


def _called_out(one: SaidEntry, address: str) -> Said:
    """A call-out by what the door did, if that was said."""
    href = f"{address}/trace/{one.row.about}"
    for each in one.later:
        raw = json.loads(each.text)
        symptom = raw.get("answer") if raw.get("question") == DOES else None
        if symptom:
            said = _symptom(symptom)
            return Said(_say("called_out", symptom=said), (), href)
    return Said(_say("call_out"), (), href)


def _symptom(symptom: str) -> str:
    """What a door does, in the fault finder's own words."""
    return say_word(f"trace.answer.{DOES}", symptom)


def _reported(one: SaidEntry, address: str) -> Said:
    """A fault that was reported: what the door does, in whose words, how it ended."""
    said: Mapping[str, Any] = one.raw.get("said", {})
    told: list[str] = []
    if said.get("struck"):
        told.append(say(Message("report_page.list.struck")))
    if "symptom" in said:
        told.append(_symptom(said["symptom"]))
    if "text" in said:
        told.append(said["text"])
    if "by" in said:
        told.append(say(Message("report_page.list.by", {"person": said["by"]})))
    for each in one.later:
        if each.kind == "report_settled":
            because = json.loads(each.text)["said"]["because"]
            message = Message("report_page.list.settled", {"because": because})
            told.append(say(message))
    return Said(_say("reported"), tuple(told), f"{address}/report/{one.row.about}")


def _other(one: SaidEntry, _: str) -> Said:
    return Said(_say("other", kind=one.row.kind))


SAYS: Mapping[str, Callable[[SaidEntry, str], Said]] = {
    "planned": _planned,
    "moved": _moved,
    "refused": _refused,
    "called_off": _called_off,
    "done": _done,
    "owed": _owed,
    "mended": _mended,
    "ordered": _part,
    "fitted": _part,
    "undone": _undone,
    "called_out": _called_out,
    "reported": _reported,
}
"""By kind of event what it says: an entry and the doorway's address in, words out."""


def _of_part(said: Mapping[str, Any]) -> Iterator[str]:
    if "fitting" in said:
        unit = say_unit(said["fitting"])
        yield say(Message("life.part.of_unit", {"unit": unit}))
    if "day" in said:
        yield say(Message("life.part.day", {"day": said["day"]}))


def _who(said: Mapping[str, Any]) -> str:
    who = said.get("who")
    return _say("who", who=who) if who else say(Message("life.nobody"))


def _because(said: Mapping[str, Any]) -> tuple[str, ...]:
    return (said["because"],) if "because" in said else ()


def _note(said: Mapping[str, Any]) -> tuple[str, ...]:
    return (said["note"],) if "note" in said else ()


def _at(said: Mapping[str, Any], address: str) -> str:
    return f"{address}/visits/{said['visit']}" if "visit" in said else ""


def _say(key: str, /, **values: str | int) -> str:
    return say(Message(f"life.entry.{key}", values))
