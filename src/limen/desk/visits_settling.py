"""What devices contradict each other in, settled by a person: one more event each."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from limen.desk.clock import now
from limen.desk.library import Desk
from limen.desk.refusal import Refusal
from limen.desk.visits import Folded, folded
from limen.findings import Message
from limen.model.visit import SettledEvent
from limen.model.visited import Conflict
from limen.record.canonical import canonical
from limen.store.database.visits import ToKeep, keep_own
from limen.words import say

MOST_NAME = 120
DESK = "desk"
"""What the names of the desk as a device begin with."""


@dataclass(frozen=True, slots=True)
class Choice:
    """What a person chose.

    Attributes:
        stands: id of the event that stands.
        person: who chose.
    """

    stands: str
    person: str


def settle(desk: Desk, site_id: str, visit: str, choice: Choice) -> Folded:
    """Let one of the things that devices contradict each other in stand.

    Args:
        desk: the desk.
        site_id: the site.
        visit: id of the visit.
        choice: which, and who says so.

    Returns:
        The visit as it stands then.

    Raises:
        NoSuchSiteError: there is no such site.
        NoSuchVisitError: there is no such visit.
        Refusal: nobody is named, the event contradicts none, or the visit is sealed.
    """
    found = _open(desk, site_id, visit)
    person = choice.person.strip()
    if not 0 < len(person) <= MOST_NAME:
        raise _refused("person", most=MOST_NAME)
    conflict = _conflict(found, choice.stands)
    between = [one.id for one in conflict.events]
    said = {"between": between, "stands": choice.stands, "person": person}
    _keep(desk, found, "settled", said)
    return folded(desk, site_id, visit)


def reopen(desk: Desk, site_id: str, visit: str, event: str) -> Folded:
    """Take a choice back that was made before.

    Raises:
        NoSuchSiteError: there is no such site.
        NoSuchVisitError: there is no such visit.
        Refusal: that is no choice that stands, or the visit is sealed.
    """
    found = _open(desk, site_id, visit)
    chosen = {one.id for one in found.found.standing if isinstance(one, SettledEvent)}
    if event not in chosen:
        raise _refused("no_choice")
    _keep(desk, found, "undone", {"event": event})
    return folded(desk, site_id, visit)


def _open(desk: Desk, site_id: str, visit: str) -> Folded:
    found = folded(desk, site_id, visit)
    if found.record is not None:
        raise _refused("sealed")
    return found


def _conflict(found: Folded, stands: str) -> Conflict:
    for one in found.found.conflicts:
        if stands in {event.id for event in one.events}:
            return one
    raise _refused("no_conflict")


def _keep(desk: Desk, of: Folded, kind: str, said: Mapping[str, Any]) -> None:
    keep_own(desk.library, f"{DESK}-{of.visit}", _made(of, kind, said))


def _made(of: Folded, kind: str, said: Mapping[str, Any]) -> Callable[[int], ToKeep]:
    """An event of the desk's own, which numbers them anew at each visit."""

    def made(seq: int) -> ToKeep:
        event: dict[str, Any] = {
            "id": str(uuid4()),
            "device": f"{DESK}-{of.visit}",
            "seq": seq,
            "visit": of.visit,
            "site": of.site,
            "doorway": of.doorway,
            "at": now().strftime("%Y-%m-%dT%H:%M:%SZ"),
            "kind": kind,
            "said": dict(said),
        }
        return ToKeep(
            event["id"],
            event["device"],
            seq,
            of.visit,
            of.site,
            of.doorway,
            kind,
            canonical(event).decode(),
        )

    return made


def _refused(key: str, **values: int) -> Refusal:
    return Refusal([say(Message(f"visits.settle_refused.{key}", values))])
