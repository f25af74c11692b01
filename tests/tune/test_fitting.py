"""Readings put units where they hang, and what is told to be turned does mend it."""

from collections.abc import Sequence
from dataclasses import replace
from math import degrees, radians

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from builders.doorways import a_doorway
from limen.findings import Change, Message, Study, Verdict
from limen.findings.fitted import DoorwayFitted, UnitFitted
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.readings import Readings
from limen.physics.beams import Attitude
from limen.physics.fans import readings as fans_of
from limen.physics.plan import sign
from limen.physics.reach import Placed
from limen.questions.settled import settle
from limen.questions.variants import changed_settings
from limen.rules import Weight
from limen.study import study
from limen.tune.fitting import fit_doorway, fit_units, without
from limen.tune.fitting_wanted import to_read
from limen.tune.fitting_written import hung_as
from oracles.readings import Mounting, beams, line_at
from questions.asking import book

COVERAGE = ("presence.threshold", "presence.leaf_path")
Row = dict[str, object]


def mounted(
    doorway: Doorway, name: str, tilt: float, roll: float, yaw: float
) -> Mounting:
    """A unit of the doorway hung otherwise than its file says (rad)."""
    fitting = _fitting(doorway, name)
    assert fitting.lens
    face = settle(doorway).plan.side(fitting.side).face
    along = fitting.lens.along.value if fitting.lens.along else 0.0
    out = sign(fitting.side) * (face + fitting.lens.from_leaf.value)
    inside = fitting.side == "inside"
    return Mounting(tilt, roll, yaw, (along, out, fitting.lens.height.value), inside)


def _fitting(doorway: Doorway, name: str) -> Fitting:
    return next(one for one in doorway.fitting if one.id == name)


def read_at(doorway: Doorway, name: str, hung: Mounting) -> tuple[Row, ...]:
    """The useful minimum, read without error at a unit that hangs so."""
    fitting = _fitting(doorway, name)
    assert fitting.unit
    assert fitting.unit.presence
    presence, way = fitting.unit.presence, sign(fitting.side)
    face = settle(doorway).plan.side(fitting.side).face
    attitude = Attitude(0.0, 0.0, 0.0, hung.inside)
    fan = fans_of(
        presence,
        fitting.settings.fan,
        fitting.read,
        lens=hung.lens,
        attitude=attitude,
    )[0].angles[0]
    first = presence.rows[0].angle.value
    floor = beams(hung, first, fan)
    ends = sorted(float(x) for x in floor[[0, -1], 0])
    lines = [hung.lens[0] - 0.9, hung.lens[0] + 0.9]
    return (
        *(
            {
                "kind": "row line",
                "row": 1,
                "along": _mm(x),
                "out": _mm(way * line_at(hung, first, x) - face),
            }
            for x in lines
        ),
        *(
            {"kind": "row end", "row": 1, "end": end, "along": _mm(x)}
            for end, x in zip(("left", "right"), ends, strict=True)
        ),
    )


def _mm(metres: float, within: str = " ± 5 mm") -> str:
    return f"{metres * 1000:.2f} mm{within}"


def the_readings(**units: Sequence[Row]) -> Readings:
    each = tuple({"fitting": name, "reading": tuple(of)} for name, of in units.items())
    return Readings.model_validate({"site": "site.toml", "doorway": "x", "unit": each})


def musts(found: Study) -> dict[object, Verdict]:
    return {
        one.key: one.verdict
        for one in found.findings
        if one.question in COVERAGE
        and one.weight is not Weight.ADVICE
        and one.case != "near closed"
    }


def one_unit(doorway: Doorway, readings: Readings) -> UnitFitted:
    (unit,) = fit_units(doorway, readings).units
    return unit


# Where it hangs -------------------------------------------------------------------


