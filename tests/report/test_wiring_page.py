"""The terminal plan on paper: a page a doorway, all of it to be checked off."""

from datetime import date
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader

from builders.wiring import a_study, plan
from draw.test_wires import large, small
from limen.model.doorway import Doorway
from limen.quantity import Show
from limen.report import ReportError
from limen.report.contents import PaperName
from limen.report.tongue import Tongue
from limen.report.wiring import WireSheet, wiring_pdf

POINTS: dict[PaperName, tuple[float, float]] = {"a4": (595, 842), "letter": (612, 792)}
"""Width and height of a page in points: ISO 216 (2007), A4; US Letter, 8.5 by 11 in."""
LEAST = 5.5
"""Points: no type on paper is smaller than a footnote's (practice, no source)."""


def pages(*doors: Doorway, paper: PaperName = "a4") -> list[Any]:
    sheets = [WireSheet(a_study(one), plan(one)) for one in doors]
    made = wiring_pdf(
        sheets,
        site="Trial",
        on=date(2026, 11, 12),
        paper=paper,
        tongue=Tongue(system=Show.METRIC),
    )
    return list(PdfReader(BytesIO(made)).pages)


@pytest.mark.parametrize("paper", list(POINTS))
def test_a_doorway_stands_on_one_page(paper: PaperName) -> None:
    (page,) = pages(small(), paper=paper)
    size = page.mediabox.width, page.mediabox.height
    assert size == pytest.approx(POINTS[paper], abs=1.0)


def test_a_drawing_that_nobody_could_read_beside_its_lists_has_its_own_page() -> None:
    assert len(pages(large())) == 2


def test_each_doorway_has_a_page_of_its_own() -> None:
    assert len(pages(small(), small(), large())) == 4


def test_every_setting_every_try_and_every_fault_is_on_it() -> None:
    door = small()
    said = " ".join(pages(door)[0].extract_text().split())
    made = plan(door)
    assert said.count("Test before closing: on") == 2
    assert said.count("described otherwise: change it") == 1
    assert said.count("pull the plug of the") == len(
        [one for one in made.tries if one.kind == "plug"]
    )
    assert "The operator does not test the inside unit" in said
    assert "Wire 4:" in said


def test_what_is_not_known_is_there_to_be_looked_up() -> None:
    door = large()
    said = " ".join(pages(door)[-1].extract_text().split())
    assert "To look up" in said
    for lack in plan(door).look_up:
        if lack.key == "operator.supply":
            assert "the voltage that the operator gives" in said


def test_no_type_on_it_is_too_small_to_read() -> None:
    sizes: list[float] = []

    def visit(text: str, cm: Any, tm: Any, _font: Any, size: float) -> None:
        if text.strip():
            sizes.append(size * abs((tm[3] or tm[1]) * (cm[3] or cm[1])))

    pages(small())[0].extract_text(visitor_text=visit)
    assert min(sizes) >= LEAST
    sizes.clear()
    for page in pages(large()):
        page.extract_text(visitor_text=visit)
    assert min(sizes) >= LEAST


def test_a_letter_that_no_font_has_is_named_and_not_left_out() -> None:
    door = small().model_copy(update={"name": "Door \u6f22"})
    with pytest.raises(ReportError, match="\u6f22"):
        pages(door)
