"""What nobody said is not taken for what would be best."""

import pytest

from limen.findings import Verdict
from questions.asking import ask, studied

MOVING = "upright, while the leaf moves"
ESTIMATED = "0 mm, estimate"


@pytest.mark.parametrize("row", [1, 2])
def test_a_row_that_may_pause_is_not_counted_on_while_the_leaf_moves(row: int) -> None:
    finding = ask(
        "presence.leaf_path",
        {f"sheet.presence.rows[{row}].pauses_while_moving": None},
        case=MOVING,
    )
    without = ask(
        "presence.leaf_path",
        {f"sheet.presence.rows[{row}].pauses_while_moving": True},
        case=MOVING,
    )
    if without.verdict is Verdict.HOLDS:
        assert finding.verdict is Verdict.HOLDS
    else:
        assert finding.verdict is Verdict.NOT_SHOWN
        assert [one.message.key for one in finding.lacking] == ["lack.pauses"]


def test_one_of_these_rows_is_needed() -> None:
    changes = {"sheet.presence.rows[1].pauses_while_moving": None}
    found = ask("presence.leaf_path", changes, case=MOVING)
    assert found.verdict is Verdict.NOT_SHOWN


def test_an_estimate_that_presence_is_never_ignored_carries_no_holds() -> None:
    changes = {"presence_ignored_below": ESTIMATED}
    found = ask("presence.leaf_path", changes, case="near closed")
    assert found.verdict is Verdict.NOT_SHOWN


def test_handles_of_which_nobody_said_anything_are_not_taken_for_none() -> None:
    found = ask("presence.self_view", {"leaves.handle_depth": None}, fitting="outside")
    assert found.verdict is Verdict.NOT_SHOWN
    assert [one.key for one in found.lacking] == ["leaves.handle_depth"]


def test_the_reference_doorway_says_all_of_it() -> None:
    for finding in studied().findings:
        assert "while the leaf moves" not in str(finding.case)
