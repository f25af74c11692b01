"""What is ahead of doorways: who comes when, what is owed, which parts are awaited."""

import json
import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache, partial
from typing import TYPE_CHECKING, Any, cast, get_args

from limen.desk.library import Desk
from limen.desk.refusal import Refusal
from limen.desk.visits import Folded, folded
from limen.findings import Message
from limen.model.agenda import Agenda, Defect, FollowUp, Parts, Plan, agenda
from limen.model.between import KINDS
from limen.model.visit import DefectEvent
from limen.store.database.keeping import KeepingRow, events_at
from limen.store.database.visits import visits_with_defects
from limen.words import say

if TYPE_CHECKING:
    from collections.abc import Mapping

    from limen.model.between import Between

LEFT_WITH = {"in use with defects", "out of use"}
"""How a door is left that was not left free of its defects."""
SUGGESTED = 3
"""Visits that are offered to be joined to a plan."""


@dataclass(frozen=True, slots=True)
class There:
    """Something that is ahead, and where.

    Attributes:
        site, doorway: their ids.
        site_name, door_name: what they are called; the id where a door is no longer
            in its site.
        thing: what is planned, owed or awaited.
    """

    site: str
    doorway: str
    site_name: str
    door_name: str
    thing: Plan | FollowUp | Parts


@dataclass(frozen=True, slots=True)
class AllAhead:
    """What is ahead of a site, or of all of them.

    Attributes:
        on: the day for which it is asked.
        planned: attendances that are still to come, by day.
        owed: follow-ups that are open, those that are due first.
        awaited: parts on order.
    """

    on: date
    planned: tuple[There, ...]
    owed: tuple[There, ...]
    awaited: tuple[There, ...]


def all_ahead(
    desk: Desk,
    asked: str | None = None,
    *,
    on: date | None = None,
    who: str | None = None,
) -> AllAhead:
    """What is ahead of a site, or of all of them.

    Args:
        desk: the desk.
        asked: a site of the library by name or id; all if None.
        on: the day for which it is asked; today if None.
        who: only attendances of this person.

    Raises:
        Refusal: there is no such site.
    """
    site = _asked(desk, asked) if asked is not None else None
    return AllAhead(
        on or desk.day(),
        planned(desk, site, who=who),
        still_owed(desk, site),
        awaited(desk, site),
    )


def _asked(desk: Desk, asked: str) -> str:
    for one in desk.library.sites():
        if asked in {one.id, one.name}:
            return one.id
    raise Refusal([say(Message("life.refused.no_site", {"asked": asked}))])


def agenda_of(desk: Desk, site_id: str, doorway: str | None = None) -> Agenda:
    """What was said of a doorway, or of all of a site, and what it comes to.

    Raises:
        NoSuchSiteError: there is no such site.
    """
    desk.library.read(site_id)
    rows = events_at(desk.library, site_id, doorway, KINDS)
    return agenda(_events(rows), defects_of(desk, site_id, doorway))


def agenda_beside(
    desk: Desk, site_id: str, doorway: str, gone: Iterable[Folded]
) -> Agenda:
    """What was said of a doorway, and what it comes to beside its visits.

    Args:
        desk: the desk.
        site_id: the site.
        doorway: which doorway of it.
        gone: its visits, all of them.
    """
    rows = events_at(desk.library, site_id, doorway, KINDS)
    return agenda(_events(rows), (each for one in gone for each in defects_in(one)))


def planned(
    desk: Desk,
    site_id: str | None = None,
    *,
    upto: date | None = None,
    who: str | None = None,
) -> tuple[There, ...]:
    """Attendances that are still to come, by day, over all sites or of one.

    Those that were refused stand among them: somebody has to try again.

    Args:
        desk: the desk.
        site_id: only of this site.
        upto: only up to this day.
        who: only of this person, however they are written.
    """
    found = _said(desk, site_id).plans
    wanted = [
        one
        for one in found
        if one.state in {"planned", "refused"}
        and (upto is None or one.day <= upto)
        and (who is None or (one.who or "").casefold() == who.casefold())
    ]
    return tuple(_there(desk, ((o.first.site, o.first.doorway, o) for o in wanted)))


def still_owed(desk: Desk, site_id: str | None = None) -> tuple[There, ...]:
    """Follow-ups that are open, those that are due first, over all sites or of one.

    What a visit left a door with stands among them by itself.
    """
    every = _said(desk, site_id, defects_of(desk, site_id)).follow_ups
    wanted = [one for one in every if one.state == "open"]
    return tuple(_there(desk, ((one.site, one.doorway, one) for one in wanted)))


