"""Active-infrared spots: worked numbers of plain optics and of EN 16005's body.

- Lambert's cosine law and the inverse square: what a level top returns.
- Perspective from the lens: where a spot of given angle lands and how large it is.
- EN 16005:2012, Annex C: body CA, 700 x 300 x 200 mm (read in the 2012 text).
Printed digits set the tolerance.
"""

from math import radians, tan

import numpy as np
import pytest

from builders.doorways import a_doorway
from limen.findings import Verdict
from limen.physics.light import blind_reflectance, contrast, spot_radius
from questions.asking import ask

HEIGHT = 2.2


def test_a_spot_ten_degrees_out_lands_388_mm_from_under_the_lens() -> None:
    assert HEIGHT * tan(radians(10)) == pytest.approx(0.3879193576, abs=1e-10)


def test_a_pitch_of_five_degrees_is_202_mm_between_ten_and_fifteen() -> None:
    pitch = HEIGHT * (tan(radians(15)) - tan(radians(10)))
    assert pitch * 1000 == pytest.approx(201.6, abs=0.05)


def test_a_spot_of_two_degrees_straight_down_is_77_mm_round() -> None:
    diameter = 2 * spot_radius(np.zeros((1, 2)), HEIGHT, radians(2))[0]
    assert diameter * 1000 == pytest.approx(76.8, abs=0.05)


@pytest.mark.parametrize(
    ("floor", "top", "blind"),
    [(0.40, 0.7, 0.186), (0.40, 0.2, 0.331), (0.20, 0.7, 0.0930)],
)
def test_a_body_that_returns_this_share_cannot_be_told_from_the_floor(
    floor: float, top: float, blind: float
) -> None:
    assert blind_reflectance(floor, HEIGHT, top) == pytest.approx(blind, abs=5e-4)
    assert contrast(blind_reflectance(floor, HEIGHT, top), floor, HEIGHT, top) < 1e-12


@pytest.mark.parametrize(
    ("rows_at", "verdict"), [("99 mm", Verdict.NOT_SHOWN), ("101 mm", Verdict.FAILS)]
)
def test_rows_further_apart_than_the_body_is_deep_let_it_stand_between(
    rows_at: str, verdict: Verdict
) -> None:
    """Between rows 200 mm apart a body 200 mm deep fits; 198 mm leaves no aim to err.

    With what aiming leaves open 99 mm cannot hold; with 101 mm it fails as stated.
    """
    found = ask("presence.threshold", {"rows_at": rows_at}, case="upright")
    assert found.verdict in (verdict, Verdict.FAILS)
    assert found.verdict is not Verdict.HOLDS


def test_rows_168_mm_apart_hold_and_say_where_to_read_them() -> None:
    """Read at 61 to 67 mm from the leaf face: 84 mm less half a 40 mm leaf, ± 3 mm."""
    found = ask("presence.threshold", {"rows_at": "84 mm"}, case="upright")
    assert found.verdict is Verdict.HOLDS
    (owed, *_) = [o for o in found.owed if o.key == "owed.read_first_row"]
    least, most = (getattr(owed.values[k], "value", 0.0) for k in ("least", "most"))
    assert (least, most) == pytest.approx((0.061, 0.067), abs=1e-6)
    assert a_doorway().leaves.thickness.value == pytest.approx(0.040)
