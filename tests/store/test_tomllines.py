"""Lines of keys, tested against tomllib on generated documents."""

import json
import time
import tomllib
from collections.abc import Iterator
from itertools import count

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limen.store.tomllines import Path, extent, locate

DOCUMENT = """\
# a site
name = "Quay"  # [not.a.header]
note = '''
[neither = this]
'''
point = { x = "1 m", y.z = "2 m" }
"odd key".'dotted \\ part' = 1979-05-27 07:32:00
rows = [
  "10 mm", # first ]
  [1.5, { deep = "x" }],
]

[[doorway]]
id = "a"

[doorway.leaves]
thickness = "40 mm"

[[doorway.fitting]]
id = "out"
[[doorway.fitting]]
id = "in"
[doorway.fitting.lens]
x = "0 m"

[[doorway]]
id = "b"
[[doorway.fitting]]
id = "only"
"""


def test_every_kind_of_key_has_its_line() -> None:
    lines = locate(DOCUMENT)
    expected = {
        ("name",): 2,
        ("note",): 3,
        ("point",): 6,
        ("point", "x"): 6,
        ("point", "y", "z"): 6,
        ("odd key", "dotted \\ part"): 7,
        ("rows", 0): 9,
        ("rows", 1): 10,
        ("rows", 1, 0): 10,
        ("rows", 1, 1, "deep"): 10,
        ("doorway", 0): 13,
        ("doorway", 0, "leaves"): 16,
        ("doorway", 0, "leaves", "thickness"): 17,
        ("doorway", 0, "fitting", 1): 21,
        ("doorway", 0, "fitting", 1, "lens", "x"): 24,
        ("doorway", 1): 26,
        ("doorway", 1, "id"): 27,
        ("doorway", 1, "fitting", 0, "id"): 29,
    }
    assert {path: lines.get(path) for path in expected} == expected
    assert set(lines) == set(_paths(tomllib.loads(DOCUMENT)))


def test_a_table_named_after_its_children_has_its_own_line() -> None:
    lines = locate("[a.b]\nx = 1\n\n[a]\ny = 2\n")
    assert lines["a",] == 4
    assert lines["a", "b"] == 1


@pytest.mark.parametrize(
    "block",
    [
        '""""two""""',
        '"""""three"""""',
        '"""a\\""" ] """',
        '"""\\\\"""',
        "''''one''''",
        "'''''two'''''",
        '""""""',
        "''''''",
    ],
)
def test_blocks_end_where_tomllib_says(block: str) -> None:
    text = f"a = {block}\nb = [1]"
    assert set(locate(text)) == set(_paths(tomllib.loads(text)))


def test_carriage_returns_count_no_lines() -> None:
    assert locate("a = 1\r\n\r\nb = 2\r\n") == {("a",): 1, ("b",): 3}


def _paths(value: object, base: Path = ()) -> Iterator[Path]:
    if base:
        yield base
    if isinstance(value, dict):
        for key, item in value.items():
            yield from _paths(item, (*base, key))
    elif isinstance(value, list):
        for place, item in enumerate(value):
            yield from _paths(item, (*base, place))


# Documents made at random ----------------------------------------------------

_names = st.one_of(
    st.text("abcdefgh_-0123456789", min_size=1, max_size=5),
    st.text("ab .#[]{}='\"\\\t\né😀", max_size=5),
)
_comments = st.sampled_from(["", " # [x] = {", " # '''", ' # """', " #"])


@st.composite
def _documents(draw: st.DrawFn) -> str:
    """A document of tables, each leaf of which holds a number of its own."""
    number = count(1000)
    lines = [_line(draw, number, key) for key in draw(_unique(3))]
    for table in draw(_unique(4)):
        name = f"T{table}"
        if draw(st.booleans()):
            for _ in range(draw(st.integers(1, 3))):
                lines += _table(draw, number, f"[[{_spelled(draw, name)}]]")
                lines += _inner(draw, number, name)
        else:
            lines += _table(draw, number, f"[{_spelled(draw, name)}]")
            lines += _inner(draw, number, name)
    ending = draw(st.sampled_from(["\n", "\r\n"]))
    return ending.join("\n".join(lines).split("\n"))


def _unique(most: int) -> st.SearchStrategy[list[str]]:
    return st.lists(_names, max_size=most, unique=True)


def _table(draw: st.DrawFn, number: Iterator[int], header: str) -> list[str]:
    body = [_line(draw, number, key) for key in draw(_unique(3))]
    return ["", header + draw(_comments), *body]


def _inner(draw: st.DrawFn, number: Iterator[int], name: str) -> list[str]:
    lines: list[str] = []
    for inner in draw(_unique(2)):
        path = f"{_spelled(draw, name)} . {_spelled(draw, f'I{inner}')}"
        header = f"[[{path}]]" if draw(st.booleans()) else f"[{path}]"
        lines += _table(draw, number, header)
    return lines


def _line(draw: st.DrawFn, number: Iterator[int], key: str) -> str:
    dots = draw(st.lists(_names, max_size=2))
    # Dotted keys get a first part that nobody else uses.
    path = [f"{key}D", *dots] if dots else [key]
    spelled = draw(st.sampled_from([".", " . "])).join(_spelled(draw, k) for k in path)
    value = _value(draw, number, draw(st.integers(0, 3)), one_line=False)
    return f"{spelled} = {value}{draw(_comments)}"


