"""Fitting a beam to the field that a manual draws."""

from math import degrees, radians

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limen.physics.radar import Contour, Lobe, PatchBeam
from limen.physics.radar_fit import Antenna, Fit, Reference, field_size, fits

DRAWN = Reference(2.0, 3.0, 2.2, radians(30))


def as_made(fit: Fit, reach: float, across: float) -> bool:
    beam = fit.contour.beam
    assert isinstance(beam, Lobe)
    near = fit.contour.ahead == pytest.approx(reach, rel=0.05)
    return near and degrees(beam.across) == pytest.approx(across, rel=0.1)


def test_one_field_can_be_made_by_a_narrow_lobe_and_by_a_wide_one() -> None:
    """Both count: the narrow one reaches 4.0 m ahead, the wide one 3.0 m."""
    made, tilt = Contour(3.0, Lobe(radians(80), radians(25))), radians(30)
    drawn = Reference(*field_size(made, 2.0625, tilt), 2.0625, tilt)
    found = fits(drawn, None, (radians(80) / 1.2, radians(25) / 1.2))
    reaches = sorted(fit.contour.ahead for fit in found)
    assert reaches == pytest.approx([3.0, 4.0], rel=0.02)


@settings(max_examples=15)
@given(
    across=st.floats(40.0, 140.0),
    ahead=st.floats(25.0, 80.0),
    reach=st.floats(2.9, 4.5),
    height=st.floats(2.0, 2.6),
)
def test_a_field_that_a_lobe_made_gives_the_lobe_back(
    across: float, ahead: float, reach: float, height: float
) -> None:
    """The manual's widths stretched by a factor: the fit undoes the factor."""
    tilt = radians(30)
    made = Contour(reach, Lobe(radians(across), radians(ahead)))
    depth, width = field_size(made, height, tilt)
    if depth < 0.8 or width < 0.8:
        return
    drawn = Reference(depth, width, height, tilt)
    found = fits(drawn, None, (radians(across) / 1.2, radians(ahead) / 1.2))
    assert all(fit.residual < 5e-3 for fit in found)
    assert any(as_made(fit, reach, across) for fit in found)


@pytest.mark.parametrize("exponent", [0.3, 0.9, 2.0])
def test_a_field_that_patches_made_gives_their_exponent_back(exponent: float) -> None:
    made = Contour(4.0, PatchBeam(1, 3, 0.5, exponent))
    tilt = radians(35)
    depth, width = field_size(made, 2.2, tilt)
    (fit,) = fits(Reference(depth, width, 2.2, tilt), Antenna(1, 3, 0.5))
    beam = fit.contour.beam
    assert isinstance(beam, PatchBeam)
    assert beam.exponent == pytest.approx(exponent, rel=0.05)
    assert fit.contour.ahead == pytest.approx(4.0, rel=0.02)


def test_a_manual_that_tells_nothing_of_the_beam_is_read_in_three_ways() -> None:
    found = fits(DRAWN)
    assert len(found) == 3
    reaches = [fit.contour.ahead for fit in found]
    assert reaches == sorted(reaches)
    for fit in found:
        assert fit.residual < 0.01
        depth, width = field_size(fit.contour, DRAWN.height, DRAWN.tilt)
        assert depth == pytest.approx(2.0, rel=0.01)
        assert width == pytest.approx(3.0, rel=0.01)


def test_a_field_that_no_beam_makes_has_a_large_residual() -> None:
    """1.5 m deep and 6 m wide at 2.2 m: no lobe reaches so far to the sides."""
    flat = Reference(1.5, 6.0, 2.2, radians(30))
    assert min(fit.residual for fit in fits(flat)) > 0.4
    (patched,) = fits(flat, Antenna(2, 4, 0.5))
    assert patched.residual > 0.4


def test_narrow_patches_cannot_make_a_wide_field_but_few_can() -> None:
    """Common practice, no source: three patches make a wide field, six a narrow one."""
    wide = Reference(2.4, 3.8, 2.5, radians(35))
    (three,), (six,) = (fits(wide, Antenna(n, 1, 0.5)) for n in (1, 6))
    assert three.residual < 0.10 < six.residual


def test_a_contour_that_does_not_come_down_to_the_floor_has_no_field() -> None:
    assert field_size(Contour(1.5, Lobe(1.0, 1.0)), 2.2, 0.5) == (0.0, 0.0)


def test_higher_reach_makes_a_field_deeper_and_wider() -> None:
    sizes = [field_size(Contour(r, Lobe(1.2, 0.8)), 2.2, 0.5) for r in (2.8, 3.2, 3.6)]
    assert sizes == sorted(sizes)
    assert [w for _, w in sizes] == sorted(w for _, w in sizes)