@given(
    st.sampled_from(["outside", "inside"]),
    st.floats(-3.0, 1.0),
    st.floats(-1.0, 1.0),
    st.floats(-1.0, 1.0),
)
@settings(max_examples=25)
def test_a_unit_is_found_where_it_hangs(
    name: str, tilt: float, roll: float, yaw: float
) -> None:
    doorway = a_doorway()
    hung = mounted(doorway, name, radians(tilt), radians(roll), radians(yaw))
    unit = one_unit(doorway, the_readings(**{name: read_at(doorway, name, hung)}))
    assert unit.outcome == "fitted"
    assert unit.pose
    assert degrees(unit.pose.tilt.value) == pytest.approx(tilt, abs=0.02)
    assert degrees(unit.pose.roll.value) == pytest.approx(roll, abs=0.02)
    assert degrees(unit.pose.yaw.value) == pytest.approx(yaw, abs=0.02)


@given(st.sampled_from(["outside", "inside"]), st.floats(-1, 1), st.floats(-1, 1))
@settings(max_examples=4)
def test_what_is_written_puts_every_spot_where_the_readings_have_it(
    name: str, roll: float, yaw: float
) -> None:
    doorway = a_doorway()
    hung = mounted(doorway, name, radians(-2), radians(roll), radians(yaw))
    readings = the_readings(**{name: read_at(doorway, name, hung)})
    done = fit_doorway(doorway, readings, book())
    written = settle(hung_as(doorway, done.changes))
    (placed,) = (
        facts.choices[0] for facts in written.units if facts.fitting.id == name
    )
    assert isinstance(placed, Placed)
    rows = done.units[0].rows
    floor = placed.beams().at_height(0.0)
    fitted = np.array([spot for row in rows for spot in row.spots])
    off = np.abs(fitted[:, None] - floor[None]).max(axis=2).min(axis=1)
    assert off.max() < 1e-3


def test_what_is_written_states_its_doubt_and_no_less_than_was_read() -> None:
    doorway = a_doorway()
    hung = mounted(doorway, "inside", radians(-2), 0.0, 0.0)
    readings = the_readings(inside=read_at(doorway, "inside", hung))
    done = fit_doorway(doorway, readings, book())
    (fitting,) = (
        one for one in hung_as(doorway, done.changes).fitting if one.id == "inside"
    )
    assert fitting.read.first_row
    assert fitting.aim.across
    assert fitting.aim.across.value >= 0.005
    assert fitting.read.first_row.u >= 0.005
    assert fitting.lens
    assert fitting.lens.height.u >= 0.005


def test_the_same_readings_from_a_post_are_the_same_readings() -> None:
    doorway = a_doorway()
    hung = mounted(doorway, "outside", radians(-2), 0.0, 0.0)
    rows = read_at(doorway, "outside", hung)
    half = doorway.clear_width.value / 2
    taped = tuple(_from_left(row, half) for row in rows)
    one = one_unit(doorway, the_readings(outside=rows)).pose
    other = one_unit(doorway, the_readings(outside=taped)).pose
    assert one
    assert other
    assert one.roll.value == pytest.approx(other.roll.value, abs=1e-6)
    assert one.yaw.value == pytest.approx(other.yaw.value, abs=1e-6)


def _from_left(row: Row, half: float) -> Row:
    along = float(str(row["along"]).split(" mm")[0]) / 1000
    rest = {key: value for key, value in row.items() if key != "along"}
    return {**rest, "from_left": _mm(along + half)}


def test_an_estimated_height_was_not_taped_and_bears_no_weight() -> None:
    doorway = a_doorway({"fitting[outside].lens.height": "2400 mm, estimate"})
    honest = a_doorway()
    hung = mounted(honest, "outside", radians(-2), 0.0, 0.0)
    readings = the_readings(outside=read_at(honest, "outside", hung))
    unit = one_unit(doorway, readings)
    taped = one_unit(honest, readings)
    assert unit.pose
    assert taped.pose
    assert unit.pose.height.value == pytest.approx(hung.lens[2], abs=0.03)
    assert unit.pose.height.doubt > taped.pose.height.doubt


