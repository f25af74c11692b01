"""Text out: short for people, exact for files."""

import math

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from limen.quantity import (
    Dimension,
    Grade,
    Quantity,
    QuantityError,
    Show,
    parse,
    show,
    show_length,
    show_quantity,
    write,
)
from limen.quantity.units import KINDS


@st.composite
def _quantities(draw: st.DrawFn) -> tuple[Quantity, Dimension]:
    dimension = draw(st.sampled_from(Dimension))
    low, high = (float(end) for end in (KINDS[dimension].low, KINDS[dimension].high))
    value = draw(st.floats(low, high))
    u = draw(st.one_of(st.just(0.0), st.floats(0, high)))
    return Quantity(value, u, draw(st.sampled_from(Grade))), dimension


@given(_quantities(), st.sampled_from(Grade))
@example((Quantity(5e-324), Dimension.LENGTH), Grade.SHEET)
@example((Quantity(1e-300), Dimension.TEMPERATURE), Grade.SHEET)
@example((Quantity(293.15, 5e-324), Dimension.TEMPERATURE), Grade.SHEET)
def test_what_is_written_reads_back_as_the_same_floats(
    case: tuple[Quantity, Dimension], default: Grade
) -> None:
    quantity, dimension = case
    assert parse(write(quantity, dimension, default), dimension, default) == quantity


@pytest.mark.parametrize(
    ("text", "dimension"),
    [
        ("1800 mm", Dimension.LENGTH),
        ("64.5 mm ± 3 mm, estimate", Dimension.LENGTH),
        ("12.5°", Dimension.ANGLE),
        ("20 °C ± 2 K", Dimension.TEMPERATURE),
        ("24125000000 Hz, sheet", Dimension.FREQUENCY),
    ],
)
def test_text_in_limens_own_form_is_written_as_it_was(
    text: str, dimension: Dimension
) -> None:
    assert write(parse(text, dimension), dimension) == text


def test_what_could_not_be_read_is_not_written() -> None:
    with pytest.raises(QuantityError):
        write(Quantity(1e300), Dimension.LENGTH)


@pytest.mark.parametrize(
    ("value", "metric", "feet"),
    [
        (0.064, "64 mm", "2 1/2 in"),
        (2.0447, "2045 mm", "6 ft 8 1/2 in"),
        (0.3048, "305 mm", "1 ft"),
        (0.3047, "305 mm", "1 ft"),
        (9.9994, "9999 mm", "32 ft 9 11/16 in"),
        (9.9996, "10.00 m", "32 ft 9 11/16 in"),
        (12.345, "12.35 m", "40 ft 6 in"),
        (-0.064, "−64 mm", "−2 1/2 in"),
        (-0.0001, "0 mm", "0 in"),
        (0.0, "0 mm", "0 in"),
    ],
)
def test_lengths_are_shown_for_floor_work(value: float, metric: str, feet: str) -> None:
    assert show_length(value) == metric
    assert show_length(value, Show.FEET) == feet


@given(st.floats(-100, 100))
def test_feet_are_shown_to_the_nearest_sixteenth(value: float) -> None:
    shown = parse(show_length(value, Show.FEET), Dimension.LENGTH).value
    assert abs(shown - value) <= 0.0254 / 32 * (1 + 1e-9)


@given(st.floats(-9, 9))
def test_metres_are_shown_to_the_nearest_millimetre(value: float) -> None:
    shown = parse(show_length(value), Dimension.LENGTH).value
    assert abs(shown - value) <= 0.0005 * (1 + 1e-9)


@pytest.mark.parametrize(
    ("value", "dimension", "metric", "feet"),
    [
        (math.radians(1.5), Dimension.ANGLE, "1.5°", "1.5°"),
        (0.5, Dimension.SPEED, "0.5 m/s", "1.64 ft/s"),
        (0.0524, Dimension.SPEED, "52.4 mm/s", "0.172 ft/s"),
        (1.69, Dimension.ENERGY, "1.69 J", "1.25 ft·lbf"),
        (3.6e8, Dimension.ENERGY, "100 kWh", "100 kWh"),
        (150.0, Dimension.FORCE, "150 N", "33.7 lbf"),
        (1234.4, Dimension.FORCE, "1234 N", "278 lbf"),
        (30.0, Dimension.TIME, "30 s", "30 s"),
        (0.25, Dimension.CURRENT, "250 mA", "250 mA"),
        (0.1, Dimension.RATIO, "10 %", "10 %"),
        (293.15, Dimension.TEMPERATURE, "20 °C", "68 °F"),
        (120 / 3600, Dimension.FREQUENCY, "120 /h", "120 /h"),
    ],
)
def test_values_are_shown_in_sensible_digits(
    value: float, dimension: Dimension, metric: str, feet: str
) -> None:
    assert show(value, dimension) == metric
    assert show(value, dimension, Show.FEET) == feet


def test_decimals_can_be_asked_for() -> None:
    assert show(0.5, Dimension.SPEED, digits=2) == "0.50 m/s"
    assert show_length(0.0645, digits=1) == "64.5 mm"


@given(_quantities(), st.sampled_from(Show))
def test_what_is_shown_is_close_to_the_value(
    case: tuple[Quantity, Dimension], system: Show
) -> None:
    quantity, dimension = case
    assume(dimension not in (Dimension.LENGTH, Dimension.TEMPERATURE))
    assume(1e-6 < abs(quantity.value) < 0.99 * float(KINDS[dimension].high))
    shown = parse(show(quantity.value, dimension, system), dimension).value
    assert shown == pytest.approx(quantity.value, rel=0.0051)


def test_an_uncertainty_is_never_shown_as_nothing() -> None:
    thin = Quantity(1.8, 0.0002)
    assert show_quantity(thin, Dimension.LENGTH) == "1800 mm ± 0.2 mm"
    assert show_quantity(thin, Dimension.LENGTH, Show.FEET).endswith("± 0.00787 in")
    warm = Quantity(293.15, 5.0)
    assert show_quantity(warm, Dimension.TEMPERATURE, Show.FEET) == "68 °F ± 9 °F"


@pytest.mark.parametrize("value", [math.nan, math.inf])
def test_only_finite_values_are_shown(value: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        show_length(value)
    with pytest.raises(ValueError, match="finite"):
        show(value, Dimension.TIME)


def test_a_speed_and_its_uncertainty_stand_in_one_unit() -> None:
    older = Quantity(0.943, 0.165)
    assert show_quantity(older, Dimension.SPEED) == "0.943 m/s ± 0.165 m/s"
