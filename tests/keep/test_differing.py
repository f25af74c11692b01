"""Doors fact by fact, and readings within their ±."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from keep.changed_doors import SITE
from limen.keep.differing import ReadAgain, alike, differing, named
from limen.model.doorway import Doorway
from limen.model.surroundings import Marking
from limen.quantity import Dimension, Quantity, parse

MAIN = SITE.door("main")


def again(left: str, found: str) -> ReadAgain:
    one, other = (parse(text, Dimension.LENGTH) for text in (left, found))
    return ReadAgain(
        "inside", "row line", "1||", one, other, Dimension.LENGTH, (left, found)
    )


@pytest.mark.parametrize("door", SITE.doorway, ids=lambda one: one.id)
def test_a_door_does_not_differ_from_itself(door: Doorway) -> None:
    assert differing(door, door.model_copy()) == ()


def test_an_inch_is_25_4_mm_and_no_change() -> None:
    one, other = parse("1 in", Dimension.LENGTH), parse("25.4 mm", Dimension.LENGTH)
    assert alike(one, other)
    assert alike(replace(one, u=0.002), other)
    assert not alike(one, parse("25.5 mm", Dimension.LENGTH))


def test_a_value_that_is_left_out_is_the_same_as_that_value_written_down() -> None:
    plain = MAIN.model_dump(exclude={"fitting", "air"})
    read = Doorway.model_construct(**{**plain, "marking": Marking()})
    written = Doorway.model_construct(**{**plain, "marking": Marking(lowest=None)})
    assert differing(read, written) == ()


def test_a_setting_is_found_by_the_name_of_its_unit() -> None:
    one, two = MAIN.fitting
    tilt = one.settings.model_copy(update={"tilt": Quantity(0.0)})
    other = one.model_copy(update={"settings": tilt})
    door = MAIN.model_copy(update={"fitting": (two, other)})  # and in another order
    (found,) = differing(MAIN, door)
    assert found.way == ("fitting", "[outside]", "settings", "tilt")
    assert found.now == Quantity(0.0)


def test_a_unit_that_was_taken_away_is_one_change() -> None:
    door = MAIN.model_copy(update={"fitting": MAIN.fitting[:1]})
    (found,) = differing(MAIN, door)
    assert found.way == ("fitting", "[inside]")
    assert found.now is None


def test_a_way_by_places_is_named() -> None:
    way = ("fitting", 1, "wires", 0, "to")
    assert named(MAIN, way) == ("fitting", "[inside]", "wires", "[opening]", "to")


@pytest.mark.parametrize(
    ("left", "found", "moved"),
    [
        ("64 mm ± 5 mm", "74 mm ± 5 mm", False),
        ("64 mm ± 5 mm", "75 mm ± 5 mm", True),
        ("64 mm ± 1 mm", "65 mm ± 1 mm", False),
        ("1 in", "25.4 mm", False),
        ("64 mm", "65 mm", True),
    ],
)
def test_a_reading_moved_if_it_differs_by_more_than_both_are_known(
    left: str, found: str, moved: bool
) -> None:
    assert again(left, found).moved is moved


size = st.floats(0.0, 2.0)
within = st.floats(0.0, 0.1)


@given(size, size, within, within, st.floats(0.0, 0.1))
def test_closer_readings_never_make_it_as_it_was(
    left: float, found: float, one: float, other: float, less: float
) -> None:
    loose, tight = (
        replace(
            again("64 mm", "64 mm"),
            left=Quantity(left, max(one - by, 0.0)),
            found=Quantity(found, max(other - by, 0.0)),
        )
        for by in (0.0, less)
    )
    assert tight.moved or not loose.moved
    assert loose.by == pytest.approx(found - left)
