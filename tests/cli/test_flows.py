"""`limen flows`: figures as ranges, what is missing by name, what a setting saves."""

import json
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from cli.conftest import Run

DEMO = str(files("limen").joinpath("demo", "alder-quay-as-found.toml"))


def test_the_demo_s_entrance_is_told_in_ranges(run: Run) -> None:
    told = run("flows", DEMO, "--doorway", "main")
    assert told.exit_code == 0
    assert "Needless openings together" in told.output
    assert " to " in told.output
    assert "kWh" in told.output
    assert "EUR" in told.output
    assert "Not covered: wind" in told.output
    by_hand = 0.65 * 2.0 * 2.13 * 3.0544
    assert f"up to {by_hand:.1f} m³/s of air" in told.output


def test_what_is_missing_is_named_with_its_key(run: Run) -> None:
    told = run("flows", DEMO, "--doorway", "staff")
    assert told.exit_code == 0
    for key in ("traffic.passing", "traffic.through", "air.weather"):
        assert f"({key})" in told.output
    assert "kWh" not in told.output


def test_json_has_both_ends_of_every_figure(run: Run) -> None:
    told = run(
        "flows", DEMO, "--doorway", "main", "--json", "--instead", "hold_open=1 s"
    )
    assert told.exit_code == 0
    found: dict[str, Any] = json.loads(told.output)
    (door,) = found["doorways"]
    low, high = door["needless_a_day"]
    assert 0 < low < high
    assert [path["name"] for path in door["paths"]] == [
        "along the library wall",
        "to the ferry, beyond the bollards",
    ]
    assert len(door["openings"]["open_share_by_hour"]) == 24
    (year,) = door["a_year"]
    assert year["kind"] == "heat"
    (saving,) = door["saved"]
    assert saving["setting"] == "hold_open"
    assert saving["value"] == 1.0
    less, more = saving["a_year"][0]["let_out_kwh"]
    assert 0 < less < more < year["let_out_kwh"][1]


def test_colder_weather_takes_more_heat(run: Run) -> None:
    mild, cold = (
        json.loads(
            run("flows", DEMO, "--doorway", "main", "--json", "--weather", name).output
        )["doorways"][0]["a_year"][0]["let_out_kwh"]
        for name in ("723170TYA.CSV", "703165TY.csv")
    )
    assert cold[0] > mild[0]
    assert cold[1] > mild[1]


@pytest.mark.parametrize(
    ("given", "wanted"),
    [
        ("hold=1 s", "hold_open, outside.reach"),
        ("outside.reach", "hold_open=1 s"),
        ("outside.reach=150 %", "1 to 100 %"),
        ("outside.reach=blue", "a ratio with its unit"),
        ("cellar.reach=50 %", "outside, inside"),
        ("outside.hold_open=1 s", "hold_open, outside.reach"),
    ],
)
def test_what_cannot_be_set_is_refused_with_what_can(
    run: Run, given: str, wanted: str
) -> None:
    told = run("flows", DEMO, "--doorway", "main", "--instead", given)
    assert told.exit_code == 2
    assert wanted in told.output


def test_a_weather_file_at_fault_is_refused_with_its_faults(
    run: Run, tmp_path: Path
) -> None:
    bad = tmp_path / "town.epw"
    bad.write_text("hello")
    told = run("flows", DEMO, "--weather", bad)
    assert told.exit_code == 2
    assert "8760 hours" in told.output
    gone = run("flows", DEMO, "--weather", tmp_path / "gone.epw")
    assert gone.exit_code == 2


def test_a_named_weather_file_that_is_missing_is_refused_by_name(
    run: Run, tmp_path: Path
) -> None:
    text = Path(DEMO).read_text("utf-8").replace("723170TYA.CSV", "gone.epw")
    site = tmp_path / "site.toml"
    site.write_text(text, "utf-8")
    told = run("flows", site)
    assert told.exit_code == 2
    assert "gone.epw" in told.output
    assert run("flows", site, "--doorway", "staff").exit_code == 0


@pytest.mark.parametrize("language", ["de", "fr"])
def test_it_is_told_in_every_language(run: Run, language: str) -> None:
    told = run("flows", DEMO, "--doorway", "main", "--language", language)
    assert told.exit_code == 0
    assert "kWh" in told.output