def test_a_kind_whose_closeness_nobody_stated_is_listed_with_its_grade() -> None:
    doorway = a_doorway()
    hung = mounted(doorway, "outside", radians(-2), 0.0, 0.0)
    bare = tuple(
        {
            k: str(v).replace(" ± 5 mm", "") if isinstance(v, str) else v
            for k, v in row.items()
        }
        for row in read_at(doorway, "outside", hung)
    )
    unit = one_unit(doorway, the_readings(outside=bare))
    keys = [one.key for one in unit.assumed]
    assert "unit[outside].reading.row line" in keys
    assert "unit[outside].reading.row end" in keys


def test_boxes_whose_closeness_is_estimated_leave_presence_not_shown() -> None:
    doorway = a_doorway()
    hung = mounted(doorway, "outside", radians(-2), 0.0, 0.0)
    rows = read_at(doorway, "outside", hung)
    box: Row = {
        "kind": "box edge in",
        "row": 1,
        "along": "0 mm",
        "out": _box(doorway, hung),
        "height": "700 mm",
    }
    done = fit_doorway(doorway, the_readings(outside=(*rows, box)), book())
    assert done.after
    assert Verdict.HOLDS not in set(musts(done.after).values())
    assert any("estimate" in change.value for change in done.changes)


def _box(doorway: Doorway, hung: Mounting) -> str:
    face = settle(doorway).plan.side("outside").face
    first = 0.0
    top, foot = (line_at(hung, first, 0.0, z) for z in (0.7, 0.05))
    return f"{(max(top, foot) - face) * 1000:.1f} mm"


# Where it cannot be said ----------------------------------------------------------


def test_too_little_says_what_to_tape() -> None:
    doorway = a_doorway()
    hung = mounted(doorway, "outside", radians(-2), 0.0, 0.0)
    rows = read_at(doorway, "outside", hung)[:2]
    unit = one_unit(doorway, the_readings(outside=rows))
    assert unit.outcome == "not determined"
    assert [one.key for one in unit.lacking] == ["unit[outside].reading.end.left"]
    assert unit.pose is None


def test_a_reading_that_is_wrong_is_named_and_nothing_is_written() -> None:
    doorway = a_doorway()
    readings = five_readings(doorway, wrong=0.1)
    done = fit_doorway(doorway, readings, book())
    (unit,) = done.units
    assert unit.outcome == "misread"
    assert [one.number for one in unit.readings if one.named] == [5]
    assert done.changes == ()
    assert done.after is None


def test_struck_it_is_left_out_and_the_rest_is_written() -> None:
    doorway = a_doorway()
    struck = without(five_readings(doorway, wrong=0.1), "outside", 5)
    done = fit_doorway(doorway, struck, book())
    (unit,) = done.units
    assert unit.outcome == "fitted"
    assert unit.readings[4].struck
    assert unit.readings[4].off[1] == pytest.approx(0.1, abs=0.01)
    assert done.changes


