"""A figure stated with a large uncertainty never carries a *holds*.

The reference doorway holds with every figure as stated.  One figure at a time gets
an uncertainty as large as would, somewhere within it, open a gap.
"""

import pytest

from builders.doorways import a_doorway
from limen.findings import Verdict
from limen.model.doorway import Doorway
from limen.questions.settled import settle
from questions.asking import asked

PATH = "presence.leaf_path"
DOUBTED = {
    "clear_width": "2000 mm ± 600 mm",
    "leaves.thickness": "40 mm ± 39 mm",
    "leaves.sway": "3 mm ± 80 mm",
    "fitting[outside].lens.height": "2200 mm ± 190 mm",
    "fitting[outside].lens.along": "0 mm ± 700 mm",
    "fitting[outside].lens.from_leaf": "120 mm ± 120 mm",
    "fitting[outside].settings.yaw": "0 deg ± 8 deg",
    "fitting[outside].settings.roll": "0 deg ± 20 deg",
    "fitting[outside].aim.across": "3 mm ± 70 mm",
    "fitting[outside].aim.along": "10 mm ± 450 mm",
    "fitting[outside].aim.turn": "0.1 deg ± 8 deg",
    "sheet.presence.rows[1].angle": "0 deg ± 4 deg",
    "sheet.presence.angle_error": "0.1 deg ± 4 deg",
    "sheet.presence.lowest_height": "35 mm ± 200 mm",
    "sheet.presence.fan.at_height": "2200 mm ± 1500 mm",
}


def leaf_path(doorway: Doorway) -> set[Verdict]:
    return {
        f.verdict
        for (_, case), f in asked(PATH, doorway).items()
        if case != "near closed" and "dead" not in str(case)
    }


@pytest.mark.parametrize("way", DOUBTED)
def test_a_figure_in_much_doubt_carries_no_holds(way: str) -> None:
    both = (way, way.replace("outside", "inside"))
    doorway = a_doorway(dict.fromkeys(both, DOUBTED[way]))
    assert leaf_path(doorway) != {Verdict.HOLDS}


def test_the_width_of_the_fan_in_much_doubt_carries_no_holds() -> None:
    sheet = a_doorway().fitting[0].unit
    assert sheet
    assert sheet.presence
    widths = {
        name: f"{q.value * 1000:.0f} mm ± {q.value * 700:.0f} mm"
        for name, q in sheet.presence.fan.choices.items()  # pyright: ignore[reportAttributeAccessIssue]
    }
    assert leaf_path(a_doorway({"sheet.presence.fan.choices": widths})) != {
        Verdict.HOLDS
    }


def test_the_same_figures_without_doubt_carry_a_holds() -> None:
    assert leaf_path(a_doorway()) == {Verdict.HOLDS}


READ = {
    "fitting[outside].read": {"left_end": "-1150 mm", "right_end": "1150 mm"},
    "fitting[inside].read": {"left_end": "-1150 mm", "right_end": "1150 mm"},
}


def test_row_ends_that_were_read_carry_a_holds() -> None:
    assert leaf_path(a_doorway(READ)) == {Verdict.HOLDS}


def test_row_ends_read_in_much_doubt_carry_no_holds() -> None:
    doubted = {
        way: {end: f"{at} ± 600 mm" for end, at in ends.items()}
        for way, ends in READ.items()
    }
    assert Verdict.HOLDS not in leaf_path(a_doorway(doubted))


def test_a_doubted_evenness_counts_at_its_worst() -> None:
    sure = settle(a_doorway({"floor.evenness": "12 mm"}))
    doubted = settle(a_doorway({"floor.evenness": "2 mm ± 10 mm"}))
    assert doubted.ground.evenness == pytest.approx(sure.ground.evenness)
