"""A value over the years is drawn where it lies, and told without colour."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.draw.over_time import Dot, Heading, Limit, OverTime, draw_over_time

DAY = date(2022, 11, 21)
SVG = "{http://www.w3.org/2000/svg}"


def _say(value: float) -> str:
    return f"{1000 * value:.0f} mm"


def _dots(*values: float, u: float | None = 0.002) -> tuple[Dot, ...]:
    return tuple(
        Dot(
            DAY.replace(year=DAY.year + n),
            value,
            "left" if n % 2 else "found",
            u,
            anew=n == 2,
            label=_say(value),
        )
        for n, value in enumerate(values)
    )


PICTURE = OverTime(
    "Inside: row line",
    "56 mm on 2022-11-21, 62 mm on 2025-11-21.",
    "From the leaf face",
    _dots(0.056, 0.058, 0.060, 0.062),
    (Limit(0.054, "good from 54 mm"), Limit(0.064, "good to 64 mm")),
    None,
    0.001,
    _say,
    binary=False,
    language="en",
)
HEADING = Heading(
    (DAY, 0.056),
    (date(2027, 3, 1), 0.064),
    date(2026, 9, 1),
    date(2028, 5, 1),
    0.064,
)


def _drawn(picture: OverTime, width: float = 680.0) -> ET.Element:
    return _read(draw_over_time(picture, width))


def _read(text: str) -> ET.Element:
    return ET.fromstring(text)  # noqa: S314 - we drew it


def _words(found: ET.Element) -> list[str]:
    return [one.text or "" for one in found.iter(f"{SVG}text")]


@pytest.mark.parametrize("width", [680.0, 340.0])
def test_it_has_a_title_a_description_and_says_its_axes_and_limits(
    width: float,
) -> None:
    found = _drawn(PICTURE, width)
    named = [found.findtext(f"{SVG}{one}") for one in ("title", "desc")]
    assert named == [PICTURE.title, PICTURE.description]
    said = _words(found)
    for one in ("From the leaf face", "good from 54 mm", "good to 64 mm", "56 mm"):
        assert one in said
    assert {"2023", "2025"} <= set(said)


@pytest.mark.parametrize("width", [680.0, 340.0])
def test_every_mark_lies_on_the_sheet_the_later_further_right(width: float) -> None:
    found = _drawn(replace(PICTURE, heading=HEADING), width)
    marks = list(found.iter(f"{SVG}circle"))
    assert len(marks) == 4
    xs = [float(one.get("cx", "")) for one in marks]
    ys = [float(one.get("cy", "")) for one in marks]
    assert all(a < b for a, b in pairwise(xs))
    assert all(a > b for a, b in pairwise(ys))
    assert 0 < min(xs) <= max(xs) < width


def test_found_and_left_are_told_apart_without_colour() -> None:
    fills = [one.get("fill") for one in _drawn(PICTURE).iter(f"{SVG}circle")]
    assert fills[0] != fills[1]


def test_verdicts_have_their_marks() -> None:
    dots = tuple(
        replace(one, mark=mark)
        for one, mark in zip(
            _dots(0.01, 0.0, -0.01), ("holds", "not shown", "fails"), strict=True
        )
    )
    text = draw_over_time(replace(PICTURE, dots=dots), 680.0)
    assert "?" in _words(_read(text))
    assert "#009E73" in text
    assert "#D55E00" in text


def test_the_line_is_broken_where_it_was_set_anew() -> None:
    whole = replace(
        PICTURE, dots=tuple(replace(one, anew=False) for one in PICTURE.dots)
    )
    broken, joined = (
        sum(1 for _ in _drawn(one).iter(f"{SVG}path")) for one in (PICTURE, whole)
    )
    assert joined == broken + 1


def test_where_it_is_heading_is_drawn_up_to_its_limit() -> None:
    plain, heading = (
        draw_over_time(one, 680.0)
        for one in (PICTURE, replace(PICTURE, heading=HEADING))
    )
    assert "9 3 2 3" in heading
    assert "9 3 2 3" not in plain
    assert 'stroke-width="5.0"' in heading


def test_days_of_one_year_are_written_in_full() -> None:
    dots = _dots(0.056, 0.058)[:1]
    later = replace(dots[0], day=DAY + timedelta(days=9), value=0.058)
    said = _words(_drawn(replace(PICTURE, dots=(*dots, later))))
    assert {"2022-11-21", "2022-11-30"} <= set(said)


@given(
    st.lists(st.floats(-1.0, 1.0), min_size=1, max_size=6),
    st.one_of(st.none(), st.floats(0.0, 0.5)),
    st.sampled_from([340.0, 680.0]),
)
def test_whatever_was_read_the_picture_is_whole(
    values: list[float], u: float | None, width: float
) -> None:
    found = _drawn(replace(PICTURE, dots=_dots(*values, u=u), limits=()), width)
    numbers = [
        float(value)
        for one in found.iter()
        for key, value in one.attrib.items()
        if key in {"x", "y", "cx", "cy"}
    ]
    assert all(-1.0 <= one <= width + 1.0 for one in numbers)
