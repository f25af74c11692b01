"""Dirt of whole rows: quotes, line ends, titles, doorways that stand there twice.

Sources as in `dirt`.
"""

from store.doorlist.dirt import (
    ABOVE,
    AGAIN,
    CLEAN,
    COLUMNS,
    EMPTY,
    HEAD,
    HEADER,
    TAKEN,
    Dirt,
    around,
    row,
    text,
)

# Quotes and cells: RFC 4180, csv-spectrum -------------------------------------------


def _quoted(name: str, line: str, becomes: str, holds: object = None) -> Dirt:
    told = {} if holds is None else {(3, "by"): holds}
    return Dirt(name, around(line).encode(), CLEAN | {3: becomes}, holds=told)


_START = row(3, by="")
QUOTES = [
    _quoted("a quoted cell (simple)", _START + '"Ada"', TAKEN, "Ada"),
    _quoted(
        "a separator in quotes (comma_in_quotes)",
        _START + '"Ada; Bo"',
        TAKEN,
        "Ada; Bo",
    ),
    _quoted(
        "doubled quotes (escaped_quotes)", _START + '"Ada ""A"""', TAKEN, 'Ada "A"'
    ),
    _quoted("an empty quoted cell (empty)", _START + '""', TAKEN),
    _quoted("JSON in a cell (json)", _START + '"{""a"": 1}"', TAKEN, '{"a": 1}'),
    _quoted("letters beyond ASCII (utf8)", _START + '"ʤ Ada"', TAKEN, "ʤ Ada"),
    _quoted("a space before a quote", _START + ' "Ada"', TAKEN, "Ada"),
    _quoted("a quote within a cell", _START + 'Ada "A"', TAKEN, 'Ada "A"'),
    _quoted(
        "every cell quoted",
        ";".join(f'"{one}"' for one in row(3).split(";")),
        TAKEN,
        "Ada",
    ),
    _quoted("letters behind a closing quote", _START + '"Ada" B', "quote"),
    _quoted("a quote that is not closed", _START + '"Ada', "quote"),
    _quoted("a quote escaped by a backslash", _START + '"Ada \\"A\\""', "quote"),
    _quoted("a quote of one sign", _START + '"', "quote"),
    _quoted("three quotes", _START + '"""', "quote"),
    text(
        "a line break in quotes (newlines)",
        around(_START + '"Ada\nBo"'),
        {1: HEADER, 2: TAKEN, 3: TAKEN, 5: TAKEN},
        holds={(3, "by"): "Ada Bo"},
    ),
    text(
        "a line break of two signs in quotes (newlines_crlf)",
        around(_START + '"Ada\r\nBo"', end="\r\n"),
        {1: HEADER, 2: TAKEN, 3: TAKEN, 5: TAKEN},
        holds={(3, "by"): "Ada Bo"},
    ),
    text(
        "quotes and line breaks (quotes_and_newlines)",
        around(_START + '"""Ada""\nBo"'),
        {1: HEADER, 2: TAKEN, 3: TAKEN, 5: TAKEN},
        holds={(3, "by"): '"Ada" Bo'},
    ),
    text(
        "two quotes that are not closed",
        "\n".join([HEAD, row(2), _START + '"Ada', _START + '"Bo', row(5)]),
        {1: HEADER, 2: TAKEN, 3: "quote", 4: "quote", 5: TAKEN},
    ),
    text(
        "a quote not closed in the last row",
        "\n".join([HEAD, row(2), _START + '"Ada']),
        {1: HEADER, 2: TAKEN, 3: "quote"},
    ),
    text(
        "a quote that swallows a row and the next",
        "\n".join([HEAD, row(2), _START + '"Ada', row(4, by='"Bo"'), row(5)]),
        {1: HEADER, 2: TAKEN, 3: "quote", 4: TAKEN, 5: TAKEN},
    ),
]

# Rows --------------------------------------------------------------------------------

ENDS = {1: HEADER, 2: TAKEN, 3: TAKEN, 4: TAKEN}
ROWS = [
    text(
        "lines that end in two signs (RFC 4180, rule 1)",
        around(row(3), end="\r\n"),
        ENDS,
    ),
    text("lines that end in one sign", around(row(3)), ENDS),
    text("lines that end in the old way", around(row(3), end="\r"), ENDS),
    text(
        "lines that end in every way",
        f"{HEAD}\r\n{row(2)}\n{row(3)}\r{row(4)}\r\n",
        ENDS,
    ),
    text("no end of the last line (RFC 4180, rule 2)", around(row(3)).rstrip(), ENDS),
    text(
        "empty lines at the end", around(row(3)) + "\n\n", ENDS | {5: EMPTY, 6: EMPTY}
    ),
    text("an empty line between", around(""), CLEAN | {3: EMPTY}),
    text("a line of separators", around(";" * 9), CLEAN | {3: EMPTY}),
    text("a line of spaces", around(" ;  ; ;;;;;;;"), CLEAN | {3: EMPTY}),
    text(
        "a line of quoted nothing",
        around('"";"";"";"";"";"";"";"";"";""'),
        CLEAN | {3: EMPTY},
    ),
    text("the names of the columns again", around(HEAD), CLEAN | {3: AGAIN}),
    text(
        "a row that ends early",
        around("Hall;Quay 1;D3;bi-parting;900 mm"),
        CLEAN | {3: "short_row"},
    ),
    text(
        "a row that ends early, as chosen",
        around("Hall;Quay 1;D3;bi-parting;900 mm"),
        CLEAN | {3: TAKEN},
        extra='short_rows = "as empty"',
    ),
    text(
        "a row with a cell too many", around(row(3) + ";more"), CLEAN | {3: "long_row"}
    ),
    text("a row with empty cells too many", around(row(3) + ";;;"), ENDS),
    text(
        "a row of three hundred cells",
        around(";".join("x" * 300)),
        CLEAN | {3: "cells"},
    ),
    text("a row of one word", around("total"), CLEAN | {3: "short_row"}),
    text(
        "a remark below the list",
        around(row(3)) + "as of 2025\n",
        ENDS | {5: "short_row"},
    ),
    text(
        "a decimal comma where commas part cells",
        around(row(3, width="0,9 m")).replace(";", ","),
        CLEAN | {3: "long_row"},
    ),
    text(
        "a decimal comma in quotes where commas part cells",
        around(row(3, width='"0,9 m"')).replace(";", ","),
        ENDS,
        holds={(3, "clear_width"): "0.9 m"},
    ),
    text(
        "a vertical tab is no line end",
        around(row(3, by="A\x0bB")),
        CLEAN | {3: "control"},
    ),
    text("a line separator sign is no line end", around(row(3, by="A\u2028B")), ENDS),
    text(
        "a form feed is no line end",
        around(row(3, by="A\x0cB")),
        CLEAN | {3: "control"},
    ),
]

