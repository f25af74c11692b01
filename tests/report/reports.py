"""Reports of made-up doorways, and what is read back from their PDF."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date
from functools import cache, lru_cache
from io import BytesIO
from math import hypot
from typing import Any, cast

from pypdf import PdfReader

from builders.studies import failing, finding, not_shown
from draw.samples import sample
from limen.findings import Finding, Study, Verdict
from limen.model.fitting import Fitting
from limen.model.sheet import Sheet
from limen.report import Body, Book, Contents, Limit, Part, pdf
from limen.rules import Weight

MM = 72 / 25.4
"""Points a millimetre."""

SHEET = {
    "name": "made-up unit",
    "presence": {
        "rows": ({"angle": "0 deg", "spots": 24},),
        "fan": {"form": "unknown"},
        "tilt": {"least": "-5 deg", "most": "5 deg"},
    },
    "mounting": {
        "width": "230 mm",
        "tall": "60 mm",
        "edge": "10 mm",
        "holes": (
            {"along": "-90 mm", "up": "10 mm", "diameter": "5 mm"},
            {"along": "90 mm", "up": "10 mm", "diameter": "5 mm"},
        ),
        "cable_hole": {"along": "30 mm", "up": "0 mm", "diameter": "12 mm"},
    },
}
BODY = Body("en 2012", "EN 16005:2012", "Annex C", "seen", 0.3, 0.2, 0.7)
BOOK = Book("en 2012", "A rulebook made up", "0" * 64, ("A note of the rulebook.",))
LIMIT = Limit(
    "en 2012",
    "presence.leaf_path",
    "body_height",
    "700 mm",
    "EN 16005:2012",
    None,
    "memory",
)


def fitting(
    *,
    height: str = "2270 mm",
    along: str = "0 mm",
    sheet: Mapping[str, object] = SHEET,
) -> Fitting:
    """A unit with its lens 70 mm above the lower edge of the header."""
    unit = Sheet.model_validate(sheet)
    lens = {"along": along, "from_leaf": "160 mm", "height": height}
    names = {"id": "outside", "sheet": "made-up", "side": "outside"}
    return Fitting.model_validate({**names, "lens": lens, "unit": unit})


def found(*more: Finding) -> tuple[Finding, ...]:
    """One finding of each verdict and some more."""
    return (
        failing(),
        finding(Verdict.FAILS, "presence.neighbours", Weight.SHOULD),
        not_shown("fitting[out].read.first_row", question="presence.threshold"),
        not_shown("sheet.presence.response", question="presence.response"),
        finding(Verdict.HOLDS, "leaf.gaps", to_confirm=True),
        finding(Verdict.NOT_ASKED, "presence.contrast"),
        *more,
    )


def with_fittings(study: Study, *fittings: Fitting) -> Study:
    """The study with these units at its doorway."""
    door = study.doorway.model_copy(update={"fitting": fittings})
    return replace(study, doorway=door)


def contents(*studies: Study, **more: object) -> Contents:
    """A report of these studies; of one doorway if none is given."""
    every = studies or (with_fittings(sample(*found()), fitting()),)
    fields: dict[str, object] = {
        "site": "Made-up House",
        "place": "",
        "on": date(2026, 11, 12),
        "parts": tuple(Part(one, next(iter(one.findings), None)) for one in every),
        "books": (BOOK,),
        "limits": (LIMIT,),
        "bodies": (BODY,),
        "files": {"made-up.toml": "1" * 64},
        "findings": '{"schema": 1}',
        **more,
    }
    return Contents(**fields)  # pyright: ignore[reportArgumentType]


@cache
def usual(paper: str = "a4") -> bytes:
    """The report of one doorway, set once for all tests that read it."""
    return pdf(contents(paper=paper))


def read(document: bytes) -> PdfReader:
    """The document, opened."""
    return PdfReader(BytesIO(document))


def text(document: bytes, page: int | None = None) -> str:
    """The words of a page, or of all, with single spaces."""
    pages = _texts(document)
    return " ".join(pages) if page is None else pages[page]


@lru_cache(maxsize=8)
def _texts(document: bytes) -> tuple[str, ...]:
    pages = read(document).pages
    return tuple(re.sub(r"\s+", " ", one.extract_text()) for one in pages)


def straight_lines(document: bytes, page: int) -> list[float]:
    """Lengths (mm) of all lines of two points that a page strokes."""
    lengths: list[float] = []
    start: list[float] = []

    def seen(operator: bytes, operands: Any, matrix: Any, _: Any) -> None:
        if operator == b"m":
            start[:] = _at(operands, matrix)
        elif operator == b"l" and start:
            x, y = _at(operands, matrix)
            lengths.append(hypot(x - start[0], y - start[1]) / MM)
            start.clear()

    read(document).pages[page].extract_text(visitor_operand_before=seen)
    return lengths


def _at(operands: Any, matrix: Any) -> list[float]:
    x, y = float(operands[0]), float(operands[1])
    a, b, c, d, e, f = (float(one) for one in matrix)
    return [a * x + c * y + e, b * x + d * y + f]


def elements(document: bytes) -> Iterator[dict[str, Any]]:
    """Every element of the document's structure."""
    todo: list[Any] = [cast("Any", read(document).trailer["/Root"])["/StructTreeRoot"]]
    while todo:
        one = todo.pop()
        one = one.get_object() if hasattr(one, "get_object") else one
        if isinstance(one, list):
            todo += one
        elif isinstance(one, dict):
            yield cast("dict[str, Any]", one)
            if "/K" in one:
                todo.append(one["/K"])


def page_of(document: bytes, words: str) -> int:
    """The first page with these words."""
    pages = _texts(document)
    return next(number for number, page in enumerate(pages) if words in page)
