from hypothesis import given
from hypothesis import strategies as st

from limen.quantity import Show
from limen.web.look import SIDES, THEMES, Look, look_of


def test_a_reader_who_chose_nothing_sees_what_the_device_says_in_metres() -> None:
    assert look_of({}) == Look("device", "metric", "outside")


def test_what_was_chosen_is_kept() -> None:
    look = look_of({"limen_theme": "slate", "limen_units": "feet"})
    assert (look.theme, look.system) == ("slate", Show.FEET)


@given(theme=st.text(), units=st.text(), side=st.text())
def test_whatever_a_cookie_holds_only_known_choices_reach_a_page(
    theme: str, units: str, side: str
) -> None:
    look = look_of({"limen_theme": theme, "limen_units": units, "limen_side": side})
    assert look.theme in THEMES
    assert look.system in Show
    assert look.side in SIDES


def test_only_one_who_asks_for_it_sees_plans_turned() -> None:
    assert not look_of({}).turned
    assert look_of({"limen_side": "inside"}).turned
