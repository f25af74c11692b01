"""The description of a call-out as plain text, to be mailed, pasted or read aloud."""

from collections.abc import Iterable, Iterator
from textwrap import wrap

from limen.words.handed_on import Part

WIDTH = 76
"""Letters a line: what mail and forms leave whole."""
BULLET, HANG = "- ", "  "


def plain_text(
    title: str, parts: Iterable[Part], *, caution: str, width: int = WIDTH
) -> str:
    """A description as plain text.

    Args:
        title: what stands above it.
        parts: what `limen.words.handed_on.handed_on` gives.
        caution: what stands below it.
        width: letters a line.
    """
    return "\n".join([*_lines(title, parts, width), *wrap(caution, width), ""])


def _lines(title: str, parts: Iterable[Part], width: int) -> Iterator[str]:
    yield from wrap(title, width)
    yield "=" * min(len(title), width)
    yield ""
    for part in parts:
        yield part.title
        yield "-" * min(len(part.title), width)
        for line in part.lines:
            yield from wrap(
                line,
                width,
                initial_indent=BULLET,
                subsequent_indent=HANG,
                break_long_words=False,
                break_on_hyphens=False,
            )
        yield ""
