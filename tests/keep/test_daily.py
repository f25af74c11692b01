"""What an owner does every day follows from the doorway, and says where it is from.

Sources: no edition of EN 16005 that was seen asks the owner for a check every day; that
is from the trade: public advice to owners of 2002 and 2013 (no text is quoted).
ASR A1.7 (2012), section 6 (3): safety distances hold in daily use.
"""

import pytest

from builders.doorways import a_doorway
from limen.keep.daily import NO_SOURCE, PARTS, From, asked_of, facts_of
from limen.quantity import Grade
from limen.store.daily import daily_steps
from limen.words import catalogue

ALWAYS = {"clear", "floor", "glass", "walk", "watch", "close"}
ADVICE = From("trade", Grade.SEEN)
DISTANCES = From("asr", Grade.SEEN)
STEPS = daily_steps()


def test_what_every_door_asks_for_is_asked_without_any_fact() -> None:
    bare = a_doorway().model_copy(update={"fitting": (), "side_space": ()})
    found = {one.id for one in asked_of(STEPS, bare, ["en"])}
    assert found >= ALWAYS
    assert not found & {"units", "box", "beam", "screens"}


@pytest.mark.parametrize(
    ("change", "step"),
    [
        ({"use.escape_route": True, "use.breaks_out": False}, "escape"),
        ({"use.escape_route": True, "use.breaks_out": True}, "break"),
        ({"mode_switch": "free"}, "mode"),
        ({"power_loss": {"does": "opens", "by": "battery"}}, "battery"),
    ],
)
def test_a_fact_of_the_door_adds_its_step(change: dict[str, object], step: str) -> None:
    assert step in {one.id for one in asked_of(STEPS, a_doorway(change), ["en"])}


def test_leaves_that_push_open_are_not_tried_as_an_emergency_opening() -> None:
    door = a_doorway({"use.escape_route": True, "use.breaks_out": True})
    assert "escape" not in {one.id for one in asked_of(STEPS, door, ["en"])}


def test_a_box_is_put_in_the_way_only_of_a_door_that_looks_for_presence() -> None:
    with_it = a_doorway()
    assert "presence" in facts_of(with_it)
    without = with_it.model_copy(update={"fitting": ()})
    assert "box" in {one.id for one in asked_of(STEPS, with_it, ["en"])}
    assert "box" not in {one.id for one in asked_of(STEPS, without, ["en"])}


def test_an_escape_route_that_nobody_named_is_not_called_lockable() -> None:
    """Whoever does not know is not told to lock a door."""
    unknown = a_doorway({"use.escape_route": None})
    assert "lockable" not in facts_of(unknown)
    assert "lockable" in facts_of(a_doorway({"use.escape_route": False}))


def test_steps_come_in_the_order_of_their_parts() -> None:
    order = [PARTS.index(one.part) for one in STEPS]
    assert order == sorted(order)


def test_the_trade_s_advice_is_named_in_its_country_and_nowhere_else() -> None:
    american = {one.id: one.source for one in asked_of(STEPS, a_doorway(), ["us"])}
    european = {one.id: one.source for one in asked_of(STEPS, a_doorway(), ["en"])}
    assert american["walk"] == ADVICE
    assert set(european.values()) == {NO_SOURCE}


def test_the_box_is_our_own_in_every_country() -> None:
    """The advice has a person stand still in the doorway: here none does."""
    for book in ("us", "en", "de"):
        found = {o.id: o.source for o in asked_of(STEPS, a_doorway(), [book, "en"])}
        assert found["box"] == NO_SOURCE


def test_a_country_s_own_source_goes_before_that_of_its_base() -> None:
    german = {o.id: o.source for o in asked_of(STEPS, a_doorway(), ["de", "en"])}
    assert german["clear"] == DISTANCES
    assert german["walk"] == NO_SOURCE


def test_every_step_has_its_words_and_every_added_sentence_too() -> None:
    words = catalogue("en")
    for one in STEPS:
        for key in ("step", "how", "picture"):
            assert words.sentence(f"owner.{key}.{one.id}")
        for fact in one.also:
            assert words.sentence(f"owner.also.{fact}")
        for source in one.source.values():
            assert words.sentence(f"owner.source.{source.document}")
