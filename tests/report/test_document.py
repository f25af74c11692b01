"""The report is an archival document that speaks to everybody.

ISO 19005-3 (PDF/A-3) and ISO 14289-1 (PDF/UA-1) as far as they can be looked up in
the file itself; no independent validator has been asked.
"""

from datetime import date
from typing import Any, cast

import pytest

from draw.samples import late, no_beam, sample
from limen.draw import scene
from limen.report import Part, pdf
from report.reports import contents, elements, found, read, text, usual

FAMILIES = ("AtkinsonHyperlegibleNext", "DejaVuSansMono")
PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}


def _root(document: bytes) -> Any:
    return cast("Any", read(document).trailer["/Root"])


def _fonts(document: bytes) -> list[Any]:
    objects = read(document)
    every = [objects.get_object(n) for n in range(1, len(objects.xref[0]) + 1)]
    return [
        one
        for one in every
        if isinstance(one, dict) and one.get("/Type") == "/FontDescriptor"
    ]


def test_it_says_that_it_is_pdf_a_3_and_pdf_ua_1() -> None:
    metadata = _root(usual())["/Metadata"].get_data().decode()
    assert "<pdfaid:part>3</pdfaid:part>" in metadata
    assert "<pdfaid:conformance>A</pdfaid:conformance>" in metadata
    assert "<pdfuaid:part>1</pdfuaid:part>" in metadata


def test_it_has_an_output_intent_and_is_not_encrypted() -> None:
    assert len(_root(usual())["/OutputIntents"]) == 1
    assert not read(usual()).is_encrypted


def test_the_findings_travel_inside_as_they_were_given() -> None:
    made = contents()
    document = usual()
    assert read(document).attachments["findings.json"] == [made.findings.encode()]
    (file,) = _root(document)["/AF"]
    assert file.get_object()["/AFRelationship"] == "/Data"


def test_every_font_is_inside_and_one_of_ours() -> None:
    fonts = _fonts(usual())
    assert fonts
    for font in fonts:
        assert any(key in font for key in ("/FontFile", "/FontFile2", "/FontFile3"))
        assert any(family in font["/FontName"] for family in FAMILIES)


def test_every_drawing_is_described_in_the_words_of_the_screen() -> None:
    study = sample(*found(no_beam(), late()))
    part = Part(study, no_beam())
    document = pdf(contents(study, parts=(part,)))
    said = [str(one["/Alt"]) for one in elements(document) if "/Alt" in one]
    for view, finding in (
        ("plan", no_beam()),
        ("section", no_beam()),
        ("front", no_beam()),
        ("plan", late()),
    ):
        drawn = scene(study, view, finding=finding)  # pyright: ignore[reportArgumentType]
        words = drawn.description.replace("\N{NO-BREAK SPACE}", " ")
        assert any(words in one.replace("\N{NO-BREAK SPACE}", " ") for one in said)


def test_every_figure_has_a_description() -> None:
    figures = [one for one in elements(usual()) if one.get("/S") == "/Figure"]
    assert len(figures) >= 3
    assert all(str(one.get("/Alt", "")).strip() for one in figures)


def test_it_names_its_language_and_title() -> None:
    assert _root(usual())["/Lang"] == "en"
    assert "Made-up House" in str(cast("Any", read(usual()).metadata).title)
    assert _root(usual())["/ViewerPreferences"]["/DisplayDocTitle"]


@pytest.mark.parametrize("paper", PAPERS)
def test_every_page_is_of_the_paper_asked_for(paper: str) -> None:
    wide, high = PAPERS[paper]
    for page in read(usual(paper)).pages:
        sides = sorted(float(side) / 72 * 25.4 for side in page.mediabox[2:])
        assert sides == pytest.approx(sorted((wide, high)), abs=0.1)


@pytest.mark.parametrize("paper", PAPERS)
def test_pages_are_counted_and_say_of_how_many(paper: str) -> None:
    pages = len(read(usual(paper)).pages)
    for number in range(pages):
        assert f"{number + 1} of {pages}" in text(usual(paper), number)


def test_the_name_of_the_doorway_stands_in_the_header_of_its_further_pages() -> None:
    many = [found()[0]] + [
        no_beam(question="presence.leaf_path", case=f"case {n}") for n in range(3)
    ]
    asked = tuple(no_beam(question=f"made.up{n}") for n in range(30))
    document = pdf(contents(sample(*many, *asked)))
    assert text(document, 2).startswith("Made-up House Main entrance")


def test_the_same_contents_give_the_same_bytes() -> None:
    assert pdf(contents()) == usual()


def test_another_day_gives_other_bytes() -> None:
    assert pdf(contents(on=date(2026, 11, 13))) != usual()


def test_these_looks_tell_a_plain_document_from_a_report() -> None:
    import typst

    plain = cast("bytes", typst.compile(b"= A title", format="pdf"))
    assert "/OutputIntents" not in _root(plain)
    assert "/AF" not in _root(plain)
    assert b"pdfaid" not in _root(plain)["/Metadata"].get_data()
    fonts = [str(font["/FontName"]) for font in _fonts(plain)]
    assert not any(family in name for family in FAMILIES for name in fonts)
