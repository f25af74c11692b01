"""Dirt of whole files: what parts cells, how they are saved, what is no list.

Sources as in `dirt`.
"""

from store.doorlist.dirt import (
    CLEAN,
    HEAD,
    HEADER,
    TAKEN,
    Dirt,
    around,
    row,
    text,
)
from store.doorlist.dirt_rows import ENDS, ONE

# Separators --------------------------------------------------------------------------


def _parted(name: str, sep: str, **how: object) -> Dirt:
    data = around(row(3)).replace(";", sep).encode()
    return Dirt(name, data, ENDS, how=how)


SEPARATORS = [
    _parted("cells parted by commas", ","),
    _parted("cells parted by tabs", "\t"),
    _parted("cells parted by bars", "|"),
    _parted("cells parted by semicolons", ";"),
    _parted("cells parted by an odd sign, as chosen", "~", separator="~"),
    _parted("cells parted by a tab, named by a word", "\t", separator="tab"),
    text(
        "semicolons, with commas in most cells",
        around(row(3, place="Quay 1, Port", by="Ada, Bo")),
        ENDS,
    ),
    text(
        "commas, with a semicolon in a cell",
        around(row(3)).replace(";", ",").replace("Ada", "A;B"),
        ENDS,
    ),
    text(
        "another sign than is there, as chosen",
        ONE,
        {},
        file="no_column",
        how={"separator": "|"},
    ),
    text("a sign that cannot part", ONE, {}, file="separator", how={"separator": "ab"}),
]

# Encodings: every one against Python's own codec ------------------------------------


def _saved(name: str, saved: str, by: str, *, mark: bytes = b"", **how: object) -> Dirt:
    data = mark + around(row(3, by=by)).encode(saved)
    return Dirt(name, data, ENDS, holds={(3, "by"): by}, how=how)


_GERMAN = "Jürgen Größ, Prüfer für Türen"
_FRENCH = "Hélène Lefèvre, contrôlée à côté"
ENCODINGS = [
    _saved("UTF-8", "utf-8", _GERMAN),
    _saved("UTF-8 with its mark", "utf-8-sig", _GERMAN),
    _saved("UTF-16 with its mark", "utf-16", _GERMAN),
    _saved(
        "UTF-16, big end first, with its mark", "utf-16-be", _GERMAN, mark=b"\xfe\xff"
    ),
    _saved("UTF-16, little end first, unmarked", "utf-16-le", _GERMAN),
    _saved("UTF-16, big end first, unmarked", "utf-16-be", _FRENCH),
    _saved("UTF-32 with its mark", "utf-32", _GERMAN),
    _saved("Western, of Windows, German", "cp1252", _GERMAN),
    _saved("Western, of Windows, French", "cp1252", _FRENCH),
    _saved("Western, of Windows, curly quotes", "cp1252", "“Ada” – " + _GERMAN),
    _saved("Western, Latin 1", "latin-1", _FRENCH),
    _saved(
        "Western, Latin 9, as chosen", "iso8859-15", "Ada 5 €", encoding="iso8859-15"
    ),
    _saved(
        "Central European, of Windows, as chosen",
        "cp1250",
        "Łucja Żak",
        encoding="cp1250",
    ),
    _saved("Cyrillic, of Windows, as chosen", "cp1251", "Анна", encoding="cp1251"),
    _saved("Greek, of Windows, as chosen", "cp1253", "Άννα", encoding="cp1253"),
    _saved(
        "Turkish, of Windows, as chosen", "cp1254", "I\u015f\u0131l", encoding="cp1254"
    ),
    _saved("old Western, as chosen", "cp850", _GERMAN, encoding="cp850"),
    _saved(
        "Western, of old Macs, as chosen", "mac-roman", _FRENCH, encoding="mac-roman"
    ),
    _saved("Japanese, as chosen", "shift_jis", "山田", encoding="shift_jis"),
    _saved("Chinese, as chosen", "gb18030", "王", encoding="gb18030"),
    Dirt("no letters beyond ASCII", around(row(3)).encode("ascii"), ENDS),
    Dirt(
        "UTF-8 with one row pasted from elsewhere",
        "\n".join([HEAD, row(2, by=_GERMAN), ""]).encode()
        + row(3, by=_GERMAN).encode("cp1252")
        + f"\n{row(4, by=_FRENCH)}\n".encode(),
        CLEAN | {3: "encoding"},
    ),
    Dirt(
        "UTF-8 cut within a letter",
        f"{HEAD}\n{row(2, by=_GERMAN)}\n{row(3)}".encode() + b"\xc3",
        {1: HEADER, 2: TAKEN, 3: "encoding"},
    ),
    Dirt(
        "UTF-16 cut within a letter",
        f"{HEAD}\n{row(2)}\n{row(3)}".encode("utf-16") + b"\0",
        {1: HEADER, 2: TAKEN, 3: "encoding"},
    ),
    Dirt(
        "another encoding than it is saved in, as chosen",
        around(row(3, by=_GERMAN)).encode("cp1252"),
        CLEAN | {3: "encoding"},
        how={"encoding": "utf-8"},
    ),
    Dirt(
        "an encoding that nobody knows",
        ONE.encode(),
        file="no_encoding",
        how={"encoding": "utf-9"},
    ),
    Dirt(
        "an encoding that is none of text",
        ONE.encode(),
        file="no_encoding",
        how={"encoding": "zlib"},
    ),
]

# Files that are no lists ------------------------------------------------------------

FILES = [
    Dirt("nothing at all", b"", file="empty"),
    Dirt("spaces and line ends", b" \r\n \n", file="empty"),
    Dirt("zero bytes", b"\0" * 64, file="empty"),
    Dirt("a mark and nothing else", b"\xef\xbb\xbf", file="no_rows"),
    Dirt("a PDF", b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n", file="pdf"),
    Dirt(
        "a workbook of the old kind",
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 512,
        file="old_workbook",
    ),
    Dirt(
        "a web page called a workbook",
        b"<html><table><tr><td>1</td></tr></table></html>",
        file="markup",
    ),
    Dirt("a table of XML", b'<?xml version="1.0"?><Workbook/>', file="markup"),
    Dirt("a picture", b"\x89PNG\r\n\x1a\n" + b"\0" * 32, file="picture"),
    Dirt("a photo", b"\xff\xd8\xff\xe0" + b"\0" * 32, file="picture"),
    Dirt("a packed file", b"\x1f\x8b\x08\0" + b"x" * 32, file="archive"),
    Dirt(
        "an archive of another kind", b"7z\xbc\xaf\x27\x1c" + b"x" * 32, file="archive"
    ),
    Dirt("a text document", b"{\\rtf1 Doors}", file="document"),
    Dirt("the first bytes of an archive", b"PK\x03\x04" + b"x" * 64, file="broken"),
    Dirt("an empty archive", b"PK\x05\x06" + b"\0" * 18, file="broken"),
    Dirt("a file too large", b"a;b\n" * 5_000_001, file="too_large"),
    Dirt("rows without end", (HEAD + "\n").encode() + b"a\n" * 20_100, file="too_many"),
]

FILE_DIRT = [*SEPARATORS, *ENCODINGS, *FILES]
