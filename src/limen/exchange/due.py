"""What is due, for programs."""

from collections.abc import Iterable
from datetime import date

from limen.exchange.contract import Json
from limen.findings import Finding
from limen.words import say


def due_row(
    site: str, doorway: str, name: str, state: str, day: date | None, finding: Finding
) -> Json:
    """One check that is due, as plain values."""
    return {
        "site": site,
        "id": doorway,
        "name": name,
        "state": state,
        "due": day.isoformat() if day else None,
        "because": say(finding.because),
        "lacking": [say(one.message) for one in finding.lacking],
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