# Columns and titles ------------------------------------------------------------------

ONE = "\n".join([HEAD, row(2)])
TITLES = [
    text(
        "a title above",
        f"Doors of 2025\n{HEAD}\n{row(3)}\n",
        {1: ABOVE, 2: HEADER, 3: TAKEN},
    ),
    text(
        "a title and an empty line above",
        f"Doors;;;;;;;;;\n\n{HEAD}\n{row(4)}\n",
        {1: ABOVE, 2: ABOVE, 3: HEADER, 4: TAKEN},
    ),
    text(
        "the separator named above",
        f"sep=;\n{HEAD}\n{row(3)}\n",
        {1: ABOVE, 2: HEADER, 3: TAKEN},
    ),
    text(
        "a remark above (W3C, comment rows)",
        f"# exported\n{HEAD}\n{row(3)}\n",
        {1: ABOVE, 2: HEADER, 3: TAKEN},
    ),
    text("names in capitals", f"{HEAD.upper()}\n{row(2)}\n", {1: HEADER, 2: TAKEN}),
    text(
        "names with spaces around",
        "; ".join(COLUMNS) + f" \n{row(2)}\n",
        {1: HEADER, 2: TAKEN},
    ),
    text(
        "names in quotes",
        ";".join(f'"{c}"' for c in COLUMNS) + f"\n{row(2)}\n",
        {1: HEADER, 2: TAKEN},
    ),
    text(
        "a column without a name", f"{HEAD};\n{row(2)};x\n", {1: HEADER, 2: "long_row"}
    ),
    text(
        "a column without a name between",
        f"site;;{HEAD[5:]}\nHall;;{row(2)[5:]}\n",
        {1: HEADER, 2: TAKEN},
    ),
    text(
        "two columns of one name, the first counts",
        f"{HEAD};by\n{row(2)};Bo\n",
        {1: HEADER, 2: TAKEN},
        holds={(2, "by"): "Ada"},
    ),
    text(
        "a column that nobody maps",
        f"{HEAD};telephone\n{row(2)};123\n",
        {1: HEADER, 2: TAKEN},
    ),
    text(
        "a column is missing", ONE.replace("width", "wide"), file="no_column", lines={}
    ),
    text(
        "names in another line, as chosen",
        f"{HEAD}\n{HEAD}\n{row(3)}\n",
        {1: ABOVE, 2: HEADER, 3: TAKEN},
        how={"header": 2},
    ),
    text(
        "names in a line that is not there",
        ONE,
        file="no_header",
        lines={},
        how={"header": 9},
    ),
    text("names and no rows", f"{HEAD}\n", {1: HEADER}),
]

# Doorways that are there twice ------------------------------------------------------

TWICE = [
    text("the same row twice", around(row(2)), CLEAN | {3: "twice"}),
    text(
        "a number twice, other figures",
        around(row(2, width="1200 mm")),
        CLEAN | {3: "twice"},
    ),
    text(
        "a number twice, other spelling",
        around(row(3, door=" d2 ")),
        CLEAN | {3: "twice"},
    ),
    text("a number twice, at another site", around(row(2, site="Mill")), ENDS),
    text("a number twice, at another place", around(row(2, place="Quay 2")), ENDS),
    text("a site in other letters", around(row(2, site="HALL")), CLEAN | {3: "twice"}),
    text(
        "a site with a space too many",
        around(row(2, site=" Hall  ")),
        CLEAN | {3: "twice"},
    ),
    text(
        "a number twice, the first refused",
        "\n".join([HEAD, row(2, width="wide"), row(2), row(4)]),
        {1: HEADER, 2: "number", 3: TAKEN, 4: TAKEN},
    ),
    text(
        "a row three times",
        "\n".join([HEAD, row(2), row(2), row(2)]),
        {1: HEADER, 2: TAKEN, 3: "twice", 4: "twice"},
    ),
    text(
        "five hundred and two doorways of one site",
        "\n".join([HEAD, *(row(n) for n in range(2, 504))]),
        {
            1: HEADER,
            **dict.fromkeys(range(2, 502), TAKEN),
            502: "too_many",
            503: "too_many",
        },
    ),
]

ROW_DIRT = [*QUOTES, *ROWS, *TITLES, *TWICE]
