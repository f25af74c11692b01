"""Workbooks with dirt, made by the library that writes them and by hand."""

import re
import zipfile
from collections.abc import Callable
from datetime import date, datetime
from io import BytesIO
from typing import Any

from openpyxl import Workbook
from openpyxl.utils.datetime import CALENDAR_MAC_1904

from store.doorlist.dirt import COLUMNS, HEADER, TAKEN, Dirt, row

Change = Callable[[Any, Any], None]
"""What is done to a workbook and its first sheet before it is saved."""


def book(change: Change | None = None, rows: int = 3) -> bytes:
    """A workbook with a clean list, and something changed in it."""
    made = Workbook()
    sheet: Any = made.active
    sheet.title = "Doors"
    sheet.append(COLUMNS)
    for number in range(2, 2 + rows):
        sheet.append(row(number).split(";"))
    if change:
        change(made, sheet)
    out = BytesIO()
    made.save(out)
    return out.getvalue()


def _set(**cells: object) -> Change:
    def change(_made: Any, sheet: Any) -> None:
        for place, value in cells.items():
            sheet[place] = value

    return change


def _case(
    name: str, change: Change, third: str = TAKEN, holds: object = None, **more: Any
) -> Dirt:
    lines = {1: HEADER, 2: TAKEN, 3: third, 4: TAKEN}
    told = {} if holds is None else {(3, more.pop("key")): holds}
    more.pop("key", None)
    return Dirt(name, book(change), lines, holds=told, **more)


def parts(data: bytes, change: dict[str, bytes | None]) -> bytes:
    """A workbook with parts of it put in another's place, added or taken away."""
    out = BytesIO()
    with zipfile.ZipFile(BytesIO(data)) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            if name not in change:
                new.writestr(name, old.read(name))
        for name, content in change.items():
            if content is not None:
                new.writestr(name, content, zipfile.ZIP_DEFLATED)
    return out.getvalue()


SHEET = "xl/worksheets/sheet1.xml"


def _with_cell(place: str, cell: str) -> bytes:
    """A workbook with one cell written by hand."""
    data = book()
    with zipfile.ZipFile(BytesIO(data)) as old:
        text = old.read(SHEET).decode()
    changed, count = re.subn(rf'<c r="{place}".*?</c>', cell, text)
    assert count == 1
    return parts(data, {SHEET: changed.encode()})


def _merged(_made: Any, sheet: Any) -> None:
    sheet["A3"] = sheet["A4"] = None
    sheet.merge_cells("A2:A4")


def _hidden(_made: Any, sheet: Any) -> None:
    sheet.row_dimensions[3].hidden = True
    sheet.column_dimensions["J"].hidden = True


def _second(made: Any, _sheet: Any) -> None:
    other = made.create_sheet("Elsewhere")
    other.append(["nothing"])


def _behind(made: Any, sheet: Any) -> None:
    other = made.create_sheet("Before", 0)
    other.append(["nothing"])
    other.sheet_state = "hidden"
    made.active = sheet


def _all_hidden(made: Any, sheet: Any) -> None:
    made.create_sheet("Empty")
    sheet.sheet_state = "hidden"


def _old_epoch(made: Any, sheet: Any) -> None:
    made.epoch = CALENDAR_MAC_1904
    sheet["H3"] = date(2025, 3, 1)


def _formats_below(_made: Any, sheet: Any) -> None:
    from openpyxl.styles import Font

    sheet["A1000000"].font = Font(bold=True)
    sheet["ZZ2"].font = Font(bold=True)


def _emptied(_made: Any, sheet: Any) -> None:
    sheet.delete_rows(1, 9)


_MORNING = datetime(2025, 3, 1, 9, 30)  # noqa: DTZ001 - sheets know no zones
_BOMB = (
    b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaaaaaaaa">'
    b'<!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]>'
    b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
    b"<sheetData><row r='1'><c r='A1' t='inlineStr'><is><t>&b;</t></is></c></row>"
    b"</sheetData></worksheet>"
)
_ERROR_CELL = '<c r="E3" t="e"><v>#REF!</v></c>'
_CACHED = '<c r="E3" t="str"><f>"900"&amp;" mm"</f><v>900 mm</v></c>'


