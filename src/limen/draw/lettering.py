"""How much room words take, told on the generous side.

The widths are the larger of two free sans-serif faces for each character, so that
a label keeps to its box whichever of the faces named in the drawing is at hand.
"""

import re
from collections.abc import Iterator

_WIDTHS = {
    0.28: "ijl|",
    0.32: " \u00a0\u202f,.·’'",
    0.40: "()[]!-/\\ft:;",
    0.42: "Ir",
    0.51: "J*?–°_",
    0.53: "sz",
    0.56: "Lc",
    0.60: "Fkvxy",
    0.64: 'abdeghnopqu0123456789éT"',
    0.66: "KSEY",
    0.70: "ABCPRVXZ",
    0.76: "HNU",
    0.79: "DGOQ",
    0.84: "w+<>=±×✕~#&",
    0.88: "M",
    1.00: "Wm%@½¼¾",
}
WIDEST = 1.0
LINE = 1.25  # from one baseline to the next, in type sizes

_WIDTH_OF = {char: width for width, chars in _WIDTHS.items() for char in chars}


def width_of(text: str, size: float) -> float:
    """Width of one line of text at a type size, in the size's unit."""
    return size * sum(_WIDTH_OF.get(char, WIDEST) for char in text)


def extent_of(text: str, size: float) -> tuple[float, float]:
    """Width and height of a text with its line breaks."""
    lines = text.split("\n")
    return max(width_of(line, size) for line in lines), len(lines) * LINE * size


def wrapped(text: str, size: float, room: float) -> str:
    """The text broken between words where a line would be wider than ``room``.

    What is tied by a space that does not break stays in one line, as does what
    stands in brackets where a line has room for it.
    """
    lines = [""]
    for word in _tied(text, size, room):
        longer = f"{lines[-1]} {word}".strip(" ")
        if lines[-1] and width_of(longer, size) > room:
            lines.append(word)
        else:
            lines[-1] = longer
    return "\n".join(lines)


def _tied(text: str, size: float, room: float) -> Iterator[str]:
    for part in _BRACKETS.split(text):
        if part.startswith("(") and width_of(part, size) <= room:
            yield part
        else:
            yield from (word for word in part.split(" ") if word)


_BRACKETS = re.compile(r"(\([^()\n]*\)[^ \n]*)")
