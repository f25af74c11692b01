"""A value read from JSON, held strictly against the type that describes it."""

from collections.abc import Iterator, Mapping
from types import NoneType, UnionType
from typing import (
    Any,
    Literal,
    NotRequired,
    Union,
    get_args,
    get_origin,
    get_type_hints,
    is_typeddict,
)


def faults(value: Any, kind: Any, at: str = "") -> Iterator[str]:
    """Everything by which a value is not of a type: too much is a fault as well.

    Args:
        value: as JSON gives it.
        kind: a table, a list, a tuple, a choice of words, a number, a text …
        at: where it stands.
    """
    origin, inner = get_origin(kind), get_args(kind)
    if is_typeddict(kind):
        yield from _table(value, kind, at)
    elif origin is list:
        yield from _list(value, [inner[0]] * _count(value), at)
    elif origin is tuple:
        yield from _list(value, list(inner), at)
    elif origin is dict:
        yield from _words(value, inner, at)
    elif origin in (Union, UnionType):
        if all(any(True for _ in faults(value, one, at)) for one in inner):
            yield f"{at}: {value!r} is none of {inner}"
    elif origin is Literal:
        if value not in inner:
            yield f"{at}: {value!r} is not one of {inner}"
    elif not _plain(value, kind):
        yield f"{at}: {value!r} is no {kind}"


def _count(value: object) -> int:
    return len(value) if isinstance(value, list) else 0


def _plain(value: object, kind: Any) -> bool:
    if kind is float:
        return isinstance(value, float | int) and not isinstance(value, bool)
    if kind is int:
        return isinstance(value, int) and not isinstance(value, bool)
    return kind is object or isinstance(value, NoneType if kind is None else kind)


def _table(value: object, kind: Any, at: str) -> Iterator[str]:
    if not isinstance(value, dict):
        yield f"{at}: no table"
        return
    hints = get_type_hints(kind, include_extras=True)
    must = kind.__required_keys__
    yield from (f"{at}.{key}: too much" for key in value if key not in hints)
    yield from (f"{at}.{key}: missing" for key in must if key not in value)
    for key in value.keys() & hints.keys():
        hint = hints[key]
        inner = get_args(hint)[0] if get_origin(hint) is NotRequired else hint
        yield from faults(value[key], inner, f"{at}.{key}")


def _list(value: object, kinds: list[Any], at: str) -> Iterator[str]:
    if not isinstance(value, list) or len(value) != len(kinds):
        yield f"{at}: no list of {len(kinds)}"
        return
    for number, (one, kind) in enumerate(zip(value, kinds, strict=True)):
        yield from faults(one, kind, f"{at}[{number}]")


def _words(value: object, inner: tuple[Any, ...], at: str) -> Iterator[str]:
    if not isinstance(value, Mapping):
        yield f"{at}: no table"
        return
    for key, one in value.items():
        yield from faults(key, inner[0], f"{at}.{key}")
        yield from faults(one, inner[1], f"{at}.{key}")
