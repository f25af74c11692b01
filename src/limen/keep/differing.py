"""Two doorways fact by fact, and two readings within their ±.

Figures are compared as figures, not as they were written: 1 in is 25.4 mm, and a value
that is left out is the same as that value written down.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import cast

from limen.keep.touching import Way
from limen.model.fields import Stated
from limen.quantity import Dimension, Quantity
from limen.quantity.comparing import TOUCH

NAMES = ("id", "name", "side", "doorway", "output")
"""What tells the tables of a list apart, the first that all of them have."""
LOOKED_UP = frozenset({"hung"})
"""What is read from elsewhere when it is asked for; its name is compared instead."""


@dataclass(frozen=True, slots=True)
class Difference:
    """A fact that is not as it was.

    Attributes:
        way: the way to it; a whole table where only one doorway has it.
        was, now: what stands there; None where nothing does.
    """

    way: Way
    was: object
    now: object


def differing(was: Stated, now: Stated, way: Way = ()) -> tuple[Difference, ...]:
    """Every fact in which two of a kind differ.

    Args:
        was: a doorway, or a part of one.
        now: another one.
        way: the way to them.
    """
    return tuple(_tables(was, now, way))


def named(thing: Stated, way: tuple[str | int, ...]) -> Way:
    """A way whose places in lists are counted, with their names instead.

    Args:
        thing: where the way begins.
        way: the way.
    """
    made: list[str] = []
    at: object = thing
    for part in way:
        if isinstance(part, int):
            listed = cast("tuple[object, ...]", at)
            made.append(_names(listed)[part] if part < len(listed) else f"[{part}]")
            at = listed[part] if part < len(listed) else None
        else:
            made.append(part)
            at = _table(at).get(part) if _is_table(at) else getattr(at, part, None)
    return tuple(made)


def _tables(was: Stated, now: Stated, way: Way) -> Iterator[Difference]:
    for name in type(was).model_fields:
        if name not in LOOKED_UP:
            yield from _values(getattr(was, name), getattr(now, name), (*way, name))


def _values(was: object, now: object, way: Way) -> Iterator[Difference]:
    if isinstance(was, Stated) and isinstance(now, Stated) and type(was) is type(now):
        yield from _tables(was, now, way)
    elif _listed(was) and _listed(now):
        yield from _lists(_items(was), _items(now), way)
    elif not alike(was, now):
        yield Difference(way, was, now)


def _lists(
    was: tuple[object, ...], now: tuple[object, ...], way: Way
) -> Iterator[Difference]:
    """Things of two lists by name; a list without names is the same or another one."""
    before = dict(zip(_names(was), was, strict=True))
    after = dict(zip(_names(now), now, strict=True))
    if len(before) != len(was) or len(after) != len(now):
        if not alike(was, now):
            yield Difference(way, was, now)
        return
    for name in dict.fromkeys((*before, *after)):
        yield from _values(before.get(name), after.get(name), (*way, name))


def _listed(value: object) -> bool:
    """Whether it is a list of tables, or empty."""
    return isinstance(value, tuple) and all(
        isinstance(one, Stated) for one in cast("tuple[object, ...]", value)
    )


def _items(value: object) -> tuple[object, ...]:
    return cast("tuple[object, ...]", value)


def _is_table(value: object) -> bool:
    return isinstance(value, Mapping)


def _table(value: object) -> Mapping[object, object]:
    return cast("Mapping[object, object]", value)


def _names(items: tuple[object, ...]) -> list[str]:
    """What each is called, in brackets: by a name that all have, or by its place."""
    for key in NAMES:
        names = [getattr(one, key, None) for one in items]
        if names and all(isinstance(one, str) for one in names):
            return [f"[{one}]" for one in names]
    return [f"[{place}]" for place in range(len(items))]


def alike(was: object, now: object) -> bool:
    """Whether two values say the same; how well they are known does not count."""
    if isinstance(was, Quantity) and isinstance(now, Quantity):
        scale = max(abs(was.value), abs(now.value))
        return abs(was.value - now.value) <= TOUCH * scale
    if isinstance(was, tuple) and isinstance(now, tuple):
        pair = _items(cast("object", was)), _items(cast("object", now))
        return len(pair[0]) == len(pair[1]) and all(map(alike, *pair))
    if isinstance(was, Mapping) and isinstance(now, Mapping):
        one, other = _table(cast("object", was)), _table(cast("object", now))
        same = one.keys() == other.keys()
        return same and all(alike(value, other[key]) for key, value in one.items())
    if isinstance(was, Stated) and isinstance(now, Stated):
        return not differing(was, now) if type(was) is type(now) else False
    return was == now


# Readings ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class ReadAgain:
    """A thing that was left one way and was read again.

    Attributes:
        fitting: whose; empty for a value of the doorway.
        kind: what was read: a kind of reading, ``lens``, or the key of a value.
        part: which of it: row, end, or what of a lens.
        left, found: what was read then and now; None where it is no figure.
        dimension: of the figures.
        said: what was said then and now, as it was written.
        place: where along the opening (m), where that tells readings apart.
    """

    fitting: str
    kind: str
    part: str
    left: Quantity | None
    found: Quantity | None
    dimension: Dimension | None
    said: tuple[str, str]
    place: float | None = None

    @property
    def by(self) -> float:
        """How far it moved (SI); positive if the figure grew."""
        if self.left is None or self.found is None:
            return 0.0
        return self.found.value - self.left.value

    @property
    def within(self) -> float:
        """How far apart two readings of one thing may lie (SI)."""
        return sum(one.u for one in (self.left, self.found) if one is not None)

    @property
    def moved(self) -> bool:
        """Whether it differs by more than both readings are known to."""
        if self.left is None or self.found is None:
            return self.said[0] != self.said[1]
        touch = TOUCH * max(abs(self.left.value), abs(self.found.value))
        return abs(self.by) > self.within + touch
