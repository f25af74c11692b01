"""What a change owes: nothing for nothing, and never too little or too much."""

from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from keep.changed_doors import (
    DOORS,
    SITE,
    as_is,
    changed,
    facts,
    same,
    steps_of,
    turned,
)
from limen.findings import Message, Verdict
from limen.keep.differing import named
from limen.keep.owing import (
    Answer,
    Changed,
    Door,
    Made,
    of_key,
    otherwise,
    owed_by,
    owing,
)
from limen.keep.owing import (
    Test as Step,
)
from limen.keep.touching import (
    BESIDES,
    DONE,
    EVERYTHING,
    KINDS,
    MENDED,
    NO_TEST,
    ONLY,
    TESTS,
    WORK,
    Way,
    questions_on,
    touches,
)
from limen.model.doorway import Doorway
from limen.prove.minimum import Group
from limen.prove.work import order_of_work
from limen.questions import QUESTIONS
from limen.store.causes import known_causes

SAYS = Message("change.unread")
MAIN = "main"
GROUPS = {"presence": "box", "approach": "walk", "wiring": "plug"}
SAMPLED: tuple[tuple[str | int, ...], ...] = (
    ("clear_width",),
    ("leaves", "mass"),
    ("floor", "evenness"),
    ("motion", "closing_speed"),
    ("motion", "opening_speed"),
    ("operator", "reacts_in"),
    ("side_space", 0, "clearance"),
    ("thing", 0, "along"),
    ("fitting", 1, "lens", "height"),
    ("fitting", 0, "settings", "tilt"),
    ("fitting", 0, "settings", "radar_tilt"),
    ("fitting", 1, "wires", 1, "test_enabled"),
)


def made_of(tests: tuple[Step, ...]) -> dict[str, Made]:
    return {one.id: Made(good=True) for one in tests}


def key(way: Way) -> Changed:
    return of_key(way, SAYS)


# Tables --------------------------------------------------------------------------


def test_every_question_has_its_tests_or_says_what_tells_instead() -> None:
    assert set(TESTS) | set(NO_TEST) == set(QUESTIONS)
    assert not set(TESTS) & set(NO_TEST)
    assert {group for groups in TESTS.values() for group in groups} <= set(
        get_args(Group)
    )


def test_tables_name_only_what_there_is() -> None:
    named_in = {question for _, questions in BESIDES for question in questions}
    assert named_in | set(WORK) <= set(QUESTIONS)
    works = {work.id for door in SITE.doorway for work in order_of_work(door)}
    assert works <= set(DONE)
    assert {work for of in WORK.values() for work in of} <= works
    assert {one.owed for one in known_causes().causes} == set(MENDED)
    assert {group for _, of in ONLY for group in of} <= set(get_args(Group))


def test_every_kind_of_reading_tells_what_must_have_moved() -> None:
    assert all(KINDS.values())


# Nothing -------------------------------------------------------------------------


@pytest.mark.parametrize("door", DOORS)
def test_a_change_of_nothing_owes_nothing(door: str) -> None:
    tests = steps_of(door)
    found = owing((), same(door), tests, made_of(tests))
    assert (found.owed, found.reopened, found.work) == ((), (), ())
    assert found.left == tests


def test_what_was_never_made_or_did_not_show_it_is_owed_without_any_change() -> None:
    tests = steps_of(MAIN)
    first, second, *_ = tests
    made = made_of(tests) | {second.id: Made(good=False)}
    del made[first.id]
    found = owing((), same(MAIN), tests, made)
    assert [one.test.id for one in found.owed] == [first.id, second.id]
    keys = [one.because[0].key for one in found.owed]
    assert keys == ["change.because.not_made", "change.because.not_good"]


# Enough --------------------------------------------------------------------------


def assert_enough(door: str, way: tuple[str | int, ...]) -> None:
    """A fact whose change moves any finding owes a test of its question."""
    one = as_is(door).door
    other = turned(one, way)
    assert isinstance(other, Doorway)
    both = changed(other)
    tests = steps_of(door)
    found = owing((key(named(one, way)),), both, tests, made_of(tests))
    owed = {each.test.group for each in found.owed}
    there = {each.group for each in tests}
    for question, *_ in both.moved:
        wanted = set(TESTS.get(question, ())) & there
        assert not wanted or wanted & owed, (way, question)
        # What is read is never less than what decides: no finding moves unexplained,
        # but where a fact says only whether, or of whom, it is asked.
        if wanted and way[0] != "use":
            assert any(
                each.key == "change.because.changed"
                for each in _because(found, TESTS[question])
            ), (way, question)


