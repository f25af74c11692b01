"""The drilling templates alone, to be taken to the door."""

import json
from datetime import UTC, date, datetime, time
from importlib.resources import files
from pathlib import Path

from limen.draw.themes import PAPER
from limen.findings import Message, Study
from limen.report.contents import PaperName
from limen.report.drilling import check_words, drilling
from limen.report.pdf import PAPERS, ReportError
from limen.report.tongue import Plain, Tongue
from limen.words import unbroken

_HERE = files("limen.report")
_PARTS = ("look", "drilling")


def templates(
    studies: tuple[Study, ...], *, site: str, on: date, paper: PaperName, tongue: Tongue
) -> bytes | None:
    """Set the drilling templates of doorways as one PDF.

    Args:
        studies: one a doorway.
        site: the building.
        on: the day as of which they hold.
        paper: the size of the pages; nothing is scaled to it.
        tongue: the reader's language and units.

    Returns:
        The document: a page a kind of unit whose sheet shows its holes, and a
        sentence for each that shows none.  None where no unit is fitted at all.

    Raises:
        ReportError: a character of the site file is in none of the fonts.
    """
    found, without = drilling(studies, tongue)
    if not found and not without:
        return None
    values: Plain = {
        "words": tongue.fixed(),
        "inks": dict(PAPER),
        "language": tongue.language,
        "paper": PAPERS[paper][0],
        "day": [on.year, on.month, on.day],
        "check": check_words(tongue),
        "as_of": tongue.day(on),
        "title": tongue.say(Message("desk_out.template.title", {"site": site})),
        "templates": found,
        "without": without,
    }
    return _set(values, on)


def _set(values: Plain, on: date) -> bytes:
    import typst

    pages = _HERE.joinpath("pages")
    inputs = {f"{one}.typ": pages.joinpath(f"{one}.typ").read_bytes() for one in _PARTS}
    inputs["main"] = pages.joinpath("templates.typ").read_bytes()
    inputs["data.json"] = unbroken(json.dumps(values, ensure_ascii=False)).encode()
    try:
        return typst.compile(
            inputs,  # pyright: ignore[reportArgumentType]  # its stub knows no files
            format="pdf",
            ignore_system_fonts=True,
            font_paths=[Path(str(_HERE.joinpath("fonts")))],
            timestamp=datetime.combine(on, time(), UTC),
        )
    except typst.TypstError as error:
        raise ReportError(str(error)) from error
