"""The strokes of a terminal plan: lines by what they carry, marks, boxes, words."""

from collections.abc import Iterator, Mapping, Sequence
from xml.sax.saxutils import escape

from limen.draw.lettering import LINE, width_of, wrapped
from limen.draw.svg import number
from limen.draw.themes import PAPER
from limen.findings import Verdict
from limen.model.wiring import Signal

Spot = tuple[float, float]
GAP = 7.0
"""px of paper beside a line where it passes over another."""
ROUND = 11.0
"""px: radius of a wire's number."""
INKS: Mapping[Signal, str] = {
    "opening": "approach",
    "presence": "presence",
    "escape opening": "ink",
    "test": "quiet",
}
DASHES: Mapping[Signal, str] = {
    "opening": "11 5",
    "presence": "",
    "escape opening": "",
    "test": "2 5",
}
"""A full line, dashes, dots; the line for escape is double."""


def text(
    at: Spot,
    words: str,
    size: float,
    *,
    ink: str = "ink",
    bold: bool = False,
    anchor: str = "start",
) -> str:
    """One line of words; ``at`` is where its base line begins."""
    heavy = ' font-weight="bold"' if bold else ""
    return (
        f'<text x="{number(at[0])}" y="{number(at[1])}" font-size="{number(size)}" '
        f'text-anchor="{anchor}" fill="{PAPER[ink]}"{heavy}>{escape(words)}</text>'
    )


def lines_of(words: str, size: float, room: float) -> list[str]:
    """The words in lines that are no wider than their room (px).

    A word that is wider by itself, as a terminal's name may be, is cut.
    """
    lines = wrapped(words, size, room).split("\n") if words else []
    return [piece for line in lines for piece in _cut(line, size, room)]


def _cut(line: str, size: float, room: float) -> Iterator[str]:
    while width_of(line, size) > room and len(line) > 1:
        at = len(line) - 1
        while at > 1 and width_of(line[:at], size) > room:
            at -= 1
        yield line[:at]
        line = line[at:]
    yield line


def paragraph(
    at: Spot, lines: Sequence[str], size: float, *, ink: str = "ink", bold: bool = False
) -> Iterator[str]:
    """Lines of words below each other; ``at`` is their upper left corner."""
    for index, line in enumerate(lines):
        base = at[1] + (index * LINE + 0.95) * size
        yield text((at[0], base), line, size, ink=ink, bold=bold)


def box(
    left: float, top: float, right: float, bottom: float, *, heavy: bool = False
) -> str:
    """An empty box."""
    return (
        f'<rect x="{number(left)}" y="{number(top)}" width="{number(right - left)}" '
        f'height="{number(bottom - top)}" fill="{PAPER["paper"]}" '
        f'stroke="{PAPER["line"]}" stroke-width="{1.8 if heavy else 1.0}"/>'
    )


def rule(ax: float, ay: float, bx: float, by: float) -> str:
    """A hair line between rows."""
    return (
        f'<path d="M{number(ax)} {number(ay)}L{number(bx)} {number(by)}" '
        f'stroke="{PAPER["wall"]}" stroke-width="1"/>'
    )


def wire(
    points: Sequence[Spot], signal: Signal, *, proposed: bool = False
) -> Iterator[str]:
    """A wire, with paper beside it so that it passes over what lies below.

    Args:
        points: its corners.
        signal: what it carries, by which its pattern is chosen.
        proposed: whether nobody says that it is there: it is thin then.
    """
    path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)
    wide = 1.4 if proposed else 2.6
    yield _stroke(path, PAPER["paper"], wide + GAP)
    if signal == "escape opening":
        yield _stroke(path, PAPER[INKS[signal]], wide + 3.0)
        yield _stroke(path, PAPER["paper"], max(wide - 0.4, 1.0))
        return
    yield _stroke(path, PAPER[INKS[signal]], wide, DASHES[signal])


def chain(points: Sequence[Spot]) -> str:
    """A line of the supply."""
    path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)
    return _stroke(path, PAPER["quiet"], 1.3, "12 3 2 3")


def _stroke(path: str, ink: str, wide: float, dash: str = "") -> str:
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<path d="{path}" fill="none" stroke="{ink}" '
        f'stroke-width="{number(wide)}"{dashed}/>'
    )


def knot(at: Spot) -> str:
    """Where the supply branches."""
    return _disc(at, 3.0, f'fill="{PAPER["quiet"]}"')


def numbered(at: Spot, count: int, *, proposed: bool = False) -> Iterator[str]:
    """A wire's number; its rim is dashed where the wire is proposed."""
    dash = ' stroke-dasharray="3 3"' if proposed else ""
    rim = f'fill="{PAPER["paper"]}" stroke="{PAPER["ink"]}" stroke-width="1.5"{dash}'
    yield _disc(at, ROUND, rim)
    yield text((at[0], at[1] + 4.8), str(count), 13.5, bold=True, anchor="middle")


def _disc(at: Spot, radius: float, more: str) -> str:
    return (
        f'<circle cx="{number(at[0])}" cy="{number(at[1])}" '
        f'r="{number(radius)}" {more}/>'
    )


def mark(at: Spot, verdict: Verdict) -> Iterator[str]:
    """The mark of a verdict about a point."""
    x, y = at
    match verdict:
        case Verdict.FAILS:
            corners = [(x - 6, y - 6, x + 6, y + 6), (x - 6, y + 6, x + 6, y - 6)]
            for ax, ay, bx, by in corners:
                path = f"M{number(ax)} {number(ay)}L{number(bx)} {number(by)}"
                yield _stroke(path, PAPER["fails"], 3.0)
        case Verdict.HOLDS:
            yield _square(at, 4.5, f'fill="{PAPER["holds"]}"')
        case Verdict.NOT_SHOWN:
            rim = f'fill="{PAPER["paper"]}" stroke="{PAPER["not shown"]}" '
            yield _square(at, 7.0, f'{rim}stroke-width="2"')
            yield text((x, y + 4.4), "?", 12.5, bold=True, anchor="middle")
        case Verdict.NOT_ASKED:
            path = f"M{number(x - 6)} {number(y)}L{number(x + 6)} {number(y)}"
            yield _stroke(path, PAPER["quiet"], 2.0)


def _square(at: Spot, half: float, more: str) -> str:
    return (
        f'<rect x="{number(at[0] - half)}" y="{number(at[1] - half)}" '
        f'width="{number(2 * half)}" height="{number(2 * half)}" {more}/>'
    )


def marked(at: Spot, verdict: Verdict, word: str, size: float) -> Iterator[str]:
    """A verdict's mark with its word, on paper of their own."""
    wide = width_of(word, size)
    yield (
        f'<rect x="{number(at[0] - 9)}" y="{number(at[1] - 10)}" '
        f'width="{number(wide + 24)}" height="20" fill="{PAPER["paper"]}"/>'
    )
    yield from mark(at, verdict)
    yield text((at[0] + 12, at[1] + 0.34 * size), word, size)
