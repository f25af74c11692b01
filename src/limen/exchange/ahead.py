"""What is ahead of doorways, for programs."""

from collections.abc import Iterable
from datetime import date

from limen.exchange.contract import Json
from limen.model.agenda import FollowUp, Parts, Plan

Thing = Plan | FollowUp | Parts


def thing_row(thing: Thing) -> Json:
    """What is planned, owed or awaited, as plain values; `known` is to be sent back."""
    head: Json = {
        "about": thing.words.about,
        "state": thing.state,
        "known": thing.words.seq,
    }
    match thing:
        case Plan():
            return head | {
                "day": thing.day.isoformat(),
                "what": thing.first.said.what,
                "who": thing.who,
                "note": thing.first.said.note,
                "visit": thing.visit,
            }
        case FollowUp():
            return head | {
                "text": thing.text,
                "day": thing.day.isoformat() if thing.day else None,
                "visit": thing.visit,
            }
        case Parts():
            part = thing.last.said
            return head | {
                "name": part.name,
                "number": part.number,
                "count": part.count,
                "fitting": part.fitting,
                "day": part.day.isoformat() if part.day else None,
            }


def ahead_contract(
    planned: Iterable[Json],
    owed: Iterable[Json],
    awaited: Iterable[Json],
    *,
    on: date,
    version: str,
) -> Json:
    """All that is ahead on a day.

    Args:
        planned: attendances, as `thing_row` makes them, with their place.
        owed: follow-ups that are open.
        awaited: parts on order.
        on: the day.
        version: of limen.
    """
    return {
        "limen": version,
        "schema": 1,
        "on": on.isoformat(),
        "planned": list(planned),
        "owed": list(owed),
        "awaited": list(awaited),
    }
