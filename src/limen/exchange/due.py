"""What is due, for programs."""

from collections.abc import Iterable
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
        "because": say(one.finding.because),
        "lacking": [say(lack.message) for lack in one.finding.lacking],
    }


def due_contract(
    rows: Iterable[Json], unasked: Iterable[str], *, on: date, version: str
) -> Json:
    """All that is due on a day: ``checks`` the soonest first, and what is not asked."""
    return {
        "limen": version,
        "schema": 1,
        "on": on.isoformat(),
        "checks": list(rows),
        "not_asked": list(unasked),
    }
