"""The owner's page on paper: the daily check in front, the log of a month behind."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from importlib.resources import files

from limen.draw.daily import Shape, picture
from limen.draw.daily_strokes import ON_PAPER
from limen.draw.themes import PLAIN
from limen.report.contents import PaperName
from limen.report.pdf import PAPERS, ReportError, said_error
from limen.report.tongue import Plain, Tongue
from limen.words import unbroken
from limen.words.owner import SaidPage, SaidStep, said

_HERE = files("limen.report")
_PARTS = ("look", "owner")
PAGES = 2
"""One in front, one behind."""
SIZES = (
    (36.0, 12.0),
    (34.0, 11.5),
    (32.0, 11.0),
    (30.0, 10.5),
    (28.0, 10.0),
    (25.0, 9.5),
    (22.0, 9.0),
    (19.0, 8.5),
    (15.0, 8.0),
)
"""How wide pictures are (mm) and how large letters (pt): the next are tried where the
front has no room."""
FIXED = (
    "rule",
    "then_sign",
    "wrong.title",
    "wrong.struck_title",
    "wrong.struck",
    "call.title",
    "call.nobody",
    "kept.why",
    "log.month",
    "log.day",
    "log.who",
    "log.order",
    "log.else",
    "log.keep",
    "log.sources",
    "intro",
)
"""Sentences of the page that every door has."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One owner's page in one language.

    Attributes:
        page: what it says.
        code: the code for a fault, as SVG; None where no address is stated.
        scan: what happens when the code is scanned, in words.
    """

    page: SaidPage
    code: bytes | None = None
    scan: str = ""


def owner_pdf(
    sheets: Sequence[Sheet], shape: Shape, *, on: date, paper: PaperName
) -> bytes:
    """Set the owner's page as PDF/A-3: two pages a language.

    Args:
        sheets: the same page in one language or several.
        shape: of the door, for its pictures.
        on: the day on which it is made.
        paper: the size of the pages.

    Raises:
        ReportError: a letter of the site file is in none of the fonts.
    """
    tongue = Tongue(language=sheets[0].page.language)
    inputs: dict[str, bytes] = {}
    told = [_fitted(one, f"{n}", shape, inputs, paper) for n, one in enumerate(sheets)]
    inputs["data.json"] = _data(told, sheets[0], on, paper)
    return _asked(inputs, tongue, on)


def _fitted(
    sheet: Sheet, name: str, shape: Shape, drawn: dict[str, bytes], paper: PaperName
) -> Plain:
    """A sheet with pictures as large as its front takes."""
    told = _told(sheet, name, shape, drawn)
    for wide, size in SIZES:
        told |= {"wide": wide, "size": size}
        data = _data([told], sheet, date(2000, 1, 1), paper)
        if _fits(drawn | {"data.json": data}, Tongue(language=sheet.page.language)):
            break
    return told


def _told(
    sheet: Sheet, name: str, shape: Shape, drawn: dict[str, bytes]
) -> dict[str, object]:
    page, tongue = sheet.page, sheet.page.language
    if sheet.code:
        drawn[f"{name}-code.svg"] = sheet.code
    for one in page.steps:
        words = said(f"picture.{one.id}", tongue)
        drawn[f"{name}-{one.id}.svg"] = picture(one.id, shape, words, ON_PAPER).encode()
    return {
        "language": tongue,
        "words": {key.replace(".", "_"): said(key, tongue) for key in FIXED},
        "headline": said("title_door", tongue, door=page.door),
        "site": page.site,
        "parts": [
            {"title": title, "steps": [_step(one, name, tongue) for one in steps]}
            for title, steps in page.parts
        ],
        "wrong": list(page.wrong),
        "call": list(page.call),
        "people": list(page.people),
        "kept": list(page.kept),
        "digest": page.digest,
        "digest_says": page.digest_says,
        "sources": list(page.sources),
        "made": page.made,
        "log": said("log.title", tongue, door=page.door),
        "code": f"{name}-code.svg" if sheet.code else "",
        "scan": sheet.scan,
        "code_says": said("picture.code", tongue, what=sheet.scan),
    }


def _step(one: SaidStep, name: str, tongue: str) -> Plain:
    return {
        "number": one.number,
        "title": one.title,
        "says": one.says,
        "picture": f"{name}-{one.id}.svg",
        "drawn": said(f"picture.{one.id}", tongue),
    }


def _data(told: Sequence[Plain], sheet: Sheet, on: date, paper: PaperName) -> bytes:
    values: Plain = {
        "sheets": list(told),
        "words": {},
        "inks": dict(PLAIN),
        "language": sheet.page.language,
        "paper": PAPERS[paper][0],
        "day": [on.year, on.month, on.day],
        "title": said("title_door", sheet.page.language, door=sheet.page.door),
    }
    return unbroken(json.dumps(values, ensure_ascii=False)).encode()


# Set -----------------------------------------------------------------------------


def _whole(inputs: dict[str, bytes]) -> dict[str, bytes]:
    pages = _HERE.joinpath("pages")
    parts = {f"{one}.typ": pages.joinpath(f"{one}.typ").read_bytes() for one in _PARTS}
    parts["main"] = parts.pop("owner.typ")
    return {**parts, **inputs}


def _fits(inputs: dict[str, bytes], tongue: Tongue) -> bool:
    import typst

    try:
        found = typst.query(
            _whole(inputs),  # pyright: ignore[reportArgumentType]  # its stub knows no files
            "<pages>",
            field="value",
            ignore_system_fonts=True,
            font_paths=[str(_HERE.joinpath("fonts"))],
        )
    except typst.TypstError as error:
        raise ReportError(said_error(str(error), tongue)) from error
    return json.loads(found)[0] <= PAGES


def _asked(inputs: dict[str, bytes], tongue: Tongue, on: date) -> bytes:
    import typst

    try:
        return typst.compile(
            _whole(inputs),  # pyright: ignore[reportArgumentType]  # its stub knows no files
            format="pdf",
            pdf_standards=["a-3a", "ua-1"],
            ignore_system_fonts=True,
            font_paths=[str(_HERE.joinpath("fonts"))],
            timestamp=datetime.combine(on, time(), UTC),
        )
    except typst.TypstError as error:
        raise ReportError(said_error(str(error), tongue)) from error
