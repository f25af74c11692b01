"""Text that is no TOML: every line of it told, in words."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.store.syntax import read_toml


def test_broken_lines_are_set_aside_and_the_rest_is_read() -> None:
    toml = read_toml('a = one\nb = 2\nc = 3 mm\n[d]\ne = "x\nf = 4\n')
    assert [fault.line for fault in toml.faults] == [1, 3, 5]
    assert toml.data == {"a": "", "b": 2, "c": "", "d": {"e": "", "f": 4}}


def test_the_first_of_two_like_keys_counts() -> None:
    toml = read_toml("a = 1\na = 2\n")
    assert toml.data == {"a": 1}
    assert toml.faults[0].line == 2


def test_after_a_fault_of_structure_nothing_more_is_read() -> None:
    toml = read_toml("a = one\n[b\nc = two\n")
    assert toml.data is None
    assert [fault.line for fault in toml.faults] == [1, 2]


def test_patience_has_an_end() -> None:
    toml = read_toml("".join(f"k{number} = x\n" for number in range(200)))
    assert toml.data is None
    assert len(toml.faults) == 50


@pytest.mark.parametrize(
    ("text", "line", "why"),
    [
        ("a = 1\n\nb = '''\nx\n\n", 3, "quote is not closed"),
        ('a = 1\nb = """\nx\n', 2, "quote is not closed"),
        ("a = 1\nb = [1,\n\n", 2, "list is not closed"),
        ("a = 1\nb =", 2, "nothing after ="),
        ("hello", 1, "a key without ="),
        ("a = 1\n[b", 2, "not closed"),
        ("a.b = 1\na.b.c = 2", 2, "written twice"),
        ("a = {b = 1}\n[a.c]\n", 2, "written twice"),
        ("a = [1]\n[[a]]\n", 2, "written in one piece"),
        ('a = "\\u00ZZ"', 1, "not a Unicode character"),
        ("= 1", 1, "neither a key"),
        ("[]", 1, "a key is missing"),
    ],
)
def test_the_place_is_where_it_began(text: str, line: int, why: str) -> None:
    (fault, *_) = read_toml(text).faults
    assert why in fault.why
    assert fault.line == line


@given(st.text(st.sampled_from("ab=.[]{}\"'#,\\ \n12-"), max_size=30))
def test_what_is_toml_is_read_as_tomllib_reads_it(text: str) -> None:
    toml = read_toml(text)
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        assert toml.faults
    else:
        assert (toml.data, toml.faults) == (document, ())
