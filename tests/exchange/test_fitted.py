"""What readings show as JSON keeps to its published schema."""

import json
from math import radians
from typing import Any

import jsonschema
import pytest

from builders.doorways import a_doorway
from limen.exchange import dumps
from limen.exchange.fitted import fitted_contract, fitted_schema
from limen.findings.fitted import DoorwayFitted
from limen.quantity import Show
from limen.tune.fitting import fit_doorway
from questions.asking import book
from tune.test_fitting import five_readings, mounted, read_at, the_readings

TOP = {
    "limen", "schema", "site", "rulebook", "edition", "on", "doorway", "units",
    "turn", "changes", "before", "after",
}  # fmt: skip


@pytest.fixture(scope="module")
def every() -> list[DoorwayFitted]:
    """One of each outcome that is quickly had."""
    doorway = a_doorway()
    hung = mounted(doorway, "outside", radians(0.5), 0.0, 0.0)
    rows = read_at(doorway, "outside", hung)
    unnumbered = tuple({k: v for k, v in row.items() if k != "row"} for row in rows)
    unscaled = a_doorway(
        {
            "fitting[outside].settings.tilt": None,
            "fitting[outside].read.first_row": "60 mm",
        }
    )
    return [
        fit_doorway(doorway, the_readings(outside=rows), book()),
        fit_doorway(doorway, the_readings(outside=rows[:1]), book()),
        fit_doorway(doorway, five_readings(doorway, wrong=0.1), book()),
        fit_doorway(unscaled, the_readings(outside=unnumbered), book()),
    ]


def _json(one: DoorwayFitted, **more: Any) -> Any:
    return json.loads(dumps(fitted_contract(one, site="A library", **more)))


def test_every_outcome_keeps_to_the_schema(every: list[DoorwayFitted]) -> None:
    validator = jsonschema.Draft202012Validator(fitted_schema())
    for one in every:
        assert list(validator.iter_errors(_json(one))) == []
        assert set(_json(one)) >= TOP
    outcomes = [one.units[0].outcome for one in every]
    assert outcomes == ["fitted", "not determined", "misread", "tied"]


def test_the_schema_refuses_what_it_does_not_know(every: list[DoorwayFitted]) -> None:
    validator = jsonschema.Draft202012Validator(fitted_schema())
    wrong = _json(every[0])
    wrong["units"][0]["outcome"] = "good"
    assert not validator.is_valid(wrong)


def test_the_schema_is_itself_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(fitted_schema())


def test_numbers_stay_si_whatever_the_reader_reads_in(
    every: list[DoorwayFitted],
) -> None:
    metric, feet = (_json(every[0], system=show) for show in (Show.METRIC, Show.FEET))
    assert metric["units"][0]["pose"] == feet["units"][0]["pose"]
    assert metric["units"][0]["because"] != feet["units"][0]["because"]


def test_a_turn_stands_in_metres_and_in_words(every: list[DoorwayFitted]) -> None:
    told = _json(every[0])
    (turn, *_) = told["turn"]
    assert turn["least"] <= turn["best"] <= turn["most"]
    assert "mm" in turn["said"]
    assert told["after"]["id"] == told["before"]["id"]
