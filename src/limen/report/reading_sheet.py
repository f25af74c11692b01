"""The reading sheet: what to tape at each unit of a doorway, with boxes to write in."""

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from importlib.resources import files
from pathlib import Path

from limen.draw.taping import Taping, from_above, from_the_side
from limen.draw.themes import PAPER
from limen.findings import Message
from limen.findings.message import length
from limen.quantity import Show
from limen.report.contents import PaperName
from limen.report.pdf import PAPERS, ReportError
from limen.report.tongue import Plain, Tongue
from limen.words import say_unit, unbroken

_HERE = files("limen.report")
_PARTS = ("look", "reading_sheet")
LENS = (("A", "height"), ("B", "from_leaf"), ("C", "along"))
SPARE = 2
"""Empty lines for readings of one's own."""


@dataclass(frozen=True, slots=True)
class Line:
    """One reading that is asked for.

    Attributes:
        name: its number, as the drawing bears it.
        kind: what is found: row line, row end or spot centre.
        ask: which of them: ``row line.left``.
        post: the post from which it is taped, seen from outside: left or right.
        from_post: about where, from that post (m).
        out: about how far from the leaf face (m); None of an end.
    """

    name: str
    kind: str
    ask: str
    post: str
    from_post: float
    out: float | None


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of the sheet.

    Attributes:
        fitting: its id.
        sheet: what its sensor sheet is called.
        rows: how many rows it has.
        lines: what is asked for, the useful minimum first.
        drawn: what its drawings show.
    """

    fitting: str
    sheet: str
    rows: int
    lines: tuple[Line, ...]
    drawn: Taping


@dataclass(frozen=True, slots=True)
class Door:
    """One doorway of the sheet.

    Attributes:
        name: as people say it.
        units: those whose rows can be read, at least one.
    """

    name: str
    units: tuple[Unit, ...]


def reading_sheet(
    doors: Sequence[Door], *, site: str, on: date, paper: PaperName, tongue: Tongue
) -> bytes:
    """Set the reading sheets of doorways as one PDF, a page a doorway.

    Args:
        doors: the doorways.
        site: the building.
        on: the day as of which they are planned so.
        paper: the size of the pages.
        tongue: the reader's language and units.

    Raises:
        ReportError: a character of the site file is in none of the fonts.
    """
    drawn: dict[str, bytes] = {}
    values: Plain = {
        "words": _fixed(tongue),
        "inks": dict(PAPER),
        "language": tongue.language,
        "paper": PAPERS[paper][0],
        "day": [on.year, on.month, on.day],
        "title": _said(tongue, "paper.title", door=", ".join(d.name for d in doors)),
        "site": _said(tongue, "paper.site", site=site, day=tongue.day(on)),
        "doors": [
            _door(door, place, tongue, drawn) for place, door in enumerate(doors)
        ],
    }
    return _set(values, drawn, on)


def _door(door: Door, place: int, tongue: Tongue, drawn: dict[str, bytes]) -> Plain:
    for number, unit in enumerate(door.units):
        drawn[f"{place}-{number}-above.svg"] = _on_white(from_above(unit.drawn))
        drawn[f"{place}-{number}-side.svg"] = _on_white(from_the_side(unit.drawn))
    return {
        "title": _said(tongue, "paper.title", door=door.name),
        "units": [
            _unit(unit, f"{place}-{number}", tongue)
            for number, unit in enumerate(door.units)
        ],
    }


def _unit(unit: Unit, file: str, tongue: Tongue) -> Plain:
    named = say_unit(unit.fitting, language=tongue.language)
    return {
        "title": _said(tongue, "paper.unit", unit=named),
        "sheet": unit.sheet,
        "above": f"{file}-above.svg",
        "side": f"{file}-side.svg",
        "says": unit.drawn.says,
        "several": unit.rows > 1,
        "lens": list(_lens(tongue)),
        "lines": [_line(one, tongue) for one in unit.lines],
        "spare": SPARE,
    }


def _lens(tongue: Tongue) -> Iterator[Plain]:
    heads = ("above_floor", "from_leaf_face", "from_middle")
    for (name, key), head in zip(LENS, heads, strict=True):
        what = _said(tongue, f"lens.{key}")
        yield {"name": name, "what": what, "head": _said(tongue, f"paper.{head}")}


def _line(one: Line, tongue: Tongue) -> Plain:
    post = Message(f"readings_page.drawn.post.{one.post}")
    end = one.kind == "row end"
    out = None if one.out is None else _said(tongue, "paper.near", far=length(one.out))
    return {
        "name": one.name,
        "what": _said(tongue, f"ask.{one.ask}"),
        "a": "" if end else f"{one.name}a",
        "b": one.name if end else f"{one.name}b",
        "out": out,
        "post": _said(tongue, "paper.from_post", post=post),
        "far": _far(one, tongue),
    }


def _far(one: Line, tongue: Tongue) -> str:
    """About where along the opening; a line is taped where one is told to."""
    key = "at" if one.kind == "row line" else "near"
    key = "beyond" if one.from_post < 0 else key
    return _said(tongue, f"paper.{key}", far=length(abs(one.from_post)))


def _fixed(tongue: Tongue) -> dict[str, str]:
    unit = Message(f"readings_page.paper.unit.{_units(tongue)}")
    names = ("order", "from_leaf_face", "kind", "by", "on", "note", "row")
    words = {name: _said(tongue, f"paper.{name}") for name in names}
    words["before"] = _said(tongue, "paper.before", unit=unit)
    words["along"] = _said(tongue, "paper.along")
    words["scale"] = _said(tongue, "drawn.not_to_scale")
    words["of"] = tongue.fixed()["of"]
    return words


def _units(tongue: Tongue) -> str:
    return "feet" if tongue.system is Show.FEET else "metric"


def _said(tongue: Tongue, key: str, **values: object) -> str:
    return tongue.say(Message(f"readings_page.{key}", values))  # pyright: ignore[reportArgumentType]


def _on_white(drawing: str) -> bytes:
    return drawing.replace(PAPER["paper"], "#FFFFFF").encode()


def _set(values: Plain, drawn: dict[str, bytes], on: date) -> bytes:
    import typst

    pages = _HERE.joinpath("pages")
    inputs = {f"{one}.typ": pages.joinpath(f"{one}.typ").read_bytes() for one in _PARTS}
    inputs["main"] = inputs.pop("reading_sheet.typ")
    inputs |= drawn
    inputs["data.json"] = unbroken(json.dumps(values, ensure_ascii=False)).encode()
    try:
        return typst.compile(
            inputs,  # pyright: ignore[reportArgumentType]  # its stub knows no files
            format="pdf",
            pdf_standards=["a-3a", "ua-1"],
            ignore_system_fonts=True,
            font_paths=[Path(str(_HERE.joinpath("fonts")))],
            timestamp=datetime.combine(on, time(), UTC),
        )
    except typst.TypstError as error:
        raise ReportError(str(error)) from error
