"""Doors from a list taken into a library, in one go; and put away again."""

from collections import OrderedDict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from secrets import token_hex
from threading import Lock
from typing import cast

from limen.desk.library import Clash, Desk, NothingToUndoError
from limen.desk.refusal import Refusal
from limen.desk.taking_in import (
    DoorMap,
    How,
    Table,
    Tried,
    look,
    refused_bytes,
    suggested,
    try_out,
)
from limen.findings import Message
from limen.store.database import Stored
from limen.store.database.several import (
    ChangedMeanwhileError,
    KeptNow,
    Wanted,
    keep_several,
    put_several_away,
)
from limen.store.doorlist.gathering import SiteThere
from limen.store.doorlist.known import folded
from limen.store.syntax import read_toml
from limen.words import say

MOST_HELD = 8
"""Lists that are held while they are looked at; the oldest makes room."""


@dataclass(frozen=True, slots=True)
class Held:
    """A list that is being looked at; nothing of it is kept until it is taken in.

    Attributes:
        name: what the file was called.
        data: its bytes.
        how: how it is read.
        mapping: what each column becomes, as it was tried last.
        kept: the sites that it was taken into; none before.
        names: their names, by id.
        refused: how many rows were refused when it was taken in.
        refused_rows: these, as a table.
        back: whether they were put away again.
    """

    name: str
    data: bytes
    how: How
    mapping: DoorMap
    kept: tuple[KeptNow, ...] = ()
    names: Mapping[str, str] = field(default_factory=dict[str, str])
    refused: int = 0
    refused_rows: bytes = b""
    back: bool = False


class NoSuchListError(LookupError):
    """There is no list of this id, or it was too long ago."""


@dataclass(frozen=True, slots=True)
class Lists:
    """Lists that are being looked at, in the memory of the server."""

    _held: OrderedDict[str, Held] = field(default_factory=OrderedDict[str, Held])
    _lock: Lock = field(default_factory=Lock)

    def begin(self, name: str, data: bytes) -> str:
        """Hold a list, read and mapped as its words suggest; returns its id.

        Raises:
            Refusal: it cannot be used.
        """
        table = look(data, How())
        held = Held(name, data, How(), suggested(table))
        list_id = token_hex(8)
        with self._lock:
            self._held[list_id] = held
            while len(self._held) > MOST_HELD:
                self._held.popitem(last=False)
        return list_id

    def held(self, list_id: str) -> Held:
        """A list that is held.

        Raises:
            NoSuchListError: there is none of this id.
        """
        with self._lock:
            if list_id not in self._held:
                raise NoSuchListError(list_id)
            return self._held[list_id]

    def change(self, list_id: str, held: Held) -> None:
        """Hold it as it is now."""
        with self._lock:
            if list_id in self._held:
                self._held[list_id] = held


def table_of(held: Held) -> Table:
    """A held list, read.

    Raises:
        Refusal: it cannot be read so.
    """
    return look(held.data, held.how)


def suggested_anew(held: Held, table: Table) -> Held:
    """A list that is read in another way, mapped as its words suggest now."""
    return replace(held, mapping=suggested(table))


def plainly(held: Held) -> Held:
    """A list read as nobody has chosen anything: so it could be read before."""
    return suggested_anew(replace(held, how=How()), look(held.data, How()))


def try_in_library(desk: Desk, held: Held, table: Table) -> Tried:
    """What would be taken into the library today; nothing is written.

    Raises:
        Refusal: the mapping does not fit the list.
    """
    there = list(_there(desk, table, held.mapping))
    return try_out(table, held.mapping, there, desk.sheets, desk.day(), held.name)


def take_in(desk: Desk, held: Held, tried: Tried) -> Held:
    """Keep every site that was tried, all or none.

    Raises:
        Refusal: nothing is to be taken, or a site has changed meanwhile.
        NotKeptError: the disk does not take it.
    """
    plans = tried.plan.sites
    if not plans or held.kept:
        raise Refusal([say(Message("take_in.page.nothing"))])
    wanted = [
        Wanted(
            plan.there.name if plan.there else plan.said.name,
            plan.text,
            plan.there.where if plan.there else "",
            int(plan.there.version) if plan.there else 0,
        )
        for plan in plans
    ]
    try:
        kept = keep_several(desk.library, wanted)
    except ChangedMeanwhileError as error:
        raise Refusal([say(Message("take_in.page.changed"))]) from error
    names = {now.site: one.name for now, one in zip(kept, wanted, strict=True)}
    return replace(
        held,
        kept=kept,
        names=names,
        refused=len(tried.plan.refused),
        refused_rows=refused_bytes(tried),
    )


def take_back(desk: Desk, held: Held) -> tuple[Held, tuple[str, ...]]:
    """Put away what was taken in; what has changed since stays.

    Returns:
        The list, and the names of the sites that stay as they are.

    Raises:
        NotKeptError: the disk does not take it.
    """
    stay = [*put_several_away(desk.library, [one for one in held.kept if one.new])]
    more = (one for one in held.kept if not one.new)
    stay.extend(one.site for one in more if not _undone(desk, one))
    return replace(held, back=True), tuple(held.names[one] for one in stay)


def _undone(desk: Desk, one: KeptNow) -> bool:
    try:
        return not isinstance(desk.library.undo(one.site, one.version), Clash)
    except NothingToUndoError:
        return False


# What is there -----------------------------------------------------------------------


def _there(desk: Desk, table: Table, mapping: DoorMap) -> Iterator[SiteThere]:
    """Sites of the library whose names stand in the list."""
    texts = {
        folded(cell.text) for record in table.rows for cell in record.cells if cell.text
    }
    texts.add(folded(mapping.every.get("site.name", "")))
    joined = any(
        "site.name" in one.to and len(one.column) > 1 for one in mapping.column
    )
    for stored in desk.library.sites():
        if not stored.archived and (joined or folded(stored.name) in texts):
            yield _as_there(stored)


def _as_there(stored: Stored) -> SiteThere:
    data = read_toml(stored.text).data
    said: Mapping[str, object] = data or {}
    ids = frozenset(
        str(one.get("id")) for key in ("doorway", "short") for one in _tables(said, key)
    )
    return SiteThere(
        stored.id,
        str(said.get("name", stored.name)),
        str(said.get("place", "")),
        str(said.get("rulebook", "")),
        ids,
        stored.text,
        str(stored.version),
        readable=data is not None,
    )


def _tables(data: Mapping[str, object], key: str) -> list[Mapping[str, object]]:
    found = data.get(key)
    items = cast("list[object]", found) if isinstance(found, list) else []
    return [cast("Mapping[str, object]", one) for one in items if isinstance(one, dict)]
