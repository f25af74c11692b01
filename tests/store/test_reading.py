"""Files that cannot be used: all their faults at once, in words, with the place."""

import os
import re
import socket
import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.quantity import Quantity
from limen.store.faults import Fault, FileFaults
from limen.store.reading import decode, fault_at, read_document, read_text
from store.small_site import SOUND, Site


def faults_of(text: str) -> tuple[Fault, ...]:
    with pytest.raises(FileFaults) as caught:
        read_document(text, Site, name="quay.toml")
    return caught.value.faults


def only_fault(text: str) -> Fault:
    faults = faults_of(text)
    assert len(faults) == 1, faults
    return faults[0]


def swapped(old: str, new: str) -> str:
    assert SOUND.count(old) == 1
    return SOUND.replace(old, new)


def test_a_sound_file_becomes_a_model_without_lists() -> None:
    site = read_document(SOUND, Site, name="quay.toml")
    assert site.doorway[0].clear_width == Quantity(1.8)
    assert site.doorway[1].clear_width.value == pytest.approx(1.0287)
    assert isinstance(site.doorway, tuple)


WIDTH = 'clear_width = "1800 mm"'
MAIN = 'doorway "main" · '
OUT = f'{MAIN}fitting "out" · '

BROKEN = [
    # what is written, its line, its key, why, an example that helps
    (WIDTH, "clear_width = 1800", 6, f"{MAIN}clear_width", "bare number", '"1800 mm"'),
    (WIDTH, "clear_width = 1.8", 6, f"{MAIN}clear_width", "bare number", '"1800 mm"'),
    (WIDTH, "clear_width = nan", 6, f"{MAIN}clear_width", "bare number", '"1800 mm"'),
    (WIDTH, "clear_width = true", 6, f"{MAIN}clear_width", "neither true", "mm"),
    (WIDTH, 'clear_width = "1800"', 6, f"{MAIN}clear_width", "bare number", "mm"),
    (WIDTH, 'clear_width = "1,8 m"', 6, f"{MAIN}clear_width", "point", '"1.8 m"'),
    (WIDTH, 'clear_width = "1800 kg"', 6, f"{MAIN}clear_width", "mass", '"1800 mm"'),
    (WIDTH, 'clear_width = "1800 mn"', 6, f"{MAIN}clear_width", "no unit", "mm"),
    (WIDTH, 'clear_width = "nan"', 6, f"{MAIN}clear_width", "not a measured", "mm"),
    (WIDTH, 'clear_width = "inf m"', 6, f"{MAIN}clear_width", "not a measured", "mm"),
    (WIDTH, 'clear_width = "1e308 m"', 6, f"{MAIN}clear_width", "10 km", "mm"),
    (WIDTH, 'clear_width = ""', 6, f"{MAIN}clear_width", "nothing is written", "mm"),
    (WIDTH, 'clear_width = "20 m"', 6, f"{MAIN}clear_width", "outside the span", "mm"),
    (WIDTH, 'clear_width = "-1 m"', 6, f"{MAIN}clear_width", "outside the span", "mm"),
    (WIDTH, 'clear_width = ["1 m"]', 6, f"{MAIN}clear_width", "", "clear_width ="),
    (WIDTH, "clear_width = 1800 mm", 6, "clear_width", "not a value", '"1800 mm"'),
    (WIDTH, "clear_width = 1,8 m", 6, "clear_width", "not a value", '"1.8 m"'),
    (WIDTH, "clear_width =", 6, "clear_width", "nothing after =", ""),
    (WIDTH, 'clear_width = "1800 mm', 6, "clear_width", "quote is not closed", ""),
    (WIDTH, "clear_width = '1800 mm", 6, "clear_width", "quote is not closed", ""),
    (WIDTH, 'clear_width = "1800\\ mm"', 6, "clear_width", "backslash", "'"),
    (WIDTH, "", 4, f"{MAIN}clear_width", "needed", 'clear_width = "1800 mm"'),
    (WIDTH, f"{WIDTH}\n{WIDTH}", 7, "clear_width", "written twice", ""),
    (WIDTH, f"{WIDTH}\nclear_wdth = 1", 7, f"{MAIN}clear_wdth", "clear_width?", "mm"),
    (WIDTH, f"{WIDTH}\nzzz = 1", 7, f"{MAIN}zzz", "no such key", ""),
    ('id = "main"  ', 'id = "Main"  ', 5, 'doorway "Main" · id', "characters", "-"),
    ('id = "main"  ', 'id = ""  ', 5, "doorway[1].id", "other characters", "main-"),
    ('id = "main"  ', "id = 7  ", 5, "doorway[1].id", "whole number", "main-entr"),
    ('id = "main"  ', "", 4, "doorway[1].id", "needed", 'id = "main-entrance"'),
    ("2024-05-31", '"2024-05-31"', 7, f"{MAIN}commissioned", "text is", "2026-05-31"),
    ("2024-05-31", "2024-02-30", 7, "commissioned", "no such day", "2026-05-31"),
    ('"bi-parting"', '"biparting"', 10, f"{MAIN}leaves.kind", "bi-parting?", "single"),
    ('"bi-parting"', "2", 10, f"{MAIN}leaves.kind", "accepted words", "single"),
    ('"40 mm"', '"40 m"', 11, f"{MAIN}leaves.thickness", "span", ' mm"'),
    ("[doorway.leaves]", "[doorway.leafs]", 9, f"{MAIN}leafs", "leaves?", "[doorway."),
    ("channel = 2", "channel = 9", 17, f"{OUT}channel", "must be 8 or less", "= 3"),
    ("channel = 2", "channel = 2.5", 17, f"{OUT}channel", "a number is not", "= 3"),
    ("channel = 2", 'channel = "2"', 17, f"{OUT}channel", "text is not", "= 3"),
    ("channel = 2", "tested = 1", 17, f"{OUT}tested", "whole number", "= true"),
    ('"outside"', '"left"', 15, f"{OUT}side", "accepted words", '"outside"'),
    ('sheet = "generic-curtain"', "", 13, f"{OUT}sheet", "needed", '"generic-curtain"'),
    ('["2.5°", "5°"]', '["2.5°", 5]', 18, f"{OUT}rows[2]", "bare", 'rows = ["12.5°"]'),
    ('["2.5°", "5°"]', '"5°"', 18, f"{OUT}rows", "text is not", 'rows = ["12.5°"]'),
    ('["2.5°", "5°"]', "[1 2]", 18, "rows", "list is not closed", "["),
    ('"angles"', '"angels"', 19, f"{OUT}fan.form", "did you mean angles?", "angles"),
    ('form = "angles", ', "", 19, f"{OUT}fan.form", "needed", 'form = "angles"'),
    ('half = "30°"', 'half = "30"', 19, f"{OUT}fan.half", "bare number", "12.5°"),
    (', half = "30°"', "", 19, f"{OUT}fan.half", "needed", 'half = "12.5°"'),
    ('half = "30°" }', 'half = "30°"', 19, "fan", "{ is not closed", ""),
    ('id = "staff"', 'id = "main"', 22, 'doorway "main" · id', "another doorway", ""),
    ('name = "Alder Quay"', "name = Alder Quay", 2, "name", "not a value", '"Alder'),
    ('name = "Alder Quay"', "", None, "name", "needed", "name ="),
    ('name = "Alder Quay"', "Alder Quay", 2, "", "a key without =", "name ="),
    ('name = "Alder Quay"', 'name = "a\x07b"', 2, "name", "control", ""),
    ("[doorway.leaves]", "[doorway.leaves", 9, "", "a [table] is not closed", "[["),
    ("[doorway.leaves]", "[doorway]", 9, "", "written twice", "[[doorway]]"),
    (
        "name =",
        "a = " + "[" * 99 + "]" * 99 + "\nname =",
        2,
        "",
        "more than 32 deep",
        "",
    ),
    ("name =", "a" + ".a" * 99 + " = 1\nname =", 2, "", "more than 32 deep", ""),
    ("name =", f"a = {'9' * 5000}\nname =", 2, "a", "thousands of digits", ""),
]


