"""Inches, feet, pounds and pounds-force as the American rules use them.

NIST Special Publication 811, Guide for the Use of the International System of Units,
2008, appendix B.8 and B.9: 1 in = 25.4 mm, 1 lb = 0.453 592 37 kg, 1 lbf = that times
9.806 65 m/s², all exact. Forces and energies are given as rules print them, to the
last digit printed.
"""

import pytest

from limen.quantity import Dimension, Show, parse, show_quantity

EXACT = 1e-12


@pytest.mark.parametrize(
    ("inches", "metres"),
    [
        ("43 in", 1.0922),
        ("28 in", 0.7112),
        ("6 in", 0.1524),
        ("5 in", 0.1270),
        ("24 in", 0.6096),
        ("30 in", 0.7620),
        ("8 in", 0.2032),
        ("32 in", 0.8128),
    ],
)
def test_lengths_are_exact(inches: str, metres: float) -> None:
    """A156.10-2005, sections 8.1.1 to 8.3.3; ADA 404.3.1."""
    assert parse(inches, Dimension.LENGTH).value == pytest.approx(metres, abs=EXACT)


@pytest.mark.parametrize(
    ("pounds", "newtons"),
    [("5 lbf", 22.24), ("15 lbf", 66.72), ("30 lbf", 133.45), ("50 lbf", 222.41)],
)
def test_forces_to_a_hundredth_of_a_newton(pounds: str, newtons: float) -> None:
    """ADA 404.2.9; A156.38; A156.10; break-out."""
    assert parse(pounds, Dimension.FORCE).value == pytest.approx(newtons, abs=0.005)


@pytest.mark.parametrize(
    ("text", "joules", "within"),
    [
        ("7 lbf·ft", 9.4907, 5e-5),
        ("1.25 lbf·ft", 1.6948, 5e-5),
        ("1.69 J", 1.6948, 5e-3),
    ],
)
def test_energies_to_the_last_digit(text: str, joules: float, within: float) -> None:
    """A156.10, full power; A156.19 4.5, which prints 1.69 J."""
    assert parse(text, Dimension.ENERGY).value == pytest.approx(joules, abs=within)


def test_50_lbf_are_more_than_the_220_n_that_codes_print_beside_them() -> None:
    """IBC commentary 2021, 1010.3.2."""
    force = parse("50 lbf", Dimension.FORCE)
    assert 220 < force.value < 223
    assert show_quantity(force, Dimension.FORCE, Show.FEET) == "50 lbf"


@pytest.mark.parametrize(
    ("speed", "metres_a_second"), [("6 in/s", 0.1524), ("12 in/s", 0.3048)]
)
def test_speeds_are_exact(speed: str, metres_a_second: float) -> None:
    """A156.10 8.1.2, slow walker; A156.38, opening and closing."""
    found = parse(speed, Dimension.SPEED).value
    assert found == pytest.approx(metres_a_second, abs=EXACT)
