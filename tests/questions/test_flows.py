"""Passers-by and heat as findings: figures, verdicts only against owners' limits."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders.doorways import a_doorway
from limen.findings import Finding, Verdict
from limen.model.doorway import Doorway
from limen.model.weather import Known, Year
from limen.physics.air import Gap, exchange_by_density
from limen.physics.door_year import Indoors, open_year
from limen.physics.moist_air import ZERO, moist_air
from limen.quantity import Grade, Quantity
from limen.questions.flows import STREET, flow_of, open_hours, through
from limen.questions.ledger import CORNERS, spread
from limen.questions.passers import needless_a_day
from limen.questions.paying import costs_of, fewer, saved
from limen.questions.reckoning import Reckoned, reckon
from limen.questions.settled import settle
from limen.questions.turned import with_hold, with_reach, with_tilt
from limen.rules import Weight
from limen.store.weatherfile import find_weather, read_weather
from questions.asking import asked

KWH = 3_600_000.0
WALL: dict[str, Any] = {
    "name": "along the wall",
    "side": "outside",
    "distance": "1500 mm ± 100 mm",
    "breadth": "800 mm",
    "people": "500 /d ± 50 /d",
    "from_left": "50 %",
}
TRAFFIC: dict[str, Any] = {
    "opens": 8,
    "shuts": 20,
    "days": 6,
    "through": "600 /d ± 60 /d",
    "passing": [WALL],
}
MOTION = {
    "motion.hold_open": "2 s",
    "motion.opening_time": "2.5 s",
    "motion.closing_time": "4 s",
}
AIR = {
    "beyond": "nothing",
    "heated_to": "20 °C",
    "heats_below": "15 °C",
    "heated_by": "90 %",
    "heat_price": "0.30 EUR/kWh",
    "heat_emits": "0.202 kg/kWh",
}


@cache
def year() -> Year:
    found = find_weather("723170TYA.CSV", [Path()])
    assert found is not None
    return read_weather(found)


def door(
    traffic: Mapping[str, object] | None = None,
    air: Mapping[str, object] | None = None,
    *,
    weather: bool = True,
    **more: object,
) -> Doorway:
    """The reference doorway in a street, with weather."""
    changes = {"traffic": {**TRAFFIC, **(traffic or {})}, **MOTION, **more}
    made = a_doorway({**changes, "air": {**AIR, **(air or {})}})
    hung = made.air.model_copy(update={"hung": Known(year()) if weather else None})
    return made.model_copy(update={"air": hung})


def reckoned(doorway: Doorway) -> Reckoned:
    found = reckon(doorway, settle(doorway).plan)
    assert isinstance(found, Reckoned)
    return found


def passers(doorway: Doorway) -> Finding:
    return asked("approach.passers_by", doorway)[None, None]


def energy(doorway: Doorway) -> Finding:
    return asked("approach.energy", doorway)[None, None]


# Passers-by ----------------------------------------------------------------------


def test_without_a_limit_it_is_a_figure_and_no_verdict() -> None:
    found = passers(door())
    assert found.verdict is Verdict.NOT_ASKED
    assert found.weight is Weight.ADVICE
    assert found.found
    assert found.figures


@pytest.mark.parametrize(
    ("limit", "verdict"),
    [
        ("100000 /d", Verdict.NOT_SHOWN),  # on estimates nothing holds
        ("1 /d", Verdict.FAILS),
        ("400 /d", Verdict.NOT_SHOWN),
    ],
)
def test_the_owner_s_limit_makes_it_a_question(limit: str, verdict: Verdict) -> None:
    found = passers(door({"most_needless": limit}))
    assert found.verdict is verdict
    assert bool(found.lacking) is (verdict is Verdict.NOT_SHOWN)
    assert found.margin


def test_it_holds_where_everything_was_counted_and_stated() -> None:
    path = WALL | {"by_hour": [20] * 24, "speed": "1.3 m/s", "distance": "9 m"}
    found = passers(door({"passing": [path], "most_needless": "50 /d"}))
    assert found.verdict is Verdict.HOLDS


def test_nobody_described_is_nobody_asked_about() -> None:
    assert passers(door({"passing": []})).verdict is Verdict.NOT_ASKED
    found = passers(door({"passing": [], "most_needless": "50 /d"}))
    assert found.verdict is Verdict.NOT_SHOWN
    assert [one.key for one in found.lacking] == ["traffic.passing"]


def test_unknown_people_and_an_unknown_radar_are_named() -> None:
    found = passers(door({"passing": [WALL | {"people": None, "by_hour": []}]}))
    assert found.verdict is Verdict.NOT_SHOWN
    assert [one.key for one in found.lacking] == [
        "traffic.passing[along the wall].people"
    ]
    blind = door(**{"fitting[outside].settings.radar_tilt": None})  # pyright: ignore[reportArgumentType]
    assert passers(blind).verdict is Verdict.NOT_SHOWN
    assert needless_a_day(blind, settle(blind)) is None


def test_what_nobody_said_is_listed() -> None:
    bare = {k: v for k, v in WALL.items() if k not in ("breadth", "from_left")}
    found = passers(door({"passing": [bare], "opens": None, "days": None}))
    keys = {one.key for one in found.assumed}
    assert {"traffic.opens", "traffic.days"} <= keys
    for key in ("breadth", "from_left", "speed"):
        assert f"traffic.passing[along the wall].{key}" in keys


def test_twice_the_people_are_twice_the_needless_openings() -> None:
    once = needless_a_day(door(), settle(door()))
    both = door({"passing": [WALL | {"people": "1000 /d ± 100 /d"}]})
    twice = needless_a_day(both, settle(both))
    assert once
    assert twice
    assert twice.value == pytest.approx(2 * once.value)
    assert twice.u == pytest.approx(2 * once.u)


def test_two_paths_add_up() -> None:
    one = needless_a_day(door(), settle(door()))
    other = door({"passing": [WALL, WALL | {"name": "again"}]})
    both = needless_a_day(other, settle(other))
    assert one
    assert both
    assert both.high == pytest.approx(2 * one.high)


def test_a_smaller_reach_speaks_for_fewer() -> None:
    near = needless_a_day(door(), settle(door()))
    turned = with_reach(door(), "outside", Quantity(0.3))
    less = needless_a_day(turned, settle(turned))
    assert near
    assert less
    assert less.high <= near.high
    assert less.low < near.low


# People by the hour --------------------------------------------------------------


def test_counts_by_the_hour_are_taken_as_they_are() -> None:
    counts = [0] * 8 + [30] * 12 + [0] * 4
    doorway = door({"through": None, "through_by_hour": counts})
    flow = through(doorway.traffic, open_hours(doorway.traffic))
    assert flow
    assert flow.hours == tuple(float(n) for n in counts)
    assert flow.a_day == 360


def test_a_count_without_hours_has_the_day_of_a_street_while_the_door_works() -> None:
    doorway = door({"opens": 9, "shuts": 17})
    flow = through(doorway.traffic, open_hours(doorway.traffic))
    assert flow
    assert flow.hours[:9] == (0.0,) * 9
    assert flow.hours[17:] == (0.0,) * 7
    assert flow.hours[16] / flow.hours[9] == pytest.approx(STREET[16] / STREET[9])


def test_a_door_that_works_all_day_sees_all_who_were_counted() -> None:
    when = open_hours(door({"opens": 0, "shuts": 24}).traffic)
    flow = flow_of("traffic.through", Quantity(600 / 86400), (), when)
    assert flow
    assert flow.a_day == pytest.approx(600)


# Heat ----------------------------------------------------------------------------


def test_an_hour_of_the_year_is_the_published_exchange_by_hand() -> None:
    """One cold hour, all others at the inside temperature: 45.22 kW within factors."""
    celsius = np.full(8760, 21.0)
    celsius[30 * 24 + 5] = 0.0
    made = Year(
        "one.csv",
        "",
        "one",
        celsius + ZERO,
        np.full(8760, 0.8),
        np.full(8760, 101_325.0),
        np.zeros(8760),
    )
    gap = Gap(2.0, 2.2)
    found = open_year(gap, made, Indoors(21.0 + ZERO, 15.0 + ZERO, None, 0.5))
    outside = moist_air(np.array([ZERO]), np.array([0.8]), np.array([101_325.0]))
    inside = outside.warmed_to(21.0 + ZERO)
    volume = exchange_by_density(gap, inside.density, outside.density)
    heat = volume * outside.density * (inside.enthalpy - outside.enthalpy)
    joules = 3600.0 * float(heat[0])
    assert np.flatnonzero(found.heating[0]).tolist() == [5]
    assert found.heating[0][5] < joules < found.heating[1][5]
    assert found.heating[1][5] == pytest.approx(1.1 * joules, rel=0.1)
    assert float(found.cooling.sum()) == 0.0


def test_the_open_share_times_the_open_year_is_the_heat() -> None:
    """At one corner, hour by hour, written out."""
    found = reckoned(door())
    counted, ledger = found.counted, found.ledger
    corner = int(np.flatnonzero((CORNERS == 0).all(axis=1))[0])
    path, flow = counted.paths[0], counted.through
    tau, total = counted.opened.least.while_open, 0.0
    assert counted.exchanged
    for hour in range(24):
        people = flow.hours[hour] * (1 - flow.u)
        people += path.flow.hours[hour] * (1 - path.flow.u) * path.least
        share = 1 - np.exp(-people / 3600 * tau)
        total += share * counted.exchanged.year.heating[0][hour] * 6 / 7
    assert float(ledger.heating[corner]) == pytest.approx(total)


def test_without_a_limit_heat_is_a_figure_and_against_one_a_verdict() -> None:
    assert energy(door()).verdict is Verdict.NOT_ASKED
    assert energy(door()).found
    assert energy(door(air={"most_heat": "1 kWh"})).verdict is Verdict.FAILS
    loose = energy(door(air={"most_heat": "9000 MWh"}))
    assert loose.verdict is Verdict.NOT_SHOWN
    assert loose.lacking


def test_without_weather_or_figures_it_says_what_is_missing() -> None:
    named = door(air={"weather": "nowhere.epw"}, weather=False)
    found = energy(named)
    assert found.verdict is Verdict.NOT_SHOWN
    assert [one.key for one in found.lacking] == ["air.weather"]
    held = door(air={"weather": "a.epw"}, **{"motion.hold_open": None})  # pyright: ignore[reportArgumentType]
    assert "motion.hold_open" in [one.key for one in energy(held).lacking]
    nobody = door({"through": None}, {"weather": "a.epw"})
    assert "traffic.through" in [one.key for one in energy(nobody).lacking]


def test_between_two_rooms_no_weather_is_asked_about() -> None:
    indoors = door(
        air={"weather": "a.epw"},
        **{"exposure.outside": "indoors", "exposure.inside": "indoors"},  # pyright: ignore[reportArgumentType]
    )
    assert energy(indoors).verdict is Verdict.NOT_ASKED
    assert energy(indoors).because.key == "flows.within"


def test_a_building_that_is_cooled_has_cold_to_pay_for() -> None:
    assert [c.kind for c in costs_of(door(), reckoned(door()))] == ["heat"]
    cooled = door(air={"cooled_to": "24 °C", "humidity": "50 %"})
    heat, cold = costs_of(cooled, reckoned(cooled))
    assert heat.let_out.low > 0
    assert cold.let_out.low > 0
    assert cold.money is None
    assert cold.paid is None


def test_money_and_emission_follow_from_what_is_paid_for() -> None:
    (heat,) = costs_of(door(), reckoned(door()))
    assert heat.paid
    assert heat.money
    assert heat.emitted
    assert heat.paid.high == pytest.approx(heat.let_out.high / 0.9)
    assert heat.money.high == pytest.approx(heat.paid.high / KWH * 0.30)
    assert heat.emitted.high == pytest.approx(heat.paid.high / KWH * 0.202)
    assert heat.currency == "EUR"


def test_a_vestibule_keeps_back_what_is_said_of_it() -> None:
    free = spread(reckoned(door()).ledger.heating, Grade.DERIVED)
    kept = door(air={"beyond": "vestibule", "lessened": "40 %"})
    less = spread(reckoned(kept).ledger.heating, Grade.DERIVED)
    assert less.high == pytest.approx(0.6 * free.high)


# What a setting saves ------------------------------------------------------------


def test_the_same_setting_saves_nothing_though_the_figures_are_wide() -> None:
    """What both doors share cancels: the range of the difference is no range."""
    one = reckoned(door())
    (nothing,) = saved(door(), one, one)
    assert nothing.let_out.value == nothing.let_out.u == 0.0
    assert spread(one.ledger.heating, Grade.DERIVED).u > 0


def test_a_shorter_hold_saves_heat_in_every_corner() -> None:
    before, after = reckoned(door()), reckoned(with_hold(door(), Quantity(0.5)))
    (heat,) = saved(door(), before, after)
    assert heat.let_out.low > 0
    apart = spread(before.ledger.heating, Grade.DERIVED)
    assert heat.let_out.u < apart.u
    assert fewer(before, after).value == 0.0


def test_a_smaller_reach_saves_needless_openings() -> None:
    before = reckoned(door())
    after = reckoned(with_reach(door(), "outside", Quantity(0.2)))
    assert fewer(before, after).low >= 0
    assert fewer(before, after).high > 0


@given(st.floats(0.0, 8.0), st.floats(0.0, 8.0))
def test_holding_open_for_longer_never_saves(one: float, more: float) -> None:
    short = reckoned(with_hold(door(), Quantity(one)))
    long = reckoned(with_hold(door(), Quantity(one + more)))
    assert (long.ledger.heating >= short.ledger.heating - 1e-6).all()
    assert (long.ledger.cycles <= short.ledger.cycles + 1e-9).all()


def test_a_walk_stays_one_of_the_reach_at_which_it_was_walked() -> None:
    walked = door(
        **{
            "fitting[outside].settings.reach": "100 %",
            "fitting[outside].read": {"lit_ahead": ["2450 mm"] * 3},
        }
    )
    turned = with_reach(walked, "outside", Quantity(0.5))
    read = next(f for f in turned.fitting if f.id == "outside").read
    assert read.lit_reach
    assert read.lit_reach.value == 1.0
    again = with_reach(turned, "outside", Quantity(1.0))
    assert needless_a_day(again, settle(again)) == needless_a_day(
        walked, settle(walked)
    )
    less = needless_a_day(turned, settle(turned))
    full = needless_a_day(walked, settle(walked))
    assert less
    assert full
    assert less.high <= full.high


def test_a_radar_tilted_down_sees_fewer_and_remembers_how_it_was_walked() -> None:
    walked = door(**{"fitting[outside].read": {"lit_ahead": ["2450 mm"] * 3}})  # pyright: ignore[reportArgumentType]
    turned = with_tilt(walked, "outside", Quantity(0.2))
    fitting = next(f for f in turned.fitting if f.id == "outside")
    was = next(f for f in walked.fitting if f.id == "outside").settings.radar_tilt
    assert fitting.read.lit_tilt == was
