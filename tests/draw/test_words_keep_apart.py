"""Words never collide with words or dimension lines, nor leave the sheet."""

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from draw import samples
from draw.samples import Laid
from limen.draw import Sheet, View, lay_out, scene
from limen.draw.boxes import Rect
from limen.draw.lettering import width_of
from limen.findings import Finding, Study, Verdict
from limen.quantity import Show

VIEWS: tuple[View, ...] = ("plan", "front", "section")
WIDEST_DIGITS = 0.65  # of the type size; a slashed nought is the widest


def bodies(half: float) -> st.SearchStrategy[Finding]:
    return st.builds(
        lambda x, y, turn, face, verdict, kind, remedy: samples.no_beam(
            samples.body_at(round(x * half, 3), y, turn, face),
            verdict=verdict,
            witness=samples.witness_of(
                samples.body_at(round(x * half, 3), y, turn, face), half, kind
            ),
            remedy=samples.target_inside() if remedy else None,
        ),
        st.floats(-1.1, 1.1),
        st.floats(-0.25, 0.25),
        st.integers(0, 179),
        st.sampled_from(("upright", "on its face", "on its edge")),
        st.sampled_from((Verdict.FAILS, Verdict.HOLDS, Verdict.NOT_SHOWN)),
        st.sampled_from(("pose", "mounting")),
        st.booleans(),
    )


@st.composite
def drawings(draw: st.DrawFn) -> tuple[Study, Finding | None]:
    millimetres = draw(st.integers(800, 4000))
    half = millimetres / 2000
    side = st.builds(
        Laid,
        st.sampled_from(("outside", "inside")),
        st.lists(st.floats(0.03, 1.2), min_size=1, max_size=4).map(
            lambda rows: tuple(sorted(rows))
        ),
        st.floats(-0.3, 0.3),
        st.floats(2.0, 3.2),
        st.floats(0.05, 0.3),
        st.floats(0.5, 2.4 * half),
        st.integers(2, 40),
    )
    laid = draw(st.lists(side, max_size=3))
    units = tuple(samples.unit(one, f"u{n}") for n, one in enumerate(laid))
    kinds = st.sampled_from(
        (
            {"kind": "bi-parting", "thickness": "40 mm"},
            {"kind": "single", "hand": "left", "thickness": "50 mm"},
            {"kind": "single", "hand": "right", "thickness": "30 mm"},
        )
    )
    study = samples.sample(
        units=units,
        clear_width=f"{millimetres} mm",
        leaves=draw(kinds),
        thing=samples.things() if draw(st.booleans()) else (),
    )
    others = st.sampled_from(
        (None, samples.late(), samples.passing(), samples.neighbours())
    )
    return study, draw(st.one_of(others, bodies(half)))


def clashes(sheet: Sheet) -> list[str]:
    whole = Rect(0.0, 0.0, sheet.width, sheet.height)
    said = [f"{t.lines} leaves" for t in sheet.texts if not t.box.within(whole)]
    said += [
        f"{a.lines} on {b.lines}"
        for a, b in combinations(sheet.texts, 2)
        if a.box.meets(b.box)
    ]
    measured = [s.line for s in sheet.strokes if s.rule in ("dimension", "extension")]
    said += [
        f"{t.lines} on a dimension"
        for t in sheet.texts
        for line in measured
        if line.meets(t.box)
    ]
    return said


@settings(max_examples=150)
@given(
    drawings(),
    st.sampled_from(VIEWS),
    st.integers(320, 1600),
    st.sampled_from((Show.METRIC, Show.FEET)),
)
def test_no_words_meet_words_or_dimensions_and_none_leave_the_sheet(
    drawn: tuple[Study, Finding | None], view: View, width: int, system: Show
) -> None:
    study, finding = drawn
    made = scene(study, view, finding=finding, system=system)
    assert clashes(lay_out(made, width)) == []


@settings(max_examples=100)
@given(drawings(), st.sampled_from(VIEWS), st.integers(320, 1600))
def test_what_must_be_read_is_never_left_out(
    drawn: tuple[Study, Finding | None], view: View, width: int
) -> None:
    study, finding = drawn
    made = scene(study, view, finding=finding)
    sheet = lay_out(made, width)
    narrow = sheet.panels[0].fit.narrow
    musts = {
        " ".join(words.split())
        for label in made.content.labels
        if label.importance == 1
        and (words := label.narrow if narrow else label.text)
        and any(panel.fit.frame.holds(label.at) for panel in sheet.panels)
    }
    lost = {" ".join(words.split()) for words in sheet.left_out}
    assert not musts & lost


def test_the_check_itself_sees_a_clash() -> None:
    sheet = lay_out(scene(samples.sample(), "plan"), 1400)
    twice = Sheet(
        sheet.scene,
        sheet.width,
        sheet.height,
        sheet.size,
        sheet.panels,
        (*sheet.texts, sheet.texts[0]),
        sheet.strokes,
    )
    assert clashes(twice)


def test_equal_drawings_are_laid_out_alike() -> None:
    made = scene(samples.sample(), "plan", finding=samples.no_beam())
    assert lay_out(made, 1400) == lay_out(made, 1400)


@pytest.mark.parametrize("text", ["0123456789", "Wm@%", "row 1, 240 mm", "½ in ×"])
def test_words_are_given_at_least_the_room_of_their_digits(text: str) -> None:
    digits = sum(char.isdigit() for char in text)
    assert width_of(text, 1.0) >= 0.97 * WIDEST_DIGITS * digits


def test_type_on_a_telephone_is_never_below_12_pixels() -> None:
    for view in VIEWS:
        sheet = lay_out(scene(samples.sample(), view, finding=samples.no_beam()), 360)
        assert min(text.size for text in sheet.texts) >= 12


def test_a_narrow_sheet_is_another_drawing_and_not_the_same_one_shrunk() -> None:
    made = scene(samples.sample(), "plan", finding=samples.no_beam())
    wide, narrow = lay_out(made, 1400), lay_out(made, 360)
    assert len(narrow.texts) < len(wide.texts)
    shrunk = wide.panels[0].fit.scale * 360 / 1400
    assert narrow.panels[0].fit.scale > 2 * shrunk


@pytest.mark.parametrize("width", [360, 1200])
def test_a_unit_whose_rows_nobody_knows_says_so(width: int) -> None:
    study = samples.with_sheet("50 mm")
    blind = tuple(replace(unit, rows=(), beams=()) for unit in study.units)
    made = scene(replace(study, units=blind), "plan")
    said = [" ".join(text.lines) for text in lay_out(made, width).texts]
    assert sum("rows not known" in one for one in said) == len(blind)
