"""Units against their published, exact definitions.

Source: NIST Special Publication 811 (2008 edition), Guide for the Use of the
International System of Units, appendix B.8: factors printed in bold are exact.
From memory of the tables: inch, foot, mile, pound, pound-force, foot pound-force.
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.quantity import Dimension, parse
from limen.quantity.units import KINDS, dimension_named, unit_named

SP811_EXACT = [
    ("1 in", Dimension.LENGTH, 0.0254),
    ("1 ft", Dimension.LENGTH, 0.3048),
    ("1 lb", Dimension.MASS, 0.45359237),
    ("1 mph", Dimension.SPEED, 0.44704),
    ("1 ft/s²", Dimension.ACCELERATION, 0.3048),
    ("1 kWh", Dimension.ENERGY, 3.6e6),
    ("1 lbf", Dimension.FORCE, 4.4482216152605),
]
SP811_ROUNDED = [("1 ft·lbf", Dimension.ENERGY, 1.355818, 5e-7)]


@pytest.mark.parametrize(("text", "dimension", "si"), SP811_EXACT)
def test_exact_factors_are_exact(text: str, dimension: Dimension, si: float) -> None:
    assert parse(text, dimension).value == si


@pytest.mark.parametrize(("text", "dimension", "si", "rounding"), SP811_ROUNDED)
def test_rounded_factors_agree_within_their_last_digit(
    text: str, dimension: Dimension, si: float, rounding: float
) -> None:
    assert abs(parse(text, dimension).value - si) <= rounding


@pytest.mark.parametrize(
    ("text", "kelvin"),
    [
        ("0 °C", 273.15),
        ("32 °F", 273.15),
        ("212 °F", 373.15),
        ("-40 °F", 233.15),
        ("-40 °C", 233.15),
    ],
)
def test_temperatures_have_their_own_zero(text: str, kelvin: float) -> None:
    """The fixed points of the two scales (definition of the degree Celsius)."""
    assert parse(text, Dimension.TEMPERATURE).value == kelvin


@pytest.mark.parametrize("dimension", Dimension)
def test_every_spelling_of_a_dimension_is_read_and_unique(dimension: Dimension) -> None:
    spellings = [
        name for unit in KINDS[dimension].units for name in (unit.symbol, *unit.also)
    ]
    assert len(spellings) == len(set(spellings))
    for name in spellings:
        assert unit_named(name, dimension) is not None, name


@pytest.mark.parametrize("dimension", Dimension)
def test_no_advice_is_itself_an_accepted_spelling(dimension: Dimension) -> None:
    for unit in KINDS[dimension].units:
        for wrong in unit.meant:
            assert unit_named(wrong, dimension) is None, wrong


@pytest.mark.parametrize("dimension", Dimension)
def test_the_example_of_a_dimension_is_accepted(dimension: Dimension) -> None:
    parse(KINDS[dimension].example, dimension)


def test_a_unit_names_the_dimension_it_measures() -> None:
    assert dimension_named("GHz") is Dimension.FREQUENCY
    assert dimension_named("parsec") is None


@given(st.fractions(min_value=0, max_value=100, max_denominator=64))
def test_feet_are_twelve_inches_of_25_4_millimetres(feet: Fraction) -> None:
    """NIST SP 811, B.8: 1 ft = 12 in, 1 in = 25.4 mm, both exact."""
    sixty_fourths = round(feet * 12 * 64)
    whole, rest = divmod(sixty_fourths, 64)
    feet_part, inches = divmod(whole, 12)
    fraction = f" {Fraction(rest, 64)}" if rest else ""
    text = f"{feet_part} ft {inches}{fraction} in"
    expected = float(Fraction(sixty_fourths, 64) * Fraction("0.0254"))
    assert parse(text, Dimension.LENGTH).value == expected