def awaited(desk: Desk, site_id: str | None = None) -> tuple[There, ...]:
    """Parts that were ordered and are not fitted yet, over all sites or of one."""
    wanted = [one for one in _said(desk, site_id).parts if one.state == "ordered"]
    return tuple(_there(desk, ((o.last.site, o.last.doorway, o) for o in wanted)))


def suggested(
    gone: Iterable[Folded], plan: Plan, joined: Iterable[str] = ()
) -> tuple[Folded, ...]:
    """Visits that may be what was planned: offered to a person, never taken.

    Those that began on or after the day on which it was planned and that are joined
    to no other plan, the nearest to its day first.

    Args:
        gone: the visits of its doorway.
        plan: the attendance.
        joined: ids of visits that are joined already.
    """
    made, taken = plan.first.moment.date(), set(joined)
    near = [
        (abs((began(one) - plan.day).days), one.visit, one)
        for one in gone
        if began(one) >= made and one.visit not in taken
    ]
    return tuple(one for *_, one in sorted(near, key=lambda one: one[:2])[:SUGGESTED])


def began(visit: Folded) -> date:
    """The day on which a visit began, as its phone claims."""
    return (visit.found.started or visit.found.events[0]).moment.date()


def defects_of(
    desk: Desk, site_id: str | None = None, doorway: str | None = None
) -> Iterator[Defect]:
    """Defects with which visits left doors.

    Where two phones contradict each other in how a door was left, its defects stand
    until that is settled.
    """
    for site, visit in visits_with_defects(desk.library, site_id, doorway):
        yield from defects_in(folded(desk, site, visit))


def defects_in(one: Folded) -> Iterator[Defect]:
    """Defects with which a visit left its door."""
    handed = one.found.handed_over
    open_ = any(each.about == "handed_over" for each in one.found.conflicts)
    if not (open_ or (handed and handed.said.state in LEFT_WITH)):
        return
    for each in one.found.standing:
        if isinstance(each, DefectEvent):
            yield Defect(
                each.id,
                each.said.text,
                each.moment.date(),
                one.visit,
                one.site,
                one.doorway,
                each.said.told,
            )


def _said(desk: Desk, site_id: str | None, defects: Iterable[Defect] = ()) -> Agenda:
    rows = events_at(desk.library, site_id, None, KINDS)
    return agenda(_events(rows), defects)


def _events(rows: Iterable[KeepingRow]) -> "Iterator[Between]":
    return (read_between(one.text) for one in rows)


def read_between(text: str) -> "Between":
    """An event from its text.

    Raises:
        ValidationError: it says something that such an event cannot say.
    """
    kind = cast("str", json.loads(text)["kind"])
    return cast("Between", _kinds()[kind].model_validate_json(text))


@cache
def _kinds() -> "Mapping[str, Any]":
    from limen.model.between import Between

    every = get_args(get_args(Between)[0])
    return {get_args(one.model_fields["kind"].annotation)[0]: one for one in every}


def _there(
    desk: Desk, every: Iterable[tuple[str, str, Plan | FollowUp | Parts]]
) -> Iterator[There]:
    """Each with the names of its site and door; of sites put away none."""
    names = cache(partial(_names, desk))
    for site, doorway, thing in every:
        site_name, doors = names(site)
        if doors is not None:
            yield There(site, doorway, site_name, doors.get(doorway, doorway), thing)


def _names(desk: Desk, site_id: str) -> tuple[str, dict[str, str] | None]:
    """Name of a site and of its doors; None for those of a site that is put away."""
    stored = desk.library.read(site_id)
    if stored.archived:
        return stored.name, None
    return stored.name, door_names(stored.text)


def door_names(text: str) -> dict[str, str]:
    """By id what the doors of a site's text are called; none where it is no TOML."""
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return {}
    return {
        str(one["id"]): str(one.get("name", one["id"]))
        for one in door_tables(raw)
        if "id" in one
    }


def door_tables(raw: "Mapping[str, object]") -> "list[dict[str, Any]]":
    """The tables of doorways in a text that was read and not checked."""
    doors = raw.get("doorway")
    listed = cast("list[object]", doors) if isinstance(doors, list) else []
    return [cast("dict[str, Any]", one) for one in listed if isinstance(one, dict)]
