"""The owner's sheet keeps its two pages, whatever a door asks for."""

from datetime import date
from io import BytesIO

import pytest
from pypdf import PdfReader

from limen.draw.code import code_square
from limen.draw.daily import Shape
from limen.keep.daily import NO_SOURCE, Asked
from limen.report.owner import Sheet, owner_pdf
from limen.store.daily import daily_steps
from limen.words import languages
from limen.words.owner import SaidPage, Told, said_page

DAY = date(2026, 11, 26)
EVERY = tuple(Asked(one.id, one.part, one.also, NO_SOURCE) for one in daily_steps())
WORST = Told(
    site="Alder Quay Library, reading rooms and depository of the harbour district",
    door="Inner door of the vestibule towards the reading room on the quay side",
    steps=EVERY,
    on=DAY,
    version=1234,
    behind="a leaflet stand, a plant pot and the box for returned books",
    escape=None,
    record=123_456,
    recorded=DAY,
    heads=("ab" * 32, "cd" * 32),
    due="unknown",
    by="Harbour Care, Department of Doors and Gates, second floor",
    daily="whoever opens the house in the morning",
    mail="doors-and-gates@harbour-care.example",
    phone="+00 555 0142",
    web="https://harbour-care.example/faults",
)


def _sheet(told: Told, language: str = "en") -> Sheet:
    code = code_square("mailto:doors@firm.example?subject=x").encode()
    return Sheet(said_page(told, language=language), code, "Scan to write")


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("language", languages())
def test_with_every_step_there_is_still_a_front_and_a_back(
    language: str, paper: str
) -> None:
    sheet = _sheet(WORST, language)
    made = owner_pdf([sheet], Shape(1.8, 2.2), on=DAY, paper=paper)  # pyright: ignore[reportArgumentType]
    assert len(PdfReader(BytesIO(made)).pages) == 2


def test_all_that_is_said_is_printed() -> None:
    sheet = _sheet(WORST)
    made = owner_pdf([sheet], Shape(1.8, 2.2), on=DAY, paper="a4")
    read = PdfReader(BytesIO(made))
    text = "".join("".join(one.extract_text() for one in read.pages).split())
    for said in (*_said(sheet.page), *sheet.page.wrong, *sheet.page.call):
        assert "".join(said.split()) in text


def _said(page: SaidPage) -> list[str]:
    steps = [line for one in page.steps for line in (one.title, one.says)]
    return [*steps, *page.kept, *page.people, page.digest, page.digest_says, page.made]
