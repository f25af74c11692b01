"""Doorways that are still to be studied, shared out into tasks."""

from collections.abc import Iterator
from dataclasses import replace

from limen.desk.fleet_files import Look, look, opened
from limen.desk.fleet_kept import Keeping
from limen.desk.fleet_tasks import Piece, Settings, SiteText, Task
from limen.findings import Message
from limen.words import say

TRIES = 3


def shared_out(
    looks: list[Look],
    kept: Keeping,
    settings: Settings,
    basis: str,
    *,
    each: int,
    send: bool,
) -> Iterator[Task]:
    """Tasks, one by one; a file's text is read when its turn comes, and not held.

    Args:
        looks: the files; one that has changed since is looked at again, here.
        kept: what is done.
        settings: what is asked of all.
        basis: what every study rests on.
        each: doorways of a task.
        send: whether years of weather go along.
    """
    waiting, many = list[Piece](), 0
    for place in range(len(looks)):
        for piece in _pieces(looks, place, kept, settings, basis, each, send):
            waiting.append(piece)
            many += max(len(piece.numbers), 1)
            if many >= each:
                yield Task(settings, tuple(waiting))
                waiting, many = [], 0
    if waiting:
        yield Task(settings, tuple(waiting))


def _pieces(
    looks: list[Look],
    place: int,
    kept: Keeping,
    settings: Settings,
    basis: str,
    each: int,
    send: bool,  # noqa: FBT001 - handed on
) -> Iterator[Piece]:
    if kept.finished([looks[place]]) == looks[place].doorways:
        return
    text = _opened(looks, place, settings, basis, send=send)
    if text is None:
        return
    one = looks[place]
    numbers = kept.missing(one)
    if not one.names and numbers is not None:
        yield Piece(text, one.key, (), ())
        return
    for first in range(0, len(numbers or ()), each):
        some = tuple((numbers or ())[first : first + each])
        yield Piece(text, one.key, some, tuple(one.names[n] for n in some))


def _opened(
    looks: list[Look], place: int, settings: Settings, basis: str, *, send: bool
) -> SiteText | None:
    """The text of a file; where it has changed meanwhile, what it is now."""
    for _ in range(TRIES):
        one = looks[place]
        if one.told:
            return None
        text = opened(one, settings, basis, send=send)
        if text is not None:
            return text
        looks[place] = look(one.label, one.path, settings, basis) or _gone(one)
    looks[place] = _gone(looks[place])
    return None


def _gone(one: Look) -> Look:
    """A file that was a site file and is none any more, or will not keep still."""
    told = say(Message("fleet.changing", {"file": one.label}))
    return replace(one, names=(), told=told)