@pytest.mark.parametrize(("old", "new", "line", "key", "why", "example"), BROKEN)
def test_a_broken_line_is_told_with_place_reason_and_example(
    old: str, new: str, line: int | None, key: str, why: str, example: str
) -> None:
    fault = only_fault(swapped(old, new))
    assert fault.line == line
    assert fault.key == key
    assert why in fault.why
    assert example in fault.example


@pytest.mark.parametrize(("old", "new"), [case[:2] for case in BROKEN])
def test_an_example_that_is_a_line_heals_its_line(old: str, new: str) -> None:
    """Put where the fault is, the example brings no fault of syntax or of value."""
    fault = only_fault(swapped(old, new))
    if " = " in fault.example:
        tomllib.loads(fault.example)


def test_no_element_is_said_to_be_missing_because_it_is_faulty() -> None:
    text = 'name = "x"\n[[doorway]]\nid = "a"\n'
    assert {fault.key for fault in faults_of(text)} == {
        'doorway "a" · clear_width',
        'doorway "a" · leaves',
    }
    assert "at least 1" in only_fault('name = "x"\ndoorway = []').why


def test_all_faults_are_told_at_once_in_the_order_of_the_file() -> None:
    text = (
        SOUND.replace('name = "Alder Quay"', "name = Alder Quay")
        .replace('"1800 mm"', "1800 mm")
        .replace('"40 mm"', '"4 m"')
        .replace("channel = 2", "chanel = 2")
        .replace('"45 mm"', "45")
    )
    faults = faults_of(text)
    assert [fault.line for fault in faults] == [2, 6, 11, 17, 24]
    assert faults[-1].key == 'doorway "staff" · leaves.thickness'


