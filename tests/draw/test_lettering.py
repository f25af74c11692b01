"""Where lines of a label are broken."""

from hypothesis import given
from hypothesis import strategies as st

from limen.draw.lettering import width_of, wrapped

SIZE = 10.0
TARGET = "target 59 mm (53 mm to 65 mm)"


def test_what_stands_in_brackets_is_not_torn_apart() -> None:
    """A window of a target line reads as one."""
    assert wrapped(TARGET, SIZE, 150) == "target 59 mm\n(53 mm to 65 mm)"


def test_brackets_without_room_for_them_are_broken_all_the_same() -> None:
    """Rather a broken window than one that leaves the sheet."""
    assert wrapped(TARGET, SIZE, 60).count("\n") > 1


def test_a_number_keeps_its_unit() -> None:
    """A space that does not break ties both."""
    tied = "bring it to 59\u00a0mm"
    assert "59\u00a0mm" in wrapped(tied, SIZE, 75).split("\n")


def test_a_space_that_does_not_break_is_no_wider_than_another() -> None:
    """Else labels are given more room than they take."""
    assert width_of("59\u00a0mm", SIZE) == width_of("59 mm", SIZE)


PARTS = ["of", "row", "(53 to", "65 mm)", "(far)"]
WORDS = st.lists(st.sampled_from(PARTS), min_size=1)


@given(WORDS, st.floats(20, 400))
def test_no_word_is_lost_and_no_line_is_empty(words: list[str], room: float) -> None:
    """Only spaces become line breaks."""
    lines = wrapped(" ".join(words), SIZE, room).split("\n")
    assert " ".join(lines) == " ".join(words)
    assert all(lines)
