"""What is read as a quantity, and what is refused with which advice."""

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from limen.quantity import Dimension, Grade, QuantityError, accepted_text, parse

LENGTH = Dimension.LENGTH


@pytest.mark.parametrize(
    ("text", "dimension", "value", "u"),
    [
        ("1800 mm", LENGTH, 1.8, 0),
        ("1800mm", LENGTH, 1.8, 0),
        ("1.8 m", LENGTH, 1.8, 0),
        (" 180  cm ", LENGTH, 1.8, 0),
        ("1.8\N{NO-BREAK SPACE}m", LENGTH, 1.8, 0),
        ("1.8\N{NARROW NO-BREAK SPACE}m", LENGTH, 1.8, 0),
        ("+1.8 m", LENGTH, 1.8, 0),
        ("-1.8 m", LENGTH, -1.8, 0),
        ("\N{MINUS SIGN}1.8 m", LENGTH, -1.8, 0),
        ("1.8e3 mm", LENGTH, 1.8, 0),
        (".5 m", LENGTH, 0.5, 0),
        ("28 in", LENGTH, 0.7112, 0),
        ("6 ft", LENGTH, 1.8288, 0),
        ("6.5 ft", LENGTH, 1.9812, 0),
        ("6 ft 8 1/2 in", LENGTH, 2.0447, 0),
        ("6 ft 8.5 in", LENGTH, 2.0447, 0),
        ("6' 8 1/2\"", LENGTH, 2.0447, 0),
        ("6'8 1/2\"", LENGTH, 2.0447, 0),
        ("6'-8½\"", LENGTH, 2.0447, 0),
        ("6′ 8½″", LENGTH, 2.0447, 0),
        ("6’ 8½”", LENGTH, 2.0447, 0),
        ("6' 8 1/2''", LENGTH, 2.0447, 0),
        ("8-1/2 in", LENGTH, 0.2159, 0),
        ("1/2 in", LENGTH, 0.0127, 0),
        ("1\N{FRACTION SLASH}4 in", LENGTH, 0.00635, 0),
        ("-6 ft 8 1/2 in", LENGTH, -2.0447, 0),
        ("0.5°", Dimension.ANGLE, math.radians(0.5), 0),
        ("180 deg", Dimension.ANGLE, math.pi, 0),
        ("30 s", Dimension.TIME, 30, 0),
        ("1.5 min", Dimension.TIME, 90, 0),
        ("50 mm/s", Dimension.SPEED, 0.05, 0),
        ("7 lbf·ft", Dimension.ENERGY, 7 * 0.3048 * 4.4482216152605, 0),
        ("10 %", Dimension.RATIO, 0.1, 0),
        ("120 per hour", Dimension.FREQUENCY, 120 / 3600, 0),
        ("8.2 kΩ", Dimension.RESISTANCE, 8200, 0),
        ("8.2 k\N{OHM SIGN}", Dimension.RESISTANCE, 8200, 0),
        ("250 \N{GREEK SMALL LETTER MU}A", Dimension.CURRENT, 250e-6, 0),
        ("1800 mm ± 3 mm", LENGTH, 1.8, 0.003),
        ("1.8 m +/- 1/8 in", LENGTH, 1.8, 0.003175),
        ("20 °C ± 2 °C", Dimension.TEMPERATURE, 293.15, 2),
        ("68 °F ± 9 °F", Dimension.TEMPERATURE, 293.15, 5),
        ("10 % ± 2 %", Dimension.RATIO, 0.1, 0.02),
    ],
)
def test_what_people_write_is_read(
    text: str, dimension: Dimension, value: float, u: float
) -> None:
    found = parse(text, dimension)
    assert found.value == pytest.approx(value, rel=4e-16, abs=0)
    assert found.u == pytest.approx(u, rel=4e-16, abs=0)
    assert found.grade is Grade.MEASURED


@pytest.mark.parametrize("grade", Grade)
def test_a_grade_may_follow_a_comma(grade: Grade) -> None:
    assert parse(f"140 mm ± 5 mm, {grade}", LENGTH, Grade.SHEET).grade is grade


def test_without_a_grade_word_the_reader_says_the_grade() -> None:
    assert parse("140 mm", LENGTH, Grade.SHEET).grade is Grade.SHEET


