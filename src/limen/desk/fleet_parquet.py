"""Tables with typed columns, as Parquet; needs pyarrow, which does not come along."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from limen.exchange.fleet_rows import Kind, Row, Value

ROWS_TOGETHER = 8192
"""Rows of a group: as many as are held in memory before they are written."""


def can_write() -> bool:
    """Whether pyarrow is there."""
    return find_spec("pyarrow") is not None


@dataclass(slots=True)
class ParquetTable:
    """A table that is written group by group.

    Attributes:
        path: its file.
        columns: their names and kinds.
        writer: pyarrow's.
        waiting: rows that are not written yet.
    """

    path: Path
    columns: Mapping[str, Kind]
    writer: Any = None
    waiting: list[Row] = field(default_factory=list[Row])

    def __post_init__(self) -> None:
        """Begin the file."""
        parquet: Any = import_module("pyarrow.parquet")
        self.writer = parquet.ParquetWriter(self.path, _schema(self.columns))

    def add(self, rows: Sequence[Row]) -> None:
        """Add rows."""
        self.waiting.extend(rows)
        if len(self.waiting) >= ROWS_TOGETHER:
            self._write()

    def close(self) -> None:
        """Write what waits, and end the file."""
        if self.waiting:
            self._write()
        self.writer.close()

    def _write(self) -> None:
        pa: Any = import_module("pyarrow")
        schema: Any = _schema(self.columns)
        parted = zip(*self.waiting, strict=True)
        arrays: list[Any] = [
            pa.array(_typed(column, kind), type=one.type)
            for column, kind, one in zip(
                parted, self.columns.values(), schema, strict=True
            )
        ]
        self.writer.write_table(pa.Table.from_arrays(arrays, schema=schema))
        self.waiting.clear()


def _schema(columns: Mapping[str, Kind]) -> object:
    pa: Any = import_module("pyarrow")
    types: dict[Kind, Any] = {
        "text": pa.string(),
        "number": pa.float64(),
        "count": pa.int32(),
        "flag": pa.bool_(),
        "day": pa.date32(),
    }
    return pa.schema([(name, types[kind]) for name, kind in columns.items()])


def _typed(column: Iterable[Value], kind: Kind) -> list[Value | date]:
    if kind != "day":
        return [*column]
    return [None if one is None else date.fromisoformat(str(one)) for one in column]
