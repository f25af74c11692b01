"""The SVG is well-formed, self-contained, readable by machines and by people."""

import struct

import pytest

from draw import samples
from limen.draw import View, scene, svg
from limen.draw.svg import ThemeName
from limen.findings import Finding

VIEWS: tuple[View, ...] = ("plan", "front", "section")
WIDTHS = (360, 1400)
FINDINGS = (None, samples.no_beam(), samples.late(), samples.neighbours())
SVG = "{http://www.w3.org/2000/svg}"
XML_LANG = "{http://www.w3.org/XML/1998/namespace}lang"


def drawn(view: View, width: int = 1400, finding: Finding | None = None) -> str:
    return svg(scene(samples.sample(), view, finding=finding), width_px=width)


@pytest.mark.parametrize("finding", FINDINGS)
@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("view", VIEWS)
def test_it_is_well_formed_and_needs_nothing_from_outside(
    view: View, width: int, finding: Finding | None
) -> None:
    text = drawn(view, width, finding)
    root = samples.parsed(text)
    assert root.attrib["viewBox"].startswith(f"0 0 {width} ")
    for element in root.iter():
        assert element.tag.removeprefix(SVG) not in {"script", "style", "image", "use"}
        assert "style" not in element.attrib
        assert not any("href" in name for name in element.attrib)
        assert not any(name.startswith("on") for name in element.attrib)
    assert text.count("://") == 1  # the namespace


@pytest.mark.parametrize("view", VIEWS)
def test_it_has_a_title_and_a_description_for_those_who_do_not_see_it(
    view: View,
) -> None:
    root = samples.parsed(drawn(view, finding=samples.no_beam()))
    title, desc = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None
    assert desc is not None
    assert root.attrib["aria-labelledby"] == f"{title.attrib['id']} {desc.attrib['id']}"
    assert "Main entrance" in (title.text or "")
    assert "540 mm from the right post" in (desc.text or "")
    assert root.attrib["role"] == "img"
    assert root.attrib[XML_LANG] == "en"


def test_text_stays_text_in_our_typeface_with_fallbacks() -> None:
    root = samples.parsed(drawn("plan", finding=samples.no_beam()))
    assert root.attrib["font-family"].startswith("Atkinson Hyperlegible")
    assert root.attrib["font-family"].endswith("sans-serif")
    assert "540 mm" in ["".join(t.itertext()) for t in root.iter(f"{SVG}text")]


def test_names_from_a_file_cannot_break_out_of_the_drawing() -> None:
    nasty = '<script>alert("x")</script> & ]]>'
    text = svg(scene(samples.sample(name=nasty), "plan"))
    root = samples.parsed(text)
    title = root.find(f"{SVG}title")
    assert title is not None
    assert nasty in (title.text or "")


def test_drawings_in_one_page_do_not_share_names() -> None:
    texts = [drawn(view, width) for view in VIEWS for width in WIDTHS]
    names = [
        element.attrib["id"]
        for text in texts
        for element in samples.parsed(text).iter()
        if "id" in element.attrib
    ]
    assert len(names) == len(set(names))


def test_the_same_study_gives_the_same_drawing() -> None:
    assert drawn("plan") == drawn("plan")


def test_every_pattern_and_clip_that_is_used_is_there() -> None:
    for view in VIEWS:
        text = drawn(view, finding=samples.no_beam())
        names = {
            f"#{e.attrib['id']}"
            for e in samples.parsed(text).iter()
            if "id" in e.attrib
        }
        used = {part.split(")")[0] for part in text.split("url(")[1:]}
        assert used <= names


@pytest.mark.parametrize("theme", ["paper", "slate", "plain"])
@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("width", WIDTHS)
def test_it_becomes_pixels_of_the_size_asked_for(
    width: int, view: View, theme: ThemeName
) -> None:
    typst = pytest.importorskip("typst")
    made = scene(samples.sample(), view, finding=samples.no_beam())
    text = svg(made, width_px=width, theme=theme)
    page = "#set page(width: auto, height: auto, margin: 0mm)\n"
    quoted = text.replace("\\", "\\\\").replace('"', '\\"')
    source = f'{page}#image(bytes("{quoted}"), format: "svg")'
    png = typst.compile(source.encode(), format="png", ppi=96)
    found, high = struct.unpack(">II", png[16:24])
    assert found == pytest.approx(width, abs=2)
    assert high > 100
