"""What people in the trade do, as far as it can be held: common practice, no source.

No publication stands behind these figures. They are held here so that the invented
units and our answers do not contradict what a technician is used to; the product
takes its figures from sheets and from its user, never from here. Two more stand
elsewhere: that an antenna of three patches makes a wide field and one of six a narrow
one, in tests/published/test_antenna_arrays.py; that the cable makes a loop, and that
units higher than 2.8 m and outside are steadier, in test_exposure.py.
"""

import pytest

from limen.desk.sheets import sheets
from limen.findings import Verdict
from limen.model.sheet import Sheet
from questions.asking import ask

TEMPLATE_FROM_EDGE = 0.05  # m, at most: common practice, no source
CABLE_HOLE = 0.012  # m, at most: common practice, no source
HIGHEST = 3.5  # m, at most: common practice, no source
STAND_STILL = 5.0  # s, at least: common practice, no source
SERVICE_PAUSE = 900.0  # s, at most: common practice, no source
OUTSIDE = "fitting[outside]"
SHEETS = [pytest.param(one.sheet, id=one.name) for one in sheets()]


@pytest.mark.parametrize("sheet", SHEETS)
def test_holes_are_drilled_close_to_the_edge_of_the_profile(sheet: Sheet) -> None:
    edge = sheet.mounting.edge
    assert edge is None or edge.value <= TEMPLATE_FROM_EDGE


@pytest.mark.parametrize("sheet", SHEETS)
def test_the_cable_goes_through_a_small_hole(sheet: Sheet) -> None:
    hole = sheet.mounting.cable_hole
    assert hole is None or hole.diameter.value <= CABLE_HOLE


@pytest.mark.parametrize("sheet", SHEETS)
def test_no_unit_hangs_higher_than_is_usual(sheet: Sheet) -> None:
    most = sheet.mounting.most_height
    assert most is None or most.value <= HIGHEST


@pytest.mark.parametrize("sheet", SHEETS)
def test_presence_comes_back_from_work_by_itself_and_soon(sheet: Sheet) -> None:
    pause = sheet.service_pause
    assert pause is None or pause.value <= SERVICE_PAUSE


@pytest.mark.parametrize("sheet", SHEETS)
def test_one_who_stands_still_for_a_test_is_not_learnt_meanwhile(sheet: Sheet) -> None:
    learns = sheet.presence.learns_after if sheet.presence else None
    assert learns is None or learns.value > STAND_STILL


@pytest.mark.parametrize(
    ("height", "verdict"), [("3500 mm", Verdict.HOLDS), ("3520 mm", Verdict.FAILS)]
)
def test_a_unit_meant_for_the_usual_heights_hangs_no_higher(
    height: str, verdict: Verdict
) -> None:
    changes = {f"{OUTSIDE}.lens.height": height}
    assert ask("mounting.height", changes, fitting="outside").verdict is verdict


def test_neighbours_keep_to_different_channels_or_their_rows_apart() -> None:
    case = "outside and inside"
    same: dict[str, object] = {"fitting[inside].settings.channel": 1}
    close = {"rows_at": "15 mm", **same}
    apart = {"rows_at": "60 mm", **same}
    other: dict[str, object] = {"rows_at": "15 mm"}
    said = [ask("presence.neighbours", one, case=case) for one in (close, apart, other)]
    assert [one.verdict for one in said] == [
        Verdict.FAILS,
        Verdict.HOLDS,
        Verdict.HOLDS,
    ]


@pytest.mark.parametrize(
    ("width", "verdict"), [("2000 mm", Verdict.HOLDS), ("2900 mm", Verdict.FAILS)]
)
def test_rows_cover_the_whole_clear_width(width: str, verdict: Verdict) -> None:
    """The rows of the reference doorway are 2400 mm long."""
    changes: dict[str, object] = {"clear_width": width}
    found = ask("presence.threshold", changes, case="upright")
    assert found.verdict is verdict