@pytest.mark.parametrize(
    ("text", "why"),
    [
        (1800, "bare number"),
        (1.8, "bare number"),
        (True, "neither true nor false"),
        ("1800", "bare number"),
        ("1800 ± 3 mm", "bare number"),
        ("", "nothing is written"),
        (" \t ", "nothing is written"),
        ("1,8 m", "write 1.8 m"),
        ("1,800 mm", "thousands or decimals; write 1800 mm or 1.800 mm"),
        ("1,8 M", "write 1.8 M"),
        ("1.8 m ± 0,1 m", "write 1.8 m ± 0.1 m"),
        ("1 800 mm", "without spaces"),
        ("1_800 mm", "without spaces"),
        ("1.800.5 mm", "without spaces"),
        ("1 m 80 cm", "no unit known"),
        ("nan", "not a measured number"),
        ("nan m", "not a measured number"),
        ("-inf m", "not a measured number"),
        ("Infinity mm", "not a measured number"),
        ("1e308 m", "between -10 km and 10 km"),
        ("1e400 m", "between -10 km and 10 km"),
        ("1e999999999999 m", "between -10 km and 10 km"),
        ("1e-999999999999 m", "between -10 km and 10 km"),
        ("11 km", "between -10 km and 10 km"),
        ("3 mm ± 11 km", "between -10 km and 10 km"),
        ("3 mm ± -1 mm", "not negative"),
        ("3 mm ±", "each side of ±"),
        ("± 3 mm", "each side of ±"),
        ("3 mm ± 1 mm ± 1 mm", "no unit known"),
        ("3 mm ± 5 %", "measures ratio, and length is asked for"),
        ("30 s", "measures time, and length is asked for"),
        ("5 parsec", '"parsec" is no unit known here'),
        ("1.8 metres", "write 1.8 m"),
        ("1.8 M", "write 1.8 m"),
        ("1800 MM", "write 1800 mm"),
        ("28 inches", "write 28 in"),
        ("5\N{EN DASH}6 mm", "minus or a range"),
        ("\N{EN DASH}6 mm", "minus or a range"),
        ("- 6 mm", "directly before its number"),
        ("1/2 mm", "of an inch only"),
        ("½ m", "of an inch only"),
        ("1/3 in", "divides the inch by"),
        ("1/0 in", "divides the inch by"),
        ("11/2 in", "is a space missing"),
        ("6 ft 14 in", "12 inches or more"),
        ("6.5 ft 2 in", "feet are whole"),
        ("6 ft -8 in", "one sign stands in front"),
        ("6' 8", "each carry their mark"),
        ("140 mm, guess", "no grade"),
        ("140 mm, estimat", "did you mean estimate"),
        ("140 mm,", "no grade"),
        ("1\x00 mm", "control or invisible"),
        ("1\N{ZERO WIDTH SPACE} mm", "control or invisible"),
        ("1 mm\n", "control or invisible"),
        ("\N{ARABIC-INDIC DIGIT ONE} mm", "digits 0 to 9"),
        ("\N{FULLWIDTH DIGIT ONE} mm", "digits 0 to 9"),
        ("about 5 mm", "digits 0 to 9"),
        ("5. mm", "no unit known"),
        ("1" * 500 + " mm", "more than 120 characters"),
    ],
)
def test_what_is_doubtful_is_refused_with_advice(text: str | float, why: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse(text, LENGTH)
    assert why in caught.value.why
    assert caught.value.accepted == accepted_text(LENGTH)


@pytest.mark.parametrize(
    "text", ["1,8 m", "1,8 M", "1,8", "1,800 mm", "1.8 M", "140 mm, estimat"]
)
def test_the_example_of_a_refusal_is_accepted(text: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse(text, LENGTH)
    parse(caught.value.example, LENGTH)


def test_arc_minutes_are_no_feet() -> None:
    with pytest.raises(QuantityError, match="measures length"):
        parse("6'", Dimension.ANGLE)


@pytest.mark.parametrize("text", ["-1 K", "-274 °C", "-460 °F", "1001 K"])
def test_no_temperature_is_below_absolute_zero(text: str) -> None:
    with pytest.raises(QuantityError, match="between 0 K and 1000 K"):
        parse(text, Dimension.TEMPERATURE)


@given(st.text(max_size=130), st.sampled_from(Dimension))
@example("1e5000 m", Dimension.LENGTH)
@example("0e99999 m", Dimension.LENGTH)
def test_any_text_is_read_or_refused_in_words(text: str, dimension: Dimension) -> None:
    try:
        found = parse(text, dimension)
    except QuantityError as error:
        refusal = error
    else:
        assert math.isfinite(found.value)
        return
    assert refusal.why
    assert refusal.found.isprintable()
    parse(refusal.example, dimension)


_PIECES = st.sampled_from(
    [*"0123456789 .,-+/±'\"½eE", "ft", "in", "mm", "m", "°", "%", "nan", "estimate"]
)


@given(st.lists(_PIECES, max_size=14).map("".join), st.sampled_from(Dimension))
def test_any_mixture_of_the_right_pieces_is_read_or_refused(
    text: str, dimension: Dimension
) -> None:
    try:
        parse(text, dimension)
    except QuantityError as error:
        parse(error.example, dimension)


@given(st.integers(-9_999_999, 9_999_999), st.sampled_from(["mm", "m", "in", "ft"]))
def test_scaling_the_number_scales_the_value(number: int, unit: str) -> None:
    small = parse(f"{number}e-4 {unit}", LENGTH).value
    large = parse(f"{number}e-3 {unit}", LENGTH).value
    assert large == pytest.approx(10 * small, rel=1e-15)
