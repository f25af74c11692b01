"""Where the range in which all holds lies on a slider, and where its numbers stand."""

from dataclasses import dataclass
from fractions import Fraction

from limen.words import numbered, reading

ROOM = 34.0  # % of a slider: two numbers closer than this would run into each other
SIXTEENTH = 1 / 16  # in: a slider with this step reads as a tape does
SIDES = (20.0, 80.0)  # %: nearer the ends a text would run out of the slider


@dataclass(frozen=True, slots=True)
class End:
    """A number under the range.

    Attributes:
        at: where it stands (% of the slider).
        anchor: which part of the text stands there, as SVG names it.
        words: what is written.
    """

    at: float
    anchor: str
    words: str


@dataclass(frozen=True, slots=True)
class Span:
    """The range as it is drawn.

    Attributes:
        start: where it begins (% of the slider).
        end: where it ends (% of the slider).
        ends: the texts under it, two; the second empty where one line says both.
        words: the same for those who hear it: from and to.
    """

    start: float
    end: float
    ends: tuple[End, End]
    words: tuple[str, str]


Window = tuple[float, float] | tuple[float, float, str, str]


def span_on(
    least: float, most: float, step: float, window: Window | None
) -> Span | None:
    """Lay a range on a slider.

    Args:
        least: the slider's least value.
        most: its greatest.
        step: its step; numbers are written with its decimals.
        window: the range, and how its ends are said where the number will not do.

    Returns:
        None without a range, or where none of it lies on the slider.
    """
    if window is None or window[1] < least or window[0] > most:
        return None
    start, end = (percent(value, least, most) for value in window[:2])
    words = (
        (window[2], window[3])
        if len(window) == 4  # noqa: PLR2004 - ends with their words
        else (shown(window[0], step), shown(window[1], step))
    )
    return Span(start, end, _ends(start, end, words), words)


def percent(value: float, least: float, most: float) -> float:
    """Where a value lies between two others (%), no further than either."""
    return round(min(100.0, max(0.0, 100 * (value - least) / (most - least))), 2)


def shown(value: float, step: float) -> str:
    """A value with the decimals of the step, as the reader's language writes it."""
    if step == SIXTEENTH:
        return _on_tape(value)
    _, _, after = f"{step:g}".partition(".")
    text = f"{value:.{len(after)}f}"
    signed = (text.lstrip("-") if float(text) == 0 else text).replace("-", "−")
    return numbered(signed, reading())


def _on_tape(value: float) -> str:
    """A value in sixteenths as a tape shows it: 6 1/8, −3/16."""
    part = Fraction(round(abs(value) / SIXTEENTH), 16)
    whole, rest = divmod(part, 1)
    words = (str(whole) if whole or not rest else "", str(rest) if rest else "")
    sign = "−" if value < 0 and part else ""
    return sign + " ".join(word for word in words if word)


def _ends(start: float, end: float, words: tuple[str, str]) -> tuple[End, End]:
    first, second = words
    if end - start >= ROOM:
        return End(start, "start", first), End(end, "end", second)
    at, anchor = _placed(start, end)
    # One step of a scale is a range of one place.
    said = first if first == second else f"{first} – {second}"
    return End(at, anchor, said), End(end, "end", "")


def _placed(start: float, end: float) -> tuple[float, str]:
    """Under the middle, or from that end that keeps the text on the slider."""
    middle = (start + end) / 2
    if middle < SIDES[0]:
        return start, "start"
    if middle > SIDES[1]:
        return end, "end"
    return middle, "middle"
