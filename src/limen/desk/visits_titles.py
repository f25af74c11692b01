"""What the tests and the work of a visit are called, as on the card."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from limen.desk.library import Desk, Opened, book_of
from limen.desk.refusal import Refusal
from limen.desk.visits import Folded, record_of_bytes
from limen.findings import Message
from limen.quantity import Show
from limen.words.visits import said_step

if TYPE_CHECKING:
    from limen.questions.asking import Asked


def titles_of(
    desk: Desk, opened: Opened | None, visit: Folded, system: Show
) -> Mapping[str, str]:
    """By test of a visit what it is called; one that nobody knows keeps its name.

    What a record calls it stands before what the doorway of today makes of it.

    Args:
        desk: the desk.
        opened: the site; None if its text cannot be read.
        visit: the visit.
        system: units of the titles.
    """
    wanted = {one.said.step for one in visit.found.events if one.kind == "step"}
    named = _recorded(visit)
    left = wanted - set(named)
    if left and opened is not None:
        named = _of_today(desk, opened, visit.doorway, left, system) | named
    return {one: named.get(one) or said_step(one) for one in wanted}


def _recorded(visit: Folded) -> dict[str, str]:
    if visit.record is None:
        return {}
    tests = record_of_bytes(visit.record.sealed).get("tests", ())
    return {one["id"]: one["title"] for one in tests}


def _of_today(
    desk: Desk, opened: Opened, doorway: str, wanted: set[str], system: Show
) -> dict[str, str]:
    from limen.desk.card_pack_said import Sayer
    from limen.prove.minimum import minimum
    from limen.study.running import asked_of

    try:
        door = opened.doorway(doorway)
        book = book_of(desk, opened.site, door)
    except Refusal:
        return {}
    asked = asked_of(door, book, on=desk.day(), site=opened.site)
    say = Sayer(system)
    named = {one.id: say(one.title) for one in minimum(asked)}
    places = {one: _place(one, asked) for one in wanted - set(named)}
    return named | {one: say(title) for one, title in places.items() if title}


def _place(name: str, asked: "Mapping[str, Asked]") -> Message | None:
    """What the place is called that a name spells out; None if it spells none."""
    from limen.prove.further import place_named
    from limen.prove.minimum import bodies

    plan = next(iter(asked.values())).settled.plan
    found = place_named(name, bodies(asked), plan)
    return found.title if found else None
