"""Which units of a site may reach each other, and what a chain is told."""

import pytest

from builders.chains import beside, door, on_channels
from builders.doorways import a_site
from limen.model.doorway import Doorway
from limen.model.site import Site
from limen.questions.channels import (
    Layout,
    harm,
    layout,
    placed,
    shared_in_chain,
    to_part,
)
from limen.tune.channels_plan import channel_plan

NEAR = "1600 mm"


def facing(other: str, side: str = "outside", **more: str) -> dict[str, object]:
    told = {"doorway": other, "side": side, "distance": NEAR, "shift": "0 mm", **more}
    return {"facing": [told]}


def on_one_channel(doorway: Doorway) -> Doorway:
    return on_channels(doorway, [1] * len(doorway.fitting))


def between(found: Layout, one: str, two: str) -> list[str]:
    """How the pairs of two doorways stand."""
    seats = found.seats
    return [
        pair.how
        for pair in found.pairs
        if {seats[pair.one].name[0], seats[pair.two].name[0]} == {one, two}
    ]


def test_of_doorways_of_which_nothing_is_said_nobody_can_tell() -> None:
    found = layout((door("a"), door("b")))
    assert set(between(found, "a", "b")) == {"not known"}
    keys = {lack.key for pair in found.pairs for lack in pair.lacking}
    assert "doorway[a].spaces.outside" in keys


def test_walls_part_units_in_spaces_of_different_names() -> None:
    spaces = {"spaces": {"outside": "yard", "inside": "hall"}}
    others = {"spaces": {"outside": "street", "inside": "cellar"}}
    assert not between(layout((door("a", spaces), door("b", others))), "a", "b")
    shared = {"spaces": {"outside": "street", "inside": "hall"}}
    assert between(layout((door("a", spaces), door("b", shared))), "a", "b") == [
        "not known"
    ]


def test_far_apart_in_one_wall_they_cannot_reach_each_other() -> None:
    assert not between(layout((door("a", beside("b", "9 m")), door("b"))), "a", "b")


def test_close_together_in_one_wall_their_light_meets() -> None:
    found = layout((door("a", beside("b", "2100 mm")), door("b")))
    assert "meets" in between(found, "a", "b")


def test_a_shift_that_nobody_taped_leaves_it_open() -> None:
    told = {"facing": [{"doorway": "b", "side": "outside", "distance": "220 mm"}]}
    found = layout((door("a", told), door("b")))
    assert set(between(found, "a", "b")) <= {"may"}
    lacks = {one.key for pair in found.pairs for one in pair.lacking}
    assert "doorway[a].facing[b].shift" in lacks


def test_places_follow_from_step_to_step() -> None:
    """A second doorway 3 m to the right, a third 2 m out of that one."""
    third = {**facing("b", side="inside", distance="2 m", shift="-1 m")}
    doors = (door("a", beside("b", "3 m ± 10 mm")), door("b"), door("c", third))
    places = placed(doors)
    assert places["b"].at == pytest.approx((3.0, 0.0))
    assert places["c"].at == pytest.approx((4.0, 2.0))
    assert places["c"].off[0] == pytest.approx(0.01)
    assert len({one.group for one in places.values()}) == 1


def test_it_does_not_matter_which_of_two_doorways_says_it() -> None:
    here = placed((door("a", beside("b", "3 m")), door("b")))
    there = placed((door("a"), door("b", beside("a", "-3 m"))))
    assert here["b"].at == there["b"].at


def test_light_that_meets_weighs_more_than_light_that_may() -> None:
    close = layout((door("a", beside("b", "2100 mm")), door("b")))
    known = [harm(one) for one in close.pairs if one.how == "meets"]
    unknown = [harm(one) for one in layout((door("a"), door("b"))).pairs]
    assert min(known) > 10 * max(unknown)


# A chain ----------------------------------------------------------------------


def a_chain() -> Site:
    """Three doorways in one wall, every unit on channel 1."""
    doors = (
        door("a", beside("b", "2100 mm")),
        door("b", beside("c", "2100 mm")),
        door("c"),
    )
    return a_site(*map(on_one_channel, doors))


def test_a_chain_is_told_channels_that_go_together() -> None:
    doors = a_chain().doorway
    told = [shared_in_chain(doors, one.id) for one in doors]
    assert told[0] == told[1] == told[2]
    found = layout(doors)
    assert any(one.how == "meets" for one in found.pairs)
    for pair in found.pairs:
        one, two = (found.seats[n].name for n in (pair.one, pair.two))
        assert told[0][one] != told[0][two]


def test_the_plan_of_a_chain_is_what_its_doorways_are_told() -> None:
    site = a_chain()
    told = shared_in_chain(site.doorway, "b")
    plan = channel_plan(site)
    assert {(u.doorway, u.fitting): u.channel for u in plan.units} == told
    assert not plan.sharing
    assert plan.exact


def test_a_chain_too_long_for_one_doorway_is_told_no_channel_that_may_be_another() -> (
    None
):
    """What a doorway is told is what the plan of the site says, or nothing."""
    names = "abcdefghij"
    doors = tuple(
        on_one_channel(door(one, beside(other, "2100 mm") if other else None))
        for one, other in zip(names, [*names[1:], ""], strict=True)
    )
    told = shared_in_chain(doors, "e")
    plan = channel_plan(a_site(*doors))
    for unit in plan.units:
        assert told[unit.doorway, unit.fitting] in (None, unit.channel)
    assert None in told.values()


def test_a_channel_that_must_stay_stays() -> None:
    free = channel_plan(a_chain()).changes
    moved = free[0]
    doors = tuple(
        one.model_copy(
            update={
                "fitting": tuple(
                    f.model_copy(
                        update={
                            "settings": f.settings.model_copy(
                                update={"channel_fixed": True}
                            )
                        }
                    )
                    if (one.id, f.id) == (moved.doorway, moved.fitting)
                    else f
                    for f in one.fitting
                )
            }
        )
        for one in a_chain().doorway
    )
    plan = channel_plan(a_site(*doors))
    assert (moved.doorway, moved.fitting) not in {
        (one.doorway, one.fitting) for one in plan.changes
    }
    assert not plan.sharing


def test_with_one_channel_what_remains_is_told_with_how_far_to_move_it() -> None:
    doors = (
        door("a", {**beside("b", "2100 mm"), "sheet.presence.channels": 1}),
        door("b", {"sheet.presence.channels": 1}),
    )
    plan = channel_plan(a_site(*map(on_one_channel, doors)))
    assert plan.sharing
    for pair in plan.sharing:
        assert pair.remedy is not None
        if pair.how == "meets":
            assert pair.to_part is not None
            assert pair.to_part > 0


def test_moved_apart_as_told_their_light_meets_no_more_and_sooner_it_does() -> None:
    """The second doorway along the wall by what the remedy says, and by 2 mm less."""
    near = layout((door("a", beside("b", "2100 mm")), door("b")))
    by = max(to_part(near, one)[0] for one in near.pairs)

    def left(far: float) -> list[str]:
        along = f"{1000 * far:.3f} mm"
        return between(layout((door("a", beside("b", along)), door("b"))), "a", "b")

    assert left(2.1)
    assert left(2.1 + by - 0.002)
    assert not left(2.1 + by + 0.001)
