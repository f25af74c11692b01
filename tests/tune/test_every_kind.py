"""The search answers for every kind of doorway, and gives up when told to."""

import pytest

from builders.doorways import a_doorway
from limen.findings import Verdict
from limen.findings.tuned import Tuned
from limen.rules import Rulebook
from limen.store.bookshelf import open_shelf
from limen.study import apply, study
from limen.tune.searching import tune

FAR = {f"fitting[{side}].settings.tilt": "-1 deg" for side in ("outside", "inside")}
STILL = {"sheet.motion": None, "sheet.presence.tilt.step": "0.5 deg"}
"""Without radars, and with a coarse scale, a search is short."""


@pytest.fixture(scope="module")
def book() -> Rulebook:
    return open_shelf().edition("en", "2012")


def _holds(found: Tuned) -> bool:
    asked = [
        one.verdict
        for one in found.best.study.findings
        if one.question in ("presence.threshold", "presence.leaf_path")
        and one.weight.value == "must"
    ]
    return set(asked) == {Verdict.HOLDS}


def test_a_doorway_without_units_has_nothing_to_turn(book: Rulebook) -> None:
    door = a_doorway().model_copy(update={"fitting": ()})
    found = tune(door, book)
    assert found.best.settings == ()
    assert len(found.front) == 1
    assert found.why_not_better


def test_a_unit_of_unknown_sheet_stays_and_is_named(book: Rulebook) -> None:
    door = a_doorway(STILL)
    outside, inside = door.fitting
    unknown = outside.model_copy(update={"unit": None})
    found = tune(door.model_copy(update={"fitting": (unknown, inside)}), book)
    assert all(one.fitting != "outside" for one in found.best.settings)


def test_a_unit_whose_tilt_nobody_stated_is_given_one(book: Rulebook) -> None:
    door = a_doorway(STILL, **{"fitting[outside].settings.tilt": None})
    found = tune(door, book)
    tilts = [one for one in found.best.settings if one.setting == "settings.tilt"]
    assert ("outside", "") in {(one.fitting, one.was) for one in tilts}
    assert _holds(found)


def test_rows_read_on_the_floor_are_brought_by_whole_millimetres(
    book: Rulebook,
) -> None:
    read = {"fitting[outside].read": {"first_row": "150 mm"}}
    found = tune(a_doorway(STILL, **read), book)
    moved = [one for one in found.best.settings if one.setting == "read.first_row"]
    assert [one.fitting for one in moved] == ["outside"]
    assert moved[0].to.endswith(" mm")
    assert _holds(found)


def test_rows_whose_ends_were_read_keep_their_fan(book: Rulebook) -> None:
    read = {"left_end": "-1200 mm", "right_end": "1200 mm"}
    found = tune(a_doorway(STILL | FAR, **{"fitting[outside].read": read}), book)
    kept = [o for o in found.best.settings if o.setting == "settings.fan"]
    assert all(one.fitting != "outside" for one in kept)


def test_several_units_a_side_are_aimed_together(book: Rulebook) -> None:
    door = a_doorway(STILL | FAR)
    third = door.fitting[0].model_copy(update={"id": "outside-2"})
    found = tune(door.model_copy(update={"fitting": (*door.fitting, third)}), book)
    assert _holds(found)


def test_every_row_that_moves_has_its_target_line(book: Rulebook) -> None:
    door = a_doorway(STILL | FAR)
    found = tune(door, book)
    moved = {o.fitting for o in found.best.settings if o.setting == "settings.tilt"}
    assert moved
    assert {aim.target.fitting for aim in found.best.aims} == moved
    for aim in found.best.aims:
        assert aim.target.least <= aim.target.best <= aim.target.most


def test_where_one_side_cannot_do_it_what_would_is_proved(book: Rulebook) -> None:
    door = a_doorway(STILL, **{"leaves.thickness": "120 mm"})
    alone = door.model_copy(update={"fitting": door.fitting[:1]})
    found = tune(alone, book)
    bound = [b for b in found.why_not_better if b.finding.question in PROVED]
    assert bound
    assert {lift.key for one in bound for lift in one.lifts} >= {"tune.lift.second"}


PROVED = ("presence.threshold", "presence.leaf_path")


def test_units_that_share_a_channel_are_parted(book: Rulebook) -> None:
    wide = {"sheet.presence.spot_divergence": "8 deg"}  # the light of both sides meets
    door = a_doorway(STILL | wide, **{"fitting[inside].settings.channel": 1})
    found = tune(door, book)
    channels = [o for o in found.best.settings if o.setting == "settings.channel"]
    assert len(channels) == 1
    again = study(apply(door, [one.change for one in found.best.settings]), book)
    assert again.findings == found.best.study.findings


class GivenUpError(Exception):
    """Nobody waits any more."""


def test_a_search_ends_when_whoever_listens_wants_it_to(book: Rulebook) -> None:
    heard: list[tuple[int, int]] = []

    def told(done: int, of: int) -> None:
        heard.append((done, of))
        if done >= 1:
            raise GivenUpError

    with pytest.raises(GivenUpError):
        tune(a_doorway(STILL), book, told=told)
    assert all(0 <= done <= of for done, of in heard)


def test_a_reach_that_was_walked_keeps_what_was_set_then(book: Rulebook) -> None:
    walked = a_doorway(
        {
            "fitting[outside].read": {"lit_ahead": ["2 m", "2 m", "2 m"]},
            "sheet.motion.yaw": None,
            "sheet.motion.tilt.step": "15 deg",
            "sheet.presence.tilt.step": "1 deg",
        }
    )
    found = tune(walked, book)
    for choice in found.front:
        names = {one.setting for one in choice.settings if one.fitting == "outside"}
        assert ("settings.radar_tilt" in names) == ("read.lit_tilt" in names)
        assert ("settings.reach" in names) <= ("read.lit_reach" in names)
