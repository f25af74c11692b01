"""Each row of a list is a doorway, or is refused with all its reasons."""

import re
import unicodedata
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from pydantic import ValidationError

from limen.quantity import Grade
from limen.store.doorlist.grid import Cell, ListRefused, Record
from limen.store.doorlist.known import folded
from limen.store.doorlist.mapping import ColumnMap, DoorMap
from limen.store.doorlist.numbering import (
    EARLIEST,
    CellRefused,
    day,
    is_formula,
    measure,
    several,
)
from limen.store.doorlist.reading import OURS, Column, Table
from limen.store.doorlist.targets import TARGETS, Target
from limen.store.short import NONE, NOT_KNOWN, Short

LONGEST = 120
EVERY = "every"
"""What stands before a key that holds for every row, in place of a column."""
_ERROR = re.compile(r"#(?:[A-ZÄÖÜÉÈ]{2,12}[!?]|DIV/0!|N/?[AV]|NULL!|NUL!)")
_SLUG = re.compile(r"[^a-z0-9]+")
_LETTERS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "ß": "ss", "ø": "o"})
_TWICE_READ = re.compile("[ÂÃ][\u0080-\u00bf\u0152-\u2122]|â€")
_ID_LETTERS = 40


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a row is refused.

    Attributes:
        key: of the sentence, under ``take_in.reason``.
        column: the header of the column; empty for the row as a whole.
        found: what stands there.
        accepted: what would be accepted; may be empty.
    """

    key: str
    column: str = ""
    found: str = ""
    accepted: str = ""


@dataclass(frozen=True, slots=True)
class Refused:
    """A row that is not taken.

    Attributes:
        record: the row.
        reasons: all of them, at least one.
    """

    record: Record
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class SiteSaid:
    """What a row says of its site."""

    name: str
    place: str = ""
    rulebook: str = ""

    @property
    def key(self) -> tuple[str, str]:
        """By which rows of one site are known: name and place, without signs."""
        return folded(self.name), folded(self.place)


@dataclass(frozen=True, slots=True)
class Door:
    """A row that can be taken.

    Attributes:
        record: the row.
        site: its site.
        short: its doorway, as a file has it.
    """

    record: Record
    site: SiteSaid
    short: Mapping[str, object]

    @property
    def id(self) -> str:
        """The id of the doorway."""
        return str(self.short["id"])


@dataclass(frozen=True, slots=True)
class Judged:
    """A list, row by row.

    Attributes:
        doors: rows that can be taken, in order.
        refused: rows that cannot.
        unused: columns that become nothing, and nobody left them out.
    """

    doors: tuple[Door, ...]
    refused: tuple[Refused, ...]
    unused: tuple[str, ...]


@dataclass(slots=True)
class _Row:
    """One row while it is read."""

    record: Record
    values: dict[str, object] = field(default_factory=dict[str, object])
    columns: dict[str, str] = field(default_factory=dict[str, str])
    reasons: list[Reason] = field(default_factory=list[Reason])


def judge(
    table: Table, mapping: DoorMap, sheets: Collection[str], today: date
) -> Judged:
    """Judge every row of a list.

    Args:
        table: the list.
        mapping: which column becomes what.
        sheets: names of the sensor sheets that are known.
        today: no check is of a later day.

    Raises:
        ListRefused: the mapping names a column that is not there.
    """
    asked = _Asked(table, mapping, frozenset(sheets) | {NOT_KNOWN, NONE}, today)
    doors: list[Door] = []
    refused: list[Refused] = []
    for record in table.rows:
        found = asked.judged(record)
        if isinstance(found, Door):
            doors.append(found)
        else:
            refused.append(found)
    return Judged(tuple(doors), tuple(refused), tuple(_unused(table, mapping)))


def _unused(table: Table, mapping: DoorMap) -> Iterator[str]:
    used = {folded(name) for one in mapping.column for name in one.column}
    used |= {folded(name) for name in mapping.leave_out}
    for column in table.columns:
        if folded(column.name) not in used and not column.name.startswith(OURS):
            yield column.name


class _Asked:
    """A table with its mapping resolved: reads one record after the other."""

    def __init__(
        self, table: Table, mapping: DoorMap, sheets: Collection[str], today: date
    ) -> None:
        self.table, self.mapping = table, mapping
        self.sheets, self.today = sheets, today
        by_name = {folded(one.name): one for one in table.columns}
        exact = {one.name: one for one in table.columns}
        self.columns = [
            (one, [_found(name, exact, by_name) for name in one.column])
            for one in mapping.column
        ]
        self.unknown = {folded(one) for one in mapping.unknown}
        self.dashes = {one.strip() for one in mapping.unknown}

    def judged(self, record: Record) -> Door | Refused:
        """The doorway of a row, or why it is refused."""
        whole = self._whole(record)
        if whole:
            return Refused(record, (whole,))
        row = _Row(record)
        for one, columns in self.columns:
            self._column(row, one, columns)
        for key, text in self.mapping.every.items():
            row.columns[key] = f"{EVERY}: {key}"
            self._put(row, key, text, ColumnMap(column=("-",), to=(key,)), Cell(text))
        self._lacking(row)
        if row.reasons:
            return Refused(record, tuple(row.reasons))
        return _door(row)

    # The row as a whole

    def _whole(self, record: Record) -> Reason | None:
        if record.fault:
            shown = " ".join(cell.text for cell in record.cells[:3])
            return Reason(record.fault, "", _shown(shown))
        width = self.table.width
        count = len(record.cells)
        if any(not cell.empty for cell in record.cells[width:]):
            return Reason("long_row", "", str(count), str(width))
        short = count < width and not self.table.grid.sheet
        if short and self.mapping.short_rows == "refused":
            return Reason("short_row", "", str(count), str(width))
        return None

    def _lacking(self, row: _Row) -> None:
        told = {key for one in row.reasons for key in _keys(one, row)}
        for key, target in TARGETS.items():
            if target.needed and key not in row.values and key not in told:
                row.reasons.append(Reason("lacks", row.columns.get(key, ""), "", key))
        if not {"door.id", "door.name"} & (set(row.values) | told):
            column = row.columns.get("door.id", row.columns.get("door.name", ""))
            row.reasons.append(Reason("lacks", column, "", "door.id"))

    # One column

    def _column(self, row: _Row, one: ColumnMap, columns: Sequence[Column]) -> None:
        name = " + ".join(column.name for column in columns)
        row.columns |= dict.fromkeys(one.to, name)
        cells = [_cell(row.record, column) for column in columns]
        for cell in cells:
            wrong = _unreadable(cell)
            if wrong:
                row.reasons.append(Reason(wrong, name, _shown(cell.text)))
                return
        parts = [cell for cell in cells if not self._is_unknown(cell)]
        if not parts:
            return
        kind = TARGETS[one.to[0]].kind
        joint = ", " if kind in ("text", "id") else " "
        text = joint.join(cell.text.strip() for cell in parts)
        self._several(row, one, text, parts[0])

    def _several(self, row: _Row, one: ColumnMap, text: str, cell: Cell) -> None:
        measured = TARGETS[one.to[0]].kind in ("length", "mass")
        if len(one.to) == 1 or not measured:
            for key in one.to:
                self._put(row, key, text, one, cell)
            return
        try:
            parts = several(text, len(one.to))
        except CellRefused as refused:
            row.reasons.append(_reason(refused, row.columns[one.to[0]], text))
            return
        for key, part in zip(one.to, parts, strict=True):
            self._put(row, key, part, one, cell)

    def _put(self, row: _Row, key: str, text: str, one: ColumnMap, cell: Cell) -> None:
        try:
            value = self._value(TARGETS[key], key, text, one, cell)
        except CellRefused as refused:
            row.reasons.append(_reason(refused, row.columns[key], text))
            return
        if value is not None:
            row.values[key] = value

    def _is_unknown(self, cell: Cell) -> bool:
        said = cell.text.strip()
        if cell.empty or said in self.dashes:
            return True
        return folded(said) in self.unknown and folded(said) != ""

    # One value

    def _value(
        self, target: Target, key: str, text: str, one: ColumnMap, cell: Cell
    ) -> object:
        meant = _meant(one.values, text)
        if meant == "":
            return None
        said = meant if meant is not None else text
        if target.kind in ("length", "mass"):
            decimal = "." if cell.kind == "number" else self.mapping.decimal
            return measure(said, target.kind, one.unit, decimal)
        if target.kind == "day":
            return self._day(said, key, one, cell)
        if target.kind in ("text", "id"):
            return _text(said)
        return self._choice(target, said)

    def _day(self, text: str, key: str, one: ColumnMap, cell: Cell) -> date:
        found = day(text, None if cell.kind == "day" else one.day)
        late = found > self.today and key.startswith("kept.")
        if late or found < EARLIEST:
            last = self.today.isoformat() if key.startswith("kept.") else "…"
            raise CellRefused("day_far", f"{EARLIEST.isoformat()} – {last}")
        return found

    def _choice(self, target: Target, text: str) -> object:
        accepted = tuple(sorted(self.sheets)) if target.kind == "sheet" else ()
        accepted = accepted or target.accepted
        found = next((one for one in accepted if one == text.strip().casefold()), None)
        if found is None:
            key = "sheet_name" if target.kind == "sheet" else "value"
            raise CellRefused(key, ", ".join(accepted))
        return found == "yes" if target.kind == "flag" else found


# Cells -----------------------------------------------------------------------------


def _found(
    name: str, exact: Mapping[str, Column], by_name: Mapping[str, Column]
) -> Column:
    column = exact.get(name) or by_name.get(folded(name))
    if column is None:
        listed = ", ".join(exact)[:400]
        raise ListRefused("no_column", found=name, listed=listed)
    return column


def _cell(record: Record, column: Column) -> Cell:
    cells = record.cells
    if column.place >= len(cells):
        return Cell("")
    cell = cells[column.place]
    return replace(cell, text=_unmarked(cell.text))


def _unreadable(cell: Cell) -> str:
    """Why nothing can be read in a cell, whatever its column becomes."""
    text = cell.text
    if cell.kind == "error" or _ERROR.fullmatch(text.strip()):
        return "sheet_error"
    if cell.kind == "no value":
        return "no_value"
    if any(_is_control(sign) for sign in text):
        return "control"
    if _TWICE_READ.search(text):
        return "read_twice"
    return ""


def _is_control(sign: str) -> bool:
    return (
        unicodedata.category(sign) in ("Cc", "Cs", "Co", "Cn") and sign not in "\t\r\n"
    )


def _unmarked(text: str) -> str:
    """Without the mark that was set before what would else be a formula."""
    return text[1:] if text.startswith("'") and is_formula(text[1:]) else text


def _meant(values: Mapping[str, str], text: str) -> str | None:
    if text in values:
        return values[text]
    plain = " ".join(text.split()).casefold()
    return next(
        (
            meant
            for said, meant in values.items()
            if " ".join(said.split()).casefold() == plain
        ),
        None,
    )


def _text(text: str) -> str:
    said = " ".join(text.split())
    said = "".join(sign for sign in said if unicodedata.category(sign) != "Cf")
    if len(said) > LONGEST:
        raise CellRefused("text_long", str(LONGEST))
    if not said:
        raise CellRefused("control")
    return said


def _reason(refused: CellRefused, column: str, found: str) -> Reason:
    return Reason(refused.reason, column, _shown(found), refused.accepted)


def _shown(text: str) -> str:
    short = text if len(text) <= LONGEST else text[: LONGEST - 1] + "…"
    return "".join(sign if sign.isprintable() else "�" for sign in short)


def _keys(reason: Reason, row: _Row) -> Iterator[str]:
    return (key for key, column in row.columns.items() if column == reason.column)


# The doorway -------------------------------------------------------------------------


def slug(text: str) -> str:
    """A text as an id: small letters, digits and hyphens; may be empty."""
    plain = unicodedata.normalize("NFKD", text.casefold().translate(_LETTERS))
    ascii_only = plain.encode("ascii", "ignore").decode()
    return _SLUG.sub("-", ascii_only).strip("-")


def _door(row: _Row) -> Door | Refused:
    values = row.values
    number = str(values.get("door.id", values.get("door.name")))
    column = row.columns.get("door.id", row.columns.get("door.name", ""))
    door_id = slug(number)
    if not door_id or len(door_id) > _ID_LETTERS:
        return Refused(row.record, (Reason("id", column, _shown(number)),))
    short: dict[str, object] = {"id": door_id}
    short["name"] = values.get("door.name", values.get("door.id"))
    kept: dict[str, object] = {}
    for key in TARGETS:
        if key in values and not key.startswith(("site.", "door.")):
            table, _, rest = key.partition(".")
            (kept if rest else short)[rest or table] = values[key]
    if kept:
        short["kept"] = kept
    reasons = tuple(_outside(short, row.columns))
    if reasons:
        return Refused(row.record, reasons)
    told = (str(values.get(f"site.{key}", "")) for key in ("name", "place", "rulebook"))
    return Door(row.record, SiteSaid(*told), short)


def _outside(
    short: Mapping[str, object], columns: Mapping[str, str]
) -> Iterator[Reason]:
    """What the reader of site files has against it."""
    try:
        Short.model_validate(short, context={"grade": Grade.MEASURED})
    except ValidationError as error:
        for one in error.errors():
            key = ".".join(str(part) for part in one["loc"])
            said = one.get("ctx", {})
            found, accepted = str(one["input"]), str(said.get("accepted", one["msg"]))
            yield Reason("outside", columns.get(key, key), _shown(found), accepted)
