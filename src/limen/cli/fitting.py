"""What `limen fit` prints."""

from collections.abc import Iterator
from math import isnan
from pathlib import Path
from typing import TYPE_CHECKING

from limen.cli.checking import doorway_lines, headline
from limen.cli.lines import EMPTY, Ink, Line, Piece, columns, wrapped
from limen.cli.paper import paper
from limen.cli.table import Style
from limen.exchange import dumps, tally
from limen.exchange.fitted import fitted_contract
from limen.findings import Message
from limen.findings.fitted import ReadBack, UnitFitted
from limen.findings.message import length
from limen.quantity import Show
from limen.words import said_assumed, say
from limen.words.fitted import SHOWN, said_along, said_hangs, said_row

if TYPE_CHECKING:
    from limen.desk.fitting import FittedFile

INKS = {
    "fitted": Ink.HOLDS,
    "not determined": Ink.NOT_SHOWN,
    "tied": Ink.NOT_SHOWN,
    "misread": Ink.FAILS,
    "contradicted": Ink.FAILS,
}
MARKS = {
    "fitted": "■",
    "not determined": "□?",
    "tied": "□?",
    "misread": "✕",
    "contradicted": "✕",
}


def as_json(done: "FittedFile", units: str) -> int:
    """Print what readings show for programs; returns 0: the work is done."""
    values = fitted_contract(
        done.fitted,
        site=done.site.name,
        taken=done.readings.taken,
        system=Show(units),
    )
    paper().put_text(dumps(values))
    return 0


def as_text(done: "FittedFile", units: str, out: Path | None) -> int:
    """Print what readings show for people; returns 0: the work is done."""
    page = paper()
    page.put(lines(done, Style(page.width, Show(units)), out))
    return 0


def lines(done: "FittedFile", style: Style, out: Path | None) -> list[Line]:
    """Unit by unit where it hangs, then what to turn and what that is worth."""
    fitted = done.fitted
    told = doorway_lines(fitted.before, style)
    for unit in fitted.units:
        told += [EMPTY, *_unit(unit, style)]
    told += [EMPTY, *_turn(done, style), EMPTY, *_studies(done, style)]
    told += _assumed(fitted.units, style)
    if out:
        told += [EMPTY, *_said("readings.cli.written", style, file=str(out))]
    elif fitted.changes:
        told += [EMPTY, *_said("readings.cli.not_written", style)]
    return [*told, *wrapped(style.say(Message("study.caution")), style.width)]


# One unit ------------------------------------------------------------------------


def _unit(unit: UnitFitted, style: Style) -> Iterator[Line]:
    mark = MARKS[unit.outcome]
    text = style.say(unit.because)
    first, *rest = wrapped(text, style.width, indent=4)
    (piece,) = first
    yield Piece(f"{mark:<4}", INKS[unit.outcome]), Piece(piece.text[4:], Ink.STRONG)
    yield from rest
    if unit.pose and unit.outcome == "fitted":
        for one in (*said_hangs(unit.pose), *map(said_row, unit.rows)):
            yield from wrapped(style.say(one), style.width, indent=4, hang=2)
    yield from _readings(unit, style)
    yield from _listed(
        "readings.cli.ways", [style.say(way.said) for way in unit.ways], style
    )
    lacking = [style.say(lack.message) for lack in unit.lacking]
    yield from _listed("readings.cli.to_tape", lacking, style)


# Its readings --------------------------------------------------------------------


def _readings(unit: UnitFitted, style: Style) -> Iterator[Line]:
    rows = [_cells(one, unit, style) for one in unit.readings]
    for each in columns(rows, style.width, ((0, 14), (1, 16), (2, 16))):
        yield from each


def _cells(one: ReadBack, unit: UnitFitted, style: Style) -> tuple[Piece, ...]:
    kind = {
        "number": one.number,
        "kind": Message(f"readings.kind.{_kind(one)}"),
    }
    name = f"    {style.say(Message('readings.cli.reading', kind))}"
    ink = Ink.FAILS if one.named else Ink.QUIET if one.struck else Ink.PLAIN
    return (
        Piece(name, ink),
        Piece(_place(one, style), ink),
        Piece(_verdict(one, unit, style), ink),
    )


def _kind(one: ReadBack) -> str:
    return {"spot centre": "spot", "row line": "line", "row end": "end"}.get(
        one.kind, one.kind.rpartition(" ")[2]
    )


def _place(one: ReadBack, style: Style) -> str:
    along = said_along(one.along)
    if one.out is None or isnan(one.out):
        return style.say(along)
    said = {"along": along, "out": length(one.out)}
    return style.say(Message("readings.cli.off", said))


def _verdict(one: ReadBack, unit: UnitFitted, style: Style) -> str:
    """What becomes of a reading: struck, to be read again, or how far it is off."""
    told = [_off(one)] if unit.pose else []
    if one.struck:
        told = [Message("readings.cli.struck"), *told]
    elif one.named:
        told = [Message("readings.cli.named"), *told]
    return ", ".join(style.say(message) for message in told)


def _off(one: ReadBack) -> Message:
    along, out = (abs(off) >= SHOWN for off in one.off)
    said = {"along": length(one.off[0]), "out": length(one.off[1])}
    match along, out:
        case True, True:
            return Message("readings.cli.apart", said)
        case True, False:
            return Message("readings.cli.apart_along", said)
        case False, True:
            return Message("readings.cli.apart_out", said)
        case _:
            return Message("readings.cli.as_expected")


# What follows --------------------------------------------------------------------


def _turn(done: "FittedFile", style: Style) -> list[Line]:
    fitted = done.fitted
    if fitted.after is None:
        return _said("readings.cli.not_studied", style)
    said = [*fitted.also, *(one.said for one in fitted.turnings)]
    if not said:
        return _said("readings.cli.nothing_to_turn", style, ink=Ink.STRONG)
    head = _said("readings.cli.turn", style, ink=Ink.STRONG)
    return [*head, *(line for one in said for line in _arrow(style.say(one), style))]


def _arrow(text: str, style: Style) -> list[Line]:
    return wrapped(f"→ {text}", style.width, indent=4, hang=2)


def _studies(done: "FittedFile", style: Style) -> list[Line]:
    """Both studies in one line each: what is to be done by each of them."""
    fitted = done.fitted
    rows = [
        (
            Piece(say(Message(f"readings.cli.{name}"))),
            Piece(headline(tally(study.findings)), Ink.STRONG),
        )
        for name, study in (("before", fitted.before), ("after", fitted.after))
        if study is not None
    ]
    return [line for row in columns(rows, style.width, ((1, 20),)) for line in row]


def _assumed(units: tuple[UnitFitted, ...], style: Style) -> list[Line]:
    said = [style.say(said_assumed(one)) for unit in units for one in unit.assumed]
    listed = list(_listed("readings.cli.assumed", list(dict.fromkeys(said)), style, 0))
    return [EMPTY, *listed] if listed else []


def _listed(key: str, said: list[str], style: Style, indent: int = 4) -> Iterator[Line]:
    if not said:
        return
    yield from wrapped(style.say(Message(key)), style.width, indent=indent)
    for text in said:
        yield from wrapped(f"· {text}", style.width, indent=indent + 2, hang=2)


def _said(key: str, style: Style, *, ink: Ink = Ink.PLAIN, **values: str) -> list[Line]:
    return wrapped(style.say(Message(key, values)), style.width, ink=ink)