def _because(found: object, groups: tuple[str, ...]) -> list[Message]:
    owed = getattr(found, "owed")  # noqa: B009
    return [w for one in owed if one.test.group in groups for w in one.because]


@pytest.mark.parametrize("way", SAMPLED, ids=lambda way: ".".join(map(str, way)))
def test_a_fact_that_moves_a_finding_owes_a_test_of_it(
    way: tuple[str | int, ...],
) -> None:
    assert_enough(MAIN, way)


@pytest.mark.slow
@pytest.mark.parametrize("door", DOORS)
def test_every_fact_of_a_door_that_moves_a_finding_owes_a_test_of_it(door: str) -> None:
    for way in facts(as_is(door).door):
        assert_enough(door, way)


WAYS = sorted({way for ways in same(MAIN).reads.values() for way in ways})
ways = st.lists(st.sampled_from(WAYS), max_size=6)


@settings(max_examples=40)
@given(ways, ways)
def test_more_changes_never_owe_fewer_tests(some: list[Way], more: list[Way]) -> None:
    tests = steps_of(MAIN)
    fewer, all_ = (
        {
            one.test.id
            for one in owing(
                [key(way) for way in each], same(MAIN), tests, made_of(tests)
            ).owed
        }
        for each in (some, [*some, *more])
    )
    assert fewer <= all_


@settings(max_examples=30)
@given(ways)
def test_no_order_of_changes_owes_other_tests(some: list[Way]) -> None:
    tests = steps_of(MAIN)
    one, other = (
        [
            each.test.id
            for each in owing(
                [key(way) for way in listed], same(MAIN), tests, made_of(tests)
            ).owed
        ]
        for listed in (some, some[::-1])
    )
    assert one == other
    assert one == [test.id for test in tests if test.id in one]


# No more -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("way", "wanted"),
    [
        (("fitting", "[inside]", "settings", "radar_tilt"), {"walk.inside"}),
        (("fitting", "[inside]", "wires", "[presence]", "test_enabled"), {"plug"}),
        (("fitting", "[outside]", "cable", "length"), {"plug.outside"}),
        (("side_space", "[left]", "gap"), {"trailing.left"}),
        (("presence_ignored_below",), {"box.closing"}),
        (("marking", "lowest"), set()),
        (("traffic", "opens"), set()),
        (("name",), set()),
    ],
)
def test_what_rests_on_nothing_changed_is_not_asked_again(
    way: Way, wanted: set[str]
) -> None:
    owed = owed_by(key(way), same(MAIN), steps_of(MAIN))
    assert bool(owed) == bool(wanted)
    assert all(any(one.startswith(each) for each in wanted) for one in owed)
    if wanted:
        left = owing((key(way),), same(MAIN), steps_of(MAIN), made_of(steps_of(MAIN)))
        assert {one.id for one in left.left} == {
            one.id for one in steps_of(MAIN)
        } - set(owed)


def test_rows_that_were_turned_owe_no_walk_and_a_radar_no_box() -> None:
    tests = steps_of(MAIN)
    rows = owed_by(key(("fitting", "[inside]", "settings", "tilt")), same(MAIN), tests)
    radar = owed_by(
        key(("fitting", "[inside]", "settings", "reach")), same(MAIN), tests
    )
    assert {"box.middle", "box.closing", "still"} <= set(rows)
    assert not any(one.startswith(("walk", "plug")) for one in rows)
    assert set(radar) == {"walk.inside.straight", "walk.inside.wall"}


def test_a_text_that_is_not_at_hand_owes_every_test() -> None:
    tests = steps_of(MAIN)
    gone = Changed(SAYS, EVERYTHING, known=False)
    found = owing((gone,), same(MAIN), tests, made_of(tests))
    assert [one.test for one in found.owed] == list(tests)
    assert {one.because[0].key for one in found.owed} == {"change.because.unread"}


# When it was made ----------------------------------------------------------------