def _spelled(draw: st.DrawFn, key: str) -> str:
    bare = key and all(c.isascii() and (c.isalnum() or c in "-_") for c in key)
    if bare and draw(st.booleans()):
        return key
    literal = "'" not in key and all(c.isprintable() or c == "\t" for c in key)
    if literal and draw(st.booleans()):
        return f"'{key}'"
    return json.dumps(key, ensure_ascii=False)


def _value(
    draw: st.DrawFn, number: Iterator[int], depth: int, *, one_line: bool
) -> str:
    kind = draw(st.integers(0, 4 if depth == 0 else 6))
    if kind == 5:
        items = [
            _value(draw, number, depth - 1, one_line=one_line)
            for _ in range(draw(st.integers(0, 3)))
        ]
        breaks = ["", " "] if one_line else ["", " ", "\n", " # ]\n", "\n\n  "]
        gap = lambda: draw(st.sampled_from(breaks))  # noqa: E731
        tail = draw(st.sampled_from(["", ","])) if items else ""
        joined = ",".join(gap() + item + gap() for item in items)
        return f"[{joined}{tail}{gap()}]"
    if kind == 6:
        pairs = [
            f"{_spelled(draw, key)} = "
            + _value(draw, number, depth - 1, one_line=one_line)
            for key in draw(_unique(3))
        ]
        return "{ " + ", ".join(pairs) + " }"
    return _leaf(kind, next(number), one_line=one_line)


def _leaf(kind: int, number: int, *, one_line: bool) -> str:
    spread = [f'"""{number} ]\n[a] = "" \\"""\n"""', f"'''{number}\n[[x]]\n''''"]
    plain = [
        str(number),
        f'"{number} # \\" ] }}"',
        f"{number}-05-27 07:32:00.5",
        f"'{number} = \\'",
    ]
    return (plain if one_line else [*plain[:3], *spread])[kind % (4 if one_line else 5)]


@given(_documents())
@settings(max_examples=300)
def test_every_path_of_tomllib_has_a_line_that_holds_it(text: str) -> None:
    document = tomllib.loads(text)
    lines = locate(text)
    written = text.split("\n")
    assert set(lines) == set(_paths(document))
    for path, line in lines.items():
        value = _at(document, path)
        if isinstance(value, (dict, list)):
            _assert_named(path, written[line - 1])
        else:
            assert _own_number(value) in written[line - 1]


def _at(document: object, path: Path) -> object:
    for part in path:
        document = document[part]  # type: ignore[index]
    return document


def _own_number(value: object) -> str:
    return "".join(c for c in str(value)[:4] if c.isdigit())


def _assert_named(path: Path, line: str) -> None:
    """The line of a table or an array holds its key, or the array's bracket."""
    key = path[-1]
    if isinstance(key, int):
        assert "[" in line or "{" in line
    else:
        assert key in line or json.dumps(key, ensure_ascii=False) in line


@given(st.text(st.sampled_from("ab=.[]{}\"'#,\\ \n1"), max_size=40))
def test_no_text_makes_the_scanner_fail(text: str) -> None:
    locate(text)
    extent(text, deepest=32, most=100)


@given(st.text(st.sampled_from("ab=.[]{}\"'#,\\ \n1"), max_size=40))
def test_what_tomllib_reads_is_located(text: str) -> None:
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    assert set(_paths(document)) == set(locate(text))


@pytest.mark.parametrize(
    ("text", "depth"),
    [
        ("a = 1", 0),
        ("a = [[[1]]]", 3),
        ("a = { b = [ { c = 1 } ] }", 3),
        ("a.b.c.d = 1", 3),
        ("[[a.b]]", 2),
        ("a = [1.5, 2.5, 3.5, 4.5]", 1),
        ("a = '[[[[['  # [[[[", 0),
        ("a = '''\n[[[[\n'''", 0),
        ("a = " + "[" * 10_000, 10_000),
        (".".join("a" * 1000) + " = 1", 999),
    ],
)
def test_nesting_is_counted_without_being_entered(text: str, depth: int) -> None:
    assert depth_of(text) == depth


def depth_of(text: str, deepest: int = 10_000) -> int:
    return extent(text, deepest=deepest, most=100_000).depth


def test_counting_ends_where_enough_is_known() -> None:
    assert depth_of("[" * 10_000, deepest=32) == 33
    assert extent("a = 1\n" * 10_000, deepest=32, most=100).values == 101


def test_the_line_of_the_deepest_place_is_named() -> None:
    found = extent("a = [1]\nb = [[1]]\nc = [[1]]", deepest=32, most=100)
    assert (found.depth, found.line) == (2, 2)


@pytest.mark.parametrize(
    "pattern",
    ["[", "{", '"', "'", '"""', '\\"""', '"""\\', "a.", "a=[", "#", "a", "a=1\n", "''"],
)
def test_time_grows_with_the_length_of_a_hostile_text(pattern: str) -> None:
    """Twenty times the text takes no more than some twenty times the time."""

    def seconds(size: int) -> float:
        text = pattern * (size // len(pattern))
        start = time.process_time()  # what others do on the machine does not count
        locate(text)
        extent(text, deepest=32, most=100)
        return time.process_time() - start

    small = max(min(seconds(5_000) for _ in range(3)), 1e-3)
    assert min(seconds(100_000) for _ in range(2)) < 200 * small
