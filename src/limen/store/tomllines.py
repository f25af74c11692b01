"""On which line each key of a TOML text stands, and how deep it nests.

`tomllib` gives values without lines. This scanner gives lines without values: it
follows the same grammar (TOML 1.0) on the same text in one pass, and never
refuses a text; where the text is no TOML it stops and returns what it has found.
"""

import re
import tomllib
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field

Path = tuple[str | int, ...]
"""The way to a value: keys of tables, and places in arrays counted from 0."""

_TOKEN = re.compile(
    r"""
      (?P<space>[ \t\r]+)
    | (?P<newline>\n[ \t\r\n]*)
    | (?P<comment>\#[^\n]*)
    | (?P<block>\"\"\"(?:[^"\\]+|\\.|"{1,2}(?!"))*+\"{3,5}
               |'''(?:[^']+|'{1,2}(?!'))*+'{3,5})
    | (?P<broken>\"\"\"|''')
    | (?P<text>"(?:[^"\\\n]+|\\[^\n])*+"|'[^'\n]*')
    | (?P<mark>[\[\]{}=,.])
    | (?P<bare>[^\s\[\]{}=,.\#"']+)
    """,
    re.VERBOSE | re.DOTALL,
)
_DEEPEST = 100
"""Where this scanner stops; readers refuse far less (see `extent`)."""


def locate(text: str) -> dict[Path, int]:
    """Find the line of every key and of every element of an array.

    A table has the line of its header, or of the first key that implies it; an
    element of an array of tables that of its `[[header]]`; an element of an array
    the line where it begins; a dotted key its line for each of its parts.

    Args:
        text: A TOML text.

    Returns:
        Lines, counted from 1, by path. `doorway = [{id = "a"}]` and
        `[[doorway]]` with `id = "a"` below it give the same three paths.
    """
    scan = _Scan(_Cursor(text))
    with suppress(_NotTomlError):
        _document(scan)
    return scan.lines


@dataclass(frozen=True, slots=True)
class Extent:
    """How far a text goes, counted from its tokens alone.

    Attributes:
        depth: Brackets within brackets, or dots in a key, whichever is more.
        line: The line where that depth is first reached.
        values: About how many keys, parts of keys and elements there are.
    """

    depth: int
    line: int
    values: int


def extent(text: str, *, deepest: int, most: int) -> Extent:
    """Measure a text, so that it can be refused before it is parsed.

    The count ends as soon as the depth exceeds `deepest`, or the values `most`.
    """
    reached, where, values = 0, 1, 0
    depth = dots = 0
    for kind, mark, line in _tokens(text):
        depth += (mark in ("[", "{")) - (mark in ("]", "}"))
        dots += mark == "."
        values += mark in ("=", ",", "[", "{", ".")
        if kind == "newline" or mark in ("=", ",", "[", "]"):
            dots = 0
        if max(depth, dots) > reached:
            reached, where = max(depth, dots), line
        if reached > deepest or values > most:
            break
    return Extent(reached, where, values)


# Tokens ----------------------------------------------------------------------


class _NotTomlError(Exception):
    """The text leaves the grammar here."""


def _tokens(text: str) -> Iterator[tuple[str, str, int]]:
    """Yield kind, text and line of each token; stop where there is none."""
    line, place = 1, 0
    while match := _TOKEN.match(text, place):
        kind, token = match.lastgroup or "", match[0]
        if kind == "broken":
            return
        if kind != "space":
            yield kind, token, line
        line += token.count("\n")
        place = match.end()


class _Cursor:
    """The token at hand of a text that is read once."""

    def __init__(self, text: str) -> None:
        self._rest = _tokens(text)
        self.step()

    def step(self) -> None:
        self.kind, self.text, self.line = next(self._rest, ("end", "", 0))

    def take(self, mark: str) -> None:
        """Step over a mark that must stand here."""
        if self.text != mark:
            raise _NotTomlError
        self.step()

    def to_next_line(self) -> None:
        """Step over line ends and comments."""
        while self.kind in ("newline", "comment"):
            self.step()