def test_a_test_made_after_a_change_is_not_owed_by_it() -> None:
    tests = steps_of(MAIN)
    tilt = key(("fitting", "[inside]", "settings", "tilt"))
    made = made_of(tests) | {"box.left": Made(good=True, after=frozenset({0}))}
    found = owing((tilt,), same(MAIN), tests, made)
    assert "box.left" not in {one.test.id for one in found.owed}
    assert "box.right" in {one.test.id for one in found.owed}


def test_what_is_owed_by_name_is_owed_whatever_its_questions_look_at() -> None:
    tests = steps_of(MAIN)
    mended = Changed(SAYS, (), tests=("still",))
    assert owed_by(mended, same(MAIN), tests) == ("still",)


# Findings ------------------------------------------------------------------------


def _door(was: Verdict, now: Verdict, question: str = "presence.threshold") -> Door:
    one, other = Answer(was, must=True), Answer(now, must=True)
    name = (question, "", "upright")
    return Door({name: one}, {name: other}, {question: {("clear_width",)}}, {})


BOX = (Step("box.middle", "box", 0.5),)


def test_what_held_and_does_no_longer_is_open_again() -> None:
    found = owing((), _door(Verdict.HOLDS, Verdict.FAILS), BOX, made_of(BOX))
    (one,) = found.reopened
    assert (one.why, one.now, one.must) == ("fell", Verdict.FAILS, True)
    (owed,) = found.owed
    assert owed.because[0].key == "change.because.answered"


def test_what_holds_and_rests_on_something_that_changed_is_open_until_its_test() -> (
    None
):
    door = _door(Verdict.HOLDS, Verdict.HOLDS)
    found = owing((key(("clear_width",)),), door, BOX, made_of(BOX))
    assert [one.why for one in found.reopened] == ["rests"]
    assert not owing((key(("floor",)),), door, (), {}).reopened
    after = {"box.middle": Made(good=True, after=frozenset({0}), now=True)}
    assert not owing((key(("clear_width",)),), door, BOX, after).reopened


def test_what_failed_and_holds_now_owes_its_test_and_is_not_called_open_again() -> None:
    found = owing((), _door(Verdict.FAILS, Verdict.HOLDS), BOX, made_of(BOX))
    assert not found.reopened
    assert [one.test.id for one in found.owed] == ["box.middle"]


def test_a_question_of_which_no_test_tells_is_named_with_what_does() -> None:
    door = _door(Verdict.HOLDS, Verdict.FAILS, "site.marking")
    found = owing((), door, BOX, made_of(BOX))
    assert found.elsewhere == (("site.marking", "looked"),)
    assert found.work == ("signs",)
    assert not found.owed


@pytest.mark.parametrize(
    ("was", "now", "differs"),
    [
        ((0.010, 0.001), (0.0115, 0.001), False),
        ((0.010, 0.001), (0.0125, 0.001), True),
        ((0.010, 0.0), (0.0100005, 0.0), False),
        ((None, 0.0), (0.010, 0.0), True),
        ((None, 0.0), (None, 0.0), False),
    ],
)
def test_margins_differ_where_they_are_further_apart_than_both_are_known(
    was: tuple[float | None, float], now: tuple[float | None, float], differs: bool
) -> None:
    one, other = (Answer(Verdict.HOLDS, True, *each) for each in (was, now))
    assert otherwise(one, other) is differs


def test_a_question_that_is_asked_no_more_is_answered_otherwise() -> None:
    held, idle = Answer(Verdict.HOLDS, True), Answer(Verdict.NOT_ASKED, False)
    assert otherwise(held, None)
    assert otherwise(None, held)
    assert not otherwise(idle, None)


# Ways ----------------------------------------------------------------------------


def test_a_list_that_is_looked_through_is_not_touched_by_what_stands_in_it() -> None:
    assert touches(("fitting", "[inside]"), ("fitting", "[inside]", "lens", "height"))
    assert not touches(("fitting", "[inside]", "lens", "height"), ("fitting",))
    assert touches(("fitting", "*", "lens"), ("fitting", "[inside]", "lens", "height"))


@settings(max_examples=40)
@given(ways, ways)
def test_more_changes_never_touch_fewer_questions(
    some: list[Way], more: list[Way]
) -> None:
    reads = same(MAIN).reads
    assert questions_on(some, reads) <= questions_on([*some, *more], reads)