def test_twins_are_told_one_by_one() -> None:
    more = '\n[[doorway]]\nid = "main"\nclear_width = "1 m"\n' + (
        'leaves = { kind = "single", thickness = "45 mm" }\n'
    )
    faults = faults_of(SOUND + more + more)
    assert [fault.line for fault in faults] == [27, 32]


def test_a_thousand_faults_make_a_list_that_can_be_read() -> None:
    text = SOUND + "".join(f'\nx{number} = "1"' for number in range(1000))
    with pytest.raises(FileFaults) as caught:
        read_document(text, Site, name="quay.toml")
    assert len(caught.value.faults) == 1000
    told = caught.value.lines()
    assert told[0] == "quay.toml: 1000 faults, nothing read"
    assert told[-1] == "  … and 800 more"


def test_a_file_of_endless_faults_is_not_told_to_its_end() -> None:
    text = SOUND + "".join(f'\nx{number} = "1"' for number in range(1100))
    faults = faults_of(text)
    assert len(faults) == 1001
    assert faults[-1].why == "1000 faults are told; there are more"


def test_a_file_of_endless_values_is_not_parsed() -> None:
    assert "100000 keys" in only_fault("[[doorway]]\n" * 60_000).why
    assert "100000 keys" in only_fault("a = [" + "1," * 100_001 + "]").why


def test_a_fault_reads_as_a_calm_list() -> None:
    with pytest.raises(FileFaults) as caught:
        read_document(swapped(WIDTH, "clear_width = 1800"), Site, name="quay.toml")
    assert caught.value.lines() == [
        "quay.toml: 1 fault, nothing read",
        '  line 6 · doorway "main" · clear_width: a bare number has no unit',
        "    found     1800",
        "    accepted  a length with its unit: mm, m, cm, km, in, ft"
        " (also 6 ft 8 1/2 in)",
        '    example   clear_width = "1800 mm"',
    ]


def test_a_fault_that_only_the_reader_finds_has_its_place_too() -> None:
    path = ("doorway", 0, "fitting", 0, "sheet")
    fault = fault_at(SOUND, path, "no such sheet", "a sheet")
    assert (fault.line, fault.found) == (16, '"generic-curtain"')
    assert fault.key == 'doorway "main" · fitting "out" · sheet'


# Any text and any bytes ------------------------------------------------------


def read_or_refuse(text: str) -> None:
    try:
        read_document(text, Site, name="any.toml")
    except FileFaults as refused:
        faults = refused.faults
    else:
        return
    assert faults
    for fault in faults:
        assert fault.why
        assert all(part.isprintable() for part in (fault.key, fault.found, fault.why))


@given(st.text(max_size=200))
def test_no_text_is_too_odd(text: str) -> None:
    read_or_refuse(text)


_PIECES = st.sampled_from(
    [*"[]{}=.,\"'\\#\n\r\t\0", '"""', "nan", "1e999", "[[doorway]]", "id", "0", "½"]
)


@given(st.integers(0, len(SOUND)), st.integers(0, 30), st.lists(_PIECES, max_size=4))
def test_no_slip_of_the_keyboard_is_too_odd(
    start: int, length: int, pieces: list[str]
) -> None:
    read_or_refuse(SOUND[:start] + "".join(pieces) + SOUND[start + length :])


