"""A tick list: what is to mend fails, what nobody looked at is not shown."""

import pytest

from limen.findings import Verdict
from limen.questions.leaf_care import PARTS
from limen.words import say
from questions.leaf import lacks, leaf

CARE = "leaf.mechanics"


def test_all_in_order_holds_by_common_practice() -> None:
    found = leaf(CARE)
    assert (found.verdict, found.to_confirm) == (Verdict.HOLDS, True)


@pytest.mark.parametrize("part", PARTS)
def test_each_part_to_mend_fails_and_is_named(part: str) -> None:
    found = leaf(CARE, {f"mechanics.{part}": "to mend"})
    assert found.verdict is Verdict.FAILS
    assert found.remedy
    assert say(found.remedy.message).startswith("Mend first: ")


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("condition", [None, "not looked at"])
def test_each_part_that_nobody_looked_at_is_listed(
    part: str, condition: str | None
) -> None:
    found = leaf(CARE, {f"mechanics.{part}": condition})
    assert (found.verdict, lacks(found)) == (Verdict.NOT_SHOWN, [f"mechanics.{part}"])


def test_what_is_to_mend_does_not_hide_what_nobody_looked_at() -> None:
    found = leaf(CARE, {"mechanics.lock": None, "mechanics.glass": "to mend"})
    assert found.verdict is Verdict.FAILS
    assert lacks(found) == ["mechanics.lock"]
    assert say(found.because) == "To mend: glass and edges."
