from hypothesis import given
from hypothesis import strategies as st

from limen.web.spans import ROOM, percent, shown, span_on

values = st.floats(-1e3, 1e3, allow_nan=False)


def test_a_wide_range_has_a_number_at_each_of_its_ends() -> None:
    span = span_on(0, 100, 1, (20, 80))
    assert span is not None
    assert [(e.at, e.anchor, e.words) for e in span.ends] == [
        (20, "start", "20"),
        (80, "end", "80"),
    ]


def test_in_a_narrow_range_one_line_says_both() -> None:
    span = span_on(-8, 8, 0.1, (-4.1, -3.3, "58 mm", "70 mm"))
    assert span is not None
    assert span.ends[0].words == "58 mm – 70 mm"
    assert span.ends[1].words == ""
    assert span.words == ("58 mm", "70 mm")


def test_a_range_that_reaches_beyond_the_slider_keeps_its_own_numbers() -> None:
    span = span_on(0, 10, 1, (5, 30))
    assert span is not None
    assert (span.start, span.end) == (50, 100)
    assert span.words == ("5", "30")


def test_no_range_is_drawn_where_none_of_it_can_be_turned_to() -> None:
    assert span_on(0, 10, 1, (11, 12)) is None
    assert span_on(0, 10, 1, (-2, -1)) is None
    assert span_on(0, 10, 1, None) is None


def test_a_value_has_the_decimals_of_its_step_and_a_true_minus_sign() -> None:
    assert shown(-2.4, 0.1) == "−2.4"
    assert shown(1960.0, 10) == "1960"
    assert shown(-0.04, 0.1) == "0.0"
    assert shown(0.5, 0.25) == "0.50"


@given(low=values, wide=st.floats(0.001, 1e3), value=values)
def test_every_place_is_on_the_slider(low: float, wide: float, value: float) -> None:
    assert 0 <= percent(value, low, low + wide) <= 100


@given(start=values, wide=st.floats(0, 1e3))
def test_what_is_written_stays_on_the_slider(start: float, wide: float) -> None:
    span = span_on(-1e3, 1e3, 0.1, (start, start + wide))
    assert span is not None
    first, second = span.ends
    if second.words:
        assert second.at - first.at >= ROOM
    else:
        room = {"start": 100 - first.at, "end": first.at}
        assert room.get(first.anchor, 2 * min(first.at, 100 - first.at)) >= ROOM


def test_inches_are_written_in_sixteenths_as_a_tape_has_them() -> None:
    said = {6.125: "6 1/8", -0.1875: "−3/16", 0.0: "0", 12.0: "12", 6.102362: "6 1/8"}
    assert {value: shown(value, 1 / 16) for value in said} == said
