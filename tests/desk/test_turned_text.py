"""What is written of a setting that was turned: the ± of before stays, once."""

import pytest

from builders.doorways import a_doorway
from limen.desk.turned_text import as_written, written_as
from limen.findings.tuned import Turned

ROLL = "fitting[outside].settings.roll"


@pytest.mark.parametrize(
    ("typed", "written"),
    [
        ("0 deg", "0 deg ± 0.3 deg"),
        ("0 deg ± 1 deg", "0 deg ± 1 deg"),
        ("0 deg ± 0 deg", "0 deg ± 0 deg"),
        ("−2°", "-2 deg ± 0.3 deg"),
    ],
)
def test_a_figure_keeps_its_doubt_however_it_is_turned(
    typed: str, written: str
) -> None:
    """By hand on the page."""
    door = a_doorway({ROLL: "1 deg ± 0.3 deg"})
    assert as_written(door, {ROLL: typed}) == {ROLL: written}


@pytest.mark.parametrize("was", ["1 deg ± 0.3 deg", "1 deg ± 0.3 deg, estimate"])
def test_what_a_search_sets_is_written_as_if_it_were_turned_by_hand(was: str) -> None:
    """One rule for both."""
    door = a_doorway({ROLL: was})
    for to in ("0 deg", "0 deg ± 1 deg"):
        turned = Turned("outside", "settings.roll", was, to)
        assert as_written(door, {ROLL: to}) == {ROLL: written_as(turned)}


def test_a_setting_that_cannot_be_turned_is_refused() -> None:
    """By its key."""
    with pytest.raises(KeyError):
        as_written(a_doorway(), {"fitting[outside].settings.nothing": "1 deg"})
