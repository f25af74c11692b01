"""What is set anew is known no better than it was."""

from math import degrees

import pytest

from builders.doorways import a_doorway
from limen.desk.turned_text import written_as
from limen.findings import Change
from limen.findings.tuned import Turned
from limen.model.fitting import Fitting
from limen.questions.variants import changed_settings
from limen.tune.scales import turned_all

ROLLED = "fitting[outside].settings.roll"
ANEW = {"0 deg": 0.3, "0 deg ± 0.1 deg": 0.1}


def _roll(fitting: Fitting) -> float:
    assert fitting.settings.roll is not None
    return degrees(fitting.settings.roll.u)


@pytest.mark.parametrize(("text", "spread"), ANEW.items())
def test_a_figure_keeps_its_doubt_unless_another_is_told(
    text: str, spread: float
) -> None:
    door = a_doorway({ROLLED: "1 deg ± 0.3 deg"})
    changed = changed_settings(door, [Change("outside", "settings.roll", text)])
    assert _roll(changed.fitting[0]) == pytest.approx(spread)


def test_a_figure_that_was_exact_stays_so() -> None:
    door = a_doorway({ROLLED: "1 deg"})
    changed = changed_settings(door, [Change("outside", "settings.roll", "0 deg")])
    assert _roll(changed.fitting[0]) == 0.0


def test_what_a_search_sets_and_what_it_writes_carry_the_same_doubt() -> None:
    door = a_doorway({ROLLED: "1 deg ± 0.3 deg"})
    turned = Turned("outside", "settings.roll", "1 deg ± 0.3 deg, estimate", "0 deg")
    assert _roll(turned_all(door, [turned]).fitting[0]) == pytest.approx(0.3)
    assert written_as(turned) == "0 deg ± 0.3 deg"