# Grammar ---------------------------------------------------------------------


@dataclass(slots=True)
class _Scan:
    """The text being read, the lines found, and the length of arrays of tables."""

    at: _Cursor
    lines: dict[Path, int] = field(default_factory=dict[Path, int])
    tables: dict[Path, int] = field(default_factory=dict[Path, int])


def _document(scan: _Scan) -> None:
    base: Path = ()
    while scan.at.kind != "end":
        if scan.at.kind in ("newline", "comment"):
            scan.at.step()
        elif scan.at.text == "[":
            base = _header(scan)
        else:
            _pair(scan, base)


def _header(scan: _Scan) -> Path:
    """Read `[a.b]` or `[[a.b]]` and return the path of the table it opens."""
    line = scan.at.line
    scan.at.take("[")
    of_tables = scan.at.text == "["
    if of_tables:
        scan.at.step()
    *parents, last = _keys(scan.at)
    for _ in range(1 + of_tables):
        scan.at.take("]")
    path: Path = ()
    for key in parents:
        path = _last_table(scan, (*path, key), line)
    path = (*path, last)
    if not of_tables:
        scan.lines[path] = line
        return path
    return _new_table(scan, path, line)


def _last_table(scan: _Scan, path: Path, line: int) -> Path:
    """Step into a table on the way, the last one where there are many."""
    scan.lines.setdefault(path, line)
    count = scan.tables.get(path)
    return path if count is None else (*path, count - 1)


def _new_table(scan: _Scan, path: Path, line: int) -> Path:
    scan.lines.setdefault(path, line)
    count = scan.tables.get(path, 0)
    scan.tables[path] = count + 1
    scan.lines[(*path, count)] = line
    return (*path, count)


def _keys(at: _Cursor) -> list[str]:
    keys = [_key(at)]
    while at.text == "." and at.kind == "mark":
        at.step()
        keys.append(_key(at))
        if len(keys) > _DEEPEST:
            raise _NotTomlError
    return keys


def _key(at: _Cursor) -> str:
    kind, token = at.kind, at.text
    if kind not in ("bare", "text"):
        raise _NotTomlError
    at.step()
    if kind == "bare":
        return token
    try:
        return str(tomllib.loads(f"key = {token}")["key"])
    except tomllib.TOMLDecodeError:
        raise _NotTomlError from None


def _pair(scan: _Scan, base: Path) -> None:
    line = scan.at.line
    path = base
    for key in _keys(scan.at):
        path = (*path, key)
        scan.lines.setdefault(path, line)
    scan.at.take("=")
    _value(scan, path)


def _value(scan: _Scan, path: Path) -> None:
    if len(path) > _DEEPEST:
        raise _NotTomlError
    if scan.at.kind in ("text", "block"):
        scan.at.step()
    elif scan.at.text == "[":
        _array(scan, path)
    elif scan.at.text == "{":
        _inline_table(scan, path)
    else:
        _scalar(scan.at)


def _scalar(at: _Cursor) -> None:
    """Step over a number, a date or a truth value; a date may hold a space."""
    if at.kind != "bare":
        raise _NotTomlError
    while at.kind == "bare" or at.text == ".":
        at.step()


def _array(scan: _Scan, path: Path) -> None:
    scan.at.take("[")
    scan.at.to_next_line()
    count = 0
    while scan.at.text != "]":
        scan.lines[(*path, count)] = scan.at.line
        _value(scan, (*path, count))
        _comma_or(scan.at, "]")
        count += 1
    scan.at.step()


def _inline_table(scan: _Scan, path: Path) -> None:
    scan.at.take("{")
    scan.at.to_next_line()
    while scan.at.text != "}":
        _pair(scan, path)
        _comma_or(scan.at, "}")
    scan.at.step()


def _comma_or(at: _Cursor, end: str) -> None:
    """Step over the comma between elements, unless the end is reached."""
    at.to_next_line()
    if at.text == ",":
        at.step()
        at.to_next_line()
    elif at.text != end:
        raise _NotTomlError
