"""`limen tune` on the demo: what it mends, what it names, what it prints."""

import json
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from typer.testing import CliRunner

from limen.cli.main import app
from limen.desk.checking import check
from limen.exchange.tuning import tuning_schema

DEMO = Path(str(files("limen").joinpath("demo", "alder-quay-as-found.toml")))
DAY = "2026-11-12"


@cache
def printed(*more: str) -> tuple[int, str]:
    run = CliRunner(env={"COLUMNS": "100"})
    done = run.invoke(app, ["tune", str(DEMO), "--on", DAY, *more])
    return done.exit_code, done.stdout


@cache
def as_json(door: str) -> dict[str, Any]:
    code, text = printed("--doorway", door, "--json")
    assert code == 0
    return json.loads(text)


def _failing(doorway: dict[str, Any], study: str) -> set[str]:
    return {
        one["question"]
        for one in doorway[study]["findings"]
        if one["verdict"] == "fails" and one["weight"] != "advice"
    }


@pytest.mark.parametrize("door", ["staff", "reading-room"])
def test_its_json_keeps_to_the_schema(door: str) -> None:
    jsonschema.validate(as_json(door), tuning_schema())


def test_a_fan_that_is_too_narrow_is_mended() -> None:
    (door,) = as_json("reading-room")["doorways"]
    assert "presence.leaf_path" in _failing(door, "before")
    assert _failing(door, "best") == set()
    fans = [one for one in door["settings"] if one["setting"] == "settings.fan"]
    assert {(one["from"], one["to"]) for one in fans} == {("narrow", "wide")}


@pytest.mark.slow
def test_rows_too_far_apart_and_a_late_reduced_opening_are_mended() -> None:
    (door,) = as_json("main")["doorways"]
    assert {"presence.threshold", "approach.opens_in_time"} <= _failing(door, "before")
    assert _failing(door, "best") == {"wiring.inputs"}


def test_what_no_setting_mends_is_named_with_what_does() -> None:
    (door,) = as_json("staff")["doorways"]
    binds = {one["question"]: one for one in door["why_not_better"]}
    assert "leaflet stand" in binds["site.obstacles"]["lifts"][0]
    assert "leaflet stand" in binds["presence.side_screen"]["lifts"][0]


def test_before_is_what_check_says() -> None:
    (door,) = as_json("staff")["doorways"]
    from datetime import date

    from limen.exchange import contract

    checked = check(DEMO, "staff", on=date.fromisoformat(DAY))
    said: Any = contract(checked.studies, site=checked.site.name)
    assert door["before"] == said["doorways"][0]


def test_a_table_names_settings_trades_and_what_binds() -> None:
    code, text = printed("--doorway", "reading-room")
    assert code == 0
    order = ("fan wide, now narrow", "What is traded", "Why it cannot be better")
    places = [text.index(part) for part in order]
    assert places == sorted(places)
    assert "Nothing has been changed" in text


def test_feet_are_read_in_sixteenths() -> None:
    _, text = printed("--doorway", "staff", "--units", "feet")
    assert " mm" not in text
    assert "5/8 in" in text


def test_a_doorway_that_is_not_there_is_refused() -> None:
    code, _ = printed("--doorway", "nowhere")
    assert code == 2
