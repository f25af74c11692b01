"""The report as one PDF/A-3 document, its findings inside."""

import json
import re
from collections.abc import Mapping
from datetime import UTC, datetime, time
from hashlib import sha256
from importlib.resources import files
from pathlib import Path
from typing import Literal

from limen.draw.themes import PAPER
from limen.findings import Message
from limen.report.contents import Contents
from limen.report.doorways import doorway
from limen.report.drawings import drawings
from limen.report.drilling import check_words, drilling
from limen.report.folding import folding
from limen.report.front import day_of, front
from limen.report.grounds import grounds
from limen.report.office import office
from limen.report.tongue import Plain, Tongue
from limen.words import unbroken

STANDARDS: tuple[Literal["a-3a", "ua-1"], ...] = ("a-3a", "ua-1")
PAPERS: Mapping[str, tuple[str, float]] = {
    "a4": ("a4", 170.0),
    "letter": ("us-letter", 175.9),
}
"""Each paper by its name for the setter, and the width of its text (mm)."""
_NO_LETTER = re.compile(r'the text `"(.+?)"` could not be displayed')
_HERE = files("limen.report")


class ReportError(Exception):
    """The report cannot be set: in words, what and what now."""


def pdf(contents: Contents) -> bytes:
    """Set the report.

    The same contents give the same bytes.

    Args:
        contents: everything it says.

    Raises:
        ReportError: a character of the file is in none of the fonts.
    """
    values, drawn = _values(contents)
    inputs = _pages() | drawn
    text = json.dumps(values, ensure_ascii=False)
    inputs["data.json"] = unbroken(text).encode()
    inputs["findings.json"] = contents.findings.encode()
    return _set(inputs, contents)


def _values(contents: Contents) -> tuple[Plain, dict[str, bytes]]:
    tongue = Tongue(contents.language, contents.system)
    studies = [part.study for part in contents.parts]
    templates, without = drilling(studies, tongue)
    doors: list[Plain] = []
    drawn: dict[str, bytes] = {}
    for part in contents.parts:
        said, files_ = drawings(part, contents)
        doors.append({"findings": doorway(part.study, tongue), "drawings": said})
        drawn |= files_
    digest = sha256(contents.findings.encode()).hexdigest()
    return {
        "words": tongue.fixed(),
        "inks": dict(PAPER),
        "language": contents.language,
        "paper": PAPERS[contents.paper][0],
        "wide": PAPERS[contents.paper][1],
        "day": [contents.on.year, contents.on.month, contents.on.day],
        "check": check_words(tongue),
        "as_of": day_of(contents, tongue),
        "title": tongue.say(Message("report.title", {"site": contents.site})),
        "front": front(contents, tongue),
        "doorways": doors,
        "office": office(studies, tongue),
        "templates": templates,
        "without": without,
        "bodies": folding(contents.bodies, tongue),
        "grounds": grounds(contents, tongue, digest),
    }, drawn


def _pages() -> dict[str, bytes]:
    """The form of the pages, by file name; the first one is the main one."""
    return {
        ("main" if page.name == "main.typ" else page.name): page.read_bytes()
        for page in _HERE.joinpath("pages").iterdir()
        if page.name.endswith(".typ")
    }


def _set(inputs: dict[str, bytes], contents: Contents) -> bytes:
    import typst

    made = datetime.combine(contents.on, time(), UTC)
    try:
        done, warnings = typst.compile_with_warnings(
            inputs,  # pyright: ignore[reportArgumentType]  # its stub knows no files
            format="pdf",
            pdf_standards=list(STANDARDS),
            ignore_system_fonts=True,
            font_paths=[Path(str(_HERE.joinpath("fonts")))],
            timestamp=made,
        )
    except typst.TypstError as error:
        tongue = Tongue(contents.language, contents.system)
        raise ReportError(said_error(str(error), tongue)) from error
    if warnings:
        raise ReportError("; ".join(str(one) for one in warnings))
    return done


def letters_of(error: str) -> str:
    """The letters that no font has, if that is what is wrong; else none."""
    letter = _NO_LETTER.search(error)
    return letter[1] if letter else ""


def said_error(error: str, tongue: Tongue) -> str:
    """What is wrong, in the reader's words where it is not our own mistake."""
    letters = letters_of(error)
    if not letters:
        return error
    return tongue.say(Message("report.no_letter", {"letter": letters}))
