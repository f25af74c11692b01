"""A list is taken in by the command: looked at, mapped, mended, never overwritten."""

import csv
import tomllib
from io import StringIO
from pathlib import Path

import pytest

from limen.desk.refusal import Refusal
from limen.desk.taking_in import (
    How,
    bytes_of,
    look,
    map_of,
    try_in_folder,
    write,
    write_suggested,
)

HEAD = "site;place;door;type;width [mm];person"
ROWS = [
    "Harbour hall;Quay 1;T 1;double;1800;Ada",
    "Harbour hall;Quay 1;T 2;double;wide;=1+1",
    "Mill;Quay 2;T 1;double;1200;Bo",
]


@pytest.fixture
def source(tmp_path: Path) -> Path:
    path = tmp_path / "doors.csv"
    path.write_text("\n".join([HEAD, *ROWS]) + "\n", "utf-8")
    return path


def _take(source: Path, mapping: Path, out: Path) -> tuple[int, int, Path | None]:
    table = look(bytes_of(source), How())
    tried = try_in_folder(table, map_of(mapping), out, source.name)
    done = write(tried, out, source)
    return tried.plan.taken, len(tried.plan.refused), done.refused


def test_refused_rows_are_mended_and_only_the_rest_is_taken(
    source: Path, tmp_path: Path
) -> None:
    mapping, out = tmp_path / "map.toml", tmp_path / "sites"
    write_suggested(mapping, look(bytes_of(source), How()))
    taken, refused, rest = _take(source, mapping, out)
    assert rest is not None
    assert (taken, refused, rest) == (2, 1, out / "refused.csv")
    rows = list(csv.reader(StringIO(rest.read_text("utf-8-sig"), newline="")))
    assert rows[1][0] == "3"
    assert rows[1][-1] == "'=1+1"  # no formula
    hall = out / "harbour-hall-quay-1.toml"
    before = hall.read_text("utf-8")
    rest.write_text(rest.read_text("utf-8").replace("wide", "1100"), "utf-8")
    assert _take(rest, mapping, out)[:2] == (1, 0)
    after = hall.read_text("utf-8")
    assert after.startswith(before.rstrip("\n"))
    doors = tomllib.loads(after)["short"]
    assert [one["id"] for one in doors] == ["t-1", "t-2"]
    assert doors[1]["kept"]["by"] == "=1+1"


def test_what_is_there_is_named_and_stays(source: Path, tmp_path: Path) -> None:
    mapping, out = tmp_path / "map.toml", tmp_path / "sites"
    write_suggested(mapping, look(bytes_of(source), How()))
    _take(source, mapping, out)
    before = {one.name: one.read_bytes() for one in out.iterdir()}
    taken, refused, rest = _take(source, mapping, out)
    assert (taken, refused) == (0, 3)
    assert rest == out / "refused-2.csv"
    assert {name: (out / name).read_bytes() for name in before} == before


def test_a_folder_with_a_file_that_cannot_be_read_takes_nothing_in(
    source: Path, tmp_path: Path
) -> None:
    out = tmp_path / "sites"
    out.mkdir()
    (out / "old.toml").write_text("name = 1\n", "utf-8")
    mapping = tmp_path / "map.toml"
    write_suggested(mapping, look(bytes_of(source), How()))
    with pytest.raises(Refusal):
        _take(source, mapping, out)
    assert [one.name for one in out.iterdir()] == ["old.toml"]


def test_a_suggestion_never_overwrites_a_mapping(source: Path, tmp_path: Path) -> None:
    mapping = tmp_path / "map.toml"
    mapping.write_text("# mine\n", "utf-8")
    with pytest.raises(Refusal):
        write_suggested(mapping, look(bytes_of(source), How()))
    assert mapping.read_text("utf-8") == "# mine\n"
