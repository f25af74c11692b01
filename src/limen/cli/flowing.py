"""What `limen flows` prints."""

from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

from limen.cli.lines import EMPTY, Ink, Line, Piece, columns, wrapped
from limen.cli.paper import paper
from limen.desk.flow_words import (
    Row,
    as_values,
    rows_of,
    said_instead,
    said_later,
    saved_rows,
)
from limen.desk.flows import Flows, Saving, book_for, flows, instead_of, saving
from limen.exchange import dumps
from limen.findings import Lack, Message
from limen.words import said_assumed, say

if TYPE_CHECKING:
    from limen.model.site import Site

_GIVES = ((0, 24), (1, 14))
_BULLET = "· "


def flowed(
    site: Path,
    doorway: str | None,
    weather: Path | None,
    instead: list[str],
    *,
    as_json: bool,
) -> int:
    """Print who walks through and past, and what it comes to; returns 0.

    Raises:
        Refusal: what cannot be used.
    """
    found_site, found = flows(site, doorway, weather)
    saved = [_saved(found_site, one, instead) for one in found]
    page = paper()
    if as_json:
        page.put_text(dumps(as_values(found_site.name, found, version("limen"), saved)))
        return 0
    lines: list[Line] = []
    for one, each in zip(found, saved, strict=True):
        lines += [EMPTY, *_door(one, each, page.width)]
    page.put(lines)
    return 0


def _saved(site: "Site", found: Flows, instead: list[str]) -> list[Saving]:
    """What each change saves at a doorway whose openings are known."""
    door = found.doorway
    book = book_for(site, door) if instead else None
    made = [saving(door, instead_of(door, one), book) for one in instead]
    return [one for one in made if isinstance(one, Saving)]


def _door(found: Flows, saved: list[Saving], width: int | None) -> list[Line]:
    lines = wrapped(found.doorway.name, width, ink=Ink.STRONG)
    lines += _rows(rows_of(found), width)
    for one in saved:
        said = {"what": said_instead(one.instead)}
        lines += wrapped(say(Message("flows_shown.saves", said)), width, ink=Ink.STRONG)
        lines += _rows(saved_rows(one), width)
        for text in said_later(one):
            lines += wrapped(text, width, indent=2)
    lines += _listed("flows_shown.lacking", [*found.path_lacks, *found.lacks], width)
    lines += _listed("flows_shown.money_lacking", [*found.money_lacks], width)
    if found.assumed:
        lines += wrapped(say(Message("flows_shown.assumed")), width)
    for text in dict.fromkeys(say(said_assumed(one)) for one in found.assumed):
        lines += _bullet(text, width)
    if found.reckoned is not None:
        lines += wrapped(say(Message("flows_shown.caution")), width, ink=Ink.QUIET)
    return lines


def _rows(rows: list[Row], width: int | None) -> list[Line]:
    cells = [[Piece(f"  {row.name}"), Piece(row.value)] for row in rows]
    return [line for row in columns(cells, width, _GIVES) for line in row]


def _listed(key: str, lacks: list[Lack], width: int | None) -> list[Line]:
    if not lacks:
        return []
    texts = dict.fromkeys(f"{say(one.message)} ({one.key})" for one in lacks)
    return [
        *wrapped(say(Message(key)), width),
        *(line for text in texts for line in _bullet(text, width)),
    ]


def _bullet(text: str, width: int | None) -> list[Line]:
    return wrapped(f"{_BULLET}{text}", width, indent=2, hang=len(_BULLET))
