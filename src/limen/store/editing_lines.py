"""Lines of two texts put together, where they were changed in different places."""

from difflib import SequenceMatcher
from itertools import pairwise

MOST_LINES = 20_000
"""Longer texts are put together by their keys alone."""

Block = tuple[int, int, list[str]]
"""Lines of the base from, up to; and what stands there instead."""


def together(base: str, mine: str, theirs: str) -> str | None:
    """The base with the changed lines of both texts.

    Args:
        base: the text that both were made from.
        mine: one of them.
        theirs: the other one.

    Returns:
        The text; None where both changed the same lines, or put lines in beside them.
    """
    lines = base.splitlines(keepends=True)
    if max(len(lines), mine.count("\n"), theirs.count("\n")) > MOST_LINES:
        return None
    ours, others = _blocks(lines, mine), _blocks(lines, theirs)
    blocks = ours + [one for one in others if one not in ours]
    blocks.sort(key=lambda one: (one[0], one[1]))
    if any(_touch(one, other) for one, other in pairwise(blocks)):
        return None
    for first, last, instead in reversed(blocks):
        lines[first:last] = instead
    return "".join(lines)


def _blocks(base: list[str], text: str) -> list[Block]:
    lines = text.splitlines(keepends=True)
    matched = SequenceMatcher(None, base, lines, autojunk=False)
    return [
        (first, last, lines[low:high])
        for tag, first, last, low, high in matched.get_opcodes()
        if tag != "equal"
    ]


def _touch(one: Block, other: Block) -> bool:
    """Whether two changes meet; lines side by side do, where one of them is new."""
    new = one[0] == one[1] or other[0] == other[1]
    return one[1] >= other[0] if new else one[1] > other[0]


def untouched(text: str, plain: str, edited: str) -> str:
    """An edited text with the lines that were not meant to change as they were.

    Args:
        text: the text.
        plain: the same read and written, nothing changed: where it differs from the
            text, it is not the edit that does so.
        edited: the text with the edit.
    """
    return edited if plain == text else together(plain, edited, text) or edited
