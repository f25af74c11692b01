"""Two texts made from the same one, put together key by key.

What only one side has changed is taken.  What both have changed, and not to the
same, is asked: nobody's figure is thrown away without a word.  The lines of both
texts are put together as they stand where that says the same, so that comments of
both are kept; else the changes are set in the text that is kept.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal, cast

from limen.store.editing import EditError
from limen.store.editing_lines import together
from limen.store.editing_whole import as_table, names_of, of_tables, rewrite, same

Side = Literal["mine", "theirs"]
Key = tuple[str, ...]
"""The way to a value; a place in a list goes by its name, in brackets."""
Data = dict[str, Any]


class _Missing:
    """Nothing stands there."""


MISSING = _Missing()


@dataclass(frozen=True, slots=True)
class Change:
    """One key that was changed.

    Attributes:
        key: the way to it.
        was, mine, theirs: what stands there in each text; `MISSING` where nothing.
        by: who changed it; None where both did, and not to the same.
    """

    key: Key
    was: object
    mine: object
    theirs: object
    by: Side | Literal["both"] | None


@dataclass(frozen=True, slots=True)
class Merge:
    """Two texts and the one from which both were made.

    Attributes:
        base, mine, theirs: the texts.
        changes: every key that is not as it was.
    """

    base: str
    mine: str
    theirs: str
    changes: tuple[Change, ...]

    @property
    def asked(self) -> tuple[Change, ...]:
        """What both sides changed, and not to the same."""
        return tuple(one for one in self.changes if one.by is None)

    def text(self, chosen: Mapping[Key, Side]) -> str:
        """The text that both make together.

        Args:
            chosen: by key that is asked, whose value counts; theirs if left out.

        Raises:
            EditError: it cannot be written without writing a text anew.
        """
        base, mine, theirs = map(tomllib.loads, (self.base, self.mine, self.theirs))
        wanted = _merged((), base, mine, theirs, chosen)
        joined = together(self.base, self.mine, self.theirs)
        for begun in (joined, self.theirs, self.mine):
            if begun is not None and _is(begun, wanted):
                return begun
        try:
            return rewrite(self.theirs, cast("Data", wanted))
        except EditError:
            return rewrite(self.mine, cast("Data", wanted))


def merge(base: str, mine: str, theirs: str) -> Merge:
    """Compare two texts with the one from which both were made.

    Args:
        base: the text that both began with.
        mine: the one that was to be saved.
        theirs: the one that somebody else has saved.

    Raises:
        tomllib.TOMLDecodeError: one of them is no TOML.
    """
    found = map(tomllib.loads, (base, mine, theirs))
    return Merge(base, mine, theirs, tuple(_changes((), *found)))


def changed(before: str, after: str) -> tuple[Change, ...]:
    """Every key in which two texts differ; the second one is `mine`.

    Raises:
        tomllib.TOMLDecodeError: one of them is no TOML.
    """
    return compared(tomllib.loads(before), tomllib.loads(after))


def compared(before: Data, after: Data) -> tuple[Change, ...]:
    """Every key in which two texts differ, as TOML gives them; the second is `mine`."""
    return tuple(_changes((), before, after, before))


def _is(text: str, wanted: object) -> bool:
    try:
        return same(tomllib.loads(text), wanted)
    except tomllib.TOMLDecodeError:
        return False


# Comparing ---------------------------------------------------------------------


def _changes(key: Key, was: object, mine: object, theirs: object) -> list[Change]:
    if same(mine, theirs) and same(was, mine):
        return []
    parts = _parts(was, mine, theirs)
    if parts is None:
        return [Change(key, was, mine, theirs, _by(was, mine, theirs))]
    found: list[Change] = []
    for name in _names(*parts):
        before, ours, others = (one.get(name, MISSING) for one in parts)
        found += _changes((*key, name), before, ours, others)
    return found


def _by(was: object, mine: object, theirs: object) -> Side | Literal["both"] | None:
    if same(mine, theirs):
        return "both"
    if same(was, theirs):
        return "mine"
    return "theirs" if same(was, mine) else None


def _parts(was: object, mine: object, theirs: object) -> tuple[Data, Data, Data] | None:
    """The three by name, where they are tables, or lists whose tables have names.

    What only one side has stays whole: it was added as a whole, or taken away.
    """
    tables = [as_table(one) for one in (was, mine, theirs)]
    if tables[1] is not None and tables[2] is not None:
        if tables[0] is not None or was is MISSING:
            return tables[0] or {}, tables[1], tables[2]
        return None
    if not all(map(_listed, (was, mine, theirs))):
        return None
    none: object = []
    lists = [none if one is MISSING else one for one in (was, mine, theirs)]
    every = cast("list[list[Data]]", lists)
    by_name = [_by_name(names_of(one, *every), one) for one in every]
    first, second, third = by_name
    if first is None or second is None or third is None:
        return None
    return first, second, third


def _listed(value: object) -> bool:
    """Whether it is a list of tables, which may be empty or not there."""
    return value is MISSING or value == [] or of_tables(value)


def _by_name(names: list[str] | None, tables: list[Data]) -> Data | None:
    if names is None:
        return None
    return {f"[{name}]": one for name, one in zip(names, tables, strict=True)}


def _names(was: Data, mine: Data, theirs: Data) -> list[str]:
    """Every name once: as theirs has them, then what else there is."""
    return list(dict.fromkeys([*theirs, *mine, *was]))


# Putting together --------------------------------------------------------------


def _merged(
    key: Key, was: object, mine: object, theirs: object, chosen: Mapping[Key, Side]
) -> object:
    if same(mine, theirs) or same(was, mine):
        return theirs
    if same(was, theirs):
        return mine
    parts = _parts(was, mine, theirs)
    if parts is None:
        return mine if chosen.get(key) == "mine" else theirs
    kept: Data = {}
    for name in _names(*parts):
        before, ours, others = (one.get(name, MISSING) for one in parts)
        made = _merged((*key, name), before, ours, others, chosen)
        if made is not MISSING:
            kept[name] = made
    if isinstance(mine, dict) or isinstance(theirs, dict):
        return kept
    gone = not kept and MISSING in (mine, theirs)
    return MISSING if gone else list(kept.values())
