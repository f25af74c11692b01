"""What is due, for programs."""

from collections.abc import Iterable, Sequence
from datetime import date

from limen.exchange.contract import Json
from limen.keep.due import Due
from limen.words import say


def due_row(site: str, one: Due) -> Json:
    """One check that is due, as plain values."""
    return {
        "site": site,
        "id": one.doorway,
        "name": one.name,
        "state": one.state,
        "due": one.day.isoformat() if one.day else None,
        "because": say(one.because),
        "lacking": [say(lack.message) for lack in one.lacking],
        "beside": [say(each) for each in one.beside],
        "person": one.person or None,
        "route": one.route or None,
    }


def daily_row(site: str, doors: Sequence[str], who: str) -> Json:
    """The owner's daily check at one site, as plain values."""
    return {"site": site, "doorways": list(doors), "who": who or None}


def due_contract(
    rows: Iterable[Json],
    unasked: Iterable[str],
    *,
    on: date,
    version: str,
    daily: Iterable[Json] = (),
    not_used: Iterable[str] = (),
) -> Json:
    """All that is due on a day.

    Args:
        rows: the checks, as `due_row` makes them, the soonest first.
        unasked: doorways whose rulebook asks for none.
        on: the day.
        version: of limen.
        daily: the owners' daily checks, one a site.
        not_used: records that were not used, and why.
    """
    return {
        "limen": version,
        "schema": 1,
        "on": on.isoformat(),
        "checks": list(rows),
        "not_asked": list(unasked),
        "daily": list(daily),
        "not_used": list(not_used),
    }
