"""Which facts of a doorway each question looks at.

Every question is put once to a doorway that notes which of its facts are read.  What a
question looks at is what its answer can rest on: more, perhaps, than decides it, and
never less.  Nothing of this changes an answer.
"""

from collections.abc import Callable, Mapping
from functools import cache, partial
from typing import TYPE_CHECKING, Any, cast

from limen.desk.library import book_of
from limen.model.fields import Stated

if TYPE_CHECKING:
    from datetime import date

    from limen.desk.library import Desk, Opened
    from limen.model.doorway import Doorway
    from limen.model.site import Site
    from limen.questions.settled import Settled
    from limen.rules import Rulebook

Way = tuple[str | int, ...]
Reads = frozenset[Way]
_NOTES = "_limen_notes"
"""Where a noting table keeps to whom it tells what is read, and its own way."""


def reads_of(desk: "Desk", opened: "Opened", doorway_id: str) -> Mapping[str, Reads]:
    """The facts that each question reads at a doorway; computed once a text and day.

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
    """
    door = opened.doorway(doorway_id)
    book = book_of(desk, opened.site, door)
    key = opened.stored.digest, doorway_id, book.digest, desk.day()
    made = partial(looked_at, door, opened.site, book, desk.day())
    return desk.reads.ask(key, made)


def looked_at(
    door: "Doorway", site: "Site", book: "Rulebook", on: "date"
) -> Mapping[str, Reads]:
    """The facts that each question of a rulebook reads, by question.

    Args:
        door: the doorway, sheets hung on its fittings.
        site: its site.
        book: the rulebook that judges it.
        on: the day for which it is asked.

    Returns:
        Ways within the doorway; those of a unit's sheet go through ``unit``.
    """
    from limen.questions import QUESTIONS
    from limen.questions.asking import Asked, Met
    from limen.questions.settled import settle
    from limen.rules import Rule
    from limen.study.running import facts_of

    read: set[Way] = set()
    noting = cast("Doorway", noted(door, read.add))
    settled = settle(noting)
    units = frozenset(read)
    settled = _parted(settled, read, units)
    met = tuple(Met(one, settle(site.door(one.doorway))) for one in noting.facing)
    facts = facts_of(door)
    found: dict[str, Reads] = {}
    for name, question in QUESTIONS.items():
        read.clear()
        rule = book.rule_for(name, facts)
        if isinstance(rule, Rule):
            question.ask(Asked(noting, settled, rule, met, on))
        found[name] = frozenset(read) | _selecting(book, name)
    return found


def _parted(settled: "Settled", read: set[Way], every: Reads) -> "Settled":
    """What was settled, noting whether a question turns to the units or to the floor.

    Args:
        settled: every figure stated or assumed.
        read: what is read is put here.
        every: all that was read to settle it; the floor rests on none of the units.
    """
    from limen.questions.settled import Settled

    floor = frozenset(way for way in every if way[0] != "fitting")

    class Noting(Settled):
        __slots__ = ()

        def __getattribute__(self, name: str) -> Any:  # noqa: ANN401 - whatever stands there
            if name == "units":
                read.update(every)
            elif name in {"ground", "assumed", "figures"}:
                read.update(floor)
            return object.__getattribute__(self, name)

    return Noting(settled.ground, settled.units, settled.assumed, settled.figures)


def _selecting(book: "Rulebook", question: str) -> Reads:
    """The facts by which the rulebook chooses its rule for a question."""
    rules = (one for one in book.rules if one.question == question)
    named = {fact for rule in rules for fact in rule.where}
    return frozenset(
        ("leaves", "kind") if fact == "leaves" else ("use", fact) for fact in named
    )


def noted(thing: Stated, note: Callable[[Way], None], way: Way = ()) -> Stated:
    """The same thing, noting every plain fact of it that is read.

    Args:
        thing: a part of the model.
        note: is told the way to each fact that is read.
        way: the way to the thing.
    """
    kind = _noting(type(thing))
    held = {
        name: _value(value, note, (*way, name)) for name, value in vars(thing).items()
    }
    made = kind.model_construct(thing.model_fields_set, **held)
    object.__setattr__(made, _NOTES, (note, way))
    return made


def _value(value: object, note: Callable[[Way], None], way: Way) -> object:
    if isinstance(value, Stated):
        return noted(value, note, way)
    if isinstance(value, tuple):
        items = cast("tuple[object, ...]", value)
        return tuple(_value(one, note, (*way, n)) for n, one in enumerate(items))
    if isinstance(value, dict):
        table = cast("dict[str, object]", value)
        return {key: _value(one, note, (*way, key)) for key, one in table.items()}
    return value


@cache
def _noting(kind: type[Stated]) -> type[Stated]:
    """A kind of the model whose facts are noted when they are read."""

    def read(self: Stated, name: str) -> Any:  # noqa: ANN401 - whatever stands there
        value: object = object.__getattribute__(self, name)
        if name in kind.model_fields and not isinstance(value, Stated):
            notes = vars(self).get(_NOTES)
            if notes is not None:
                notes[0]((*notes[1], name))
        return value

    parts = {"__getattribute__": read, "__module__": __name__}
    return type(f"Noting{kind.__name__}", (kind,), parts)
