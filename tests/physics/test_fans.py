"""The fan under every reading of the manual."""

from math import atan, cos, radians, tan
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.model.fitting import Read
from limen.model.sheet import Presence
from limen.physics.beams import Attitude, beams_of
from limen.physics.fans import (
    BODY_LONG_SIDE,
    MEASURED_TO,
    SPACINGS,
    FanReading,
    choices,
    readings,
)

WIDTH = {"form": "width", "choices": {"wide": "2200 mm"}, "at_height": "2200 mm"}
ANGLES = {"form": "angles", "choices": {"wide": "20 deg", "narrow": "10 deg"}}
LENS = (0.0, 0.14, 2.2)
LEVEL = Attitude(0.0, 0.0, 0.0, turned=False)
SMALL = st.floats(-0.15, 0.15)


def presence(fan: dict[str, Any], **more: Any) -> Presence:
    rows = tuple(more.pop("rows", [{"angle": "0 deg", "spots": 11}]))
    tilt = {"least": "-10 deg", "most": "10 deg"}
    return Presence.model_validate({"rows": rows, "fan": fan, "tilt": tilt, **more})


def read(
    sheet: Presence,
    choice: str | None = None,
    ends: tuple[str, str] | None = None,
    lens: tuple[float, float, float] = LENS,
    attitude: Attitude = LEVEL,
) -> tuple[FanReading, ...]:
    found = {} if ends is None else {"left_end": ends[0], "right_end": ends[1]}
    tape = Read.model_validate(found)
    return readings(sheet, choice, tape, lens=lens, attitude=attitude)


def floor(angles: np.ndarray, height: float = 2.2) -> np.ndarray:
    return height * np.tan(angles)


def test_a_manual_that_says_neither_has_six_readings() -> None:
    found = read(presence(WIDTH))
    ways = {(one.measured_to, one.spacing) for one in found}
    assert ways == {(way, spacing) for way in MEASURED_TO for spacing in SPACINGS}
    assert len(found) == len(ways)


def test_a_manual_that_says_both_has_one() -> None:
    stated = {**WIDTH, "measured_to": "light edges", "spacing": "equal on floor"}
    (only,) = read(presence(stated))
    assert (only.measured_to, only.spacing) == ("light edges", "equal on floor")


def test_a_width_to_spot_centres_ends_at_the_outermost_centre() -> None:
    stated = {**WIDTH, "measured_to": "spot centres", "spacing": "equal on floor"}
    (only,) = read(presence(stated))
    assert floor(only.angles[0]) == pytest.approx(np.linspace(-1.1, 1.1, 11))


def test_a_width_to_the_light_ends_half_a_spot_before_it() -> None:
    stated = {**WIDTH, "measured_to": "light edges", "spacing": "equal in angle"}
    (only,) = read(presence(stated, spot_divergence="2 deg"))
    assert only.angles[0][-1] == pytest.approx(atan(1.1 / 2.2) - radians(1))


def test_a_width_to_a_test_body_ends_its_long_side_before_it() -> None:
    stated = {**WIDTH, "measured_to": "test body", "spacing": "equal in angle"}
    (only,) = read(presence(stated))
    assert floor(only.angles[0])[-1] == pytest.approx(1.1 - BODY_LONG_SIDE)


def test_a_tilted_first_row_is_as_wide_as_the_manual_says() -> None:
    rows = [{"angle": "25 deg", "spots": 11}]
    stated = {**WIDTH, "measured_to": "spot centres", "spacing": "equal on floor"}
    (only,) = read(presence(stated, rows=rows))
    thrown = beams_of(LENS, LEVEL, (radians(25),), only.angles, (0,))
    assert np.ptp(thrown.at_height(0.0)[:, 0]) == pytest.approx(2.2)


def test_every_row_has_its_own_number_of_spots() -> None:
    rows = [{"angle": "0 deg", "spots": 5}, {"angle": "4 deg", "spots": 9}]
    assert [len(row) for row in read(presence(WIDTH, rows=rows))[0].angles] == [5, 9]


@pytest.mark.parametrize("spacing", SPACINGS)
def test_spacing_is_equal_as_it_says(spacing: str) -> None:
    found = next(
        r for r in read(presence(ANGLES), "wide") if r.spacing == spacing
    ).angles[0]
    on_scale = np.tan(found) if spacing == "equal on floor" else found
    assert np.ptp(np.diff(on_scale)) == pytest.approx(0, abs=1e-12)
    assert found[[0, -1]] == pytest.approx(radians(20) * np.array([-1, 1]))


def test_an_unknown_fan_has_no_reading_until_both_ends_are_read() -> None:
    unknown = presence({"form": "unknown"})
    tape = Read.model_validate({"left_end": "-900 mm"})
    assert read(unknown) == ()
    assert readings(unknown, None, tape, lens=LENS, attitude=LEVEL) == ()
    assert len(read(unknown, ends=("-900 mm", "900 mm"))) == len(SPACINGS)


def test_a_choice_that_nobody_set_has_no_reading() -> None:
    assert read(presence(ANGLES)) == ()
    assert read(presence(WIDTH)) != ()


def test_a_choice_that_the_sheet_does_not_have_is_refused() -> None:
    with pytest.raises(KeyError):
        read(presence(ANGLES), "huge")


def test_choices_are_listed_widest_first() -> None:
    assert choices(presence(ANGLES)) == ("wide", "narrow")
    assert choices(presence({"form": "unknown"})) == ()


@given(
    SMALL, SMALL, SMALL, st.floats(-0.3, 0.3), st.floats(-0.3, 0.3),
    st.sampled_from([True, False]), st.integers(400, 1200), st.integers(400, 1200),
)  # fmt: skip
def test_read_ends_lie_where_the_tape_showed_them_however_the_unit_is_turned(
    tilt: float, roll: float, yaw: float, row: float, along: float,
    turned: bool, left: int, right: int,
) -> None:  # fmt: skip
    rows = [{"angle": f"{row!r} rad", "spots": 9}]
    sheet = presence({"form": "unknown"}, rows=rows)
    lens, attitude = (along, 0.2, 2.3), Attitude(tilt, roll, yaw, turned)
    for one in read(sheet, None, (f"-{left} mm", f"{right} mm"), lens, attitude):
        x = beams_of(lens, attitude, (row,), one.angles, (0,)).at_height(0.0)[:, 0]
        assert min(x) == pytest.approx(-left / 1000, abs=1e-9)
        assert max(x) == pytest.approx(right / 1000, abs=1e-9)
        assert (np.diff(one.angles[0]) > 0).all()


def test_read_ends_stand_for_the_manual() -> None:
    stated = {**WIDTH, "measured_to": "spot centres", "spacing": "equal on floor"}
    (only,) = read(presence(stated), ends=("-500 mm", "600 mm"))
    assert only.measured_to == "row ends read"
    assert floor(only.angles[0])[[0, -1]] == pytest.approx([-0.5, 0.6])


def test_a_higher_mounting_widens_a_row_in_proportion() -> None:
    (one, *_) = read(presence(WIDTH), lens=(0.0, 0.1, 2.2))
    (two, *_) = read(presence(WIDTH), lens=(0.0, 0.1, 3.3))
    assert np.allclose(one.angles[0], two.angles[0])
    assert tan(one.angles[0][-1]) * 3.3 == pytest.approx(1.65 * cos(0.0))
