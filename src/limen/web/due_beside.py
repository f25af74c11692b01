"""What stands beside the answers to when a doorway is due: who says so, and where."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, cast

from limen.desk.due_known import KnownStudy, ToldBy, known_study_of
from limen.desk.library import Desk, open_site
from limen.exchange.due import due_row
from limen.exchange.tally import DUE
from limen.findings import Message
from limen.web.doorway_lines import SEPARATOR
from limen.words import say

LIST = "/due"
"""Where all that is due is listed."""
BEGINS = f"{DUE}{SEPARATOR}"
"""How the name of a finding begins that answers when the doorway is due."""

_SAID = ("state", "due", "because", "lacking", "beside")


@dataclass(frozen=True, slots=True)
class Beside:
    """What is said beside the answers, in words.

    Attributes:
        of: how the names of the answers begin.
        kept: what all that is kept here says, in full.
        own: what the site's text alone says, where that is something else.
        notes: where sources differ, and which checks do not count.
        links: address and name of what the answers rest on, and of the list.
    """

    of: str
    kept: tuple[str, ...]
    own: tuple[str, ...]
    notes: tuple[str, ...]
    links: tuple[tuple[str, str], ...]


def beside(known: KnownStudy, site: str) -> Beside | None:
    """What stands beside the answers; None where the text says all that is known.

    Args:
        known: the study.
        site: the id of its site.
    """
    one = known.due
    if one is None or not (known.own or known.told or one.beside):
        return None
    links = ((href, name) for _, name, href in _told(known, site))
    last = LIST, say(Message("due.page.title"))
    notes = tuple(say(each) for each in one.beside)
    return Beside(BEGINS, _kept(known), _own(known), notes, (*links, last))


def due_values(known: KnownStudy, site: str) -> dict[str, Any] | None:
    """The next check as all that is kept here has it, for programs.

    Args:
        known: the study.
        site: the id of its site.
    """
    if known.due is None:
        return None
    row = due_row("", known.due)
    told = [
        {"what": kind, "name": name, "href": href}
        for kind, name, href in _told(known, site)
    ]
    said = {name: row[name] for name in _SAID}
    return {**said, "text_alone": list(_own(known)), "told_by": told}


def with_due(desk: Desk, site_id: str, body: dict[str, object]) -> dict[str, object]:
    """Findings as the contract has them, each doorway with what is known of its check.

    Args:
        desk: the desk.
        site_id: the site.
        body: findings of all its doorways, or of one.
    """
    opened = open_site(desk, site_id)
    doors = cast("list[dict[str, Any]]", body["doorways"])
    told = [
        {**one, "due": due_values(known_study_of(desk, opened, one["id"]), site_id)}
        for one in doors
    ]
    return {**body, "doorways": told}


def _kept(known: KnownStudy) -> tuple[str, ...]:
    """The answers themselves, where the text has another: a list cuts them short."""
    keys = {one.key for one in known.own}
    return tuple(
        say(Message("due.known.kept", {"says": one.because}))
        for one in known.study.findings
        if one.key in keys
    )


def _own(known: KnownStudy) -> tuple[str, ...]:
    return tuple(
        say(Message("due.known.text_alone", {"says": one.because})) for one in known.own
    )


def _told(known: KnownStudy, site: str) -> Iterator[tuple[str, str, str]]:
    """What it is, its name and its address."""
    door = f"/sites/{site}/doorways/{known.study.doorway.id}"
    for one in known.told:
        yield one.kind, say(one.source), _address(one, f"/sites/{site}", door)


def _address(one: ToldBy, site: str, door: str) -> str:
    match one.kind:
        case "record":
            own = f"{site}/records/{one.of}.json"
            return f"{door}/visits/{one.visit}#record" if one.visit else own
        case "visit":
            return f"{door}/visits/{one.of}"
        case "report":
            return f"{door}/report/{one.of}"
        case "text":
            return f"{site}/history/{one.of}"
