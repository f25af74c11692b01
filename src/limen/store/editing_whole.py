"""A text that is to say something else: the fewest edits, comments and order kept."""

import tomllib
from collections.abc import Mapping, MutableMapping, Sequence
from typing import Any, cast

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, String

from limen.store.editing import EditError, line_ends
from limen.store.editing_headed import with_tables, written
from limen.store.editing_lines import untouched

Data = dict[str, Any]

NAMES = ("id", "side", "name", "doorway")
"""What tells the tables of a list apart, the first that all of them have."""


def rewrite(text: str, wanted: Mapping[str, Any]) -> str:
    """Edit a TOML text until it says what is wanted, and touch nothing else.

    Keys may be new or gone, tables and places in lists too.

    Args:
        text: A TOML text.
        wanted: What it is to say, as `tomllib` gives it.

    Returns:
        A text that says exactly this; the same text if it says so already.

    Raises:
        EditError: The text is no TOML, or cannot be brought to say it.
    """
    wanted = dict(wanted)
    try:
        if same(tomllib.loads(text), wanted):
            return text
        for begun in (_with_tables(text, wanted), text):
            edited = _edited(begun, wanted)
            if _says(edited, wanted):
                return edited
    except (TOMLKitError, tomllib.TOMLDecodeError) as error:
        raise EditError(str(error)) from error
    raise EditError("the text cannot be brought to say this without being written anew")


def same(one: object, other: object) -> bool:
    """Whether two values are alike in TOML, where true is not 1."""
    left, right = as_table(one), as_table(other)
    if left is not None and right is not None:
        return left.keys() == right.keys() and all(
            same(value, right[key]) for key, value in left.items()
        )
    if is_list(one) and is_list(other):
        ours, others = cast("list[Any]", one), cast("list[Any]", other)
        return len(ours) == len(others) and all(map(same, ours, others))
    return type(one) is type(other) and bool(one == other or f"{one}" == f"{other}")


def as_table(value: object) -> Data | None:
    """The value, if it is a table."""
    return cast("Data", value) if isinstance(value, dict) else None


def is_list(value: object) -> bool:
    """Whether it is a list, not a text."""
    return isinstance(value, Sequence) and not isinstance(value, str | bytes)


def of_tables(value: object) -> bool:
    """Whether it is a list of nothing but tables; an empty list is none."""
    if not is_list(value):
        return False
    items = cast("list[object]", value)
    return bool(items) and all(isinstance(one, dict) for one in items)


def names_of(tables: Sequence[Data], *others: Sequence[Data]) -> list[str] | None:
    """What each table of a list is called, so that it is known in other lists.

    Args:
        tables: The list.
        others: The lists in which its tables are looked for; named the same way.

    Returns:
        A name each; None where no key tells the tables of all lists apart.
    """
    for key in NAMES:
        every = (tables, *others)
        if all(_told_apart([one.get(key) for one in some]) for some in every):
            return [str(one[key]) for one in tables]
    return None


def _told_apart(names: list[object]) -> bool:
    texts = {one for one in names if isinstance(one, str)}
    return len(texts) == len(names)


def _says(text: str, wanted: Mapping[str, Any]) -> bool:
    try:
        return same(tomllib.loads(text), wanted)
    except tomllib.TOMLDecodeError:
        return False


def _with_tables(text: str, wanted: Mapping[str, Any]) -> str:
    """The text with the new tables of its lists, if they can be put in as lines."""
    now: Data = tomllib.loads(text)
    begun = with_tables(text, now, dict(wanted), names_of)
    try:
        tomllib.loads(begun)
    except tomllib.TOMLDecodeError:
        return text
    return begun


def _edited(text: str, wanted: Mapping[str, Any]) -> str:
    document = tomlkit.parse(text)
    plain = tomlkit.dumps(document)
    _table(document, tomllib.loads(text), wanted)
    return line_ends(untouched(text, plain, tomlkit.dumps(document)), text)


# One table ---------------------------------------------------------------------


def _table(place: Any, now: Data, wanted: Mapping[str, Any]) -> None:  # noqa: ANN401 - TOML
    for key in [key for key in now if key not in wanted]:
        del place[key]
    for key, value in wanted.items():
        if key not in now:
            place[key] = _made(value, place)
        elif not same(now[key], value):
            _one(place, key, now[key], value)


def _one(place: Any, key: str | int, now: object, wanted: object) -> None:  # noqa: ANN401 - TOML
    """Bring one value to what it is to be."""
    old, new = as_table(now), as_table(wanted)
    if old is not None and new is not None:
        if _on_one_line(place[key], old) and not new.keys() <= old.keys():
            place[key] = _inline(new)  # a key put in behind would lack its spaces
        else:
            _table(place[key], old, new)
    elif of_tables(now) and of_tables(wanted):
        _list(place[key], cast("list[Data]", now), cast("list[Data]", wanted))
    elif of_tables(now) or old is not None:
        del place[key]
        place[key] = _made(wanted, place)
    else:
        place[key] = _quoted(place[key], wanted)


def _on_one_line(place: object, now: Data) -> bool:
    """Whether it is an inline table without lists that may hold comments."""
    inline = type(place).__name__ == "InlineTable"
    return inline and not any(is_list(one) or as_table(one) for one in now.values())


def _list(items: Any, now: list[Data], wanted: list[Data]) -> None:  # noqa: ANN401 - TOML
    """Bring a list of tables to what it is to be: those that stay are kept."""
    before, after = names_of(now, wanted), names_of(wanted, now)
    if before is None or after is None:
        before, after = _places(now), _places(wanted)
    kept = [name for name in before if name in after]
    if kept != [name for name in after if name in before]:
        kept = []  # another order: all of it is written anew
    for number in reversed(range(len(now))):
        if before[number] not in kept:
            del items[number]
    for number, name in enumerate(after):
        if name in kept:
            _one(items, number, now[before.index(name)], wanted[number])
        elif isinstance(items, AoT):
            items.insert(number, _headed(wanted[number]))
        else:
            items.insert(number, _inline(wanted[number]))


def _places(items: Sequence[object]) -> list[str]:
    return [str(number) for number in range(len(items))]


# New values --------------------------------------------------------------------


def _made(value: object, place: object) -> object:
    """A value for a new key: tables of a list under headers where they can be."""
    inline = type(place).__name__ == "InlineTable"
    if of_tables(value) and isinstance(place, MutableMapping) and not inline:
        made: Any = tomlkit.aot()
        for one in cast("list[Data]", value):
            made.append(_headed(one))
        return made
    return _inline(value)


def _headed(table: Data) -> Any:  # noqa: ANN401 - a table of TOML
    """A table that stands under a header of its own."""
    made: Any = tomlkit.table()
    for key, value in table.items():
        made.append(key, _inline(value))
    return made


def _inline(value: object) -> Any:  # noqa: ANN401 - a value of TOML
    """A value as it is written on one line, with the spaces that people write."""
    parsed: Any = tomlkit.parse(f"value = {written(value)}\n")
    return parsed["value"]


def _quoted(old: object, value: object) -> object:
    """A value in the quotes its predecessor had, if they can hold it."""
    if not isinstance(value, str):
        return _inline(value)
    literal = isinstance(old, String) and old.as_string()[:1] == "'"
    plain = "'" not in value and value.isprintable()
    return tomlkit.string(value, literal=literal and plain)
