"""Keys and values of a site's text in words, as people read them."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, cast

from limen.desk.merging import MISSING, Change, Key
from limen.findings import Message
from limen.model.site import Site
from limen.quantity import QuantityError, Show, parse
from limen.store.describing import Told, told, told_at
from limen.store.editing_headed import written
from limen.words import has, numbered, reading, say, say_quantity, say_word

if TYPE_CHECKING:
    from limen.model.fields import Stated

APART = " · "
_LONGEST = 160


def said_key(key: Key) -> str:
    """A key in words: ``Doorway: main · Unit: outside · Settings · Row tilt``.

    What the model does not know stays as it is written.
    """
    said: list[str] = []
    table: type[Stated] | None = Site
    found: Told | None = None
    for part in key:
        if part.startswith("["):
            if found is not None and said:
                said[-1] = _item(found, part[1:-1])
            continue
        fields = told(table) if table else ()
        found = next((one for one in fields if one.name == part), None)
        said.append(part if found is None else said_fact(found))
        table = found.table if found else None
    return APART.join(said)


def said_fact(one: Told) -> str:
    """The name of a fact, or of what a table describes, in words."""
    if one.table is not None:
        return say_word("facts.part", one.table.__name__)
    key = f"facts.name.{one.model}.{one.name}"
    return say_word(f"facts.name.{one.model}", one.name) if has(key) else one.name


def said_choice(word: str, model: str = "") -> str:
    """A word of the file in the reader's language.

    Args:
        word: as the file has it.
        model: what it is said of, where the word means more than one thing.
    """
    own = f"{model}.{word}"
    return say_word("facts.choice", own if has(f"facts.choice.{own}") else word)


def said_value(value: object, key: Key = (), system: Show = Show.METRIC) -> str:
    """What stands at a key as it was typed, shortened; in feet and inches too.

    As typed, since two texts may differ by less than is written for floor work.  Only
    words of the file are said in the reader's language, and numbers with its comma.
    """
    if value is MISSING:
        return say(Message("merging.gone"))
    if isinstance(value, bool):
        return say(Message("facts.yes" if value else "facts.no"))
    items = _items(value)
    if items and not any(isinstance(one, dict) for one in items):
        text = "; ".join(_said_item(one, key) for one in items)
    else:
        text = _said_item(value, key)
    text = text if len(text) <= _LONGEST else f"{text[:_LONGEST]}…"
    read = _in_feet(value, key) if system is Show.FEET else ""
    return f"{text} ({read})" if read and read != text else text


def said_change(one: Change, system: Show = Show.METRIC) -> str:
    """What became of a key: from what to what."""
    was, now = (said_value(each, one.key, system) for each in (one.was, one.mine))
    values = {"was": was, "now": now}
    if one.was is MISSING:
        return say(Message("history.added", values))
    if one.mine is MISSING:
        return say(Message("history.gone", values))
    return say(Message("history.from_to", values))


def _said_item(value: object, key: Key) -> str:
    field = _field(key)
    if field is not None and isinstance(value, str):
        if value in field.choices:
            return said_choice(value, field.model)
        if field.dimension is not None:
            return numbered(value, reading())
    return value if isinstance(value, str) else written(value)


def _in_feet(value: object, key: Key) -> str:
    field = _field(key)
    if not isinstance(value, str) or field is None or field.dimension is None:
        return ""
    try:
        return say_quantity(parse(value, field.dimension), field.dimension, Show.FEET)
    except QuantityError:
        return ""


def _field(key: Key) -> Told | None:
    """What the model knows of a key."""
    return told_at(Site, tuple(0 if part.startswith("[") else part for part in key))


def _items(value: object) -> Sequence[object]:
    return cast("list[object]", value) if isinstance(value, list) else ()


def _item(found: Told, name: str) -> str:
    model = found.table.__name__ if found.table else ""
    part = say_word("facts.one", model)
    return say(Message("facts.item", {"part": part, "name": said_choice(name)}))
