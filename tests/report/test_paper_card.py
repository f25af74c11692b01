"""The card on paper: two pages a doorway at most, in one ink, with nothing left out
that may never be skipped."""

import re
from dataclasses import replace
from datetime import date
from io import BytesIO
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

from limen.quantity import Show
from limen.report.paper_card import Card, Place, Reading, Unit, Work, paper_card
from limen.report.paper_card import Test as Step
from limen.report.tongue import Tongue
from limen.words import languages

if TYPE_CHECKING:
    from limen.report.contents import PaperName

SIZES = {"a4": (595, 842), "letter": (612, 792)}  # points: ISO 216; ANSI Y14.1
DAY = date(2026, 11, 26)
SAFETY = "Barrier the opening. Box, not body."
READINGS = tuple(
    Reading(f"{n}", ask, post, line)
    for n, (ask, post, line) in enumerate(
        (
            ("row line.left", "left", True),
            ("row line.right", "right", True),
            ("row end.left", "left", False),
            ("row end.right", "right", False),
        ),
        1,
    )
)
LONG = "540 mm from the left post, seen from outside; its middle on the leaf line. " * 2
CAUSE = "First row too far out: bring it 60 mm nearer the leaf"


def _place(x: float, *, lying: bool = False) -> Place:
    return Place(x, 0.0, 0.0, 0.3, 0.2, 1.0 - abs(x) - 0.15, lying)


def _tests(many: int, says: str = "") -> tuple[Step, ...]:
    return tuple(
        Step(
            f"Minimum {n}",
            says,
            minimum=True,
            place=_place(-0.85 + 0.1 * n),
            alike=True,
        )
        if n < 4
        else Step(f"Minimum {n}", says, minimum=True, place=None)
        for n in range(many)
    )


def _card(**more: object) -> Card:
    plain = Card(
        door="Main entrance",
        half=1.0,
        leaf=0.02,
        version=3,
        digest="ab" * 32,
        safety=SAFETY,
        units=(Unit("inside", "Two-row unit", READINGS),) * 2,
        targets=("First row inside: 64 mm from the leaf face, good from 58 to 70 mm.",),
        work=tuple(Work(f"Work {n}", "What is done.") for n in range(14)),
        tests=(*_tests(18), Step("Further", "", minimum=False, place=_place(0.4))),
        steps=8,
        minutes=6,
    )
    return replace(plain, **more)  # pyright: ignore[reportArgumentType]


def _set(*cards: Card, paper: "PaperName" = "a4", language: str = "en") -> PdfReader:
    tongue = Tongue(language=language, system=Show.METRIC)
    made = paper_card(
        cards, site="Alder Quay Library", on=DAY, paper=paper, tongue=tongue
    )
    return PdfReader(BytesIO(made))


def _text(read: PdfReader) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in read.pages)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("language", languages())
def test_a_doorway_has_two_pages_on_either_paper_in_every_language(
    paper: "PaperName", language: str
) -> None:
    read = _set(_card(), paper=paper, language=language)
    assert len(read.pages) <= 2
    for page in read.pages:
        box = page.mediabox
        assert (round(box.width), round(box.height)) == SIZES[paper]


def test_what_comes_first_comes_first() -> None:
    text = _text(_set(_card()))
    order = [
        SAFETY,
        "Found",
        "As found",
        "What to turn",
        "Order of work",
        "Where the box",
    ]
    order += ["never skipped", "Then, as time allows", "Defects", "Left", "Signature"]
    places = [text.index(one) for one in order]
    assert places == sorted(places)


def test_every_test_and_every_piece_of_work_stands_there() -> None:
    text = _text(_set(_card()))
    for n in range(18):
        assert f"Minimum {n}" in text
    for n in range(14):
        assert f"{n + 1}. Work {n}" in text
    assert "64 mm from the leaf face" in text
    assert "version 3" in text


def test_distances_are_those_that_were_given() -> None:
    text = _text(_set(_card(tests=(Step("A", "", minimum=True, place=_place(0.31)),))))
    assert "540 mm" in text


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_long_words_cost_explanations_and_never_a_test(paper: "PaperName") -> None:
    tests = tuple(replace(one, says=LONG, causes=(CAUSE, CAUSE)) for one in _tests(24))
    work = tuple(Work(f"Work {n}", LONG) for n in range(18))
    read = _set(_card(tests=tests, work=work), paper=paper)
    assert len(read.pages) <= 2
    text = _text(read)
    assert all(f"Minimum {n}" in text for n in range(24))
    assert SAFETY in text
    assert "Signature" in text


def test_where_there_is_room_it_says_what_to_look_for() -> None:
    one = replace(_tests(1)[0], causes=(CAUSE,))
    text = _text(_set(_card(tests=(one,), work=())))
    assert CAUSE in text


def test_each_doorway_begins_a_page_of_its_own() -> None:
    other = _card(door="Staff door", tests=_tests(3), work=())
    read = _set(_card(), other)
    heads = [page.extract_text().split("\n")[0] for page in read.pages]
    assert heads[0].startswith("Job card, Main entrance")
    assert sum("Staff door" in head for head in heads) == 1


def test_it_is_in_one_ink() -> None:
    """Red, green and blue of every colour are alike: it survives any printer."""
    for page in _set(_card()).pages:
        stream = page.get_contents()
        assert stream is not None
        for set_ in re.findall(
            rb"([\d.]+) ([\d.]+) ([\d.]+) (?:rg|RG|scn|SCN)", stream.get_data()
        ):
            red, green, blue = map(float, set_)
            assert max(red, green, blue) - min(red, green, blue) < 0.11, set_


def test_a_doorway_without_rows_or_places_has_a_card_too() -> None:
    tests = (Step("Plug", "", minimum=True, place=None),)
    text = _text(_set(_card(units=(), tests=tests, targets=())))
    assert "As found" not in text
    assert "Where the box" not in text
    assert "Nothing was found that is to be turned." in text
