"""What is called so likely comes true so often; `pytest -s` prints the tables."""

import sys
from collections.abc import Iterable

import numpy as np
import pytest

from keep.reliability import Bin, Told, bent, bins, off
from keep.simulated import call_out
from keep.written_cases import asked_out, written
from limen.keep.causes import Causes
from limen.store.causes import known_causes

MANY, SOME = 2000, 250
Call = list[Told]


def told_of(causes: Causes, case: tuple[object, ...]) -> Call:
    """Of each cause how likely it is called in the end, and whether it was it."""
    door, cause, answers = case
    end = asked_out(causes, door, answers)  # pyright: ignore[reportArgumentType]
    return [(one.p, one.cause == cause) for one in end.ranked]


def shown(title: str, told: Iterable[Told]) -> None:
    lines = "\n  ".join([title, *map(str, bins(told))])
    sys.stdout.write(f"\n{lines}\n")


@pytest.fixture(scope="module")
def on_written() -> list[Call]:
    causes = known_causes()
    return [told_of(causes, (one.door, one.cause, one.answers)) for one in written()]


def simulated(many: int) -> list[Call]:
    causes, rng = known_causes(), np.random.default_rng(13)
    return [told_of(causes, call_out(causes, rng)) for _ in range(many)]


def test_on_the_written_cases_it_is_right_as_often_as_it_says(
    on_written: list[Call],
) -> None:
    told = bent(on_written, 1.0)
    shown("75 written call-outs", told)
    assert not off(told)


def test_the_written_cases_would_show_that_it_is_too_shy(
    on_written: list[Call],
) -> None:
    assert off(bent(on_written, 0.5))


def test_the_written_cases_would_show_that_one_in_five_is_wrong(
    on_written: list[Call],
) -> None:
    assert off(bent([_wrong(one) for one in on_written[::5]] + on_written, 1.0))


def _wrong(told: Call) -> Call:
    """As if it had been the second."""
    return [(p, place == 1) for place, (p, _) in enumerate(told)]


@pytest.mark.parametrize(
    "many", [SOME, pytest.param(MANY, marks=pytest.mark.slow)], ids=["some", "many"]
)
def test_on_simulated_call_outs_it_is_right_as_often_as_it_says(many: int) -> None:
    calls = simulated(many)
    told = bent(calls, 1.0)
    shown(f"{many} simulated call-outs", told)
    assert not off(told)
    assert off(bent(calls, 0.6))
    assert off(bent(calls, 1.8))


def test_chance_is_told_from_being_off() -> None:
    even = Bin(0.4, 0.6, 10, 0.5, 9)
    assert even.more == pytest.approx(11 / 1024)
    assert even.fewer == pytest.approx(1023 / 1024)
    assert not off([(0.5, True)] * 9 + [(0.5, False)] * 5)
    assert off([(0.5, True)] * 9)