def cases() -> list[Dirt]:
    """Every kind of dirt in a workbook."""
    plain = {1: HEADER, 2: TAKEN, 3: TAKEN, 4: TAKEN}
    return [
        Dirt("a clean workbook", book(), plain),
        _case("a number without a unit", _set(E3=900), "no_unit"),
        _case(
            "a day as a day",
            _set(H3=date(2025, 3, 1)),
            holds="2025-03-01",
            key="checked",
        ),
        _case(
            "a day with an hour", _set(H3=_MORNING), holds="2025-03-01", key="checked"
        ),
        _case(
            "a day in the system of 1904", _old_epoch, holds="2025-03-01", key="checked"
        ),
        _case("a day as a number", _set(H3=45717), "day"),
        _case("a number as a door's number", _set(C3=12), holds="12", key="id"),
        _case(
            "a number with a fraction as a door's number",
            _set(C3=1.5),
            holds="1-5",
            key="id",
        ),
        _case(
            "a long number as a name",
            _set(J3=4917012345678),
            holds="4917012345678",
            key="by",
        ),
        _case("true for a yes", _set(I3=True), holds=True, key="escape_route"),
        _case("an empty row", _set(**{f"{c}3": None for c in "ABCDEFGHIJ"}), "empty"),
        _case("a row of a sheet that ends early", _set(J3=None, I3=None)),
        _case("a cell beyond the columns", _set(L3="more"), "long_row"),
        _case("a formula without its result", _set(E3="=900"), "no_value"),
        _case("a formula without its result, as a name", _set(J3="=A1"), "no_value"),
        _case(
            "a text that begins like a formula",
            _set(J3="+49 170"),
            holds="+49 170",
            key="by",
        ),
        _case("a line break in a cell", _set(J3="Ada\nBo"), holds="Ada Bo", key="by"),
        _case("sites merged over rows", _merged, holds="Hall", key="site"),
        _case("a hidden row and a hidden column", _hidden),
        _case("formats far below and far right", _formats_below),
        Dirt(
            "a formula with its result",
            _with_cell("E3", _CACHED),
            plain,
            holds={(3, "clear_width"): "900 mm"},
        ),
        Dirt(
            "an error in a cell",
            _with_cell("E3", _ERROR_CELL),
            plain | {3: "sheet_error"},
        ),
        Dirt("a second sheet", book(_second), plain),
        Dirt(
            "a sheet as chosen",
            book(_second),
            {},
            file="no_column",
            how={"sheet": "Elsewhere"},
        ),
        Dirt(
            "a sheet as chosen, other letters",
            book(_second),
            plain,
            how={"sheet": "DOORS"},
        ),
        Dirt(
            "a sheet that is not there",
            book(),
            file="no_sheet",
            how={"sheet": "Doors 2"},
        ),
        Dirt("a hidden sheet before", book(_behind), plain),
        Dirt("a hidden list and an empty sheet", book(_all_hidden), file="no_rows"),
        Dirt("an empty sheet", book(_emptied), file="no_rows"),
        Dirt("macros", parts(book(), {"xl/vbaProject.bin": b"x"}), file="macros"),
        Dirt(
            "a binary workbook", parts(book(), {"xl/workbook.bin": b"x"}), file="macros"
        ),
        Dirt(
            "an OpenDocument sheet",
            parts(book(), {"mimetype": b"application/vnd.oasis"}),
            file="open_document",
        ),
        Dirt(
            "an archive without a workbook",
            parts(book(), {"xl/workbook.xml": None}),
            file="archive",
        ),
        Dirt(
            "a workbook without its sheet", parts(book(), {SHEET: None}), file="broken"
        ),
        Dirt(
            "a sheet of broken XML",
            parts(book(), {SHEET: b"<worksheet><sheetData>"}),
            file="broken",
        ),
        Dirt(
            "a sheet with entities that grow",
            parts(book(), {SHEET: _BOMB}),
            file="broken",
        ),
        Dirt(
            "a part that unpacks to much",
            parts(book(), {"xl/big.xml": b"0" * 80_000_001}),
            file="unpacked",
        ),
        Dirt("a workbook cut short", book()[:-200], file="broken"),
        Dirt("a workbook with a byte changed", _flipped(book()), file="broken"),
    ]


def _flipped(data: bytes) -> bytes:
    """The first packed part damaged in its middle."""
    with zipfile.ZipFile(BytesIO(data)) as archive:
        one = archive.getinfo(SHEET)
    at = one.header_offset + 30 + len(SHEET) + one.compress_size // 2
    return data[:at] + bytes([data[at] ^ 0xFF]) + data[at + 1 :]
