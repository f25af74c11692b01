"""The reading sheet: a page a doorway, with every measure and a box to write it in."""

from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

import limen
from limen.desk.reading_sheet import reading_sheet
from limen.desk.refusal import Refusal
from limen.desk.taping import to_tape

if TYPE_CHECKING:
    from limen.desk.reporting import Paper

DEMO = Path(limen.__file__).parent / "demo" / "alder-quay-as-found.toml"
SIZES = {"a4": (595, 842), "letter": (612, 792)}  # points: ISO 216; ANSI Y14.1


def _pages(path: Path) -> list[str]:
    reader = PdfReader(BytesIO(path.read_bytes()))
    return [" ".join(page.extract_text().split()) for page in reader.pages]


@pytest.fixture(scope="module")
def every(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sheets of all doorways of the invented building."""
    return reading_sheet(DEMO, tmp_path_factory.mktemp("sheet") / "all.pdf")


def test_every_doorway_with_rows_has_one_page(every: Path) -> None:
    site = limen.load_site(DEMO)
    doors = [door for door in site.doorway if to_tape(door)]
    pages = _pages(every)
    assert len(pages) == len(doors)
    for page, door in zip(pages, doors, strict=True):
        assert door.name in page


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_it_fits_either_paper(tmp_path: Path, paper: str) -> None:
    size: Paper = "a4" if paper == "a4" else "letter"
    out = reading_sheet(DEMO, tmp_path / "one.pdf", doorway="main", paper=size)
    (page,) = PdfReader(BytesIO(out.read_bytes())).pages
    box = page.mediabox
    assert (round(box.width), round(box.height)) == SIZES[paper]


def test_it_says_from_what_each_measure_is_taped(every: Path) -> None:
    page = _pages(every)[0]
    for said in ("from the leaf face", "left post", "right post", "above the floor"):
        assert said in page
    for mark in ("1a", "1b", "2a", "2b", "5a", "5b"):
        assert page.count(mark) >= 2  # one a unit at least


def test_in_feet_no_millimetre_is_left(tmp_path: Path) -> None:
    out = reading_sheet(DEMO, tmp_path / "f.pdf", doorway="main", units="feet")
    (page,) = _pages(out)
    assert " mm" not in page
    assert "inches" in page


def test_a_line_is_asked_for_inside_the_opening_where_a_tape_can_lie() -> None:
    for door in limen.load_site(DEMO).doorway:
        for unit in to_tape(door):
            lines = [one for one in unit.asked if one.kind == "row line"]
            assert all(0 < one.from_post < door.clear_width.value for one in lines)


def test_the_useful_minimum_comes_first() -> None:
    (first, *_) = to_tape(limen.load_site(DEMO).door("main"))
    asked = [(one.kind, one.post) for one in first.asked[:4]]
    assert asked == [
        ("row line", "left"),
        ("row line", "right"),
        ("row end", "left"),
        ("row end", "right"),
    ]


def test_a_doorway_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="nowhere"):
        reading_sheet(DEMO, tmp_path / "x.pdf", doorway="nowhere")
    with pytest.raises(Refusal):
        reading_sheet(DEMO, tmp_path / "no" / "folder.pdf", doorway="main")
    assert not list(tmp_path.iterdir())