def five_readings(doorway: Doorway, wrong: float) -> Readings:
    """The useful minimum and a spot in the middle, that one off across by ``wrong``."""
    hung = mounted(doorway, "outside", radians(-2), 0.0, 0.0)
    rows = read_at(doorway, "outside", hung)
    presence = doorway.fitting[0].unit and doorway.fitting[0].unit.presence
    assert presence
    spots = presence.rows[0].spots
    left, right = (float(str(row["along"]).split(" mm")[0]) for row in rows[2:])
    out = float(str(rows[0]["out"]).split(" mm")[0]) + wrong * 1000
    share = (spots // 2) / (spots - 1)
    along = left + (right - left) * share
    spot: Row = {
        "kind": "spot centre",
        "row": 1,
        "spot": spots // 2 + 1,
        "along": f"{along:.1f} mm ± 5 mm",
        "out": f"{out:.1f} mm ± 5 mm",
    }
    return the_readings(outside=(*rows, spot))


def test_rows_that_may_be_either_are_tied_and_both_are_named() -> None:
    doorway = a_doorway(
        {
            "fitting[outside].settings.tilt": None,
            "fitting[outside].read.first_row": "60 mm",
        }
    )
    hung = mounted(doorway, "outside", radians(-2), 0.0, 0.0)
    rows = tuple(
        {key: value for key, value in row.items() if key != "row"}
        for row in read_at(doorway, "outside", hung)
    )
    unit = one_unit(doorway, the_readings(outside=rows))
    assert unit.outcome == "tied"
    assert len(unit.ways) >= 2
    assert {numbers[0][1] for numbers in (way.numbers for way in unit.ways)} == {1, 2}
    assert "unit[outside].reading[1].row" in [one.key for one in unit.lacking]


def test_a_unit_that_was_read_and_not_fitted_stands_as_its_file_says() -> None:
    doorway = a_doorway()
    hung = mounted(doorway, "outside", radians(-2), 0.0, 0.0)
    inside = mounted(doorway, "inside", radians(-2), 0.0, 0.0)
    readings = the_readings(
        outside=read_at(doorway, "outside", hung),
        inside=read_at(doorway, "inside", inside)[:1],
    )
    done = fit_doorway(doorway, readings, book())
    assert {change.fitting for change in done.changes} == {"outside"}
    assert "readings.as_planned" in [one.key for one in done.also]


# What to turn ---------------------------------------------------------------------


def _brought(doorway: Doorway, done: DoorwayFitted) -> Doorway:
    """The doorway as it hangs, with each row where whole steps of its scale bring it.

    Read again after turning, as closely as before.
    """
    hung = hung_as(doorway, done.changes)
    others = [_setting(one) for one in done.also]
    changes = [one for one in others if one] + [
        Change(
            one.fitting,
            "read.first_row",
            _mm(one.best if one.lands is None else one.lands, ""),
        )
        for one in done.turnings
    ]
    return changed_settings(hung, changes)


def _setting(said: Message) -> Change | None:
    if not said.key.startswith("remedy.settings."):
        return None
    fitting, value = str(said.values["fitting"]), str(said.values["value"])
    return Change(fitting, said.key.removeprefix("remedy."), value)


@st.composite
def crooked(draw: st.DrawFn) -> tuple[Doorway, Readings]:
    """A doorway whose units hang somehow, and what was read there."""
    doorway = a_doorway(
        {
            "clear_width": f"{draw(st.integers(900, 2200))} mm",
            "sheet.presence.tilt.step": draw(
                st.sampled_from(["0.05 deg", "0.1 deg", "0.2 deg", "0.5 deg", "1 deg"])
            ),
        }
    )
    units = {}
    for fitting in doorway.fitting:
        tilt, turn = draw(st.floats(-2.5, 1.5)), st.floats(-0.3, 0.3)
        hung = mounted(
            doorway, fitting.id, radians(tilt), radians(draw(turn)), radians(draw(turn))
        )
        units[fitting.id] = read_at(doorway, fitting.id, hung)
    return doorway, the_readings(**units)


def _mends(case: tuple[Doorway, Readings]) -> bool:
    doorway, readings = case
    done = fit_doorway(doorway, readings, book())
    assert done.after
    assert [unit.outcome for unit in done.units] == ["fitted", "fitted"]
    if not done.turnings:
        return False
    for one in done.turnings:
        assert one.lands is not None
        assert one.coarse or one.least <= one.lands <= one.most
    assert set(musts(study(_brought(doorway, done), book())).values()) == {
        Verdict.HOLDS
    }
    return True


@given(crooked())
@settings(max_examples=5)
def test_what_is_printed_rounded_to_the_step_and_done_makes_everything_hold(
    case: tuple[Doorway, Readings],
) -> None:
    assume(_mends(case))


@pytest.mark.slow
@given(crooked())
@settings(max_examples=60)
def test_the_same_on_many_more_doorways(case: tuple[Doorway, Readings]) -> None:
    assume(_mends(case))


@pytest.mark.parametrize(("step", "coarse"), [("0.02 deg", False), ("1 deg", True)])
def test_a_step_past_the_window_says_to_aim_by_the_floor(
    step: str, coarse: bool
) -> None:
    doorway = a_doorway({"sheet.presence.tilt.step": step})
    hung = {
        one.id: mounted(doorway, one.id, radians(0.5), 0.0, 0.0)
        for one in doorway.fitting
    }
    readings = the_readings(
        **{name: read_at(doorway, name, own) for name, own in hung.items()}
    )
    done = fit_doorway(doorway, readings, book())
    assert done.turnings
    assert {one.coarse for one in done.turnings} == {coarse}
    second = {str(one.said.values["second"]) for one in done.turnings}
    assert all(("steps_coarse" in said) == coarse for said in second)


def test_nothing_is_told_to_be_turned_where_everything_holds() -> None:
    doorway = a_doorway()
    hung = {}
    for one in doorway.fitting:
        assert one.settings.tilt
        hung[one.id] = mounted(doorway, one.id, one.settings.tilt.value, 0.0, 0.0)
    close = {
        name: tuple(
            {
                k: str(v).replace("± 5 mm", "± 2 mm") if isinstance(v, str) else v
                for k, v in row.items()
            }
            for row in read_at(doorway, name, own)
        )
        for name, own in hung.items()
    }
    done = fit_doorway(doorway, the_readings(**close), book())
    assert done.after
    failing = [v for v in musts(done.after).values() if v is Verdict.FAILS]
    assert failing == []


# What to tape first ---------------------------------------------------------------


def test_the_lens_comes_first_then_the_four_of_the_useful_minimum() -> None:
    wanted = to_read(a_doorway(), "inside")
    assert [one.what for one in wanted[:3]] == ["height", "from_leaf", "along"]
    four = [(one.what, one.end) for one in wanted if one.needed][3:]
    assert four == [
        ("row line", "left"),
        ("row line", "right"),
        ("row end", "left"),
        ("row end", "right"),
    ]
    assert [one.what for one in wanted if not one.needed] == ["spot centre"]


def test_a_unit_that_is_not_there_has_nothing_to_tape() -> None:
    with pytest.raises(KeyError):
        to_read(a_doorway(), "nowhere")


def test_a_doorway_whose_units_were_not_read_keeps_them() -> None:
    doorway = a_doorway()
    hung = mounted(doorway, "outside", radians(-2), 0.0, 0.0)
    done = fit_doorway(
        doorway, the_readings(outside=read_at(doorway, "outside", hung)), book()
    )
    after = hung_as(doorway, done.changes)
    assert _fitting(after, "inside") == _fitting(doorway, "inside")
    assert replace(done, doorway="y").doorway == "y"


def test_rows_wider_than_the_sheet_says_are_told_and_can_be_taken_as_read() -> None:
    doorway = a_doorway()
    hung = mounted(doorway, "outside", radians(-2), 0.0, 0.0)
    rows = read_at(doorway, "outside", hung)
    middle = hung.lens[0]
    wider = tuple(_wider(row, middle) if "end" in row else row for row in rows)
    unit = one_unit(doorway, the_readings(outside=wider))
    assert (unit.outcome, unit.because.key) == ("contradicted", "readings.fan_differs")
    assert unit.because.values["percent"] == 110
    read = the_readings(outside=wider)
    as_read = read.model_copy(
        update={"unit": (read.unit[0].model_copy(update={"fan": "as read"}),)}
    )
    done = fit_doorway(doorway, as_read, book())
    assert done.units[0].outcome == "fitted"
    share = done.units[0].pose and done.units[0].pose.fan_share
    assert share
    assert share.value == pytest.approx(1.1, abs=0.005)
    assert {"read.left_end", "read.right_end"} <= {c.setting for c in done.changes}


def _wider(row: Row, middle: float) -> Row:
    along = float(str(row["along"]).split(" mm")[0]) / 1000
    return {**row, "along": _mm(middle + (along - middle) * 1.1)}
