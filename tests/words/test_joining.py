"""A language's own colon and semicolon, where words stand in no sentence."""

import pytest

from limen.words import apart, named, read_as
from limen.words.numbers import numbered


def test_several_things_are_set_apart() -> None:
    assert apart([]) == ""
    assert apart(["one"]) == "one"
    assert apart(iter(["one", "two", "three"])) == "one; two; three"
    assert named("Thing", "plant") == "Thing: plant"


@pytest.mark.parametrize("language", ["de", "fr"])
def test_nothing_is_lost_in_any_language(language: str) -> None:
    with read_as(language):
        said = apart(["a", "b", "c"])
        assert [one for one in said if one.isalpha()] == ["a", "b", "c"]
        assert named("x", "y").replace("\u00a0", " ").split(":")[0].strip() == "x"


def test_days_are_a_word_and_no_other_letter_is() -> None:
    assert numbered("112 d", "de") == "112 d"
    assert numbered("level d", "fr") == "level d"
