"""Results of a fleet: tables and a summary, written whole or not at all."""

import csv
import json
from collections.abc import Generator, Iterable, Mapping
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path
from typing import Any, Protocol

from limen.desk.fleet_parquet import ParquetTable, can_write
from limen.desk.shelves import shelf
from limen.exchange.cells import cell
from limen.exchange.contract import Json, dumps
from limen.exchange.fleet_rows import DOORWAYS, FINDINGS, Kind, Row, Rows, Value
from limen.exchange.fleet_summary import Summary, count, summed

SUMMARY = "summary.json"


class Table(Protocol):
    """A file that takes rows."""

    def add(self, rows: list[Row]) -> None:
        """Add rows."""
        ...

    def close(self) -> None:
        """End the file."""
        ...


@dataclass(frozen=True, slots=True)
class Written:
    """What was written.

    Attributes:
        summary: what it comes to.
        files: the files.
        parquet: whether there are Parquet files among them.
    """

    summary: Json
    files: tuple[Path, ...]
    parquet: bool


def write_results(
    folder: Path, every: Iterable[tuple[str, Rows]], *, on: str, left: Iterable[str]
) -> Written:
    """Write both tables, as CSV and where it can be as Parquet, and the summary.

    Args:
        folder: where.
        every: the file and the rows of each doorway, in the order of the tables.
        on: the day.
        left: files that are no site files.

    Raises:
        OSError: they cannot be written; what was there stays as it was.
    """
    parquet, summary = can_write(), Summary()
    names = [f"{name}.csv" for name in ("findings", "doorways")]
    names += [f"{name}.parquet" for name in ("findings", "doorways") if parquet]
    with _whole(folder, [*names, SUMMARY]) as paths:
        _tables(paths, every, summary)
        values = summed(summary, _titles(), on=on, version=version("limen"))
        values["left"] = sorted(left)
        paths[SUMMARY].write_text(dumps(values) + "\n", encoding="utf-8")
    files = tuple(folder / name for name in [*names, SUMMARY])
    return Written(values, files, parquet)


def _titles() -> dict[str, str]:
    """Titles of all rulebooks by id and edition."""
    editions = (book.edition for book in shelf().books)
    return {f"{one.rulebook} {one.edition}": one.title for one in editions}


def rows_said(said: str) -> Rows:
    """Rows as they were kept."""
    return Rows(**json.loads(said))


def _tables(
    paths: dict[str, Path], every: Iterable[tuple[str, Rows]], summary: Summary
) -> None:
    with ExitStack() as stack:
        found = _open(stack, paths, "findings", FINDINGS)
        doors = _open(stack, paths, "doorways", DOORWAYS)
        for file, rows in every:
            where: Row = [file, *rows.where]
            for table in doors:
                table.add([[*where, *rows.door]])
            for table in found:
                table.add([[*where, *one] for one in rows.findings])
            count(summary, file, rows)


def _open(
    stack: ExitStack, paths: dict[str, Path], name: str, columns: Mapping[str, Kind]
) -> list[Table]:
    tables: list[Table] = [CsvTable.begun(paths[f"{name}.csv"], columns)]
    if f"{name}.parquet" in paths:
        tables.append(ParquetTable(paths[f"{name}.parquet"], columns))
    for one in tables:
        stack.callback(one.close)
    return tables


@contextmanager
def _whole(folder: Path, names: list[str]) -> Generator[dict[str, Path]]:
    """Paths to write to; they take their places when all is written."""
    paths = {name: folder / f".{name}.new" for name in names}
    try:
        yield paths
        for name, path in paths.items():
            path.replace(folder / name)
    finally:
        for path in paths.values():
            path.unlink(missing_ok=True)


@dataclass(frozen=True, slots=True)
class CsvTable:
    """A table as CSV; no cell of it is a formula."""

    file: Any
    writer: Any

    @classmethod
    def begun(cls, path: Path, columns: Iterable[str]) -> "CsvTable":
        """Begin a file with the names of its columns."""
        file = path.open("w", encoding="utf-8-sig", newline="")
        table = cls(file, csv.writer(file, lineterminator="\r\n"))
        table.add([list(columns)])
        return table

    def add(self, rows: list[Row]) -> None:
        """Add rows."""
        self.writer.writerows([_cell(one) for one in row] for row in rows)

    def close(self) -> None:
        """End the file."""
        self.file.close()


def _cell(value: Value) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return cell(value)
