"""Lists of doors with every kind of dirt, and what is to become of each row.

Each kind is a file of its own with a name and an expectation by line, written from
what a person would want, not from how the reader works.  A dirty row stands between
two clean ones, which are to be taken whatever happens beside them.

Sources of kinds, beside what such lists hold by common practice, no source:

- RFC 4180, Common Format and MIME Type for CSV Files (2005), section 2, rules 1-7.
- csv-spectrum, a public collection of CSV files for parsers (its names in brackets).
- W3C, Model for Tabular Data and Metadata on the Web (2015), section 8: rows to skip,
  encodings, line ends.
- OWASP, CSV Injection: signs with which a formula begins.
- ECMA-376, Office Open XML, part 1: 18.17.4.1 date systems of 1900 and 1904; 18.18.11
  kinds of cells; 18.3.1.55 merged cells.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

HEAD = "site;place;door;type;width;height;mass;check;escape;by"
COLUMNS = HEAD.split(";")
MAP = """
[[column]]
column = "site"
to = "site.name"
[[column]]
column = "place"
to = "site.place"
[[column]]
column = "door"
to = "door.id"
[[column]]
column = "type"
to = "leaves"
[[column]]
column = "width"
to = "clear_width"
[[column]]
column = "height"
to = "clear_height"
[[column]]
column = "mass"
to = "leaf_mass"
[[column]]
column = "check"
to = "kept.checked"
[[column]]
column = "escape"
to = "escape_route"
[[column]]
column = "by"
to = "kept.by"
"""
TAKEN = "taken"
EMPTY = "empty"
AGAIN = "header_again"
ABOVE = "above"
HEADER = "header"


@dataclass(frozen=True)
class Dirt:
    """One kind of dirt.

    Attributes:
        name: what it is.
        data: the file.
        lines: what becomes of each row, by its line: `TAKEN`, a kind of row that is
            passed over, or the key of a reason of a refusal.
        file: key for which the whole file is refused; empty if it is read.
        holds: what a taken row says, by line and key of the doorway.
        extra: lines that stand before the mapping's columns.
        how: encoding, separator, sheet, header, where a person chose them.
    """

    name: str
    data: bytes
    lines: Mapping[int, str] = field(default_factory=dict)
    file: str = ""
    holds: Mapping[tuple[int, str], object] = field(default_factory=dict)
    extra: str = ""
    how: Mapping[str, object] = field(default_factory=dict)


def row(number: int, sep: str = ";", **cells: str) -> str:
    """A clean row, with some cells as given."""
    clean = {
        "site": "Hall",
        "place": "Quay 1",
        "door": f"D{number}",
        "type": "bi-parting",
        "width": "900 mm",
        "height": "2100 mm",
        "mass": "80 kg",
        "check": "2025-03-01",
        "escape": "yes",
        "by": "Ada",
    }
    return sep.join((clean | cells)[name] for name in COLUMNS)


def around(middle: str, *, end: str = "\n", head: str = HEAD) -> str:
    """A list with a row between two clean ones: lines 2 and 4 of it."""
    return end.join([head, row(2), middle, row(4)]) + end


CLEAN = {1: HEADER, 2: TAKEN, 4: TAKEN}


def cell(
    name: str, column: str, text: str, becomes: str, value: object = None, **more: str
) -> Dirt:
    """A kind of dirt in one cell; what its row becomes, and what a taken one says."""
    keys = {
        "site": "site",
        "place": "place",
        "door": "id",
        "type": "leaves",
        "width": "clear_width",
        "height": "clear_height",
        "mass": "leaf_mass",
        "check": "checked",
        "escape": "escape_route",
        "by": "by",
    }
    holds = {} if becomes != TAKEN else {(3, keys[column]): value}
    data = around(row(3, **{column: text})).encode()
    return Dirt(name, data, CLEAN | {3: becomes}, holds=holds, **more)  # pyright: ignore[reportArgumentType]


def text(name: str, content: str, lines: Mapping[int, str], **more: object) -> Dirt:
    """A kind of dirt in a whole file, saved as UTF-8."""
    return Dirt(name, content.encode(), lines, **more)  # pyright: ignore[reportArgumentType]


# Measures --------------------------------------------------------------------------

_W = "width"
MEASURES = [
    cell("width in metres with a comma", _W, "0,9 m", TAKEN, "0.9 m"),
    cell("width in metres with a point", _W, "0.9 m", TAKEN, "0.9 m"),
    cell("width in centimetres", _W, "90 cm", TAKEN, "90 cm"),
    cell("width without a space", _W, "900mm", TAKEN, "900 mm"),
    cell("width in capital letters", _W, "900 MM", TAKEN, "900 mm"),
    cell("width with a full stop", _W, "90 cm.", TAKEN, "90 cm"),
    cell("width in feet and inches", _W, "3'-0\"", TAKEN, "3'-0\""),
    cell("width in inches by sign", _W, '36"', TAKEN, '36"'),
    cell("width in inches with a fraction", _W, "36 1/2 in", TAKEN, "36 1/2 in"),
    cell("width in Zoll", _W, "36 Zoll", TAKEN, "36 in"),
    cell("width in a French word", _W, "900 millimètres", TAKEN, "900 mm"),
    cell("width with a narrow no-break space", _W, "900\u202fmm", TAKEN, "900 mm"),
    cell("thousands parted by a space", _W, "1 800 mm", TAKEN, "1800 mm"),
    cell("thousands parted by a no-break space", _W, "1\u00a0800 mm", TAKEN, "1800 mm"),
    cell("thousands parted by an apostrophe", _W, "1’800 mm", TAKEN, "1800 mm"),
    cell("thousands and decimals, English", _W, "1,800.5 mm", TAKEN, "1800.5 mm"),
    cell("thousands and decimals, German", _W, "1.800,5 mm", TAKEN, "1800.5 mm"),
    cell("a point that may part thousands", _W, "1.800 mm", "comma"),
    cell("a comma that may part thousands", _W, "1,800 mm", "comma"),
    cell(
        "a point that parts thousands, as chosen",
        _W,
        "1.800 mm",
        TAKEN,
        "1800 mm",
        extra='decimal = ","',
    ),
    cell(
        "a point that parts decimals, as chosen",
        _W,
        "1.800 m",
        TAKEN,
        "1.800 m",
        extra='decimal = "."',
    ),
    cell("a width with its doubt", _W, "900 mm ± 5 mm", TAKEN, "900 mm ± 5 mm"),
    cell(
        "a width guessed, and said so",
        _W,
        "900 mm, estimate",
        TAKEN,
        "900 mm, estimate",
    ),
    cell("a width without a unit", _W, "900", "no_unit"),
    cell("a width with a unit of mass", _W, "900 kg", "number"),
    cell("a width in an unknown unit", _W, "900 ells", "number"),
    cell("about a width", _W, "ca. 900 mm", "number"),
    cell("about a width, by sign", _W, "~900 mm", "number"),
    cell("a span of widths", _W, "900-1000 mm", "number"),
    cell("two widths", _W, "900/1000 mm", "number"),
    cell("a width in words", _W, "wide", "number"),
    cell("a width that is a day", _W, "2025-03-01", "number"),
    cell("a width with an exponent", _W, "9e2 mm", TAKEN, "9e2 mm"),
    cell("a width with a letter O", _W, "9O0 mm", "number"),
    cell("a width in full-width digits", _W, "\uff19\uff10\uff10 mm", "number"),
    cell("a width in Arabic digits", _W, "٩٠٠ mm", "number"),
    cell("a width of zero", _W, "0 mm", "outside"),
    cell("a width a thousand times too large", _W, "900 m", "outside"),
    cell("a width in millimetres called centimetres", _W, "9000 cm", "outside"),
    cell("a width below zero", _W, "-900 mm", "formula"),
    cell("a width below zero, by the long sign", _W, "−900 mm", "formula"),
    cell("a width with a plus", _W, "+900 mm", "formula"),
    cell("no width", _W, "", "lacks"),
    cell("no width but spaces", _W, "   ", "lacks"),
    cell("a dash for a width", _W, "-", "formula"),
    cell(
        "a dash for a width, said to be unknown",
        _W,
        "-",
        "lacks",
        extra='unknown = ["-"]',
    ),
    cell(
        "a height that is not known",
        "height",
        "n/a",
        TAKEN,
        None,
        extra='unknown = ["n/a"]',
    ),
    cell("a height that is not known, unsaid", "height", "n/a", "number"),
    cell("no height", "height", "", TAKEN, None),
    cell("a height too low for a door", "height", "210 mm", "outside"),
    cell("a mass in pounds", "mass", "176 lbs", TAKEN, "176 lb"),
    cell("a mass in kilograms, German", "mass", "80,5 Kilogramm", TAKEN, "80.5 kg"),
    cell("a mass without a unit", "mass", "80", "no_unit"),
    cell("a mass in metres", "mass", "80 mm", "number"),
    cell("a mass of a lorry", "mass", "8000 kg", "outside"),
]

# Days, words, names ------------------------------------------------------------------

_D = "check"
WORDS = [
    cell("a day with points", _D, "01.03.2025", TAKEN, "2025-03-01"),
    cell("a day with points and short numbers", _D, "1.3.2025", TAKEN, "2025-03-01"),
    cell("a day with an hour of zero", _D, "2025-03-01 00:00:00", TAKEN, "2025-03-01"),
    cell("a day that may be two", _D, "01/03/2025", "day_order"),
    cell("a day that can only be one, order unsaid", _D, "31/03/2025", "day_order"),
    cell("a day in two digits of a year", _D, "01.03.25", "day"),
    cell("a day in words", _D, "1 March 2025", "day"),
    cell("a month only", _D, "03/2025", "day"),
    cell("a year only", _D, "2025", "day"),
    cell("a day as a spreadsheet counts", _D, "45717", "day"),
    cell("a day that is not in the calendar", _D, "31.02.2025", "no_such_day"),
    cell("a leap day of no leap year", _D, "2025-02-29", "no_such_day"),
    cell("a leap day", _D, "2024-02-29", TAKEN, "2024-02-29"),
    cell("a thirteenth month", _D, "2025-13-01", "no_such_day"),
    cell("a day still to come", _D, "2031-01-01", "day_far"),
    cell("a day long before such doors", _D, "1900-01-01", "day_far"),
    cell("a day of all zeros", _D, "0000-00-00", "no_such_day"),
    cell("a day that is a word", _D, "soon", "day"),
    cell("no day", _D, "", TAKEN, None),
    cell("a day that begins like a formula", _D, "=TODAY()", "formula"),
    cell("a yes in capitals", "escape", "YES", TAKEN, True),
    cell("a no", "escape", "no", TAKEN, False),
    cell("no word on escape", "escape", "", TAKEN, None),
    cell("a yes in German, unsaid", "escape", "ja", "value"),
    cell("a cross for a yes, unsaid", "escape", "x", "value"),
    cell("a question mark for a yes", "escape", "?", "value"),
    cell("leaves in capitals", "type", "Bi-Parting", TAKEN, "bi-parting"),
    cell("leaves with spaces around", "type", "  bi-parting ", TAKEN, "bi-parting"),
    cell("a single leaf without its side", "type", "single", "value"),
    cell("a single leaf with its side", "type", "single left", TAKEN, "single left"),
    cell("a revolving door", "type", "revolving", "value"),
    cell("no leaves", "type", "", "lacks"),
    cell("a number with letters and a slash", "door", "A 3/4", TAKEN, "a-3-4"),
    cell("a number with an umlaut", "door", "Tür 7", TAKEN, "tuer-7"),
    cell("a number with an accent", "door", "Entrée", TAKEN, "entree"),
    cell("a number with a leading zero", "door", "007", TAKEN, "007"),
    cell("a number of signs only", "door", "***", "id"),
    cell("a number in letters that have no id", "door", "門", "id"),
    cell("a number of a hundred letters", "door", "d" * 100, "id"),
    cell("no number", "door", "", "lacks"),
    cell("no site", "site", "", "lacks"),
    cell("a site of spaces", "site", "\u00a0 ", "lacks"),
    cell("a site with an emoji", "site", "Hall 🚪", TAKEN, "Hall 🚪"),
    cell("a site with two spaces", "site", "Old  Hall", TAKEN, "Old Hall"),
    cell("a site with a tab in it", "site", "Old\tHall", TAKEN, "Old Hall"),
    cell("a site right to left", "site", "بيت", TAKEN, "بيت"),
    cell(
        "a site with a sign that turns letters round",
        "site",
        "Ha\u202ell",
        TAKEN,
        "Hall",
    ),
    cell("a site with a space of no width", "site", "Ha\u200bll", TAKEN, "Hall"),
    cell("a site with an unseen sign", "site", "Ha\x07ll", "control"),
    cell("a site with a zero byte", "site", "Ha\0ll", "control"),
    cell("a site with an escape sequence", "site", "\x1b[31mHall", "control"),
    cell("a site of no assigned letter", "site", "Hall\U0010ffff", "control"),
    cell("a site saved twice as UTF-8", "site", "GrÃ¶ÃŸe", "read_twice"),
    cell("quotes saved twice as UTF-8", "site", "â€œHallâ€\u009d", "control"),
    cell("letters lost before", "site", "M\ufffdller", "encoding"),
    cell("a site of 121 letters", "site", "h" * 121, "text_long"),
    cell("a cell of a book's length", "site", "h" * 5000, "cell_long"),
    cell("a site that is markup", "site", "<b>Hall</b>", TAKEN, "<b>Hall</b>"),
    cell("a site with a backslash", "site", "C:\\Hall", TAKEN, "C:\\Hall"),
    cell("a site with a TOML table", "site", "]] [x]", TAKEN, "]] [x]"),
    cell("a site with a single quote", "site", "O'Hare", TAKEN, "O'Hare"),
    cell("an error of a spreadsheet", "site", "#REF!", "sheet_error"),
    cell("an error of a German spreadsheet", "site", "#BEZUG!", "sheet_error"),
    cell("an error of a French spreadsheet", "site", "#VALEUR!", "sheet_error"),
    cell("a division by zero", _W, "#DIV/0!", "sheet_error"),
    cell("a value not available", "by", "#N/A", "sheet_error"),
    cell("a value not available, German", "by", "#NV", "sheet_error"),
    cell("a number sign in a name", "by", "#3 Ada", TAKEN, "#3 Ada"),
]

# Formulas: OWASP, CSV Injection ----------------------------------------------------

FORMULAS = [
    cell("a sum as a name", "by", "=1+1", TAKEN, "=1+1"),
    cell(
        "a link as a name",
        "by",
        '=HYPERLINK("http://x.example")',
        TAKEN,
        '=HYPERLINK("http://x.example")',
    ),
    cell(
        "a command as a name", "by", "=cmd|' /C calc'!A0", TAKEN, "=cmd|' /C calc'!A0"
    ),
    cell(
        "an at sign as a name", "by", "@SUM(1;1)".replace(";", ","), TAKEN, "@SUM(1,1)"
    ),
    cell("a telephone number as a name", "by", "+49 170 1234", TAKEN, "+49 170 1234"),
    cell("a minus as a name", "by", "-2+3", TAKEN, "-2+3"),
    cell("a marked formula as a name", "by", "'=1+1", TAKEN, "=1+1"),
    cell("a full-width formula as a name", "by", "\uff1d1+1", TAKEN, "\uff1d1+1"),
    cell("a formula as a width", _W, "=900", "formula"),
    cell("a marked formula as a width", _W, "'=900", "formula"),
    cell("a formula behind a space as a width", _W, " =900", "formula"),
    cell("an at sign as a width", _W, "@A1", "formula"),
    cell("a full-width formula as a width", _W, "\uff1d900", "formula"),
    cell("a formula as leaves", "type", "=A1", "value"),
    cell("a formula as a number of a door", "door", "=D3", TAKEN, "d3"),
]

CELL_DIRT = [*MEASURES, *WORDS, *FORMULAS]
