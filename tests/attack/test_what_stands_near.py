"""What stands near the door hides beams; a leaf that moves mutes rows."""

from dataclasses import replace

import pytest

from builders.doorways import a_doorway
from limen.findings import Verdict
from limen.quantity import Grade, Quantity
from limen.questions.asking import Asked
from limen.questions.contrast import FACES
from limen.questions.room import watched
from limen.questions.settled import settle
from limen.rules import Rule
from questions.asking import ask, book

STAND = {
    "name": "leaflet stand",
    "side": "outside",
    "along": "0 mm",
    "out": "95 mm",
    "width": "400 mm",
    "depth": "60 mm",
    "height": "1200 mm",
}


def path(things: list[dict[str, str]]) -> Verdict:
    return ask("presence.leaf_path", {"thing": things}, case="upright").verdict


def test_a_stand_that_hides_the_rows_leaves_the_body_behind_it_unreached() -> None:
    assert path([]) is Verdict.HOLDS
    assert path([STAND]) is Verdict.FAILS


def test_a_stand_too_low_or_too_far_out_hides_nothing() -> None:
    assert path([STAND | {"height": "1 mm", "out": "1500 mm"}]) is Verdict.HOLDS
    assert path([STAND | {"out": "1500 mm"}]) is Verdict.HOLDS


def test_a_stand_whose_place_is_in_doubt_may_hide_the_rows() -> None:
    assert path([STAND | {"out": "600 mm ± 550 mm"}]) is Verdict.NOT_SHOWN


NARROW = {
    "side_space[right].clearance": "90 mm",
    "side_space[right].depth": "400 mm",
    "clear_width": "700 mm",
    "reveal.outside": "0 mm",
    "reveal.inside": "0 mm",
}


def _watched(more: dict[str, object]) -> bool:
    doorway = a_doorway(NARROW | more)
    rule = book().rule_for("presence.side_screen", {})
    assert isinstance(rule, Rule)
    space = next(s for s in doorway.side_space if s.side == "right")
    assert space.clearance
    return watched(Asked(doorway, settle(doorway), rule), space, space.clearance)


def test_rows_that_reach_along_the_trailing_edge_watch_it() -> None:
    assert _watched({})


@pytest.mark.parametrize("pauses", [True, None])
def test_rows_that_pause_while_the_leaf_moves_do_not_watch_it(pauses: object) -> None:
    rows = {f"sheet.presence.rows[{n}].pauses_while_moving": pauses for n in (1, 2)}
    assert not _watched(rows)


@pytest.mark.parametrize("pauses", [True, None])
def test_where_every_row_pauses_no_body_is_reached_meanwhile(pauses: object) -> None:
    rows = {f"sheet.presence.rows[{n}].pauses_while_moving": pauses for n in (1, 2)}
    found = ask("presence.leaf_path", rows, case="upright, while the leaf moves")
    assert found.verdict is (Verdict.FAILS if pauses else Verdict.NOT_SHOWN)


def test_a_space_whose_gap_is_unknown_is_not_watched() -> None:
    assert not _watched({"side_space[right].gap": None})


def test_contrast_is_asked_for_the_body_on_its_edge_too() -> None:
    """A dark face of 7.5 % on a floor of 10.05 %, lens 2.2 m: blind at z = 0.3 m.

    7.5 % (2.2/1.9)^2 = 10.05 %; at 0.2 m it is 9.07 %, at 0.7 m 16.1 %.
    """
    own = (Quantity(0.075, grade=Grade.OWN), Quantity(0.9, grade=Grade.OWN))
    rules = tuple(
        replace(rule, limits=dict(zip(FACES, own, strict=True)))
        if rule.question == "presence.contrast"
        else rule
        for rule in book().rules
    )
    own_book = replace(book(), rules=rules)
    for floor, verdict in (("10.05 %", Verdict.FAILS), ("12.5 %", Verdict.HOLDS)):
        changes = {"floor.reflectance": floor}
        found = ask("presence.contrast", changes, fitting="outside", rules=own_book)
        assert found.verdict is verdict


def test_a_height_range_rests_on_both_of_its_ends() -> None:
    changes = {
        "sheet.mounting.most_height": "4 m, estimate",
        "sheet.mounting.least_height": "2.1 m",
    }
    found = ask("mounting.height", changes, fitting="outside")
    assert found.verdict is Verdict.NOT_SHOWN


FLAG: dict[str, object] = {
    "name": "flag",
    "side": "outside",
    "along": "0 mm",
    "out": "150 mm",
    "width": "900 mm",
    "depth": "40 mm",
    "height": "2400 mm",
    "moves": True,
}


def obstacle(thing: dict[str, object], **more: object) -> Verdict:
    changes = {"thing": [thing], **more}
    return ask("site.obstacles", changes, case="flag").verdict


def test_what_moves_in_the_light_above_the_floor_is_not_clear() -> None:
    """The rows land 84 mm and further from the leaf middle; the lens is 140 mm out."""
    assert obstacle(FLAG | {"out": "100 mm"}) is Verdict.FAILS
    assert obstacle(FLAG | {"out": "1400 mm"}) is Verdict.HOLDS


def test_what_moves_is_not_clear_where_the_light_is_not_known() -> None:
    far = FLAG | {"out": "1400 mm"}
    for key in ("sheet.presence.spot_divergence", "fitting[outside].lens"):
        assert obstacle(far, **{key: None}) is Verdict.NOT_SHOWN


def test_a_thing_whose_place_is_in_doubt_is_not_clear() -> None:
    still = FLAG | {"moves": False, "out": "900 mm ± 880 mm"}
    assert obstacle(still) is Verdict.NOT_SHOWN
