"""The terminal plan on a phone: one wire below the other, both its ends in boxes."""

from collections.abc import Iterator

from limen.draw.lettering import LINE
from limen.draw.wires_picture import Drawn, WirePicture, nowhere
from limen.draw.wires_strokes import (
    ROUND,
    box,
    chain,
    lines_of,
    marked,
    numbered,
    paragraph,
    wire,
)
from limen.findings import Message
from limen.findings.wires import Feed, WireShown
from limen.words import say, visible
from limen.words.wiring import (
    said_numbers,
    short_feed,
    short_output,
    short_supply,
    short_terminal,
)

SIZE, SMALL, HEAD = 14.5, 13.0, 16.0
PAD, RIM, RUN = 9.0, 6.0, 44.0
AT = 30.0
"""px from the left to the wires."""


def stacked(picture: WirePicture, width: float) -> Drawn:
    """Unit by unit: what it is, its wires, what feeds it."""
    strokes: list[str] = []
    at = RIM
    for feed in picture.plan.feeds:
        at, made = _head(picture, feed, width, at)
        strokes += made
        for one in picture.plan.of(feed.fitting.id):
            at, made = _wired(picture, one, width, at)
            strokes += made
        at, made = _fed(picture, feed, width, at)
        strokes += made
    return at, strokes


def _head(picture: WirePicture, feed: Feed, width: float, at: float) -> Drawn:
    unit = feed.fitting
    named = picture.named(unit)
    sheet = unit.unit.name if unit.unit else unit.sheet
    room = width - 2 * RIM
    bold, quiet = (
        lines_of(named, 1.06 * HEAD, room),
        lines_of(visible(sheet), SMALL, room),
    )
    below = at + LINE * HEAD * len(bold)
    strokes = [
        *paragraph((RIM, at), bold, HEAD, bold=True),
        *paragraph((RIM, below), quiet, SMALL, ink="quiet"),
    ]
    return below + LINE * SMALL * len(quiet) + 8.0, strokes


def _boxed(
    title: str, more: tuple[str, ...], width: float, at: float
) -> tuple[float, list[str]]:
    """A box with words; returns where it ends."""
    room = width - 2 * RIM - 2 * PAD
    bold = lines_of(title, 1.06 * SIZE, room)
    quiet = [line for one in more for line in lines_of(one, SMALL, room)]
    high = LINE * (SIZE * len(bold) + SMALL * len(quiet)) + 2 * PAD
    left = RIM + PAD
    below = at + PAD + LINE * SIZE * len(bold)
    strokes = [
        box(RIM, at, width - RIM, at + high),
        *paragraph((left, at + PAD), bold, SIZE, bold=True),
        *paragraph((left, below), quiet, SMALL, ink="quiet"),
    ]
    return at + high, strokes


def _wired(picture: WirePicture, one: WireShown, width: float, at: float) -> Drawn:
    """Output above, input below, the wire between them."""
    spoken = picture.spoken
    title = say(Message(f"output.{one.signal}"), language=spoken)
    out = short_output(one, language=spoken)
    below, strokes = _boxed(title, (out,), width, at)
    proposed = one.way != "wired"
    line = wire([(AT, below), (AT, below + RUN)], one.signal, proposed=proposed)
    ended = below + RUN
    if one.terminal is None:
        strokes += [*line, *_nowhere(picture, one, width, ended)]
        end = ended + LINE * SMALL * 2 + 8.0
    else:
        end, made = _ended(picture, one, width, ended)
        strokes += [*line, *made]
    middle = (AT + 2 * ROUND, below + RUN / 2)
    strokes += numbered(middle, one.number, proposed=one.way == "proposed")
    strokes += _told(picture, one, middle[1])
    return end + 16.0, strokes


def _told(picture: WirePicture, one: WireShown, at: float) -> Iterator[str]:
    if one.verdict is None:
        return
    word = say(Message(f"verdict.{one.verdict}"), language=picture.spoken)
    if one.way == "proposed":
        word = picture.word("proposed")
    yield from marked((AT + 3 * ROUND + 18.0, at), one.verdict, word, SIZE)


def _ended(picture: WirePicture, one: WireShown, width: float, at: float) -> Drawn:
    """The input's box; which other wires end there, too."""
    place = one.terminal or 0
    terminal = picture.plan.terminals[place]
    more = short_terminal(terminal, language=picture.spoken)
    others = [
        other.number
        for other in picture.plan.wires
        if other.terminal == place and other.number != one.number
    ]
    if others:
        also = picture.word("also", numbers=said_numbers(others))
        more = (*more, also)
    return _boxed(visible(terminal.name), more, width, at)


def _nowhere(
    picture: WirePicture, one: WireShown, width: float, at: float
) -> Iterator[str]:
    lines = lines_of(picture.word(nowhere(one)), SMALL, width - 2 * RIM - PAD)
    yield from paragraph((RIM + PAD, at + 2.0), lines, SMALL)


def _fed(picture: WirePicture, feed: Feed, width: float, at: float) -> Drawn:
    """The supply: from the operator to the unit."""
    spoken = picture.spoken
    fed = short_feed(feed, picture.system, language=spoken)
    below, strokes = _boxed(picture.word("supply"), fed, width, at)
    strokes.append(chain([(AT, below), (AT, below + RUN / 2)]))
    gives = short_supply(picture.doorway.operator, picture.system, language=spoken)
    title = picture.word("operator_supply")
    end, made = _boxed(title, (gives,), width, below + RUN / 2)
    return end + 30.0, [*strokes, *made]
