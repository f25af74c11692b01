"""Keys and values of a site's text in words, as people read them."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, cast

from limen.desk.merging import MISSING, Change, Key
from limen.findings import Message
from limen.model.site import Site
from limen.store.describing import Told, told
from limen.store.editing_headed import written
from limen.words import has, say, say_word

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


def said_choice(word: str) -> str:
    """A word of the file in the reader's language."""
    return say_word("facts.choice", word)


def said_value(value: object) -> str:
    """What stands at a key, shortened."""
    if value is MISSING:
        return say(Message("merging.gone"))
    if isinstance(value, bool):
        return say(Message("facts.yes" if value else "facts.no"))
    items = _items(value)
    if items and not any(isinstance(one, dict) for one in items):
        text = "; ".join(str(one) for one in items)
    else:
        text = value if isinstance(value, str) else written(value)
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}…"


def said_change(one: Change) -> str:
    """What became of a key: from what to what."""
    values = {"was": said_value(one.was), "now": said_value(one.mine)}
    if one.was is MISSING:
        return say(Message("history.added", values))
    if one.mine is MISSING:
        return say(Message("history.gone", values))
    return say(Message("history.from_to", values))


def _items(value: object) -> Sequence[object]:
    return cast("list[object]", value) if isinstance(value, list) else ()


def _item(found: Told, name: str) -> str:
    model = found.table.__name__ if found.table else ""
    part = say_word("facts.one", model)
    return say(Message("facts.item", {"part": part, "name": said_choice(name)}))
