"""Energy of a closing leaf, by measurement, by speed, by the stopwatch alone."""

import pytest

from limen.findings import Measure, Verdict
from questions.leaf import lacks, leaf

ENERGY = "leaf.closing_energy"
HOLDS, FAILS, DOUBT = Verdict.HOLDS, Verdict.FAILS, Verdict.NOT_SHOWN
LIMIT = 9.4907  # J, 7 lbf·ft


def moving(**more: object) -> dict[str, object]:
    keys = {"mass": "leaves.mass"}
    return {keys.get(key, f"motion.{key}"): value for key, value in more.items()}


@pytest.mark.parametrize(
    ("mass", "speed", "verdict"),
    [
        ("100 kg", "0.3 m/s", HOLDS),
        ("80 kg", "0.5 m/s", FAILS),
        ("80 kg ± 8 kg", "0.48 m/s", DOUBT),
        ("60 kg", "0.5 m/s ± 0.2 m/s", DOUBT),
        ("100 kg", "0.3 m/s, estimate", DOUBT),
        ("100 kg, estimate", "0.6 m/s", FAILS),
    ],
)
def test_mass_and_speed_by_their_bounds(
    mass: str, speed: str, verdict: Verdict
) -> None:
    found = leaf(ENERGY, moving(mass=mass, closing_speed=speed))
    assert found.verdict is verdict
    assert found.margin
    assert bool(found.lacking) is (verdict is DOUBT)
    assert (found.remedy is not None) is (verdict is FAILS)


@pytest.mark.parametrize(
    ("time", "verdict"), [("3.7 s", HOLDS), ("3 s", DOUBT), ("1.7 s", FAILS)]
)
def test_a_stopwatch_alone_holds_at_twice_the_mean_and_fails_at_the_mean(
    time: str, verdict: Verdict
) -> None:
    """60 kg over 1 m: 9.49 J are 0.562 m/s; the mean is 1/T, the most 2/T."""
    found = leaf(ENERGY, moving(closing_speed=None, closing_time=time))
    assert found.verdict is verdict
    if verdict is DOUBT:
        assert lacks(found) == ["motion.closing_speed"]


def test_a_measured_energy_wins() -> None:
    heavy = moving(mass="300 kg", closing_speed="1 m/s", closing_energy="9 J")
    assert leaf(ENERGY, heavy).verdict is HOLDS
    light = moving(closing_energy="10 J")
    assert leaf(ENERGY, light).verdict is FAILS


@pytest.mark.parametrize(
    ("left_out", "keys"),
    [
        (("leaves.mass",), ["leaves.mass"]),
        (
            ("motion.closing_speed", "motion.closing_time"),
            ["motion.closing_time"],
        ),
        (("motion.closing_speed", "motion.slow_zone"), ["motion.slow_zone"]),
    ],
)
def test_what_is_missing_is_named(left_out: tuple[str, ...], keys: list[str]) -> None:
    found = leaf(ENERGY, dict.fromkeys(left_out))
    assert (found.verdict, lacks(found)) == (DOUBT, keys)


def test_glass_alone_may_fail_and_never_holds() -> None:
    glass: dict[str, object] = {
        "leaves.mass": None,
        "leaves.glass": "10 mm",
        "leaves.width": "1000 mm",
        "leaves.height": "2200 mm",
    }
    light = leaf(ENERGY, glass)
    assert (light.verdict, lacks(light)) == (DOUBT, ["leaves.mass"])
    assert leaf(ENERGY, {**glass, "motion.closing_speed": "0.6 m/s"}).verdict is FAILS


def test_in_europe_no_figure_for_sliding_leaves_was_seen() -> None:
    found = leaf(ENERGY, rules="en")
    assert found.verdict is DOUBT
    assert lacks(found) == ["values: en.2012.leaf.closing_energy energy"]
    assert leaf(ENERGY, rules="en", own={"energy": 4.0}).verdict is HOLDS
    assert leaf(ENERGY, rules="en", own={"energy": 1.8}).verdict is FAILS


@pytest.mark.parametrize(
    "changes",
    [
        moving(mass="80 kg", closing_speed="0.5 m/s"),
        moving(mass="97 kg ± 9 kg", closing_speed="0.93 m/s ± 0.03 m/s"),
        moving(closing_speed=None, closing_time="1.5 s"),
        moving(
            closing_speed=None,
            closing_time="3.4 s",
            mass="300 kg",
            slow_zone="100 mm",
            slow_speed="0.1 m/s",
        ),
    ],
)
def test_the_remedy_made_as_printed_mends(changes: dict[str, object]) -> None:
    found = leaf(ENERGY, changes)
    assert found.verdict is FAILS
    assert found.remedy
    values = found.remedy.message.values
    speed, time = values["speed"], values["time"]
    assert isinstance(speed, Measure)
    assert isinstance(time, Measure)
    slower = {**changes, "motion.closing_speed": f"{speed.value:.3f} m/s"}
    slower["motion.closing_time"] = None
    assert leaf(ENERGY, slower).verdict is HOLDS
    timed = {"motion.closing_speed": None, "motion.closing_time": f"{time.value} s"}
    assert leaf(ENERGY, {**changes, **timed}).verdict is HOLDS


def test_a_measured_energy_is_mended_in_proportion() -> None:
    found = leaf(ENERGY, moving(closing_energy="20 J"))
    assert found.remedy
    share = found.remedy.message.values["share"]
    assert isinstance(share, int)
    assert 20 * (share / 100) ** 2 <= LIMIT