@given(st.binary(max_size=100))
def test_no_bytes_are_too_odd(data: bytes) -> None:
    try:
        text = decode(data, name="any.toml")
    except FileFaults:
        return
    assert text.encode() == data


# Files that are none ---------------------------------------------------------


def why_unread(path: Path, limit: int = 2_000_000) -> str:
    with pytest.raises(FileFaults) as caught:
        read_text(path, limit)
    (fault,) = caught.value.faults
    assert caught.value.file == str(path)
    return fault.why


def test_a_file_is_read_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "quay.toml"
    path.write_bytes("a = '½'\r\n".encode())
    assert read_text(path) == "a = '½'\r\n"


def test_a_link_to_a_file_is_read(tmp_path: Path) -> None:
    (tmp_path / "quay.toml").write_text("a = 1")
    (tmp_path / "link.toml").symlink_to("quay.toml")
    assert read_text(tmp_path / "link.toml") == "a = 1"


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    assert why_unread(tmp_path / "none.toml") == "there is no such file"
    (tmp_path / "file").write_text("")
    assert "no folder" in why_unread(tmp_path / "file" / "none.toml")


def test_a_folder_is_told(tmp_path: Path) -> None:
    assert why_unread(tmp_path) == "a folder, not a file"


def test_a_loop_of_links_is_told(tmp_path: Path) -> None:
    (tmp_path / "a").symlink_to("b")
    (tmp_path / "b").symlink_to("a")
    assert why_unread(tmp_path / "a") == "a link that leads to itself"


def test_a_name_no_file_can_have_is_told(tmp_path: Path) -> None:
    assert "so long a name" in why_unread(tmp_path / ("x" * 5000))
    with pytest.raises(FileFaults, match="no file can have this name"):
        read_text("a\0b")


def test_a_file_that_may_not_be_read_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "quay.toml"
    path.write_text(SOUND)
    path.chmod(0)

    def refuse(*_: object) -> int:
        raise PermissionError(13, "Permission denied", str(path))

    # The superuser may read everything, so the refusal itself is put in place.
    monkeypatch.setattr(os, "open", refuse)
    assert why_unread(path) == "may not be read by you"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes here")
def test_a_pipe_is_refused_and_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    assert "pipe or device" in why_unread(tmp_path / "pipe")


def test_a_device_and_a_socket_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "pipe or device" in why_unread(Path("/dev/zero"))
    monkeypatch.chdir(tmp_path)
    with socket.socket(socket.AF_UNIX) as server:
        server.bind("s")
        assert "pipe or device" in why_unread(Path("s"))


def test_a_large_file_is_refused_unread(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "large.toml"
    with path.open("wb") as file:
        file.truncate(10_000_000)
    monkeypatch.setattr("limen.store.reading.decode", None)
    assert why_unread(path) == "larger than 2 MB, and not read"
    assert why_unread(path, 9_999_999).startswith("larger than 10 MB")


def test_a_file_that_grows_while_it_is_opened_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FileFaults, match="larger than 2 MB"):
        decode(b"#" * 2_000_001, name="x")


@pytest.mark.parametrize(
    ("data", "why", "line"),
    [
        (b"\xef\xbb\xbfa = 1", "byte order mark", 1),
        ("a = 1".encode("utf-16"), "UTF-16", None),
        (b"a = 1\nb = \0", "zero bytes", 2),
        (b"\x7fELF\x00\x01", "zero bytes", 1),
        ("a = 1\nb = 'Tür'".encode("latin-1"), "byte 0xFC is no UTF-8", 2),
        (b"a = '\xed\xa0\x80'", "no UTF-8", 1),
    ],
)
def test_what_is_no_utf8_text_is_told(data: bytes, why: str, line: int | None) -> None:
    with pytest.raises(FileFaults) as caught:
        decode(data, name="quay.toml")
    (fault,) = caught.value.faults
    assert why in fault.why
    assert fault.line == line


def test_nothing_is_written_beside_a_file_that_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "quay.toml"
    path.write_text("a = ")
    with pytest.raises(FileFaults):
        read_document(read_text(path), Site, name=str(path))
    assert [item.name for item in tmp_path.iterdir()] == ["quay.toml"]


def test_reading_says_no_word_of_the_parser() -> None:
    words = re.compile(r"Input should|pydantic|tomllib|Traceback|column", re.IGNORECASE)
    for old, new, *_ in BROKEN:
        fault = only_fault(swapped(old, new))
        assert not words.search(" ".join((fault.why, fault.accepted, fault.example)))
