"""What is drawn in true size has it: measured on the path in the page itself."""

from typing import Any, cast

import pytest

from draw.samples import sample
from limen.quantity import Show
from limen.report import pdf
from limen.report.drilling import drilling
from limen.report.tongue import Tongue
from report.reports import (
    SHEET,
    contents,
    fitting,
    found,
    page_of,
    straight_lines,
    text,
    usual,
    with_fittings,
)

TITLE = "Drilling template"
HUNDREDTH = 0.005  # mm
BODY_AT_A_TENTH = (30.0, 20.0)
SHEET_WITHOUT = {**SHEET, "mounting": {}}


def _lengths(document: bytes, title: str) -> list[float]:
    return straight_lines(document, page_of(document, title))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_both_lines_to_be_measured_are_100_mm(paper: str) -> None:
    lengths = _lengths(usual(paper), TITLE)
    true = [one for one in lengths if one == pytest.approx(100.0, abs=HUNDREDTH)]
    assert len(true) == 2


def template(height: str = "2270 mm", along: str = "0 mm") -> dict[str, Any]:
    """The template of one unit whose lens is at a height; the header is at 2200 mm."""
    study = with_fittings(sample(), fitting(height=height, along=along))
    (one,), _ = drilling([study], Tongue("en", Show.METRIC))
    return cast("dict[str, Any]", one)


def test_holes_lie_where_their_sheet_says() -> None:
    holes = [(one["x"], one["y"], one["d"]) for one in template()["holes"]]
    assert holes == [(-90.0, 10.0, 5.0), (90.0, 10.0, 5.0)]


def test_the_body_is_drawn_at_a_tenth_of_its_size() -> None:
    lengths = _lengths(usual(), "test body of cardboard")
    for side in BODY_AT_A_TENTH:
        assert any(one == pytest.approx(side, abs=HUNDREDTH) for one in lengths)


def test_the_lower_edge_is_marked_where_lens_and_header_put_it() -> None:
    made = template(height="2270 mm")
    assert made["marks"] == [70.0]
    assert "on mark 70 mm" in made["units"][0]["edge"]


def test_the_housing_keeps_half_its_height_and_the_distance_of_its_sheet() -> None:
    assert template()["least"] == 40.0  # half of 60 mm, and 10 mm


def test_a_housing_too_near_the_edge_is_told_and_not_marked() -> None:
    made = template(height="2239 mm")
    assert made["marks"] == []
    assert "needs 40 mm" in made["units"][0]["edge"]


def test_an_edge_beyond_the_page_is_told_and_not_marked() -> None:
    made = template(height="2300 mm")
    assert made["marks"] == []
    assert "beyond this sheet" in made["units"][0]["edge"]


def test_the_upright_line_is_given_from_both_posts() -> None:
    assert template()["units"][0]["line"].endswith("1000 mm from either post.")
    off = template(along="-150 mm")["units"][0]["line"]
    assert off.startswith("850 mm from the left post, 1150 mm from the right post")


def test_a_sheet_without_holes_gets_no_template_and_a_word_about_it() -> None:
    study = with_fittings(sample(*found()), fitting(sheet=SHEET_WITHOUT))
    document = pdf(contents(study))
    assert TITLE + ":" not in text(document)
    assert "its sheet gives no holes" in text(document)


def test_holes_beyond_the_paper_are_listed_and_not_drawn() -> None:
    wide = {
        **SHEET,
        "mounting": {"holes": ({"along": "140 mm", "up": "0 mm", "diameter": "5 mm"},)},
    }
    document = pdf(contents(with_fittings(sample(*found()), fitting(sheet=wide))))
    page = text(document, page_of(document, TITLE))
    assert "too far apart for this paper" in page
    assert "140 mm right" in page
