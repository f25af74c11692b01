"""The phone fits readings as the desk does: the same law in two languages."""

import json
from collections.abc import Sequence
from itertools import islice
from pathlib import Path
from typing import Any

import pytest

from browsing.node import in_node
from builders.alike import unlike
from tune.fit_vectors import (
    FEW,
    FILE,
    LEFT_OPEN,
    SEED,
    TIED,
    Vector,
    of_shared,
    typed,
    vectors,
    written,
)

QUICK, COUNT = 9, 1_000
AT_ONCE = 50
"""Handed to one run of the page's script: it may not take for ever."""
CLOSE = 1e-7
"""Of a pose: m, rad and a share."""
ASK = """async (load, { fits, vectors }) => {
  const { fitted, takenOf } = await load("card/fitting.ts");
  return vectors.map(({ door, fitting, readings }) => {
    const fit = fits[door];
    const unit = fit.units.find((one) => one.fitting === fitting);
    const { outcome, pose, wrong } = fitted(unit, takenOf(fit, unit, readings));
    return { outcome, pose, wrong };
  });
}"""


def test_the_shared_vectors_are_what_the_desk_makes() -> None:
    shared = json.loads(FILE.read_text("utf-8"))
    made = json.loads(json.dumps(written(list(islice(of_shared(), QUICK)))))
    assert len(shared["vectors"]) == FEW + len(TIED)
    assert not list(unlike(made["fits"], shared["fits"]))
    for mine, theirs in zip(made["vectors"], shared["vectors"], strict=False):
        assert mine["readings"] == theirs["readings"]
        assert mine["told"]["outcome"] == theirs["told"]["outcome"]
        assert mine["told"]["pose"] == pytest.approx(theirs["told"]["pose"], abs=1e-9)


@pytest.mark.parametrize("one", TIED)
def test_readings_that_fit_in_several_ways_are_tied(one: tuple[str, str, str]) -> None:
    assert typed(*one).told["outcome"] == "tied"


def test_readings_that_leave_the_width_open_end_in_no_pose() -> None:
    assert typed(*LEFT_OPEN).told == {"outcome": "at odds", "pose": None, "wrong": []}


def _agree(found: Sequence[Vector], folder: Path) -> None:
    answers: list[dict[str, Any]] = in_node(ASK, written(found), folder)
    for one, card in zip(found, answers, strict=True):
        assert card["outcome"] == one.told["outcome"], one
        assert card["wrong"] == one.told["wrong"], one
        assert card["pose"] == pytest.approx(one.told["pose"], abs=CLOSE), one


def test_the_phone_understands_readings_as_the_desk_does(tmp_path: Path) -> None:
    _agree([*vectors(SEED + 1, QUICK), typed(*LEFT_OPEN)], tmp_path)


@pytest.mark.slow
def test_a_thousand_sets_of_readings_are_understood_alike(tmp_path: Path) -> None:
    found = list(vectors(SEED + 2, COUNT))
    for start in range(0, COUNT, AT_ONCE):
        _agree(found[start : start + AT_ONCE], tmp_path)
